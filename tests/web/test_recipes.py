"""The month's recipes: the list, a new one, a copy, their papers, and one less."""

from dataclasses import replace

import pytest
from django.test import Client

from kits.kit import KitLine, KitPaper
from kits.models import Month, Recipe
from planning import load, save
from planning.drafts import draft_faults
from planning.faults.texts import LONGEST_CODE
from planning.recipe_rows import version
from tests.web.designed_month import DESIGNED_MONTH, HERONS
from tests.web.small_month import SMALL_MONTH


@pytest.fixture
def month(db: None) -> Month:
    return save.month(DESIGNED_MONTH)


def test_it_works(desk: Client, month: Month) -> None:
    page = desk.get(f"/months/{month.pk}/recipes").content.decode()
    assert f'href="/months/{month.pk}/recipe?code=R1">Two Herons' in page
    for said in ("<b>33 %</b>", "1 sheet, 3 cuts, 2 turns, 1 photo.", "In every box", "left page first"):
        assert said in page
    assert "<svg" in page
    assert "in the way" not in page


def test_the_month_page_leads_to_them(desk: Client, month: Month) -> None:
    page = desk.get(f"/months/{month.pk}/").content.decode()
    assert f'<a href="/months/{month.pk}/recipes">Recipes</a>' in page
    assert "1 sheet, 3 cuts for the subscriber." in page


def test_a_recipe_without_a_design_and_a_month_without_a_recipe_say_so(desk: Client) -> None:
    month = save.month(SMALL_MONTH)
    assert (
        "2 sheets. Known by its papers and pieces alone"
        in desk.get(f"/months/{month.pk}/recipes").content.decode()
    )
    empty = replace(SMALL_MONTH, recipes=(), roles=(), pieces=(), kit_papers=(), kit_lines=())
    assert "No recipe is here yet." in desk.get(f"/months/{save.month(empty).pk}/recipes").content.decode()


def test_papers_that_do_not_suit_are_counted_as_faults_of_their_recipe(desk: Client) -> None:
    month = save.month(
        replace(DESIGNED_MONTH, kit_papers=(KitPaper(recipe="R1", role="base", material="SMALL"),))
    )
    assert "1 fault in the way of a plan" in desk.get(f"/months/{month.pk}/recipes").content.decode()


def test_faults_of_a_recipe_that_is_in_no_box_are_in_nobodys_way(desk: Client) -> None:
    draft = replace(
        DESIGNED_MONTH.recipes[0], code="R2", text=HERONS.replace("R1", "R2").replace("2 of 4", "3 of 4")
    )
    month = save.month(replace(DESIGNED_MONTH, recipes=(*DESIGNED_MONTH.recipes, draft)))
    page = desk.get(f"/months/{month.pk}/recipes").content.decode()
    assert "A draft with 2 faults" in page
    assert "in the way" not in page
    asked = {"text": draft.text, "act": "save", "seen": version(draft.text)}
    saved = desk.post(f"/months/{month.pk}/recipe-look?code=R2", asked).json()
    assert saved["said"] == "Saved as a draft with 2 faults, which can wait until the kit names this recipe."


# --- A new one ---


def test_a_new_recipe_begins_with_its_code_title_and_the_clubs_ruler(desk: Client, month: Month) -> None:
    assert desk.get(f"/months/{month.pk}/new-recipe").status_code == 200
    answer = desk.post(f"/months/{month.pk}/new-recipe", {"new_code": "R 2", "title": "One # Egret"})
    assert answer["Location"] == f"/months/{month.pk}/recipe?code=R+2"
    assert (
        "recipe R 2: &quot;One # Egret&quot;\nruler 1/8 in\n" in desk.get(answer["Location"]).content.decode()
    )
    book = load.month(month.pk)
    assert book.recipes[0] == DESIGNED_MONTH.recipes[0]
    assert book.recipes[1].title == "One # Egret"
    assert draft_faults(book) == ()  # the month can be planned as before


@pytest.mark.parametrize(
    ("code", "title", "field", "said"),
    [
        ("", "A", "new_code", "Give the recipe a code."),
        ("A", " ", "title", "Give the recipe a title."),
        ("R1", "A", "new_code", "R1 is the code of another recipe this month."),
        ("A,B", "A", "new_code", "cannot be told from a list of codes"),
        ("A" * (LONGEST_CODE + 1), "A", "new_code", "characters long"),
        ("A\x07", "A", "new_code", "cannot be printed"),
    ],
)
@pytest.mark.parametrize("page", ["new-recipe", "recipe-copy?code=R1"])
def test_names_that_cannot_be_are_told_at_their_field(
    desk: Client, month: Month, page: str, code: str, title: str, field: str, said: str
) -> None:
    answer = desk.post(f"/months/{month.pk}/{page}", {"new_code": code, "title": title})
    assert answer.status_code == 422
    html = answer.content.decode()
    assert f'<a href="#{field}">' in html
    assert said in html
    assert Recipe.objects.count() == 1


def test_a_copy_has_the_design_and_the_papers_of_the_other(desk: Client, month: Month) -> None:
    assert "Duplicate Two Herons" in desk.get(f"/months/{month.pk}/recipe-copy?code=R1").content.decode()
    desk.post(f"/months/{month.pk}/recipe-copy?code=R1", {"new_code": "R2", "title": "Two more"})
    book = load.month(month.pk)
    assert book.recipes[1].text == HERONS.replace("recipe R1: Two Herons", "recipe R2: Two more")
    assert book.kit_papers[1] == KitPaper(recipe="R2", role="base", material="SHORE")
    assert draft_faults(book) == ()


def test_a_copy_of_a_recipe_without_a_design_has_one(desk: Client) -> None:
    month = save.month(SMALL_MONTH)
    desk.post(f"/months/{month.pk}/recipe-copy?code=R1", {"new_code": "R2", "title": "Two more"})
    assert Recipe.objects.get(code="R2").text.startswith("recipe R2: Two more\n")


# --- One less ---


def test_a_recipe_is_deleted_only_when_asked_twice(desk: Client, month: Month) -> None:
    url = f"/months/{month.pk}/recipe-delete?code=R1"
    assert "It is in the kit (In every box): its lines there go too." in desk.get(url).content.decode()
    assert Recipe.objects.exists()
    before = Month.objects.get().fingerprint
    assert desk.post(url)["Location"] == f"/months/{month.pk}/recipes"
    book = load.month(month.pk)
    assert (book.recipes, book.kit_papers) == ((), ())
    assert KitLine(kind=DESIGNED_MONTH.kit_lines[0].kind, item="R1") not in book.kit_lines
    assert book.kit_lines == DESIGNED_MONTH.kit_lines[1:]
    assert Month.objects.get().fingerprint != before


# --- Papers ---


@pytest.mark.parametrize(
    ("material", "said"),
    [
        ("SHORE", "It suits."),
        ("SMALL", "Small Sheet has the wrong size: 8 in × 8 in instead of 12 in × 12 in."),
        ("LIGHT", "Light Sheet is too light: 90 g/m² instead of at least 160 g/m²."),
        ("WAVES", "Wave Print has a print with a top, but pieces would lie with it on its side"),
        ("", "No material plays it yet."),
        ("RIBBON", "No material plays it yet."),
        ("nothing", "No material plays it yet."),
    ],
)
def test_a_substitute_is_tried_before_it_is_saved(desk: Client, material: str, said: str) -> None:
    text = HERONS.replace("1 sheet 12 x 12", "1 sheet 12 x 12, at least 160 g/m²")
    text = text.replace("mat at 7, centred", "mat at 6, 7, turned")
    month = save.month(replace(DESIGNED_MONTH, recipes=(replace(DESIGNED_MONTH.recipes[0], text=text),)))
    url = f"/months/{month.pk}/recipe-papers?code=R1"
    page = desk.post(url, {"paper-0": material, "act": "try"}).content.decode()
    assert said in page
    assert ("Tried, not saved." in page) == (material != "SHORE")
    assert load.month(month.pk).kit_papers == DESIGNED_MONTH.kit_papers


def test_what_new_trims_would_do_for_a_substitute_is_told(desk: Client, month: Month) -> None:
    page = desk.post(f"/months/{month.pk}/recipe-papers?code=R1", {"paper-0": "SMALL", "act": "try"})
    assert "With new trims it would do, 1 sheet of it" in page.content.decode()


def test_papers_are_saved_when_asked(desk: Client, month: Month) -> None:
    url = f"/months/{month.pk}/recipe-papers?code=R1"
    assert "Shore White, 12 in × 12 in</option>" in desk.get(url).content.decode()
    assert desk.post(url, {"paper-0": "LIGHT", "act": "save"}).status_code == 302
    book = load.month(month.pk)
    assert book.kit_papers == (KitPaper(recipe="R1", role="base", material="LIGHT"),)
    assert draft_faults(book) == ()
    desk.post(url, {"paper-0": "", "act": "save"})
    assert load.month(month.pk).kit_papers == ()


def test_a_recipe_that_names_no_paper_says_how_to(desk: Client) -> None:
    nothing = replace(DESIGNED_MONTH.recipes[0], text="recipe R1: Two Herons\n")
    month = save.month(replace(DESIGNED_MONTH, recipes=(nothing,), kit_papers=()))
    assert "names no paper yet" in desk.get(f"/months/{month.pk}/recipe-papers?code=R1").content.decode()
