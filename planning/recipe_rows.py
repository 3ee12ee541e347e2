"""Change one recipe of a month that is kept: all of a change, or nothing, and the month then has another fingerprint."""

import hashlib
from collections.abc import Mapping

from django.db.models import Max

from kits import models as kits
from kits.kit import ItemKind
from kits.models.rows import Row
from kits.recipe import Recipe, read
from planning.changing import changing

BESIDE = (kits.PaperRole, kits.RecipePiece)  # rows that a recipe has while it has no text


class ChangedError(Exception):
    """Somebody else saved the recipe, or took it out, since it was last looked at. now: what is kept; None for nothing."""

    def __init__(self, now: kits.Recipe | None) -> None:
        super().__init__(now)
        self.now = now


def version(text: str) -> str:
    """Return what tells one text of a recipe from another."""
    return hashlib.sha256(text.encode("utf-8", "replace")).hexdigest()[:16]


def save_text(month: kits.Month, code: str, text: str, seen: str) -> None:
    """Keep a text as the recipe's design, in place of any rows it had; its title is as the text says.

    seen: the version it was written from. Raises ChangedError where another is kept by now, and not this text already.
    """
    with changing(month, "recipes", "roles", "pieces"):
        kept = kits.Recipe.objects.filter(month=month, code=code).first()
        if kept is None or (version(kept.text) != seen and kept.text != text):
            raise ChangedError(kept)
        kept.text = text
        kept.title = read(text).design.title or kept.title
        kept.save(update_fields=["text", "title"])
        for model in BESIDE:
            model.objects.filter(month=month, recipe=code).delete()


def add(month: kits.Month, recipe: Recipe, like: str = "") -> None:
    """Keep one more recipe. like: the code of a recipe whose papers it takes over."""
    with changing(month, "recipes", "kit_papers"):
        kits.Recipe.objects.create(
            month=month,
            position=_last(kits.Recipe, month) + 1,
            code=recipe.code,
            title=recipe.title,
            note=recipe.note,
            text=recipe.text,
        )
        papers = kits.KitPaper.objects.filter(month=month, recipe=like).order_by("position")
        bound = dict(papers.values_list("role", "material"))
        _bind(month, recipe.code, bound)


def remove(month: kits.Month, code: str) -> None:
    """Take a recipe out of the month, with its papers and its lines of the kit."""
    with changing(month, "recipes", "roles", "pieces", "kit_papers", "kit_lines"):
        kits.Recipe.objects.filter(month=month, code=code).delete()
        for model in (*BESIDE, kits.KitPaper):
            model.objects.filter(month=month, recipe=code).delete()
        kits.KitLine.objects.filter(month=month, kind=ItemKind.RECIPE, item=code).delete()


def bind(month: kits.Month, code: str, papers: Mapping[str, str]) -> None:
    """Let materials play the paper roles of a recipe. papers: role -> material; empty for none."""
    with changing(month, "kit_papers"):
        kits.KitPaper.objects.filter(month=month, recipe=code, role__in=papers).delete()
        _bind(month, code, {role: material for role, material in papers.items() if material})


def _bind(month: kits.Month, code: str, papers: Mapping[str, str]) -> None:
    first = _last(kits.KitPaper, month) + 1
    kits.KitPaper.objects.bulk_create(
        kits.KitPaper(month=month, position=position, recipe=code, role=role, material=material)
        for position, (role, material) in enumerate(papers.items(), first)
    )


def _last(model: type[Row], month: kits.Month) -> int:
    """Return the place of the last row, -1 where there is none."""
    last = model.objects.filter(month=month).aggregate(Max("position"))["position__max"]
    return -1 if last is None else int(last)
