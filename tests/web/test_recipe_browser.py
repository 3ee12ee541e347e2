"""The editor of a recipe in a real browser: by keyboard alone, by pointer, and when something goes wrong."""

import pytest
from playwright.sync_api import Page, expect
from pytest_django.live_server_helper import LiveServer

from kits.models import Month, Recipe
from kits.recipe import check, parse
from planning import save
from tests.support.effort import thorough
from tests.web.designed_month import DESIGNED_MONTH, HERONS
from tests.web.test_browser import assert_no_fault, look_at

WORDS = """\
recipe R2: Three reeds
ruler 1/8 in
paper base: 1 sheet 12 x 12
piece card: 2 of 4 x 6 from base -> left
page left: 12 x 12
    card at 1, 1
card at 7, 1"""  # a new line begins below the one before, so the second card needs no spaces


@pytest.fixture
def month(db: None) -> Month:
    return save.month(DESIGNED_MONTH)


def editor(page: Page, live_server: LiveServer, month: Month) -> None:
    page.goto(f"{live_server.url}/months/{month.pk}/recipe?code=R1")


def tab_to(page: Page, selector: str, key: str = "Tab") -> None:
    """Go from stop to stop until one that fits has the focus."""
    for _ in range(40):
        page.keyboard.press(key)
        if page.evaluate("selector => document.activeElement.matches(selector)", selector):
            return
    raise AssertionError(f"{selector} is not reached by {key}")


def text(page: Page) -> str:
    return page.get_by_label("The recipe", exact=True).input_value()


def test_a_whole_recipe_is_made_by_keyboard_alone(
    at_desk: Page, live_server: LiveServer, month: Month, complaints: list[str]
) -> None:
    page = at_desk
    page.goto(f"{live_server.url}/months/{month.pk}/recipes")
    tab_to(page, "a[href$='/new-recipe']")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("New recipe")
    tab_to(page, "#new_code")
    page.keyboard.type("R2")
    tab_to(page, "#title")
    page.keyboard.type("Three reeds")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Three reeds")

    tab_to(page, "#text")
    page.keyboard.press("Control+A")
    page.keyboard.press("Delete")
    assert text(page) == ""
    page.keyboard.type(WORDS)
    expect(page.locator("#faults")).to_contain_text("sheet 1 of base is not cut")

    tab_to(page, "[role=application]")
    told = page.locator("#told")
    expect(told).to_contain_text("left over, 12 in × 12 in")
    page.keyboard.press("t")
    expect(told).to_have_text("Turned: top edge at the fence, mark 8 in.")
    page.keyboard.press("Shift+ArrowLeft")
    page.keyboard.press("Shift+ArrowLeft")
    expect(told).to_have_text("6 in")
    page.keyboard.press("Enter")
    expect(told).to_contain_text("Cut at 6 in. Off comes 12 in × 6 in.")
    page.keyboard.press("n")
    page.keyboard.press("t")  # the left edge again
    expect(told).to_contain_text("left edge at the fence, mark 8 in.")
    page.keyboard.press("Enter")
    expect(told).to_contain_text("Cut at 8 in.")
    page.keyboard.press("1")
    expect(told).to_contain_text("Sheet 1 of base: card for page left.")
    expect(page.locator("#part")).to_have_value("sheet 1 of base#2")
    page.keyboard.press("Enter")  # at 4 in, where the other card comes out
    expect(told).to_contain_text("Cut at 4 in.")
    page.keyboard.press("1")
    expect(told).to_contain_text("No faults.")
    page.keyboard.press("u")
    expect(told).to_contain_text("1 fault")
    page.keyboard.press("Control+Shift+Z")
    expect(page.locator("#faults")).to_contain_text("No faults")

    tab_to(page, "button[data-act=save]", "Shift+Tab")
    page.keyboard.press("Enter")
    expect(page.locator("#state")).to_contain_text("Saved")
    design = parse(Recipe.objects.get(code="R2").text)
    assert check(design) == ()
    assert [sheet.label for sheet in design.sheets] == ["sheet 1 of base"]


def test_a_click_on_a_sheet_cuts_it_and_a_fault_leads_to_its_line(
    at_desk: Page, live_server: LiveServer, month: Month, complaints: list[str]
) -> None:
    page = at_desk
    editor(page, live_server, month)
    offcut = page.get_by_role("application").locator(".drawn-offcut").first  # wherever it lies
    offcut.scroll_into_view_if_needed()
    room = offcut.bounding_box()
    assert room is not None
    page.mouse.click(room["x"] + room["width"] * 0.3, room["y"] + room["height"] * 0.5)
    expect(page.locator("#told")).to_contain_text("Off comes")
    assert text(page).count("cut at") == HERONS.count("cut at") + 1
    page.get_by_role("button", name="Undo").click()
    assert text(page) == HERONS

    page.get_by_label("The recipe", exact=True).fill(HERONS.replace("cut at 8", "cut at 8 1/16"))
    page.get_by_role("link", name="Line 14").click()
    at = page.evaluate("document.getElementById('text').selectionStart")
    assert HERONS[:at].count("\n") == 13


@thorough
def test_a_text_is_never_lost(at_desk: Page, live_server: LiveServer, month: Month) -> None:
    page = at_desk
    page.on("dialog", lambda dialog: dialog.accept())
    editor(page, live_server, month)
    mine = HERONS.replace("Two Herons", "My Herons")
    page.route("**/recipe-look*", lambda route: route.fulfill(status=500))
    page.get_by_label("The recipe", exact=True).fill(mine)
    expect(page.get_by_role("alert").first).to_contain_text(
        "Your text stands here and is kept in this browser."
    )
    page.get_by_role("button", name="Save", exact=True).click()
    assert text(page) == mine
    page.unroute("**/recipe-look*")
    page.reload()
    assert text(page) == HERONS
    page.get_by_label("The recipe", exact=True).fill(HERONS + "# typed before anything is brought back\n")
    page.reload()
    page.get_by_role("button", name="Bring it back").click()
    assert text(page) == mine
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.locator("#state")).to_contain_text("Saved.")
    page.reload()
    expect(page.get_by_role("button", name="Bring it back")).to_be_hidden()
    assert text(page) == mine

    Recipe.objects.update(text=HERONS)  # somebody else
    page.get_by_label("The recipe", exact=True).fill(mine + "\n# more\n")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("alert").first).to_contain_text("Somebody else saved this recipe")
    assert text(page) == mine + "\n# more\n"
    page.get_by_role("button", name="Save mine in its place").click()
    expect(page.locator("#state")).to_contain_text("Saved.")
    assert "# more" in Recipe.objects.get().text


@thorough
def test_trims_are_arranged_compared_and_taken(
    at_desk: Page, live_server: LiveServer, month: Month, complaints: list[str]
) -> None:
    page = at_desk
    editor(page, live_server, month)
    page.get_by_role("button", name="Arrange for me").click()
    expect(page.get_by_role("heading", name="Two trims to choose from")).to_be_focused()
    expect(page.locator("#compared")).to_contain_text("proved best")
    assert_no_fault(page)
    page.get_by_role("button", name="Take the arranged trims").click()
    expect(page.locator("#state")).to_contain_text("The other trims are in the text now.")
    assert "mat at 7, centred" in text(page)


@thorough
def test_every_page_of_recipes_can_be_read_by_all(
    at_desk: Page, live_server: LiveServer, month: Month, complaints: list[str]
) -> None:
    for path in ("recipes", "recipe?code=R1", "recipe-papers?code=R1"):
        look_at(at_desk, f"{live_server.url}/months/{month.pk}/{path}")
