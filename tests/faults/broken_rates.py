"""Rules of carriers' zones, rates and surcharges, and of cartons, each broken once."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from kits.measures import CM
from planning.month import Month
from planning.shipping.rows import Rate, SurchargeRow, Zone
from tests.support.months import person, tiny_month, with_rows

TINY = tiny_month()
HOME, HOME_HEAVY, NEAR = TINY.rates
JUNE, PACKED = date(2027, 6, 1), date(2027, 4, 7)


def rates(*rows: Rate) -> Month:
    """Return the tiny month with other rates to its zone home."""
    return replace(TINY, rates=(*rows, NEAR))


def service(**changes: Any) -> Month:
    """Return the tiny month with its service changed."""
    return replace(TINY, services=(replace(TINY.services[0], **changes),))


def surcharge(**changes: Any) -> Month:
    """Return the tiny month with a surcharge."""
    return replace(TINY, surcharges=(SurchargeRow(**({"service": "ECO", "name": "Fuel"} | changes)),))


def zones(*rows: Zone) -> Month:
    """Return the tiny month with more zones."""
    return replace(TINY, zones=(*TINY.zones, *rows))


def post(zone: str, **said: str) -> Zone:
    """Return a row of the tiny month's only carrier."""
    return Zone(carrier="Post", country="GB", zone=zone, **said)


def carton(**changes: Any) -> Month:
    """Return the tiny month with its first material changed, a sheet."""
    return with_rows(TINY, "materials", [replace(TINY.materials[0], **changes), *TINY.materials[1:]])


BROKEN_RATES: dict[str, tuple[Month, list[str]]] = {
    "a gap in the weights of a rate table": (
        rates(HOME, replace(HOME_HEAVY, over=700)),
        [
            "rates 1 over: 700 g leaves a gap: no rate of ECO to home takes more than 500 g up to 700 g. Write 500 g here, "
            "or empty the cell."
        ],
    ),
    "rates that overlap": (
        rates(HOME, replace(HOME_HEAVY, over=400)),
        [
            "rates 1 over: 400 g takes what another rate of ECO to home takes, more than 400 g up to 500 g. Write 500 g "
            "here, or empty the cell."
        ],
    ),
    "a table that begins above nothing": (
        rates(replace(HOME, over=100), HOME_HEAVY),
        [
            "rates 0 over: 100 g leaves a gap: no rate of ECO to home takes more than 0 g up to 100 g. Empty the cell."
        ],
    ),
    "a rate for no weight": (
        rates(HOME, replace(HOME_HEAVY, over=2000)),
        ["rates 1 over: 2 kg is not below 2 kg, up to which it holds. Correct one of them."],
    ),
    "a gap in the days of a rate table": (
        rates(
            replace(HOME, valid_to=PACKED),
            replace(HOME_HEAVY, valid_to=PACKED),
            replace(HOME, valid_from=date(2027, 4, 10)),
            replace(HOME_HEAVY, valid_from=date(2027, 4, 10)),
        ),
        [
            "rates 2 valid_from: 10 Apr 2027 leaves ECO to home without rates from 8 Apr 2027 to 9 Apr 2027. Make the two "
            "meet, or add the rates between."
        ],
    ),
    "two tables on one day": (
        rates(
            replace(HOME, valid_to=JUNE),
            replace(HOME_HEAVY, valid_to=JUNE),
            replace(HOME, valid_from=PACKED),
            replace(HOME_HEAVY, valid_from=PACKED),
        ),
        [
            "rates 2 valid_from: 7 Apr 2027 begins while other rates of ECO to home hold, to 1 Jun 2027. Let one end before "
            "the other."
        ],
    ),
    "a rate that ends before it begins": (
        rates(replace(HOME, valid_from=JUNE, valid_to=PACKED)),
        ["rates 0 valid_to: 7 Apr 2027 is before 1 Jun 2027, when it begins. Correct one of them."],
    ),
    "a surcharge of nothing": (
        surcharge(),
        ["surcharges 0 amount: Fuel adds nothing. Write an amount or a percentage, or take the row out."],
    ),
    "a surcharge to a zone nobody knows": (
        surcharge(amount=Decimal(1), zones=("hone",)),
        ["surcharges 0 zones: hone is not a zone of Post. Did you mean home?"],
    ),
    "a service that takes no size": (
        service(min_longest=40 * CM, max_longest=30 * CM),
        ["services 0 min_longest: 400 mm is more than 300 mm, the most it takes. Correct one of them."],
    ),
    "half a span of postcodes": (
        zones(post("far", last="BT")),
        [
            "zones 2 last: BT ends a span of postcodes that does not begin. Write where it begins, or empty the cell."
        ],
    ),
    "a prefix of nothing": (
        zones(post("far", prefix="-")),
        ["zones 2 prefix: - is the beginning of no postcode. Write letters and digits, like BT or 900."],
    ),
    "a span of two lengths": (
        zones(post("far", prefix="90", last="918")),
        [
            "zones 2 last: 918 is not as long as 90, where the span begins. Write two of one length, like 900 and 918."
        ],
    ),
    "a span the wrong way round": (
        zones(post("far", prefix="918", last="900")),
        ["zones 2 last: 900 comes before 918, where the span begins. Write the lower one first."],
    ),
    "postcodes of two zones": (
        zones(post("home", prefix="AB", last="AL"), post("near", prefix="AK")),
        [
            "zones 3 prefix: AK counts United Kingdom (GB) AK to near, and another row United Kingdom (GB) AB to AL to "
            "home. Take one out, or make them not overlap."
        ],
    ),
    "a postcode without a zone": (
        replace(
            TINY,
            zones=(Zone(carrier="Post", country="GB", zone="home", prefix="LS"), TINY.zones[1]),
            subscribers=(*TINY.subscribers, replace(person("S6", "Kim", "FULL"), postcode="bt1 1aa")),
        ),
        [
            "subscribers 5 postcode: GB (United Kingdom, postcode BT, 1 active subscriber) has no zone at any carrier: Post "
            "has no zone for postcode BT in United Kingdom (GB): add its prefix, or a row without one for the rest. Add its "
            "zone, with transit days and rates, to the sheets of these names."
        ],
    ),
    "a sheet that carries something": (
        carton(carries=100),
        [
            "materials 0 carries: 100 g is what a carton holds, but CARD has no inside sizes. Empty the cell, or fill those "
            "in."
        ],
    ),
    "a soft sheet": (
        carton(soft=True),
        [
            "materials 0 soft: yes is a kind of carton, but CARD has no inside sizes. Empty the cell, or fill those in."
        ],
    ),
}
