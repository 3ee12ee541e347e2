"""Recipes in rows. What each column means is said once, in `kits.recipe`."""

from django.db import models

from kits.models.fields import EnumField, LengthField
from kits.models.rows import Row, one_each
from kits.recipe import CutBy


class Recipe(Row):
    """A `kits.recipe.Recipe`."""

    code = models.TextField()
    title = models.TextField()
    note = models.TextField(blank=True)
    text = models.TextField(blank=True)

    class Meta(Row.Meta):
        constraints = one_each("code")


class PaperRole(Row):
    """A `kits.recipe.PaperRole`."""

    recipe = models.TextField()
    role = models.TextField()
    width = LengthField()
    height = LengthField()
    sheets = models.PositiveIntegerField()

    class Meta(Row.Meta):
        constraints = one_each("recipe", "role")


class RecipePiece(Row):
    """A `kits.recipe.RecipePiece`."""

    recipe = models.TextField()
    role = models.TextField()
    piece = models.TextField()
    width = LengthField()
    height = LengthField()
    count = models.PositiveIntegerField()
    page = models.TextField(blank=True)
    cut_by = EnumField(CutBy)
    turn = models.BooleanField()

    class Meta(Row.Meta):
        constraints = one_each("recipe", "piece", "page")
