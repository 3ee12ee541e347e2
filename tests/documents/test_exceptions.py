import csv
from dataclasses import replace
from datetime import date
from io import StringIO

from hypothesis import given
from hypothesis import strategies as st

from planning.documents.exceptions import (
    DANGEROUS,
    HEADS,
    RosterException,
    What,
    exceptions_csv,
    harmless,
    roster_exceptions,
)
from planning.documents.listing import list_boxes
from planning.flow import plan_month
from planning.month import Month
from planning.roster import Subscriber
from tests.documents.small_month import MONTH, STAMP, person


def exceptions_of(month: Month) -> tuple[RosterException, ...]:
    plan = plan_month(month)
    return roster_exceptions(month, plan, list_boxes(month, plan))


FOUND = exceptions_of(MONTH)


def of_kind(what: What, found: tuple[RosterException, ...] = FOUND) -> list[str]:
    return [one.subscriber.reference for one in found if one.what is what]


def with_people(*people: Subscriber) -> tuple[RosterException, ...]:
    return exceptions_of(replace(MONTH, subscribers=people, orders=()))


def test_everyone_left_out_is_named_with_the_reason() -> None:
    left = {one.subscriber.reference: one.why for one in FOUND if one.what is What.LEFT_OUT}
    assert left == {
        "S04": "not active",
        "S05": "joins in a later month",
        "S06": "skips this month",
        "S07": "quantity is 0",
    }


def test_every_late_box_is_named_with_the_day_it_arrives() -> None:
    late = [(one.subscriber.reference, one.arrives) for one in FOUND if one.what is What.LATE]
    assert late == [("S11", date(2027, 4, 15))]
    assert sum(load.boxes for load in plan_month(MONTH).shipping.late) == len(late)


def test_a_box_no_service_takes_is_named_with_the_reason() -> None:
    [one] = [one for one in FOUND if one.what is What.NOT_SENT]
    assert one.subscriber.reference == "S12"
    assert one.why.startswith("no service takes")


def test_the_same_name_and_address_twice_is_seen_through_case_accents_and_spaces() -> None:
    assert of_kind(What.TWICE) == ["S01", "S15"]
    found = with_people(
        person("A", "Zoë Reed", address_1="1 Reed Lane"), person("B", "zoe  reed", address_1="1, reed lane")
    )
    assert of_kind(What.TWICE, found) == ["A", "B"]


def test_two_people_of_one_household_are_no_duplicate() -> None:
    found = with_people(
        person("A", "Zoë Reed", address_1="1 Reed Lane"), person("B", "Yan Reed", address_1="1 Reed Lane")
    )
    assert of_kind(What.TWICE, found) == []


def test_characters_the_slips_cannot_print_are_named() -> None:
    [one] = [one for one in FOUND if one.what is What.CHARACTERS]
    assert one.subscriber.reference == "S11"  # Japanese
    assert all(character in one.why for character in "水野美咲")


def test_accents_and_letters_of_the_latin_greek_and_cyrillic_scripts_are_no_exception() -> None:
    found = with_people(person("A", "Łukasz Dvořák"), person("B", "Ελένη"), person("C", "Борис"))
    assert of_kind(What.CHARACTERS, found) == []


def test_a_line_too_long_for_the_slip_is_quoted() -> None:
    long = "The Old Boat House behind the Third Mill on the Upper Weir of the River, Staircase B, Door 14"
    [one] = [one for one in with_people(person("A", "Jo Long", address_1=long)) if one.what is What.LONG_LINE]
    assert long in one.why


def test_a_missing_postcode_is_odd_only_where_others_have_one() -> None:
    assert of_kind(What.NO_POSTCODE) == ["S14"]
    alone = with_people(person("A", "Ann", postcode=""), person("B", "Bo", "PL"))
    assert of_kind(What.NO_POSTCODE, alone) == []


def test_addresses_are_looked_at_only_where_a_box_goes() -> None:
    gone = person("A", "水野 美咲", active=False, postcode="")
    assert {one.what for one in with_people(gone, person("B", "Bo"))} == {What.LEFT_OUT}


def test_what_needs_somebody_stands_first() -> None:
    order = [list(What).index(one.what) for one in FOUND]
    assert order == sorted(order)


# --- The file ---


def read(file: bytes) -> list[list[str]]:
    return list(csv.reader(StringIO(file.decode("utf-8-sig"), newline="")))


def test_the_file_holds_a_line_for_each_exception_and_says_which_plan_it_belongs_to() -> None:
    heads, *lines = read(exceptions_csv(FOUND, STAMP))
    assert tuple(heads) == HEADS
    assert [line[1] for line in lines] == [one.subscriber.reference for one in FOUND]
    assert {tuple(line[-3:]) for line in lines} == {(STAMP.plan_id, "3", "2027-03-01T09:30:00+00:00")}


def test_the_file_begins_with_the_mark_of_utf_8_and_ends_lines_as_rfc_4180_does() -> None:
    file = exceptions_csv(FOUND, STAMP)
    assert file.startswith(b"\xef\xbb\xbf")
    assert file.count(b"\n") == file.count(b"\r\n") == len(FOUND) + 1


def test_a_name_that_is_a_formula_is_harmless() -> None:
    evil = person("A", '=HYPERLINK("http://club.invalid","Win")', active=False)
    _, line = read(exceptions_csv(with_people(evil), STAMP))
    assert line[2] == """'=HYPERLINK("http://club.invalid","Win")"""


@given(st.text(max_size=20))
def test_no_text_begins_like_a_formula(text: str) -> None:
    assert not harmless(text).startswith(DANGEROUS)
    assert harmless(text).endswith(text)
