"""Postage: zones, rates by date and weight, volume as weight, surcharges, limits; and clear words where something lacks."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.measures import CM, INCH, MM
from planning.postage import (
    Area,
    Band,
    Limits,
    NoZoneError,
    PostageError,
    PostageProblem,
    PostParcel,
    Quote,
    RateTable,
    Refused,
    Rounding,
    RoundTo,
    Surcharge,
    Tariff,
    Volume,
    VolumeRule,
    ZoneChart,
    ZoneRow,
    counted_volume,
    girth,
    length_and_girth,
    plan_postage,
    postage_faults,
    volume_weight,
    zone_disputes,
)
from tests.support.effort import examples

D = Decimal
APRIL = date(2027, 4, 1)
UP = RoundTo(Rounding.UP)


def inches(*sides: str | int) -> tuple[int, int, int]:
    a, b, c = (int(Fraction(side) * INCH) for side in sides)
    return a, b, c


# --- facts of the world ---


@pytest.mark.parametrize(
    ("sides", "around", "with_length"),
    [  # recomputed from girth = 2 (w + h); the last two reach the limits 130 in (visualfoodie.com) and 79 in (below)
        (("24", "18", "18"), 72, 96),
        (("30", "20", "20"), 80, 110),
        (("36", "20", "16"), 72, 108),  # 108 in is the limit of one US service (cns.usps.com)
        (("60", "20", "15"), 70, 130),
        (("42", "10", "17/2"), 37, 79),  # 42 in long, 79 in in all: Navy postal manual, tpub 14317 p. 117
    ],
)
def test_length_and_girth(sides: tuple[str, ...], around: int, with_length: int) -> None:
    assert girth(inches(*sides)) == around * INCH
    assert length_and_girth(inches(*sides)) == with_length * INCH


def test_sides_may_be_rounded_down_to_quarter_inches() -> None:
    # Domestic Mail Manual 1.3.3 as quoted in eBay community 34926620: 6 1/8 x 5 7/8 x 6 3/8 counts 0.1248 cubic feet
    rule = VolumeRule(divisor=D(1), volume=Volume.IN3_PER_LB, sides=RoundTo(Rounding.DOWN, Fraction(1, 4)))
    volume = counted_volume(rule, inches("49/8", "47/8", "51/8"))
    assert volume == Fraction("215.625")
    assert round(float(volume / 1728), 4) == 0.1248


@pytest.mark.parametrize(("value", "kept"), [("3.376", "3.38"), ("3.374", "3.37"), ("3.375", "3.38")])
def test_rounding_off_is_half_up_at_the_digit_kept(value: str, kept: str) -> None:
    # DMM 604.7.1.3 as quoted in eBay community 35214174 (the half itself by its rule "half up")
    assert RoundTo(Rounding.NEAREST, Fraction(1, 100))(Fraction(value)) == Fraction(kept)


def test_rounding_up_takes_any_remainder() -> None:  # the same source
    assert RoundTo(Rounding.UP, Fraction(1, 100))(Fraction("3.3701")) == Fraction("3.38")


def test_a_volume_of_exactly_the_threshold_counts_nothing() -> None:
    # cns.usps.com: no dimensional weight at exactly 1,728 cubic inches or below
    rule = VolumeRule(divisor=D(166), volume=Volume.IN3_PER_LB, above=D(1728), weight=UP)
    assert volume_weight(rule, inches(12, 12, 12)) == 0
    assert volume_weight(rule, inches(12, 12, "193/16")) > 0


# Royal Mail's formats page: large letter up to 750 g, 35.3 x 25 x 2.5 cm
LARGE_LETTER = Limits(weight=750, longest=353 * MM, second=250 * MM, shortest=25 * MM)


def test_a_flat_parcel_is_decided_by_its_thickness() -> None:
    flat = parcel(outside=(353 * MM, 250 * MM, 25 * MM), weight=Fraction(750))
    assert isinstance(one(flat, replace(POST, limits=LARGE_LETTER)), Quote)
    thick = replace(flat, outside=(250 * MM, 25 * MM + 1, 353 * MM))
    (reason,) = refused(thick, replace(POST, limits=LARGE_LETTER))
    assert "shortest side is" in reason
    assert "25 mm is the most" in reason


def test_upu_parcels_are_limited_by_length_and_by_girth() -> None:
    # UPU parcels: 1.5 m long and 3 m with girth (Japan Post's conditions as copied at treasure-japan.com)
    limits = Limits(longest=150 * CM, length_and_girth=300 * CM)
    assert isinstance(one(parcel(outside=(150 * CM, 40 * CM, 35 * CM)), replace(POST, limits=limits)), Quote)
    reasons = refused(parcel(outside=(151 * CM, 40 * CM, 35 * CM)), replace(POST, limits=limits))
    assert [reason.split(" is ")[0] for reason in reasons] == ["its longest side", "its length and girth"]


# --- a tiny tariff, worked by hand ---

ROWS = (
    ZoneRow(carrier="Post", area=Area("DE"), zone="home"),
    ZoneRow(carrier="Post", area=Area("DE", "2749"), zone="islands"),
    ZoneRow(carrier="Post", area=Area("US", "900", "918"), zone="west"),
    ZoneRow(carrier="Post", area=Area("GB"), zone="away"),
    ZoneRow(carrier="Post", area=Area("GB", "BT"), zone="north"),
)
CHART = ZoneChart(ROWS)
BANDS = tuple(
    Band(zone=zone, up_to=up_to, price=D(price))
    for zone, prices in {
        "home": ("4.00", "6.00"),
        "islands": ("9.00", "12.00"),
        "away": ("10.00", "15.00"),
        "north": ("11.00", "16.00"),
        "west": ("20.00", "30.00"),
    }.items()
    for up_to, price in zip((1000, 2000), prices, strict=True)
)
POST = Tariff(service="P", carrier="Post", name="Parcel", tables=(RateTable(bands=BANDS),))


def parcel(
    country: str = "DE",
    postcode: str = "10115",
    weight: Fraction = Fraction(900),
    outside: tuple[int, int, int] | None = None,
    day: date = APRIL,
) -> PostParcel:
    zones = (("Post", CHART.zone("Post", country, postcode)),)
    return PostParcel(name="Box 1", zones=zones, weight=weight, outside=outside, day=day)


def unknown(country: str, postcode: str) -> str:
    with pytest.raises(NoZoneError) as told:
        CHART.zone("Post", country, postcode)
    return str(told.value)


def problem(what: PostParcel, *tariffs: Tariff) -> PostageProblem:
    return PostageProblem(parcels=(what,), tariffs=tariffs)


def one(what: PostParcel, tariff: Tariff = POST) -> Quote | None:
    asked = problem(what, tariff)
    result = plan_postage(asked)
    assert postage_faults(asked, result) == ()
    return result.parcels[0].cheapest


def refused(what: PostParcel, tariff: Tariff = POST) -> tuple[str, ...]:
    asked = problem(what, tariff)
    result = plan_postage(asked)
    assert postage_faults(asked, result) == ()
    assert result.parcels[0].cheapest is None
    (line,) = result.unposted()
    assert line.startswith("Box 1: P: ")
    return result.parcels[0].refused[0].reasons


def total(what: PostParcel, tariff: Tariff = POST) -> Decimal:
    quote = one(what, tariff)
    assert quote is not None
    return quote.total


def test_the_longest_prefix_tells_the_zone() -> None:
    assert total(parcel()) == D("4.00")
    assert total(parcel(postcode="27498")) == D("9.00")
    assert total(parcel("GB", "bt1 1aa")) == D("11.00")
    assert total(parcel("GB", "B1 1AA")) == D("10.00")


def test_a_span_of_prefixes_takes_both_its_ends() -> None:
    assert [total(parcel("US", code)) for code in ("90001", "91801-1234")] == [20, 20]
    for code in ("89999", "91901", "91"):
        assert "has no zone for postcode" in unknown("US", code)


def test_a_country_without_a_zone_is_named_with_what_to_add() -> None:
    assert unknown("BR", "01310") == "Post has no zone for Brazil (BR): add a row for it to the zones of Post"


def test_a_parcel_to_no_zone_of_a_carrier_is_refused() -> None:
    assert refused(replace(parcel(), zones=(("Other", "home"),))) == (
        "Post has no zone for it: add one if Parcel goes there",
    )


def test_a_code_that_is_no_country_is_told_with_the_one_meant() -> None:
    assert "'UK' is no country code of ISO 3166-1: write GB for United Kingdom" in unknown("UK", "1")
    with pytest.raises(PostageError, match="write GB"):
        Area("UK")


def test_a_missing_postcode_is_asked_for() -> None:
    assert unknown("US", "") == (
        "Post has zones by postcode in United States (US), but the postcode is missing: fill it in"
    )


def test_rows_that_say_two_zones_are_told() -> None:
    both = (*ROWS, ZoneRow(carrier="Post", area=Area("US", "910", "930"), zone="far"))
    assert list(zone_disputes(ROWS)) == []
    assert list(zone_disputes(both)) == [(ROWS[2], both[-1])]
    with pytest.raises(PostageError, match="far and west at once"):
        ZoneChart(both).zone("Post", "US", "91234")
    assert ZoneChart(both).zone("Post", "US", "92000") == "far"


def test_a_weight_at_the_edge_of_a_band_is_in_the_lighter_one() -> None:
    assert total(parcel(weight=Fraction(1000))) == 4
    assert total(parcel(weight=Fraction(1000) + Fraction(1, 10**9))) == 6


def test_heavier_than_every_band() -> None:
    (reason,) = refused(parcel(weight=Fraction(2001)))
    assert "goes up to 2 kg to zone home" in reason
    assert "heavier than every band" in reason


def test_a_gap_in_weights_is_told_of_the_table_and_of_the_parcel() -> None:
    bands = (
        Band(zone="home", up_to=500, price=D(3)),
        Band(zone="home", over=1000, up_to=2000, price=D(6)),
    )
    gappy = replace(POST, tables=(RateTable(bands=bands),))
    (reason,) = refused(parcel(), gappy)
    assert "has a gap in its rates to zone home where 900 g lies" in reason
    faults = plan_postage(problem(parcel(), gappy)).faults
    assert faults == ("Parcel, zone home: no band takes more than 500 g up to 1 kg",)


def test_bands_that_overlap_are_told() -> None:
    bands = (
        Band(zone="home", up_to=500, price=D(3)),
        Band(zone="home", over=400, up_to=1000, price=D(4)),
        Band(zone="home", up_to=1000, price=D(5)),
    )
    faults = plan_postage(problem(parcel(), replace(POST, tables=(RateTable(bands=bands),)))).faults
    assert [fault.split(": ")[1] for fault in faults] == ["two bands take 500 g", "two bands take 1 kg"]


def dated(*spans: tuple[date | None, date | None]) -> Tariff:
    return replace(POST, tables=tuple(RateTable(bands=BANDS, first=a, last=b) for a, b in spans))


def test_rates_hold_from_their_first_to_their_last_day() -> None:
    dearer = RateTable(bands=(Band(zone="home", up_to=1000, price=D("4.20")),), first=APRIL)
    both = replace(POST, tables=(RateTable(bands=BANDS, last=APRIL - timedelta(1)), dearer))
    assert total(parcel(day=APRIL - timedelta(1)), both) == D("4.00")
    assert total(parcel(day=APRIL), both) == D("4.20")
    assert plan_postage(problem(parcel(), both)).faults == ()


def test_days_without_a_table_and_with_two_are_told() -> None:
    holes = dated((date(2027, 1, 1), date(2027, 3, 31)), (date(2027, 4, 3), None))
    (reason,) = refused(parcel(), holes)
    assert "Parcel has no rate table for 2027-04-01" in reason
    assert "from 2027-01-01 to 2027-03-31, from 2027-04-03 to ever" in reason
    (fault,) = plan_postage(problem(parcel(), holes)).faults
    assert "no rate table holds from 2027-04-01 to 2027-04-02" in fault
    (fault,) = plan_postage(problem(parcel(), dated((None, APRIL), (APRIL, None)))).faults
    assert "two rate tables hold on 2027-04-01" in fault


def test_a_long_table_over_two_short_ones_is_told_twice_and_no_gap_is_made_up() -> None:
    year = date(2027, 1, 1), date(2027, 12, 31)
    short = ((date(2027, 2, 1), date(2027, 2, 9)), (date(2027, 5, 1), date(2027, 5, 9)))
    faults = plan_postage(problem(parcel(), dated(year, *short))).faults
    assert [fault.split(" on ")[0] for fault in faults] == ["Parcel: two rate tables hold"] * 2


def test_a_service_without_any_table_says_so() -> None:
    assert refused(parcel(), replace(POST, tables=())) == (
        "Parcel has no rate table for 2027-04-01: add one",
    )


def test_what_is_billed_is_rounded_after_the_larger_was_taken() -> None:
    rule = VolumeRule(divisor=D(6000), weight=RoundTo())
    half_kilos = replace(POST, volume=rule, billed=RoundTo(Rounding.UP, Fraction(500)))
    quote = one(
        parcel(outside=(30 * CM, 20 * CM, 11 * CM), weight=Fraction(900)), half_kilos
    )  # 6,600 cm3: 1.1 kg
    assert quote is not None
    assert quote.charged == 1500
    assert quote.counted == 1100
    assert quote.up_to == 2000
    assert quote.total == 6


def test_surcharges_in_the_order_of_their_rows() -> None:
    extra = replace(
        POST,
        surcharges=(
            Surcharge(name="island", amount=D("2.50"), zones=("islands",)),
            Surcharge(name="long", amount=D(3), over_longest=60 * CM),
            Surcharge(name="fuel", percent=D("12.5"), on_all=True),
            Surcharge(name="peak", percent=D(10), first=date(2027, 11, 1), last=date(2027, 12, 31)),
        ),
    )
    # 9.00 + 2.50; 12.5 % of 11.50 is 1.4375, so 1.44
    island = one(parcel(postcode="27498", outside=(60 * CM, CM, CM)), extra)
    assert island is not None
    assert island.surcharges == (("island", D("2.50")), ("fuel", D("1.44")))
    assert island.total == D("12.94")
    # 4.00 + 3 + 12.5 % of 7.00 + 10 % of 4.00
    long = parcel(outside=(60 * CM + 1, CM, CM), day=date(2027, 12, 31))
    assert total(long, extra) == D("4.00") + 3 + D("0.88") + D("0.40")


def test_a_parcel_without_a_size_is_priced_by_weight_and_says_so() -> None:
    quote = one(parcel(), replace(POST, limits=LARGE_LETTER, surcharges=()))
    assert quote is None  # 900 g are more than 750 g
    quote = one(parcel(weight=Fraction(700)), replace(POST, limits=LARGE_LETTER))
    assert quote is not None
    assert "its size is not known" in quote.notes[0]


def test_too_small_is_refused_whichever_way_it_lies() -> None:
    least = replace(POST, limits=Limits(least=(15 * CM, 10 * CM, MM)))
    assert isinstance(one(parcel(outside=(MM, 15 * CM, 10 * CM)), least), Quote)
    assert "smaller than 150 mm x 100 mm x 1 mm" in refused(parcel(outside=(14 * CM, 14 * CM, CM)), least)[0]


def test_two_services_of_one_code_are_told() -> None:
    assert plan_postage(problem(parcel(), POST, POST)).faults == ("two services have the code P: rename one",)


def test_all_reasons_are_told_at_once() -> None:
    reasons = refused(parcel(weight=Fraction(5000)), replace(POST, limits=Limits(weight=2000)))
    assert len(reasons) == 2


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: VolumeRule(divisor=D(0)),
        lambda: RoundTo(Rounding.UP, Fraction(0)),
        lambda: Band(zone="Z", up_to=0, price=D(1)),
        lambda: Band(zone="Z", over=5, up_to=5, price=D(1)),
        lambda: Band(zone="Z", up_to=1, price=D(-1)),
        lambda: RateTable(bands=(), first=APRIL, last=APRIL - timedelta(1)),
        lambda: Area("US", "918", "900"),
        lambda: Area("US", "90", "918"),
        lambda: parcel(outside=(0, 1, 1)),
    ],
)
def test_rows_that_cannot_be_are_refused(wrong: "object") -> None:
    assert callable(wrong)
    with pytest.raises(PostageError):
        wrong()


# --- properties ---

prefixes = st.text("12AB", max_size=3)
spans = prefixes.flatmap(
    lambda first: st.tuples(st.just(first), st.text("12AB", min_size=len(first), max_size=len(first)))
).map(lambda ends: (min(ends), max(ends)))


@given(
    rows=st.lists(st.tuples(spans, st.sampled_from(["near", "far"])), max_size=6),
    postcode=st.text("12AB -", max_size=5),
)
@settings(max_examples=examples(300), deadline=None)
def test_a_zone_is_what_shortening_the_postcode_finds(
    rows: list[tuple[tuple[str, str], str]], postcode: str
) -> None:
    chart = ZoneChart(
        ZoneRow(carrier="Post", area=Area("DE", first, last), zone=zone) for (first, last), zone in rows
    )
    code = postcode.replace(" ", "").replace("-", "")
    found: set[str] = set()
    for length in range(len(code), -1, -1):
        found = {
            zone for (first, last), zone in rows if len(first) == length and first <= code[:length] <= last
        }
        if found:
            break
    if len(found) == 1:
        assert {chart.zone("Post", "DE", postcode)} == found
    else:
        with pytest.raises(NoZoneError):
            chart.zone("Post", "DE", postcode)


weights = st.fractions(0, 3000, max_denominator=16)
sides = st.tuples(*[st.integers(1, 100 * CM)] * 3)


@given(weight=weights, outside=st.none() | sides, codes=st.sampled_from(["10115", "27498"]))
@settings(max_examples=examples(200), deadline=None)
def test_every_quote_stands_the_checker(
    weight: Fraction, outside: tuple[int, int, int] | None, codes: str
) -> None:
    rich = replace(
        POST,
        service="R",
        volume=VolumeRule(divisor=D(5000), sides=UP, above=D(500), weight=RoundTo(Rounding.NEAREST)),
        billed=RoundTo(Rounding.UP, Fraction(250)),
        limits=Limits(length_and_girth=250 * CM),
        surcharges=(Surcharge(name="heavy", percent=D("7.3"), over_weight=1500),),
    )
    asked = problem(parcel(weight=weight, outside=outside, postcode=codes), POST, rich)
    assert postage_faults(asked, plan_postage(asked)) == ()


@given(light=weights, more=weights)
@settings(max_examples=examples(100), deadline=None)
def test_a_heavier_parcel_never_costs_less_where_rates_rise(light: Fraction, more: Fraction) -> None:
    lighter, heavier = (
        plan_postage(problem(parcel(weight=w), POST)).parcels[0] for w in (light, light + more)
    )
    if heavier.cheapest:
        assert lighter.cheapest
        assert lighter.cheapest.total <= heavier.cheapest.total


@given(outside=sides, order=st.permutations(range(3)))
@settings(max_examples=examples(100), deadline=None)
def test_no_measure_depends_on_which_side_is_named_first(
    outside: tuple[int, int, int], order: list[int]
) -> None:
    turned = [outside[at] for at in order]
    assert girth(turned) == girth(outside)
    assert length_and_girth(turned) == length_and_girth(outside)
    rule = VolumeRule(divisor=D(139), volume=Volume.IN3_PER_LB, sides=UP, weight=UP)
    assert volume_weight(rule, turned) == volume_weight(rule, outside)


def test_the_checker_finds_a_wrong_quote() -> None:
    asked = problem(parcel(), POST)
    result = plan_postage(asked)
    answer = result.parcels[0]
    for wrong in (
        {"zone": "islands"},
        {"charged": Fraction(1)},
        {"postage": D("3.99")},
        {"surcharges": (("x", D(1)),)},
    ):
        bad = replace(answer, quotes=(replace(answer.quotes[0], **wrong),))
        assert postage_faults(asked, replace(result, parcels=(bad,)))
    assert postage_faults(asked, replace(result, parcels=()))
    lazy = replace(answer, quotes=(), refused=(Refused(service="P", reasons=("no",)),))
    assert postage_faults(asked, replace(result, parcels=(lazy,)))
    strict = problem(parcel(), replace(POST, limits=Limits(weight=100)))
    assert postage_faults(strict, result)
