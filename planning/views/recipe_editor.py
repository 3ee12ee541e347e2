"""The editor: a recipe's text, and beside it what comes of it. Nothing is kept before somebody saves it.

`recipe` is the page, which does everything without scripts too; `recipe_look` answers the page's script in pieces.
"""

from dataclasses import replace
from typing import Any

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.views.decorators.http import require_POST

from kits import models as kits
from kits.measures import INCH, MM, ruler
from kits.recipe import Recipe, RecipeRows, from_rows, write
from planning import load, recipe_rows
from planning.drafts import draft_faults, recipe_of
from planning.faults.texts import UNPRINTABLE
from planning.views import gate, words
from planning.views.recipe_shown import LONGEST, FaultLine, shown
from planning.views.recipe_work import Worked, compare, text_of, worked

PIECES = ("faults", "figures", "sheets", "pages", "offcuts", "compared")
"""Parts of the page that follow from the text: each has its own template, and an element of that id."""


def recipe(request: HttpRequest, month: int) -> HttpResponse:
    """Show a recipe's text, do to it what was asked, or save it."""
    row = gate.month_or_404(request, month)
    kept = gate.recipe_or_404(request, row)
    if request.method != "POST":
        text = kept.text or text_of_rows(row, kept)
        return page(request, row, kept, Worked(text), recipe_rows.version(kept.text))
    done, seen = answer(request, row, kept)
    return page(request, row, kept, done, seen, status=422 if done.trouble else 200)


@require_POST
def recipe_look(request: HttpRequest, month: int) -> HttpResponse:
    """Return what has become of a text, as pieces of the page."""
    row = gate.month_or_404(request, month)
    kept = gate.recipe_or_404(request, row)
    done, seen = answer(request, row, kept)
    around = context(row, kept, done, seen)
    pieces = {one: render_to_string(f"planning/recipe_{one}.html", around, request) for one in PIECES}
    seen_now = around["shown"]
    return JsonResponse(
        {
            "text": done.text,
            "seen": seen,
            "said": done.said,
            "trouble": render_to_string("planning/recipe_trouble.html", around, request),
            "needs": done.trouble is not None,
            "chosen": done.chosen,
            "other": done.compared.other if done.compared else None,
            "pieces": pieces,
            "names": [{"value": one.value, "said": one.said} for one in seen_now.names],
            "step": seen_now.step,
            "unit": seen_now.unit,
            "perUnit": seen_now.per_unit,
            "faults": seen_now.count,
            "marked": sorted({one.line for one in seen_now.faults}),
        }
    )


def answer(request: HttpRequest, row: kits.Month, kept: kits.Recipe) -> tuple[Worked, str]:
    """Return what has become of a posted text, and the version of the kept one that it goes back to."""
    seen = request.POST.get("seen", "")
    match request.POST.get("act"):
        case "save":
            return save(row, kept, text_of(request.POST), seen)
        case "save-over":  # they have seen the other text, which is the one they name
            return save(row, kept, text_of(request.POST), request.POST.get("now", ""))
        case "take":  # where somebody else saved meanwhile, they go on from that
            return worked(request.POST, kept.text), request.POST.get("now", seen)
        case _:
            return worked(request.POST, kept.text), seen


def page(
    request: HttpRequest, row: kits.Month, kept: kits.Recipe, done: Worked, seen: str, status: int = 200
) -> HttpResponse:
    """Return the whole page."""
    return render(request, "planning/recipe.html", context(row, kept, done, seen), status=status)


def context(row: kits.Month, kept: kits.Recipe, done: Worked, seen: str) -> dict[str, Any]:
    """Return what the page and its pieces show."""
    return {
        "month": row,
        "step": "recipes",
        "recipe": kept,
        "work": done,
        "seen": seen,
        "shown": shown(done.text, kept.code),
        "is_new": not kept.text,
        "conflict": done.trouble is not None and done.compared is not None,
        "now": recipe_rows.version(kept.text),
    }


def text_of_rows(row: kits.Month, kept: kits.Recipe) -> str:
    """Return the text a recipe begins with that is known by its paper roles and pieces alone."""
    rows = RecipeRows(
        Recipe(code=kept.code, title=kept.title, note=kept.note),
        tuple(each for each in load.rows("roles", row) if each.recipe == kept.code),
        tuple(each for each in load.rows("pieces", row) if each.recipe == kept.code),
    )
    own = ruler(row.ruler)
    side = 300 * MM if own.unit.is_metric else 12 * INCH  # the usual album pages
    return write(from_rows(rows, ruler=own, page_width=side, page_height=side))


# --- Saving ---


def save(row: kits.Month, kept: kits.Recipe, text: str, seen: str) -> tuple[Worked, str]:
    """Keep a text, or say why not; the text stays in the area either way."""
    if trouble := why_not(text):
        return Worked(text, trouble=trouble), seen
    try:
        recipe_rows.save_text(row, kept.code, text, seen)
    except recipe_rows.ChangedError as error:
        return conflict(text, error.now), seen
    kept.refresh_from_db()
    return Worked(text, said_of(row, kept)), recipe_rows.version(text)


def said_of(row: kits.Month, kept: kits.Recipe) -> str:
    """Say of a saved recipe whether the month can be planned with it."""
    book = load.without_people(row)
    stands = next((each for each in draft_faults(book) if recipe_of(each, book) == kept.code), None)
    faults = shown(kept.text, kept.code).count
    if not faults and not stands:
        return "Saved. Plan the month again to work from it; a plan made before stays as it was."
    if not faults:
        return f"Saved, but the month cannot be planned yet: {stands}"
    draft = f"Saved as a draft with {words.counted(faults, 'fault')}"
    if not stands:
        return f"{draft}, which can wait until the kit names this recipe."
    return f"{draft}: the month cannot be planned before {'it is' if faults == 1 else 'they are'} mended."


def why_not(text: str) -> FaultLine | None:
    """Say why a text cannot be kept at all."""
    if not text.strip():
        return FaultLine(1, 1, "There is nothing to save.", "To be rid of the recipe, delete it.")
    if len(text) > LONGEST:
        return replace(shown(text, "").faults[0], said="It is too long to be saved.")
    if found := UNPRINTABLE.search(text):
        line = text.count("\n", 0, found.start()) + 1
        column = found.start() - text.rfind("\n", 0, found.start())
        said = f"A character here cannot be printed (U+{ord(found[0]):04X})."
        return FaultLine(line, column, said, "Take it out, then save again.")
    return None


def conflict(text: str, now: kits.Recipe | None) -> Worked:
    """Return a text that is not saved because somebody else has saved another, or taken the recipe out."""
    if now is None:
        said, allowed = (
            "Somebody else took this recipe out of the month.",
            "Copy your text from here if you want to keep it.",
        )
        return Worked(text, trouble=FaultLine(1, 1, said, allowed))
    said = (
        "Somebody else saved this recipe since you opened it. Yours is not saved, and stands here as it was."
    )
    allowed = "Look at both below, then save yours in its place or take theirs."
    compared = compare(text, now.text, "Saved by somebody else")
    return Worked(text, trouble=FaultLine(1, 1, said, allowed), compared=compared)
