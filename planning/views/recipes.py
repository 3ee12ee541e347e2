"""The month's recipes: all of them, a new one, one more like another, and one less."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from urllib.parse import urlencode

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from kits import models as kits
from kits.drawing import svg
from kits.kit import ItemKind
from kits.measures import ruler
from kits.recipe import Design, Recipe, draw_spread, read, recipe_use, usual_trimmer, write
from planning import load, recipe_rows
from planning.drafts import draft_faults, recipe_of
from planning.faults.texts import LONGEST_CODE, LONGEST_NAME, UNPRINTABLE, why_no_code
from planning.month import Month
from planning.recipes import is_designed, reading
from planning.views import gate, words
from planning.views.parts import Figure, Strip
from planning.views.recipe_shown import MOST_PAGES, shown


@dataclass(frozen=True, slots=True)
class Listed:
    """A recipe as the list shows it. kit: in which boxes it is; needs: what waits for somebody."""

    recipe: Recipe
    query: str
    said: str
    share: str
    needs: str
    kit: str
    drawing: str = ""


@require_safe
def recipes(request: HttpRequest, month: int) -> HttpResponse:
    """List the month's recipes."""
    row = gate.month_or_404(request, month)
    return render(
        request, "planning/recipes.html", shown_with(row) | {"recipes": _list(row.pk, row.fingerprint)}
    )


def strip(row: kits.Month) -> Strip:
    """Return the month's recipes as the month page shows them."""
    return _strip(row.pk, row.fingerprint)


@lru_cache(maxsize=16)  # it follows from the rows, and so from their fingerprint
def _strip(pk: int, fingerprint: str) -> Strip:
    book = load.without_people(kits.Month.objects.get(pk=pk))
    waiting = Counter(recipe_of(fault, book) for fault in draft_faults(book))
    needs = tuple(
        f"{words.counted(waiting[one.code], 'fault')} in {one.title}"
        for one in book.recipes
        if waiting[one.code]
    )
    designs = [reading(one.text).design for one in book.recipes if is_designed(one)]
    sheets = sum(paper.sheets for design in designs for paper in design.papers)
    cuts = sum(recipe_use(design).cuts for design in designs)
    count = len(book.recipes)
    return Strip(
        figure=Figure(words.count(count), "recipe" if count == 1 else "recipes"),
        words=f"{words.counted(sheets, 'sheet')}, {words.counted(cuts, 'cut')} for the subscriber."
        if designs
        else "",
        needs=needs,
    )


def shown_with(row: kits.Month) -> dict[str, object]:
    """Return what every page around recipes shows."""
    return {"month": row, "step": "recipes"}


def query(code: str) -> str:
    """Return how the URL of a page asks for a recipe."""
    return urlencode({"code": code})


def to_recipe(row: kits.Month, code: str) -> HttpResponse:
    """Lead to a recipe's editor."""
    return redirect(f"{reverse('recipe', args=[row.pk])}?{query(code)}")


@lru_cache(maxsize=16)
def _list(pk: int, fingerprint: str) -> tuple[Listed, ...]:
    return tuple(list_of(load.without_people(kits.Month.objects.get(pk=pk))))


def list_of(book: Month) -> Iterator[Listed]:
    """Yield every recipe with its figures."""
    waiting = [recipe_of(fault, book) for fault in draft_faults(book)]
    for number, one in enumerate(book.recipes):
        yield listed(one, book, needs_of(one, waiting.count(one.code)), number)


def needs_of(one: Recipe, in_the_way: int) -> str:
    """Say how many faults a recipe has; those of one that the kit does not name can wait."""
    if in_the_way:
        return f"{words.counted(in_the_way, 'fault')} in the way of a plan"
    own = shown(one.text, one.code).count if is_designed(one) else 0
    return f"A draft with {words.counted(own, 'fault')}" if own else ""


def listed(one: Recipe, book: Month, needs: str, number: int) -> Listed:
    """Return one recipe with its figures."""
    kit = "; ".join(in_kit(one.code, book)) or "Not in the kit"
    if not is_designed(one):
        roles = sum(role.sheets for role in book.roles if role.recipe == one.code)
        said = f"{words.counted(roles, 'sheet')}. Known by its papers and pieces alone: how they are cut is not written."
        return Listed(one, query(one.code), said, "–", needs, kit)
    design = reading(one.text).design
    use = recipe_use(design)
    sheets = sum(paper.sheets for paper in design.papers)
    parts = (
        words.counted(sheets, "sheet"),
        words.counted(use.cuts, "cut"),
        words.counted(use.turns, "turn"),
        words.counted(use.photos, "photo"),
    )
    share = words.percent(use.share.numerator, use.share.denominator)
    return Listed(one, query(one.code), f"{', '.join(parts)}.", share, needs, kit, spread(design, number))


def spread(design: Design, number: int) -> str:
    """Draw a recipe's pages small."""
    few = replace(design, pages=design.pages[:MOST_PAGES])
    return svg(draw_spread(few), f"spread-{number}") if few.pages else ""


def in_kit(code: str, book: Month) -> Iterator[str]:
    """Yield in words which boxes a recipe is in."""
    for line in book.kit_lines:
        if line.kind is ItemKind.RECIPE and line.item == code:
            boxes = ", ".join(line.tiers) or "every box"
            yield f"In {boxes}" if line.count == 1 else f"{line.count} each in {boxes}"


# --- A new one ---


class RecipeError(ValueError):
    """A recipe that cannot be begun. field: of the form."""

    def __init__(self, field: str, said: str) -> None:
        super().__init__(said)
        self.field = field


def new_recipe(request: HttpRequest, month: int) -> HttpResponse:
    """Begin a recipe."""
    row = gate.month_or_404(request, month)
    return begun(request, row, None)


def recipe_copy(request: HttpRequest, month: int) -> HttpResponse:
    """Begin a recipe as a copy of another, papers and all."""
    row = gate.month_or_404(request, month)
    return begun(request, row, gate.recipe_or_404(request, row))


def begun(request: HttpRequest, row: kits.Month, like: kits.Recipe | None) -> HttpResponse:
    """Show the form that begins a recipe, or take it."""
    typed = {"typed_code": "", "typed_title": like.title if like else ""}
    around = shown_with(row) | {"like": like}
    if request.method != "POST":
        return render(request, "planning/recipe_begin.html", around | typed)
    code, title = (request.POST.get(field, "").strip() for field in ("new_code", "title"))
    try:
        check_names(row, code, title)
    except RecipeError as error:
        typed = {"typed_code": code, "typed_title": title}
        return render(request, "planning/recipe_begin.html", around | typed | {"error": error}, status=422)
    text = copied(row, like, code, title) if like else started(row, code, title)
    recipe_rows.add(row, Recipe(code=code, title=title, text=text), like.code if like else "")
    messages.success(request, f"{title} is begun. It is in no box before the kit names it.")
    return to_recipe(row, code)


def check_names(row: kits.Month, code: str, title: str) -> None:
    """Raise RecipeError for a code or title that a recipe cannot have."""
    for field, value, what, most in (
        ("new_code", code, "a code", LONGEST_CODE),
        ("title", title, "a title", LONGEST_NAME),
    ):
        if not value:
            raise RecipeError(field, f"Give the recipe {what}.")
        if UNPRINTABLE.search(value) or "\n" in value:
            raise RecipeError(field, "It holds a character that cannot be printed. Type it again.")
        if len(value) > most:
            raise RecipeError(field, f"This is {len(value)} characters long. Use at most {most}.")
    if why := why_no_code(code):
        raise RecipeError("new_code", f"This code {why}. Write it without commas and semicolons.")
    if kits.Recipe.objects.filter(month=row, code=code).exists():
        raise RecipeError("new_code", f"{code} is the code of another recipe this month. Choose another.")


def started(row: kits.Month, code: str, title: str) -> str:
    """Return the text that a new recipe begins with."""
    own = ruler(row.ruler)
    return write(Design(code=code, title=title, ruler=own, trimmer=usual_trimmer(own)))


def copied(row: kits.Month, like: kits.Recipe, code: str, title: str) -> str:
    """Return another recipe's text under a new code and title; all its other lines stay as they are."""
    from planning.views.recipe_editor import text_of_rows

    text = like.text or text_of_rows(row, like)
    begins = read(text).lines.get("recipe")
    first = write(Design(code=code, title=title)).split("\n", 1)[0]
    lines = text.split("\n")
    if begins:
        lines[begins - 1] = first
    return "\n".join(lines if begins else [first, *lines])


# --- One less ---


def recipe_delete(request: HttpRequest, month: int) -> HttpResponse:
    """Take a recipe out of the month, once somebody has said yes to it."""
    row = gate.month_or_404(request, month)
    kept = gate.recipe_or_404(request, row)
    if request.method == "POST":
        recipe_rows.remove(row, kept.code)
        messages.success(request, f"{kept.title} is deleted.")
        return redirect("recipes", month=row.pk)
    kit = "; ".join(in_kit(kept.code, load.without_people(row)))
    return render(request, "planning/recipe_delete.html", shown_with(row) | {"recipe": kept, "kit": kit})
