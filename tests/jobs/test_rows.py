"""The month's rows: what is saved is what is loaded, on every database."""

import time
from dataclasses import fields, replace
from datetime import UTC, date, datetime
from datetime import time as time_of_day
from decimal import Decimal
from fractions import Fraction
from itertools import combinations
from types import UnionType
from typing import Any, get_args, get_origin, get_type_hints

import pytest
from django.db import IntegrityError
from django.db.models import UniqueConstraint
from django.db.transaction import atomic
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from kits import models as kits
from kits.kit import ItemKind, KitLine
from kits.measures import METRE, BasicSize, Grammage
from planning import load, save
from planning.calendar import IsoWeek, Weekday, YearMonth
from planning.contents.rows import Does, Rule, When
from planning.cost.headings import Heading
from planning.cost.rows import (
    Actual,
    ActualKind,
    BudgetLine,
    ChangeKind,
    Charge,
    ChargeKind,
    PricePoint,
    Promotion,
    TierAim,
    VariantLine,
)
from planning.customs.rows import CustomsFact
from planning.faults.keys import KEYS
from planning.load import ROW_TYPES, plan_json
from planning.models.tables import TABLES
from planning.month import Club, Month
from planning.run import fingerprint, make_plan
from planning.shipping.rows import DeliveryWeek, Rate, SurchargeRow
from tests.support.effort import examples
from tests.web.small_month import CLUB, SMALL_MONTH

pytestmark = pytest.mark.django_db

EVERY_TABLE = replace(
    SMALL_MONTH,
    kit_lines=(KitLine(kind=ItemKind.EXTRA, item="RIBBON", length=METRE),),
    rules=(Rule(code="NTH", when=When.NTH, does=Does.ADD, item="TAG", number=6),),
    rates=(Rate(service="POST", zone="home", up_to=500, price=Decimal(3), valid_from=date(2027, 4, 1)),),
    surcharges=(SurchargeRow(service="POST", name="Fuel", over_weight=900, valid_from=date(2027, 4, 1)),),
    delivery_weeks=(DeliveryWeek(country="IL", weekdays=(Weekday.SUN, Weekday.MON)),),
    customs=(
        CustomsFact(item="SHORE", words="paper sheets", hs_code="480258", origin="GB", value=Decimal(1)),
    ),
    charges=(Charge(kind=ChargeKind.PAYMENT, name="Card fee"),),
    aims=(TierAim(tier="FULL", boxes=9),),
    budget=(BudgetLine(tier="FULL", heading=Heading.PAPER, amount=Decimal(90)),),
    price_points=(PricePoint(start=Decimal(5), step=Decimal(1)),),
    promotions=(Promotion(name="May", off=Decimal(2)),),
    actuals=(Actual(kind=ActualKind.BOUGHT, item="SHORE", quantity=Decimal(25)),),
    variants=(VariantLine(variant="Fewer", change=ChangeKind.BOXES, value="4"),),
)
"""A row in every table, with every part of its key; most of them mean nothing here."""


def test_it_works() -> None:
    assert load.month(save.month(SMALL_MONTH).pk) == SMALL_MONTH


def test_decimals_come_back_with_the_digits_they_were_written_with() -> None:
    [mill, trim] = load.month(save.month(SMALL_MONTH).pk).suppliers
    assert (str(mill.freight), str(trim.freight)) == ("6.00", "3.50")


# --- Any month at all ---

TEXTS = st.text(st.characters(codec="utf-8", exclude_characters="\x00"), max_size=12)
EXACT = st.decimals(0, 10**12, places=6)
VALUES: dict[Any, st.SearchStrategy[Any]] = {
    str: TEXTS,
    int: st.integers(0, 10**9),
    bool: st.booleans(),
    date: st.dates(),
    time_of_day: st.times(),
    Decimal: EXACT,
    Fraction: st.fractions(0, 10**9),
    YearMonth: st.dates(date(1900, 1, 1)).map(YearMonth.of),
    IsoWeek: st.dates(date(1900, 1, 1), date(9999, 1, 1)).map(IsoWeek.of),
    Grammage: st.builds(
        Grammage, st.fractions(1, 1_000, max_denominator=10), st.none() | st.sampled_from(BasicSize)
    ),
}


def value_of(hint: Any) -> st.SearchStrategy[Any]:
    """Any value of a field's type."""
    if get_origin(hint) is UnionType:
        return st.one_of(*map(value_of, get_args(hint)))
    if get_origin(hint) is tuple:
        return st.lists(value_of(get_args(hint)[0]), max_size=3).map(tuple)
    if hint is type(None):
        return st.none()
    return VALUES[hint] if hint in VALUES else st.sampled_from(hint)


def row_of(row_type: type[Any]) -> st.SearchStrategy[Any]:
    return st.builds(row_type, **{name: value_of(hint) for name, hint in get_type_hints(row_type).items()})


def rows_of(table: str) -> st.SearchStrategy[Any]:
    """Some rows of a table, no two with the same key."""
    rows = st.lists(
        row_of(ROW_TYPES[table]),
        max_size=3,
        unique_by=lambda row: tuple(getattr(row, name) for name in KEYS[table]),
    )
    return rows.map(tuple)


MONTHS = st.builds(
    Month,
    club=row_of(Club).map(lambda club: replace(club, code="ANY", month=YearMonth(2027, 4))),
    **{table: rows_of(table) for table in TABLES},
)


@settings(
    max_examples=examples(30),
    suppress_health_check=list(HealthCheck),
    phases=[Phase.explicit, Phase.reuse, Phase.generate],
)
@given(MONTHS)
def test_any_month_comes_back_as_it_was_in_the_same_order(month: Month) -> None:
    again = load.month(save.month(month).pk)
    assert again == month
    assert fingerprint(again) == fingerprint(month)


# --- What the database itself refuses ---


def test_every_table_of_the_month_has_its_model_and_every_field_its_column() -> None:
    assert set(TABLES) == {each.name for each in fields(Month)} - {"club"}
    for table, model in TABLES.items():
        columns = {each.name for each in model._meta.get_fields()}
        assert columns - {"id", "month", "position"} == {each.name for each in fields(ROW_TYPES[table])}, (
            table
        )


@pytest.mark.parametrize("table", TABLES)
def test_no_two_rows_have_the_key_that_tells_them_apart(table: str) -> None:
    unique = [
        set(each.fields) for each in TABLES[table]._meta.constraints if isinstance(each, UniqueConstraint)
    ]
    assert {"month", *KEYS[table]} in unique


@pytest.mark.parametrize("table", TABLES)
def test_the_same_row_twice_is_refused_though_part_of_its_key_is_missing(table: str) -> None:
    [row, *_] = getattr(EVERY_TABLE, table)
    may_miss = [name for name in KEYS[table] if TABLES[table]._meta.get_field(name).null]
    for count in range(len(may_miss) + 1):
        for missing in combinations(may_miss, count):
            twice: dict[str, Any] = {table: (replace(row, **dict.fromkeys(missing)),) * 2}
            with pytest.raises(IntegrityError):
                save.month(replace(SMALL_MONTH, **twice))


def test_a_negative_count_and_a_negative_price_are_refused() -> None:
    row = save.month(SMALL_MONTH)
    for column, value in (("on_hand", -1), ("value_each", Decimal(-1))):
        with pytest.raises(IntegrityError), atomic():
            kits.StockLine.objects.filter(month=row).update(**{column: value})


# --- Saving again ---


def test_the_same_club_and_month_is_replaced_whole() -> None:
    row = save.month(SMALL_MONTH)
    fewer = replace(SMALL_MONTH, subscribers=SMALL_MONTH.subscribers[:2], orders=())
    assert save.month(fewer).pk == row.pk
    assert load.month(row.pk) == fewer


def test_months_of_other_clubs_stay_as_they_are() -> None:
    row = save.month(SMALL_MONTH)
    save.month(replace(SMALL_MONTH, club=replace(CLUB, code="OTHER"), subscribers=()))
    assert load.month(row.pk) == SMALL_MONTH


def test_a_month_that_cannot_be_saved_whole_leaves_what_was_there() -> None:
    row = save.month(SMALL_MONTH)
    twice = replace(SMALL_MONTH, guillotines=SMALL_MONTH.guillotines * 2)
    with pytest.raises(IntegrityError):
        save.month(twice)
    assert load.month(row.pk) == SMALL_MONTH


def test_ten_thousand_subscribers_are_saved_and_loaded_in_seconds() -> None:
    [one, *_] = SMALL_MONTH.subscribers
    many = replace(SMALL_MONTH, subscribers=tuple(replace(one, reference=f"S{i:05}") for i in range(10_000)))
    began = time.perf_counter()
    row = save.month(many)
    again = load.month(row.pk)
    took = time.perf_counter() - began
    assert again == many
    assert took < 15  # about 1.5 s here; the rest is for a loaded machine


# --- Fingerprints and plans ---


def test_equal_months_have_equal_fingerprints_however_their_decimals_are_written() -> None:
    assert fingerprint(SMALL_MONTH) == fingerprint(
        replace(SMALL_MONTH, club=replace(CLUB, minutes_per_box=Decimal("3.500")))
    )


@pytest.mark.parametrize("table", TABLES)
def test_any_other_row_makes_another_fingerprint(table: str) -> None:
    other = replace(EVERY_TABLE, **{table: ()})  # type: ignore[arg-type]
    assert fingerprint(EVERY_TABLE) != fingerprint(other)


def test_a_plan_comes_back_exactly() -> None:
    planned = make_plan(SMALL_MONTH, 1, datetime(2027, 3, 1, 9, tzinfo=UTC))
    assert plan_json().validate_json(plan_json().dump_json(planned)) == planned
