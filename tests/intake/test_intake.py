"""A roster into a month that is kept, on whatever database the tests run on."""

import csv
from collections.abc import Iterable
from dataclasses import fields, replace
from datetime import date
from pathlib import Path

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from kits.models import Month
from planning import intake, load, save
from planning.calendar import YearMonth
from planning.faults import roster as roster_rules
from planning.intake import looking, refused, rows
from planning.models import Intake, IntakeRow, Step, Subscriber
from planning.monthfile.codecs import Habits
from planning.roster import Subscriber as Person
from planning.rosterfile.read import NOTES, SHEET
from planning.run import fingerprint
from tests.support.effort import examples
from tests.web.small_month import SMALL_MONTH

pytestmark = pytest.mark.django_db

HEADINGS = [column.heading for column in SHEET.columns]
ANN = Person(reference="N1", name="Ann", address_1="1 Elm", city="Leeds", country="GB", tier="FULL")


@pytest.fixture
def month() -> Month:
    return save.month(SMALL_MONTH)


def cells(one: Person) -> list[object]:
    """Return a person as a row of a file."""
    values = ((column.codec, getattr(one, column.field)) for column in SHEET.columns)
    return ["" if value is None else codec.write(value, Habits()) for codec, value in values]


def written(path: Path, people: Iterable[Person | list[object]]) -> Path:
    with path.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows(
            [HEADINGS, *(cells(one) if isinstance(one, Person) else one for one in people)]
        )
    return path


def looked(month: Month, path: Path) -> Intake:
    mine = Intake.objects.create(month=month, name=path.name)
    intake.look(mine, path, path.with_suffix(".xlsx"))
    mine.refresh_from_db()
    return mine


def taken(month: Month, path: Path) -> Intake:
    mine = looked(month, path)
    assert mine.step == Step.LOOKED_AT, mine.error
    Intake.objects.filter(pk=mine.pk).update(step=Step.AGREED)
    intake.take(mine)
    mine.refresh_from_db()
    return mine


def counts(mine: Intake) -> tuple[int, ...]:
    return mine.rows, mine.new, mine.changed, mine.same, mine.faulty, mine.kept


def people(month: Month) -> dict[str, Person]:
    return {one.reference: one for one in load.rows("subscribers", month)}


def test_it_works(month: Month, tmp_path: Path) -> None:
    """Of five people one is in the file as they are, one with another name, one is new."""
    first, second, *_ = SMALL_MONTH.subscribers
    path = written(tmp_path / "roster.csv", [first, replace(second, name="Another Name"), ANN])
    mine = taken(month, path)
    assert counts(mine) == (3, 1, 1, 1, 0, 3)
    assert mine.step == Step.TAKEN
    before = {one.reference: one for one in SMALL_MONTH.subscribers}
    assert people(month) == before | {second.reference: replace(second, name="Another Name"), "N1": ANN}
    assert list(people(month)) == [*before, "N1"]
    assert not IntakeRow.objects.exists()


def test_the_same_file_twice_changes_nothing(month: Month, tmp_path: Path) -> None:
    path = written(tmp_path / "roster.csv", [ANN, *SMALL_MONTH.subscribers])
    taken(month, path)
    kept = Month.objects.values().get(pk=month.pk)
    keys = list(Subscriber.objects.values_list("pk", "position", "reference"))
    again = taken(month, path)
    assert counts(again) == (6, 0, 0, 6, 0, 0)
    assert Month.objects.values().get(pk=month.pk) == kept
    assert list(Subscriber.objects.values_list("pk", "position", "reference")) == keys


def test_what_is_exported_is_what_is_kept(month: Month, tmp_path: Path) -> None:
    from planning.monthfile import month_to_workbook

    path = tmp_path / "month.xlsx"
    path.write_bytes(month_to_workbook(load.month(month.pk)))
    assert counts(looked(month, path)) == (5, 0, 0, 5, 0, 0)


def test_the_month_then_has_the_fingerprint_of_its_rows(month: Month, tmp_path: Path) -> None:
    taken(month, written(tmp_path / "roster.csv", [ANN]))
    month.refresh_from_db()
    assert month.fingerprint == fingerprint(load.month(month.pk)) != fingerprint(SMALL_MONTH)


def test_looking_changes_nothing(month: Month, tmp_path: Path) -> None:
    mine = looked(month, written(tmp_path / "roster.csv", [ANN]))
    assert load.month(month.pk) == SMALL_MONTH
    intake.drop(mine)
    mine.refresh_from_db()
    assert (mine.step, IntakeRow.objects.count()) == (Step.DROPPED, 0)


# --- Faulty rows ---


def test_faulty_rows_are_left_out_and_kept_in_a_file_that_can_be_put_right(
    month: Month, tmp_path: Path
) -> None:
    bad = cells(replace(ANN, reference="N2", country="XX", name="=HYPERLINK(1)"))
    path = written(
        tmp_path / "roster.csv", [ANN, bad, replace(ANN, name="Twice"), cells(replace(ANN, name=""))]
    )
    mine = taken(month, path)
    assert counts(mine) == (4, 1, 0, 0, 3, 5)
    assert people(month)["N1"] == ANN
    book = openpyxl.load_workbook(tmp_path / "roster.xlsx")
    sheet = book.worksheets[0]
    heads, *left_out = list(sheet.iter_rows(min_row=3, values_only=True))
    assert heads == (*NOTES, *HEADINGS)
    assert [row[0] for row in left_out] == [3, 4, 5]
    assert "XX is not a country code" in str(left_out[0][1])
    assert "N1 stands here already, in row 2." in str(left_out[1][1])
    assert "Name: it is empty." in str(left_out[2][1])
    assert left_out[0][3] == "=HYPERLINK(1)"

    sheet["J4"].value, sheet["C5"].value, sheet["D6"].value = None, "N3", "Cy"
    sheet[f"{openpyxl.utils.get_column_letter(heads.index('Country') + 1)}4"].value = "GB"
    book.save(tmp_path / "right.xlsx")
    again = taken(month, tmp_path / "right.xlsx")
    assert (again.found, counts(again)[:5]) == ([], (3, 2, 1, 0, 0))
    assert people(month)["N1"].name == "Cy"
    assert people(month)["N3"].name == "Twice"


def test_a_faulty_row_still_owns_its_reference(month: Month, tmp_path: Path) -> None:
    """As in a month file, where both rows are told."""
    mine = looked(month, written(tmp_path / "roster.csv", [replace(ANN, tier="NONE"), ANN]))
    assert counts(mine)[:5] == (2, 0, 0, 0, 2)
    assert [found[3] for found in mine.found] == [
        "is not on the Tiers sheet",
        "stands here already, in row 2",
    ]


def test_a_row_with_two_things_wrong_is_one_row_of_the_file(month: Month, tmp_path: Path) -> None:
    wrong = replace(ANN, tier="NONE")
    mine = looked(month, written(tmp_path / "roster.csv", [wrong, wrong, wrong]))
    sheet = openpyxl.load_workbook(tmp_path / "roster.xlsx").worksheets[0]
    said = [row[1].value for row in sheet.iter_rows(min_row=4)]
    assert mine.faulty == len(said) == 3
    assert all("is not on the Tiers sheet" in str(one) for one in said)
    assert [str(one).count("stands here already, in row 2") for one in said] == [0, 1, 1]


@pytest.mark.parametrize("text", ["\x00", "a\x07", "x" * 40_000])
def test_a_row_no_database_could_keep_is_refused_like_any_other(
    text: str, month: Month, tmp_path: Path
) -> None:
    rows_of_it = [
        replace(ANN, reference=text),
        replace(ANN, name=text),
        replace(ANN, reference="N9", quantity=10**9),
    ]
    others = [replace(ANN, reference=f"F{number}", note="n" * 1_500) for number in range(4)]
    mine = looked(month, written(tmp_path / "roster.csv", [*others, *rows_of_it]))
    assert counts(mine)[:5] == (7, 4, 0, 0, 3)


def test_only_the_first_problems_are_kept_for_pages(
    month: Month, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(looking, "MOST_FOUND", 2)
    bad = [replace(ANN, reference=f"N{number}", tier="NONE") for number in range(5)]
    assert len(looked(month, written(tmp_path / "roster.csv", bad)).found) == 2


def test_more_refused_rows_than_a_sheet_holds_go_on_on_a_second_one(
    month: Month, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(refused, "MOST_ROWS", 3)
    looked(month, written(tmp_path / "roster.csv", [replace(ANN, tier="NONE")] * 5))
    book = openpyxl.load_workbook(tmp_path / "roster.xlsx")
    found = [[row[0].value for row in sheet.iter_rows(min_row=4)] for sheet in book]
    assert (book.sheetnames, found) == (["Roster", "Roster 2"], [[2, 3, 4], [5, 6]])


# --- Refused as a whole ---


@pytest.mark.parametrize(
    ("file", "said"),
    [
        (b"Reference,Name\nA,B\n", 'the heading "Tier" is missing'),
        (",".join(HEADINGS).encode(), "there is nobody in the file"),
        (",".join(HEADINGS).encode() + b"\nA,M\xfcller\n", "is not UTF-8"),
    ],
)
def test_a_file_that_cannot_be_read_ends_the_intake(
    file: bytes, said: str, month: Month, tmp_path: Path
) -> None:
    path = tmp_path / "roster.csv"
    path.write_bytes(file)
    mine = looked(month, path)
    assert (mine.step, said in mine.error.replace("There", "there")) == (Step.REFUSED, True)
    assert not IntakeRow.objects.exists()


def test_more_boxes_than_a_month_may_have_are_refused(
    month: Month, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Those of people who are not in the file count, too, and whole kits ordered once."""
    active = sum(one.quantity for one in SMALL_MONTH.subscribers if one.active)
    kits = sum(
        order.count for order in SMALL_MONTH.orders if order.item in {tier.code for tier in SMALL_MONTH.tiers}
    )
    path = written(tmp_path / "roster.csv", [replace(ANN, quantity=7)])
    monkeypatch.setattr(roster_rules, "MOST_BOXES", active + kits + 7)
    assert looked(month, path).step == Step.LOOKED_AT
    monkeypatch.setattr(roster_rules, "MOST_BOXES", active + kits + 6)
    mine = looked(month, path)
    assert (mine.step, "more than a month may have" in mine.error) == (Step.REFUSED, True)


# --- Others at the same time ---


def test_a_month_changed_since_it_was_compared_is_not_touched(month: Month, tmp_path: Path) -> None:
    mine = looked(month, written(tmp_path / "roster.csv", [ANN]))
    Intake.objects.filter(pk=mine.pk).update(step=Step.AGREED)
    Month.objects.filter(pk=month.pk).update(fingerprint="another")
    with pytest.raises(intake.ChangedMonthError):
        intake.take(mine)
    mine.refresh_from_db()
    assert mine.step == Step.WAITING
    assert "N1" not in people(month)


def test_taking_twice_changes_nothing_more(month: Month, tmp_path: Path) -> None:
    mine = taken(month, written(tmp_path / "roster.csv", [ANN]))
    kept = Month.objects.values().get(pk=month.pk)
    intake.take(mine)
    assert Month.objects.values().get(pk=month.pk) == kept


def test_nobody_takes_what_nobody_agreed_to(month: Month, tmp_path: Path) -> None:
    mine = looked(month, written(tmp_path / "roster.csv", [ANN]))
    intake.take(mine)
    mine.refresh_from_db()
    assert mine.step == Step.LOOKED_AT
    assert "N1" not in people(month)


def test_of_two_who_look_through_a_file_the_later_one_goes_on(month: Month, tmp_path: Path) -> None:
    path = written(tmp_path / "roster.csv", [ANN])
    mine = Intake.objects.create(month=month, name=path.name)

    def overtake(seen: int) -> None:
        looking.begin(mine, "somebody else")

    with pytest.raises(intake.SupersededError):
        intake.look(mine, path, path.with_suffix(".xlsx"), overtake)
    mine.refresh_from_db()
    assert (mine.step, mine.owner, IntakeRow.objects.count()) == (Step.WAITING, "somebody else", 0)
    intake.look(mine, path, path.with_suffix(".xlsx"))
    with pytest.raises(intake.SupersededError):
        intake.look(mine, path, path.with_suffix(".xlsx"))


# --- Any rosters at all ---

TEXTS = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S")), min_size=1, max_size=5)
PEOPLE = st.builds(
    Person,
    reference=st.sampled_from(["N1", "N2", "N3", "S1", "S2"]),
    name=TEXTS,
    address_1=TEXTS,
    address_2=st.just("") | TEXTS,
    city=TEXTS,
    postcode=st.sampled_from(["", "007", "LS1"]),
    country=st.just("GB"),
    tier=st.just("FULL"),
    quantity=st.integers(0, 3),
    active=st.booleans(),
    joined=st.none() | st.dates(date(2020, 1, 1), date(2027, 12, 31)),
    skips=st.sampled_from([(), (YearMonth(2027, 4),), (YearMonth(2027, 4), YearMonth(2027, 5))]),
    sent=st.none() | st.integers(0, 3),
    promotions=st.sampled_from([(), ("MAY",), ("MAY", "JUNE")]),
    note=st.just("") | TEXTS,
)
ROSTERS = st.lists(st.lists(PEOPLE, min_size=1, max_size=6), min_size=1, max_size=3)


@given(files=ROSTERS)
@settings(max_examples=examples(40), suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_month_after_any_files_is_what_a_dictionary_says(files: list[list[Person]], tmp_path: Path) -> None:
    """The first row of a reference counts; a reference that is known keeps its place."""
    month = save.month(SMALL_MONTH)
    expected = {one.reference: one for one in SMALL_MONTH.subscribers}
    for people_in_file in files:
        firsts = {one.reference: one for one in reversed(people_in_file)}
        in_order = {one.reference: firsts[one.reference] for one in people_in_file}
        known = in_order.keys() & expected.keys()
        changed = sum(expected[key] != in_order[key] for key in known)
        mine = taken(month, written(tmp_path / "roster.csv", people_in_file))
        assert counts(mine) == (
            len(people_in_file),
            len(in_order) - len(known),
            changed,
            len(known) - changed,
            len(people_in_file) - len(in_order),
            len(expected) - len(known),
        )
        expected |= in_order
        assert list(people(month).values()) == list(expected.values())


def test_every_field_of_a_person_is_compared() -> None:
    assert set(rows.FIELDS) == {each.name for each in fields(Person)}
    assert rows.FIELDS[-5:] == ("joined", "skips", "sent", "promotions", "note")
    assert {each.name for each in IntakeRow._meta.get_fields()} == {
        "id",
        "intake",
        "number",
        "faulty",
        *rows.FIELDS,
    }
