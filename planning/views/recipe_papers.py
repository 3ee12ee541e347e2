"""The papers of a recipe this month: which material plays which role, and what speaks against another."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from kits import models as kits
from kits.catalogue import Material, MaterialKind, Print
from kits.recipe import Design, Misfit, Paper, SheetPaper, Trial, try_paper
from kits.recipe.check.faults import Measure
from planning import load, recipe_rows
from planning.recipes import reading
from planning.views import gate, words
from planning.views.recipe_editor import text_of_rows
from planning.views.recipes import query, shown_with


@dataclass(frozen=True, slots=True)
class RoleShown:
    """A paper role, what it asks for, the paper chosen for it and what speaks against that one.

    choices: code, name and whether it is chosen. recut: what new trims would do about it, empty where nothing.
    """

    role: str
    asks: str
    choices: tuple[tuple[str, str, bool], ...]
    is_chosen: bool
    misfits: tuple[str, ...]
    recut: str
    is_kept: bool


def recipe_papers(request: HttpRequest, month: int) -> HttpResponse:
    """Show a recipe's papers, try others, or keep them."""
    row = gate.month_or_404(request, month)
    kept = gate.recipe_or_404(request, row)
    materials = {one.code: one for one in load.rows("materials", row) if is_paper(one)}
    before = {one.role: one.material for one in load.rows("kit_papers", row) if one.recipe == kept.code}
    design = reading(kept.text or text_of_rows(row, kept)).design
    chosen = before
    if request.method == "POST":
        chosen = chosen_papers(request.POST, design, materials)
        if request.POST.get("act") == "save":
            return saved(request, row, kept, chosen)
    roles = tuple(roles_shown(design, materials, chosen, before))
    around = shown_with(row) | {"recipe": kept, "query": query(kept.code), "roles": roles}
    return render(request, "planning/recipe_papers.html", around)


def chosen_papers(
    post: Mapping[str, str], design: Design, materials: Mapping[str, Material]
) -> dict[str, str]:
    """Return the material that a form names for each role; one that is not there counts as none."""
    named = {paper.role: post.get(f"paper-{number}", "") for number, paper in enumerate(design.papers)}
    return {role: code if code in materials else "" for role, code in named.items()}


def saved(
    request: HttpRequest, row: kits.Month, kept: kits.Recipe, chosen: Mapping[str, str]
) -> HttpResponse:
    """Keep the papers, and say what of them does not suit."""
    recipe_rows.bind(row, kept.code, chosen)
    messages.success(request, f"The papers of {kept.title} are saved. Plan the month again to buy them.")
    return redirect("recipes", month=row.pk)


def is_paper(one: Material) -> bool:
    """Tell whether a material can be a recipe's paper."""
    return one.kind is MaterialKind.SHEET and bool(one.width and one.height)


def roles_shown(
    design: Design, materials: Mapping[str, Material], chosen: Mapping[str, str], before: Mapping[str, str]
) -> Iterator[RoleShown]:
    """Yield every paper role of a recipe."""
    for paper in design.papers:
        code = chosen.get(paper.role, "")
        trial = try_paper(design, paper.role, sheet_paper(materials[code])) if code in materials else None
        yield RoleShown(
            role=paper.role,
            asks=asks(paper, design),
            choices=tuple(
                (one.code, f"{one.name}, {size(one, design)}", one.code == code) for one in materials.values()
            ),
            is_chosen=trial is not None,
            misfits=tuple(words.sentence(said(each)) for each in trial.misfits) if trial else (),
            recut=recut(trial) if trial else "",
            is_kept=code == before.get(paper.role, ""),
        )


def sheet_paper(one: Material) -> SheetPaper:
    """Return a material as a recipe sees it."""
    return SheetPaper(one.name, one.width or 0, one.height or 0, one.print, one.grammage)


def said(misfit: Misfit) -> str:
    """Return what speaks against a paper."""
    return f"{misfit.paper} {misfit.name}" + (f": {misfit.measure}" if misfit.measure else "")


def recut(trial: Trial) -> str:
    """Say what new trims would do about a paper that does not suit."""
    if trial.recut is None:
        return words.sentence(f"new trims do not help: {trial.why_not}") if trial.why_not else ""
    sheets = words.counted(trial.sheets, "sheet")
    return f"With new trims it would do, {sheets} of it: change its line in the recipe, then arrange."


def asks(paper: Paper, design: Design) -> str:
    """Say what a role asks of its paper."""
    say = Measure(design.ruler)
    parts = [f"{words.counted(paper.sheets, 'sheet')} of {say.size(paper.width, paper.height)}"]
    parts += ["print one way"] if paper.print is Print.ONE_WAY else []
    parts += [f"at least {paper.lightest}"] if paper.lightest else []
    parts += [f"at most {paper.heaviest}"] if paper.heaviest else []
    return ", ".join(parts)


def size(one: Material, design: Design) -> str:
    """Return a material's size as the recipe measures."""
    return Measure(design.ruler).size(one.width or 0, one.height or 0)
