"""The editor of a recipe: what it shows, what it does to a text, and when it keeps one."""

import re
import time
from dataclasses import replace
from html import unescape
from typing import Any

import pytest
from django.test import Client

from kits.models import Month, Recipe
from planning import jobs, load, save
from planning.drafts import refuse_drafts
from planning.models import Job, Plan, State
from planning.monthfile import month_to_workbook, read_month
from planning.recipe_rows import version
from planning.run import fingerprint, make_plan
from planning.views.recipe_shown import shown
from planning.views.recipe_work import worked
from tests.web.designed_month import DESIGNED_MONTH, HERONS
from tests.web.planned import plan_of
from tests.web.small_month import CLUB, SMALL_MONTH

BASE = "sheet 1 of base"
EVIL = "<script>alert(1)</script>"


@pytest.fixture
def month(db: None) -> Month:
    return save.month(DESIGNED_MONTH)


def url(month: Month, page: str = "recipe", code: str = "R1") -> str:
    return f"/months/{month.pk}/{page}?code={code}"


def look(desk: Client, month: Month, text: str = HERONS, act: str = "", **other: str) -> dict[str, Any]:
    """Return what the page's script is told of a text."""
    asked = {"text": text, "act": act, "seen": version(kept(month).text), **other}
    answer = desk.post(url(month, "recipe-look"), asked)
    assert answer.status_code == 200
    told: dict[str, Any] = answer.json()
    return told


def plain(html: str) -> str:
    """Return what a piece of a page says, without its marks."""
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", html)).split())


def kept(month: Month) -> Recipe:
    return Recipe.objects.get(month=month, code="R1")


# --- What it shows ---


def test_it_works(desk: Client, month: Month) -> None:
    page = desk.get(url(month)).content.decode()
    assert "sheet 1 of base\n    turn\n    cut at 6: offcut" in page
    assert "<b>0</b>" in page
    assert "No faults" in page
    assert "<b>33 %</b>" in page  # 48 of 144 square inches
    assert '<td class="number">12 in × 6 in</td>' in page  # left over
    assert page.count('<svg xmlns="http://www.w3.org/2000/svg" class="drawing"') == 2  # a sheet and a page


def test_a_look_says_what_comes_of_a_text_and_keeps_nothing(desk: Client, month: Month) -> None:
    told = look(desk, month, HERONS.replace("cut at 6: offcut", "cut at 6 1/16: offcut"))
    assert told["marked"] == [12]
    assert told["faults"] == 1
    assert "6 1/16 is not on a mark of the 1/8 in ruler." in told["pieces"]["faults"]
    assert "sheet 1 of base" in told["pieces"]["sheets"]
    assert kept(month).text == HERONS


@pytest.mark.parametrize(
    ("old", "new", "line", "said"),
    [
        ("cut at 6: offcut", "cut at 0: offcut", 12, "0 cuts nothing off. Cut between 1/8 in and 11 7/8 in."),
        ("cut at 6: offcut", "cut at 12: offcut", 12, "12 is at the edge: what is in hand reaches to 12 in."),
        (
            "cut at 6: offcut",
            "cut at 13: offcut",
            12,
            "13 is beyond the edge: what is in hand reaches to 12 in.",
        ),
        ("cut at 6: offcut", "cut at 6 1/16: offcut", 12, "The nearest marks are 6 in and 6 1/8 in."),
        ("rest: mat -> left", "rest: mat -> left\n    cut at 2: offcut", 17, "was finished on line 16"),
        ("cut at 8: offcut", "cut at 8: mat -> left", 16, "mat is named once more, but 2 are wanted on left"),
        (
            "cut at 6: offcut",
            "cut at 150 mm: offcut",
            12,
            "is measured in mm, but this recipe on the 1/8 in ruler",
        ),
    ],
)
def test_every_fault_is_told_with_its_line_its_measure_and_what_is_allowed(
    old: str, new: str, line: int, said: str
) -> None:
    faults = shown(HERONS.replace(old, new), "R1").faults
    assert said in " ".join(f"{fault.said} {fault.allowed}" for fault in faults)
    assert line in [fault.line for fault in faults]


def test_a_turn_of_a_one_way_print_is_told(desk: Client, month: Month) -> None:
    text = HERONS.replace("1 sheet 12 x 12", "1 sheet 12 x 12, print one way").replace(
        "piece mat: 2 of 4 x 6", "piece mat: 2 of 6 x 4"
    )
    faults = look(desk, month, text)["pieces"]["faults"]
    assert "mat would lie turned here, 4 in x 6 in, but its print runs one way." in faults


def test_a_design_that_reads_but_does_not_come_out_is_told_at_its_line(desk: Client, month: Month) -> None:
    told = look(desk, month, HERONS.replace("2 of 4 x 6", "3 of 4 x 6"))
    assert "cut too few times: 2 instead of 3" in told["pieces"]["faults"]
    assert told["marked"] == [7, 18]
    assert "piece to cut still" in told["pieces"]["figures"]


def test_another_code_than_the_recipes_own_is_told(desk: Client, month: Month) -> None:
    assert "Write recipe R1." in look(desk, month, HERONS.replace("R1", "R2"))["pieces"]["faults"]


def test_a_text_of_10_000_lines_is_answered_in_time(desk: Client, month: Month) -> None:
    for line in ("a\n", "piece photo mat: 2 of 4 1/4 x 6 1/4 from mats -> left\n"):
        began = time.monotonic()
        told = look(desk, month, line * 10_000)
        assert time.monotonic() - began < 5  # seconds, on a busy machine
        assert told["faults"] >= 1
    assert "The text has 10,001 lines and 540,000 characters, and is not read." in told["pieces"]["faults"]
    assert told["marked"] == [371]  # 20,000 characters are 370 lines of 54 and 20 more


def test_what_nobody_could_look_at_is_not_drawn(desk: Client, month: Month) -> None:
    told = look(desk, month, HERONS.replace("1 sheet 12 x 12", "999 sheets 12 x 12"))
    assert "Drawn are the first 24 of 999 sheets." in told["pieces"]["sheets"]
    cuts = "".join(f"    cut at {mark / 8}: offcut\n" for mark in range(95, 0, -1))
    many = ", ".join(f"sheet {number} of base" for number in range(1, 60))
    text = f"recipe R1: A\npaper base: 99 sheets 12 x 12\ntogether: {many}\n{cuts}    rest: offcut\n"
    assert "only recipes of up to 3,000 are drawn" in look(desk, month, text)["pieces"]["sheets"]


@pytest.mark.parametrize(
    "text", ["", "\x00", "\ud800", '"', "sheet 1 of", "recipe", EVIL, "\ufeffrecipe R1: A"]
)
def test_no_text_breaks_the_page(desk: Client, month: Month, text: str) -> None:
    sent = text.encode("utf-8", "replace").decode()
    told = look(desk, month, sent)
    assert EVIL not in str(told["pieces"])
    answer = desk.post(url(month), {"text": sent, "act": "check", "seen": ""})
    assert answer.status_code == 200
    assert EVIL not in answer.content.decode()


def test_a_recipe_known_by_its_rows_begins_with_a_text_that_says_them(desk: Client) -> None:
    month = save.month(SMALL_MONTH)
    page = desk.get(url(month)).content.decode()
    assert "piece mat: 2 of 4 x 6 from base -&gt; left" in page
    assert "known by its paper roles and pieces alone" in page
    seen = version("")
    answer = desk.post(url(month), {"text": HERONS, "act": "save", "seen": seen})
    assert answer.status_code == 200
    book = load.month(month.pk)
    assert (book.roles, book.pieces, book.recipes[0].text) == ((), (), HERONS)


# --- What it does to a text ---


def test_a_cut_goes_into_the_text(desk: Client, month: Month) -> None:
    told = look(desk, month, act="cut", part=f"{BASE}#0", fence="left", mark="4 1/2")
    assert "    cut at 6\n        turn\n        cut at 4 1/2: offcut\n        rest: offcut\n" in told["text"]
    assert told["said"] == "Cut at 4 1/2 in. Off comes 7 1/2 in × 6 in."
    assert told["chosen"] == f"{BASE}#0"
    assert kept(month).text == HERONS


@pytest.mark.parametrize(
    ("part", "mark", "said"),
    [
        (f"{BASE}#0", "0", "A cut at 0 in cuts nothing off. Cut between 1/8 in and 11 7/8 in."),
        (f"{BASE}#0", "12", "is at the edge: what is in hand reaches to 12 in"),
        (f"{BASE}#0", "99", "is beyond the edge: what is in hand reaches to 12 in"),
        (f"{BASE}#0", "1/16", "is not on a mark of the 1/8 in ruler."),
        (f"{BASE}#0", "wide", "is no length"),
        (f"{BASE}#0", "-1", "is no length"),
        (f"{BASE}#2", "1", "Mat is finished there, so nothing is cut off it at 1 in. Name it offcut first"),
        (f"{BASE}#77", "1", "Choose a part of a sheet again."),
        (f"{BASE}#²", "1", "Choose a part of a sheet again."),
        ("sheet 1 of moon#0", "1", "is no sheet of the recipe"),
        ("", "1", "is no sheet of the recipe"),
    ],
)
def test_a_cut_that_cannot_be_is_told_and_the_text_stays(part: str, mark: str, said: str) -> None:
    asked = {"text": HERONS, "act": "cut", "part": part, "fence": "left", "mark": mark}
    done = worked(asked, HERONS)
    assert done.trouble is not None
    assert said in f"{done.trouble.said} {done.trouble.allowed}"
    assert done.text == HERONS


def test_a_piece_is_named_and_the_next_part_is_taken(desk: Client, month: Month) -> None:
    text = HERONS.replace("cut at 4: mat -> left", "cut at 4: offcut").replace(
        "rest: mat -> left", "rest: offcut"
    )
    told = look(desk, month, text, act="name", part=f"{BASE}#2", name='["mat", "left"]')
    assert told["text"] == text.replace("cut at 4: offcut", "cut at 4: mat -> left")
    assert told["chosen"] == f"{BASE}#3"
    assert look(desk, month, told["text"], act="name", part=f"{BASE}#2", name="")["text"] == text


def test_a_piece_of_another_size_is_not_named(desk: Client, month: Month) -> None:
    told = look(desk, month, act="name", part=f"{BASE}#0", name='["mat", "left"]')
    assert "Mat for page left is not wanted 12 in x 6 in from base." in told["trouble"]
    assert look(desk, month, act="name", part=f"{BASE}#0", name="[broken")["needs"]
    assert look(desk, month, act="name", part=f"{BASE}#0", name="7")["needs"]


def test_arranging_offers_other_trims_beside_those_of_the_text(desk: Client, month: Month) -> None:
    told = look(desk, month, act="arrange")
    assert told["text"] == HERONS
    assert (
        "base: 1 sheet, proved best: no way needs fewer, none leaves a larger offcut than"
        in told["pieces"]["compared"]
    )
    for what in ("Sheets", "Used of what is cut", "Largest offcut", "Cuts", "Turns"):
        assert f'<th scope="row">{what}</th>' in told["pieces"]["compared"]
    taken = look(desk, month, act="take", other=told["other"])
    assert taken["text"] == told["other"]
    assert taken["faults"] == 0
    assert "mat at 7, centred" in taken["text"]  # only sheets change


def test_what_cannot_be_arranged_is_told(desk: Client, month: Month) -> None:
    assert (
        "does not fit a sheet"
        in look(desk, month, HERONS.replace("4 x 6", "40 x 6"), act="arrange")["trouble"]
    )
    told = look(desk, month, HERONS.replace("2 of 4", "two of 4"), act="arrange")
    assert 'data-line="7"' in told["trouble"]


def test_the_saved_trims_can_be_compared_and_taken_back(desk: Client, month: Month) -> None:
    told = look(desk, month, HERONS.replace("cut at 8", "cut at 9"), act="compare")
    assert told["other"] == HERONS
    assert "As saved" in told["pieces"]["compared"]


def test_without_scripts_the_page_does_the_same(desk: Client, month: Month) -> None:
    asked = {"text": HERONS.replace("\n", "\r\n"), "seen": version(HERONS)}
    cut = desk.post(url(month), asked | {"act": "cut", "part": f"{BASE}#0", "fence": "left", "mark": "4"})
    assert "        cut at 4: offcut\n" in cut.content.decode()
    wrong = desk.post(url(month), asked | {"act": "cut", "part": f"{BASE}#0", "fence": "left", "mark": "40"})
    assert wrong.status_code == 422
    assert "<title>Error: Two Herons" in wrong.content.decode()
    compared = desk.post(url(month), asked | {"act": "arrange"}).content.decode()
    assert 'name="other"' in compared
    assert "Take the arranged trims" in compared
    assert kept(month).text == HERONS


# --- Saving ---


def test_a_text_is_kept_when_asked_and_the_month_file_carries_it(desk: Client, month: Month) -> None:
    text = HERONS.replace("Two Herons", "Three Herons")
    told = look(desk, month, text, act="save")
    assert told["said"].startswith("Saved. Plan the month again")
    assert told["seen"] == version(text)
    row = kept(month)
    assert (row.text, row.title) == (text, "Three Herons")
    month.refresh_from_db()
    assert month.fingerprint == fingerprint(load.month(month.pk)) != fingerprint(DESIGNED_MONTH)
    book = read_month(month_to_workbook(load.month(month.pk)), CLUB.planned_on)
    assert book.recipes[0].text.strip() == text.strip()


def test_a_changed_recipe_changes_the_next_plan_and_leaves_the_one_before(desk: Client, month: Month) -> None:
    before = plan_of(month, with_papers=False)
    assert "changed since" not in desk.get(f"/months/{month.pk}/").content.decode()
    text = HERONS.replace("1 sheet 12", "2 sheets 12") + "\nsheet 2 of base: offcut\n"
    assert look(desk, month, text, act="save")["faults"] == 0
    page = desk.get(f"/months/{month.pk}/").content.decode()
    assert "The month changed since this plan was made." in page
    assert f"version {before.version}," in page
    after = make_plan(load.month(month.pk), 2, before.made_at)
    assert wanted(after, "material:SHORE") > wanted(load.planned(before), "material:SHORE") > 0


def wanted(planned: Any, name: str) -> int:
    return sum(line.good for line in planned.plan.requirements.lines if line.item == name)


def test_a_draft_with_faults_is_kept_but_the_month_is_not_planned(desk: Client, month: Month) -> None:
    told = look(desk, month, HERONS.replace("cut at 6", "cut at six"), act="save")
    assert told["said"] == "Saved as a draft with 1 fault: the month cannot be planned before it is mended."
    page = desk.get(f"/months/{month.pk}/").content.decode()
    assert "1 fault in Two Herons" in page
    assert "1 fault in the way of a plan" in desk.get(f"/months/{month.pk}/recipes").content.decode()
    jobs.work_on(jobs.enqueue("plan", month).pk, "tests")
    job = Job.objects.get()
    assert job.state == State.FAILED
    assert job.error.startswith("1 fault stands in the way of a plan. Recipe R1: line 12, column 12: six")
    assert not Plan.objects.exists()
    look(desk, month, act="save")
    refuse_drafts(load.month(month.pk))


def test_what_somebody_else_saved_meanwhile_is_not_overwritten(desk: Client, month: Month) -> None:
    theirs, mine = HERONS.replace("Two", "Their"), HERONS.replace("Two", "My")
    opened = version(HERONS)
    look(desk, month, theirs, act="save")
    told = look(desk, month, mine, act="save", seen=opened)
    assert told["needs"]
    assert told["text"] == mine
    assert "Somebody else saved this recipe since you opened it." in told["trouble"]
    assert told["other"] == theirs
    assert kept(month).text == theirs
    page = desk.post(url(month), {"text": mine, "act": "save", "seen": opened}).content.decode()
    assert "recipe R1: My Herons" in page
    assert f'name="now" value="{version(theirs)}"' in page
    taken = look(desk, month, mine, act="take", other=theirs, seen=opened, now=version(theirs))
    assert (taken["text"], taken["seen"]) == (theirs, version(theirs))
    over = look(desk, month, mine, act="save-over", seen=opened, now=version(theirs))
    assert over["said"].startswith("Saved.")
    assert kept(month).text == mine
    again = look(desk, month, mine, act="save", seen=opened)  # its answer was lost on the way, say
    assert again["said"].startswith("Saved.")


def test_a_recipe_that_somebody_took_out_is_not_saved_again(desk: Client, month: Month) -> None:
    from planning import recipe_rows

    with pytest.raises(recipe_rows.ChangedError) as error:
        recipe_rows.save_text(month, "R7", HERONS, version(HERONS))
    assert error.value.now is None


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (" \n", "There is nothing to save."),
        (HERONS + "# " + "x" * 21_000, "It is too long to be saved. A recipe has at most 20,000 characters"),
        (HERONS + "# \x07", "A character here cannot be printed (U+0007)."),
    ],
)
def test_a_text_that_no_month_file_could_hold_is_not_saved(
    desk: Client, month: Month, text: str, said: str
) -> None:
    told = look(desk, month, text, act="save")
    assert said in plain(told["trouble"])
    assert told["text"] == text
    assert kept(month).text == HERONS


# --- Who may ---


def test_other_sites_and_links_change_nothing(month: Month) -> None:
    from django.contrib.auth.models import User

    strict = Client(enforce_csrf_checks=True)
    strict.force_login(User.objects.create_superuser("clerk"))
    for page in ("recipe", "recipe-look", "recipe-copy", "recipe-delete", "recipe-papers", "new-recipe"):
        assert strict.post(url(month, page), {"act": "save", "text": "x"}).status_code == 403
    assert strict.get(url(month, "recipe-look")).status_code == 405
    assert strict.get(url(month, "recipe-delete")).status_code == 200
    assert kept(month).text == HERONS


def test_a_recipe_that_is_not_there_is_told_so(desk: Client, month: Month) -> None:
    for page in ("recipe", "recipe-look", "recipe-copy", "recipe-delete", "recipe-papers"):
        assert desk.post(url(month, page, "R9")).status_code == 404
        assert desk.post(f"/months/{month.pk}/{page}").status_code == 404


def test_a_text_too_large_for_any_recipe_is_refused_unread(desk: Client, month: Month) -> None:
    assert desk.post(url(month, "recipe-look"), {"text": "x" * 3_000_000}).status_code == 400


def test_a_codes_odd_marks_lead_to_its_recipe(desk: Client) -> None:
    code = "A&B/ü?#"
    text = HERONS.replace("recipe R1", f'recipe "{code}"')
    book = replace(
        DESIGNED_MONTH,
        recipes=(replace(DESIGNED_MONTH.recipes[0], code=code, text=text),),
        kit_papers=(),
        kit_lines=(),
    )
    month = save.month(book)
    page = desk.get(f"/months/{month.pk}/recipes").content.decode()
    link = page.partition(f'href="/months/{month.pk}/recipe?')[2].partition('"')[0]
    assert "No faults" in desk.get(f"/months/{month.pk}/recipe?{link}").content.decode()
