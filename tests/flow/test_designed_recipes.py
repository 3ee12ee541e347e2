"""A recipe that is designed in a text is planned by exactly the rows that come out of it."""

from dataclasses import replace

from planning.flow import plan_month
from planning.names import names_of
from planning.recipes import designs, paper_roles, recipe_pieces
from tests.support.months import DAISY, designed_month, tiny_month

ROWS, DESIGNED = tiny_month(), designed_month()


def test_the_text_gives_the_rows() -> None:
    assert paper_roles(DESIGNED) == ROWS.roles
    assert recipe_pieces(DESIGNED) == ROWS.pieces
    assert designs(DESIGNED)["DAISY"].pages[1].name == "right"


def test_a_month_is_planned_the_same_by_its_texts_as_by_its_rows() -> None:
    assert plan_month(DESIGNED) == plan_month(ROWS)
    assert names_of(DESIGNED) == names_of(ROWS)


def test_a_recipe_without_a_text_keeps_its_rows_beside_one_that_has_one() -> None:
    old = replace(DESIGNED.recipes[0], code="OLD", text="\n  ")
    roles = tuple(replace(role, recipe="OLD") for role in ROWS.roles)
    both = replace(DESIGNED, recipes=(old, *DESIGNED.recipes), roles=roles)

    assert paper_roles(both) == (*roles, *ROWS.roles)
    assert list(designs(both)) == ["DAISY"]


def test_a_change_of_the_text_changes_the_plan() -> None:
    more = designed_month(DAISY.replace("piece tag: 2 of", "piece tag: 9 of"))

    assert plan_month(more).cutting != plan_month(DESIGNED).cutting
