"""A month's profit and cost per kit as distributions: published quantiles, a month by hand, properties, what is refused."""

from dataclasses import replace
from decimal import Decimal
from math import comb
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planning.chances import (
    ChancesError,
    ChancesProblem,
    ChancesResult,
    GoodsStep,
    Line,
    Per,
    Range,
    TierChance,
    binomial_quantile,
    chances_faults,
    plan_chances,
)
from planning.chances.draws import boxes, parts
from planning.overs import (
    Count,
    Listed,
    ListedCount,
    Normal,
    Poisson,
    QuantilePoint,
    Quantiles,
    Triangle,
    Uniform,
)
from planning.singles import SINGLES
from tests.support.effort import examples

D = Decimal


def between(low: str, likely: str | None = None, high: str | None = None) -> Range:
    """Return a range, or what is known for certain."""
    return Range(D(low), D(likely or low), D(high or low))


def tier(wanted: Count, kits: int, price: str, goods: str, **terms: Any) -> TierChance:
    """Return a tier whose goods cost the same whatever is made."""
    step = GoodsStep(from_kits=1, each=D(goods))
    asked: dict[str, Any] = {"code": "FULL", "name": "Full kit", "goods": (step,)} | terms
    return TierChance(wanted=wanted, kits=kits, price=D(price), **asked)


def answer(problem: ChancesProblem) -> ChancesResult:
    """Return the checked answer."""
    result = plan_chances(problem)
    assert chances_faults(problem, result) == ()
    return result


def listed(*points: tuple[int, int]) -> Listed:
    """Return counts with their weights."""
    return Listed(tuple(ListedCount(D(count), D(weight)) for count, weight in points))


# --- Published and recomputed answers ---


def test_the_newsvendors_quantity_comes_out() -> None:
    # Data as printed at tutorsglobe 52554787, answer recomputed: N(1000, 200), one too few costs 40, one too many 10
    problem = ChancesProblem(tiers=(tier(Normal(D(1000), D(200)), 1200, "50", "10"),))
    [orders] = answer(problem).orders
    assert (orders.ratio, round(orders.newsvendor, 1)) == (D("0.8"), D("1168.3"))
    # and what does best of the months drawn is beside it
    assert abs(orders.best.kits - 1168) <= 1


def test_the_average_profit_is_the_newsvendors() -> None:
    # 40 x 1000 - (40 + 10) x 200 x density(0.8416) = 40000 - 10000 x 0.27996 = 37,200.4 is the most that can be expected
    # (standard formula of the normal newsvendor; density computed)
    problem = ChancesProblem(tiers=(tier(Normal(D(1000), D(200)), 1168, "50", "10"),))
    assert float(answer(problem).profit.mean) == pytest.approx(37_200.4, abs=40)


@pytest.mark.parametrize(
    ("tries", "percent", "quantiles"),
    [
        # Binomial quantiles, computed with scipy
        (100, 90, {0.95: 95}),
        (1000, 93, {0.05: 916, 0.95: 943, 0.99: 948}),
        (250, 85, {0.05: 203, 0.95: 222, 0.99: 225}),
    ],
)
def test_binomial_quantiles(tries: int, percent: int, quantiles: dict[float, int]) -> None:
    assert {chance: binomial_quantile(tries, D(percent), chance) for chance in quantiles} == quantiles


@pytest.mark.parametrize(
    ("mean", "at_90", "at_95", "at_99"),
    [(5, 8, 9, 11), (10, 14, 15, 18), (20, 26, 28, 31), (50, 59, 62, 67), (100, 113, 117, 124)],
)
def test_counts_are_drawn_at_the_poisson_quantiles(mean: int, at_90: int, at_95: int, at_99: int) -> None:
    # computed with scipy
    assert boxes(Poisson(D(mean)), np.array([0.90, 0.95, 0.99])).tolist() == [at_90, at_95, at_99]


@given(st.integers(0, 60), st.integers(0, 100), st.floats(0.01, 0.99))
def test_binomial_quantiles_are_those_of_every_term_added_up(tries: int, percent: int, chance: float) -> None:
    rate, total, hits = percent / 100, 0.0, -1
    while total < chance - 1e-9 and hits < tries:
        hits += 1
        total += comb(tries, hits) * rate**hits * (1 - rate) ** (tries - hits)
    found = binomial_quantile(tries, D(percent), chance)
    # where a sum falls on the chance itself, rounding decides between two neighbours
    assert found == max(hits, 0) or abs(total - chance) < 1e-8


# --- A month by hand ---

# 100, 110 or 120 boxes, each as likely; 110 kits at 6 and sold at 20; a kit left is worth 4, a short box costs 2 besides;
# posting a box costs 3, and the month 500 whatever happens
KITS = tier(listed((100, 1), (110, 1), (120, 1)), 110, "20", "6", worth=D(4), short=D(2))
SURE = (
    Line(name="Postage", per=Per.BOX, amount=between("3")),
    Line(name="Design", per=Per.MONTH, amount=between("500")),
)
MONTH = ChancesProblem(tiers=(KITS,), lines=SURE, scenarios=3_000)


def test_it_works() -> None:
    # 100 wanted: 2000 - 660 - 300 - 500 + 40 = 580; 110: 2200 - 660 - 330 - 500 = 710; 120: 710 - 20 = 690
    result = answer(MONTH)
    assert (result.profit.low, result.profit.middle, result.profit.high) == (D(580), D(690), D(710))
    assert result.profit.mean == D("660.00")
    # cost per kit: 1420 / 100 = 14.20, 1490 / 110 = 13.5455 or 1510 / 110 = 13.7273
    assert result.cost_each is not None
    assert (result.cost_each.low, result.cost_each.middle, result.cost_each.high) == (
        D("13.55"),
        D("13.73"),
        D("14.20"),
    )
    assert (result.loss, [one.source for one in result.swings]) == (D(0), ["count"])


def test_one_more_kit_pays_up_to_the_ratio() -> None:
    # too few: 20 + 2 - 6 - 3 = 13; too many: 6 - 4 = 2; 13 / 15 = 0.8667, so 120
    [orders] = answer(MONTH).orders
    assert (orders.ratio, orders.newsvendor, orders.best.kits) == (D("0.866667"), D(120), 120)
    # 120 kits: (2000 + 80 - 720 - 300 - 500) + (2200 + 40 - 720 - 330 - 500) + (2400 - 720 - 360 - 500) = 560 + 690 + 820
    assert orders.best.profit.mean == D("690.00")
    assert (orders.best.short, orders.best.left) == (D(0), D(10))


def test_the_months_shown_can_be_added_up() -> None:
    poor = answer(MONTH).shown[0]
    assert (poor.percent, poor.income, poor.cost, poor.profit) == (10, D(2000), D(1420), D(580))
    [kits] = poor.tiers
    assert (kits.kits, kits.wanted, kits.sent, kits.left) == (110, 100, 100, 10)


def test_what_is_known_for_certain_is_one_figure() -> None:
    # 50 wanted and made: 50 x (20 - 6 - 3) - 500 = 50; costs 950 / 50 = 19 each
    result = answer(replace(MONTH, tiers=(replace(KITS, wanted=listed((50, 1)), kits=50),)))
    assert {result.profit.mean, result.profit.low, result.profit.high} == {D(50)}
    assert result.cost_each is not None
    assert {result.cost_each.mean, result.cost_each.low, result.cost_each.high} == {D(19)}
    assert result.within == 0


def test_damaged_boxes_are_sent_again_while_kits_are_left() -> None:
    # all 10 boxes are damaged, 15 kits made: 5 are sent again and arrive, 5 get their money back
    wrecked = replace(
        MONTH, damaged=between("100"), tiers=(replace(KITS, wanted=listed((10, 1)), kits=15),), lines=SURE[:1]
    )
    [kits] = answer(wrecked).shown[1].tiers
    assert (kits.sent, kits.damaged, kits.again, kits.left) == (10, 10, 5, 0)
    # 5 x 20 - 15 x 6 - 15 x 3
    assert answer(wrecked).profit.mean == D(-35)
    assert answer(wrecked).loss == D(100)


def test_a_surcharge_is_on_what_the_carrier_takes_only() -> None:
    # 10 % on 3.00 of 100 boxes is 30
    flat = replace(MONTH, tiers=(replace(KITS, wanted=listed((100, 1)), kits=100),))
    more = replace(flat, surcharge=between("10"), lines=(replace(SURE[0], surcharged=True), SURE[1]))
    assert answer(flat).profit.mean - answer(more).profit.mean == D(30)


def test_the_widest_uncertainty_stands_first() -> None:
    # paper from 1 to 5 on 1,000 kits moves far more than a surcharge of up to 10 % on 3.00
    unsure = ChancesProblem(
        tiers=(tier(Uniform(D(950), D(1050)), 1000, "20", "6"),),
        lines=(
            Line(name="Postage", per=Per.BOX, amount=between("3"), surcharged=True),
            Line(name="Print, not quoted", per=Per.KIT, amount=between("1", "3", "5")),
        ),
        spoiled=between("0", "1", "2"),
        surcharge=between("0", "5", "10"),
    )
    found = [one.source for one in answer(unsure).swings]
    assert found[0] == "Print, not quoted"
    assert sorted(found[1:]) == ["count", "spoilage", "surcharge"]
    # the triangle's 10 % and 90 % are 1 + sqrt(0.1 x 4 x 2) = 1.8944 and 4.1056, times 1,000 kits
    assert answer(unsure).swings[0].span == pytest.approx(D(2211), abs=D(1))


def test_a_price_break_above_what_is_wanted_may_pay() -> None:
    steps = (GoodsStep(from_kits=1, each=D(6)), GoodsStep(from_kits=118, each=D(3)))
    [orders] = answer(replace(MONTH, tiers=(replace(KITS, goods=steps, worth=D(1)),))).orders
    assert orders.best.kits >= 118


def test_tiers_rise_and_fall_together() -> None:
    two = (KITS, replace(KITS, code="MINI", name="Mini kit"))
    shown = answer(replace(MONTH, tiers=two)).shown
    assert all(one.tiers[0].wanted == one.tiers[1].wanted for one in shown)


# --- Properties ---

AMOUNTS = st.decimals(0, 50, places=2)


@st.composite
def ranges(draw: st.DrawFn, most: int = 50) -> Range:
    """Draw a range; one in some is known for certain."""
    return Range(*sorted(draw(st.decimals(0, most, places=2)) for _ in range(3)))


@st.composite
def counts(draw: st.DrawFn) -> Count:
    """Draw a count of any kind."""
    low, middle, high = sorted(draw(st.integers(0, 3_000)) for _ in range(3))
    kinds: list[Count] = [
        Triangle(D(low), D(middle), D(high)),
        Uniform(D(low), D(high)),
        Poisson(D(middle % 300 + 1)),
        Normal(D(high + 100), D(low % 20 + 1)),
        Listed((ListedCount(D(low)), ListedCount(D(high + 1), D(3)))),
        Quantiles((QuantilePoint(D(10), D(low)), QuantilePoint(D(90), D(high)))),
    ]
    return draw(st.sampled_from(kinds))


@st.composite
def months(draw: st.DrawFn) -> ChancesProblem:
    """Draw a month."""
    tiers = tuple(
        tier(draw(counts()), draw(st.integers(0, 4_000)), str(draw(AMOUNTS)), str(draw(AMOUNTS)), code=code)
        for code in ("A", "B")[: draw(st.integers(1, 2))]
    )
    lines = tuple(
        Line(
            name=per,
            per=per,
            amount=draw(ranges()),
            takes=draw(st.sampled_from([(), (("A", D(1)),), (("A", D("2.5")),)])),
            surcharged=draw(st.booleans()),
        )
        for per in Per
    )
    rates = {
        name: draw(st.one_of(st.just(between("0")), ranges(most=9)))
        for name in ("spoiled", "damaged", "surcharge")
    }
    return ChancesProblem(
        tiers=tiers, lines=lines, scenarios=500, points=4, seed=draw(st.integers(0, 9)), **rates
    )


@settings(max_examples=examples(200), deadline=None)
@given(months())
def test_every_month_adds_up_and_is_the_same_again(problem: ChancesProblem) -> None:
    result = answer(problem)
    assert result == plan_chances(problem)
    figures = [result.profit.mean, result.loss, result.within]
    figures += [result.cost_each.mean] if result.cost_each else []
    assert all(figure.is_finite() for figure in figures)
    assert 0 <= result.loss <= 100


@given(ranges(), st.floats(0, 1))
def test_a_range_is_kept_to(one: Range, chance: float) -> None:
    [found] = parts(one, np.array([chance])).tolist()
    assert one.low * 10_000 <= found <= one.high * 10_000


def test_question_and_answer_are_the_same_again_as_json() -> None:
    step = SINGLES["chances"]
    assert step.problem.validate_json(step.problem.dump_json(MONTH), extra="forbid") == MONTH
    told = step.result.dump_json(answer(MONTH))
    assert step.result.validate_json(told) == answer(MONTH)
    assert b"NaN" not in told


# --- Bad input ---


def test_the_largest_month_there_may_be_adds_up() -> None:
    most = D(100_000)
    huge = tier(listed((1, 1), (10_000_000, 1)), 10_000_000, "100000", "100000", worth=most, short=most)
    lines = tuple(
        Line(name=f"{at}", per=Per.BOX, amount=Range.sure(most), surcharged=True) for at in range(50)
    )
    # surcharged by 290 %: 50 x 390,000 and 400,000 are just below what is allowed for one box
    result = answer(
        ChancesProblem(tiers=(huge,), lines=lines, surcharge=between("290"), scenarios=400, points=3)
    )
    # none is spoiled: half of the months send 1 box, half all of them; each box pays 100,000 and costs 19,500,000
    assert result.profit.low == D(10_000_000) * (100_000 - 100_000 - 19_500_000)


def test_a_month_without_boxes_has_no_cost_per_kit() -> None:
    result = answer(replace(MONTH, tiers=(replace(KITS, wanted=listed((0, 1)), kits=0),)))
    assert (result.cost_each, result.profit.mean, result.loss) == (None, D(-500), D(100))


def test_a_price_of_zero_loses_and_orders_nothing() -> None:
    [orders] = answer(replace(MONTH, tiers=(replace(KITS, price=D(0), short=D(0)),))).orders
    assert (orders.ratio, orders.best.profit.mean < 0) == (D(0), True)


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: between("-1", "0", "2"), "rising, 0 to 1,000,000,000,000"),
        (lambda: between("3", "2", "4"), "rising"),
        (lambda: between("NaN"), "are numbers"),
        (lambda: between("0.00001"), "at most four places"),
        (lambda: replace(KITS, kits=-1), "Full kit: kits to make are from 0"),
        (lambda: replace(KITS, goods=()), "write the goods' prices from the smallest quantity up"),
        (lambda: replace(MONTH, tiers=()), "at least one tier"),
        (lambda: replace(MONTH, tiers=(KITS, KITS)), "its own name"),
        (
            lambda: replace(MONTH, lines=(replace(SURE[0], takes=(("MAXI", D(1)),)),)),
            "MAXI is none of the tiers FULL",
        ),
        (lambda: replace(MONTH, spoiled=between("101")), "no more than 100 percent"),
        (
            lambda: replace(
                MONTH, surcharge=between("99999"), lines=(replace(SURE[0], amount=between("99999")),)
            ),
            "the amounts of a box come to",
        ),
        (lambda: replace(MONTH, scenarios=1), "100 to 200,000 scenarios"),
    ],
)
def test_what_cannot_be_is_refused_in_words(make: Any, said: str) -> None:
    with pytest.raises(ChancesError, match=said):
        make()


def test_the_checker_finds_what_is_wrong() -> None:
    result = answer(MONTH)
    poor, *rest = result.shown
    assert chances_faults(MONTH, replace(result, shown=(replace(poor, cost=poor.cost + 1), *rest)))
    [kits] = poor.tiers
    lost = replace(poor, tiers=(replace(kits, left=kits.left - 1),))
    assert chances_faults(MONTH, replace(result, shown=(lost, *rest)))
    assert chances_faults(MONTH, replace(result, profit=replace(result.profit, mean=D(900))))
    [orders] = result.orders
    assert chances_faults(MONTH, replace(result, orders=(replace(orders, best=orders.points[0]),)))
