"""Two carriers, five services: zones by country and postcode, transit days, collections, dated postage, surcharges."""

from datetime import date, time
from decimal import Decimal

from kits.measures import parse_length
from planning.calendar import Weekday
from planning.shipping import Rate, Rounding, Service, SurchargeRow, Transit, Volume, Zone

MERROW, KESTRELWAY = "Merrow Post", "Kestrelway Couriers"
MON, TUE, WED, THU, FRI = tuple(Weekday)[:5]
DAILY = (MON, TUE, WED, THU, FRI)

SERVICES = (
    Service(
        code="M-ECONOMY",
        carrier=MERROW,
        name="Merrow Economy",
        collects=(TUE, THU),
        max_weight=2_000,
        max_longest=parse_length("450 mm"),
        max_second=parse_length("350 mm"),
        max_thickness=parse_length("160 mm"),
    ),
    Service(
        code="M-PACKET",
        carrier=MERROW,
        name="Merrow Packet",
        collects=DAILY,
        cut_off=time(15),
        max_weight=2_000,
    ),
    Service(code="M-TRACKED", carrier=MERROW, name="Merrow Tracked", collects=DAILY, max_weight=5_000),
    Service(
        code="K-ROAD",
        carrier=KESTRELWAY,
        name="Kestrelway Road",
        collects=(MON, WED, FRI),
        max_weight=25_000,
        divisor=Decimal(5_000),
        volume=Volume.CM3_PER_KG,
        round_sides=Rounding.UP,
        max_longest=parse_length("1.2 m"),
        max_girth=parse_length("3 m"),
    ),
    Service(
        code="K-AIR",
        carrier=KESTRELWAY,
        name="Kestrelway Air",
        collects=DAILY,
        max_weight=25_000,
        divisor=Decimal(5_000),
        volume=Volume.CM3_PER_KG,
        round_sides=Rounding.UP,
        round_weight=Rounding.UP,
        weight_to=Decimal("0.5"),
        max_longest=parse_length("1.2 m"),
        max_girth=parse_length("3 m"),
    ),
)

COUNTRIES = tuple(
    Zone(carrier=carrier, country=country, zone=zone)
    for carrier, zone, countries in (
        (MERROW, "Home", "IE"),
        (MERROW, "Near", "GB"),
        (MERROW, "Europe", "DE FR PL GR BG"),
        (MERROW, "World", "US"),
        (MERROW, "Far", "AE"),
        (KESTRELWAY, "A", "IE"),
        (KESTRELWAY, "B", "GB"),
        (KESTRELWAY, "C", "DE FR"),
        (KESTRELWAY, "D", "PL GR BG"),
        (KESTRELWAY, "E", "US"),
    )
    for country in countries.split()
)

# the far end of an invented coast, and an invented west: the row that says most of a postcode counts
POSTCODES = (
    Zone(carrier=KESTRELWAY, country="GB", zone="B-OUTER", prefix="ZV", last="ZW"),
    Zone(carrier=KESTRELWAY, country="US", zone="E-WEST", prefix="900", last="994"),
)

ZONES = (*COUNTRIES, *POSTCODES)

POST_BANDS = (500, 1_000, 2_000, 5_000)
COURIER_BANDS = (1_000, 2_000, 5_000, 10_000, 25_000)

TARIFF = (
    # service, zone, working days to the door, postage up to each weight of its carrier's bands
    ("M-ECONOMY", "Home", 3, "3.95 4.70 6.20"),
    ("M-ECONOMY", "Near", 5, "5.60 6.90 9.80"),
    ("M-ECONOMY", "Europe", 9, "6.80 8.60 12.90"),
    ("M-PACKET", "Home", 1, "4.80 5.60 7.40"),
    ("M-PACKET", "Near", 3, "6.90 8.30 11.60"),
    ("M-PACKET", "Europe", 5, "8.20 10.40 15.20"),
    ("M-PACKET", "World", 10, "10.90 15.40 24.80"),
    ("M-PACKET", "Far", 14, "11.60 16.80 27.50"),
    ("M-TRACKED", "Home", 1, "7.20 7.90 9.60 12.80"),
    ("M-TRACKED", "Near", 2, "10.40 11.90 15.30 22.00"),
    ("M-TRACKED", "Europe", 4, "12.10 14.60 19.40 29.50"),
    ("M-TRACKED", "World", 7, "16.30 21.50 33.00 58.00"),
    ("K-ROAD", "A", 1, "4.90 5.30 7.40 10.80 18.50"),
    ("K-ROAD", "B", 2, "6.10 6.60 9.40 14.80 27.00"),
    ("K-ROAD", "B-OUTER", 4, "9.80 10.60 13.90 20.40 35.00"),
    ("K-ROAD", "C", 3, "7.50 8.20 11.90 18.20 34.00"),
    ("K-ROAD", "D", 5, "8.70 9.60 14.10 22.50 41.00"),
    ("K-AIR", "D", 2, "24.00 28.50 41.00 62.00 118.00"),
    ("K-AIR", "E", 3, "29.00 36.00 58.00 96.00 205.00"),
    ("K-AIR", "E-WEST", 4, "31.00 38.50 62.00 104.00 226.00"),
)
NEW_RATES = date(2027, 5, 13)
"""From here Merrow Packet asks more: the day after the last collection by which a slow parcel keeps the promise."""
DEARER = Decimal("1.05")

TRANSITS = tuple(Transit(service=service, zone=zone, days=days) for service, zone, days, _ in TARIFF)


def rates(service: str, zone: str, prices: str, first: date | None = None) -> tuple[Rate, ...]:
    """Return a row for each band of a service's carrier."""
    bands = COURIER_BANDS if service.startswith("K") else POST_BANDS
    return tuple(
        Rate(service=service, zone=zone, up_to=up_to, price=Decimal(price), valid_from=first)
        for up_to, price in zip(bands, prices.split(), strict=False)
    )


def dearer(prices: str) -> str:
    """Return prices five percent higher, in whole cents."""
    return " ".join(str((Decimal(price) * DEARER).quantize(Decimal("0.01"))) for price in prices.split())


OLD = tuple(row for service, zone, _, prices in TARIFF for row in rates(service, zone, prices))
NEW = tuple(
    row
    for service, zone, _, prices in TARIFF
    if service == "M-PACKET"
    for row in rates(service, zone, dearer(prices), NEW_RATES)
)
RATES = (*OLD, *NEW)

SURCHARGES = (
    SurchargeRow(service="K-ROAD", name="Fuel", percent=Decimal("4.5")),
    SurchargeRow(service="K-AIR", name="Fuel", percent=Decimal(9)),
    SurchargeRow(
        service="K-ROAD", name="Long parcel", amount=Decimal("6.00"), over_longest=parse_length("1 m")
    ),
)
