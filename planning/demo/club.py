"""The club, its month, its days and its guillotine."""

from datetime import date, time
from decimal import Decimal

from kits.measures import parse_length
from planning.calendar import IsoWeek, Weekday, YearMonth
from planning.cutting import Guillotine
from planning.month import Club
from planning.shipping import CrewDay, DayOff, OffFor, WeekdayCrew

CLUB = Club(
    name="Brackenfold Page Club",
    code="BFC",
    month=YearMonth(2027, 5),
    kit_name="Kites over the orchard",
    currency="EUR",
    country="IE",
    address="Brackenfold Page Club\nThe Old Sorting Room, Quarry Lane\nFernhollow, Co. Carrigmore",
    planned_on=date(2027, 3, 30),
    promised=IsoWeek(2027, 20),
    packing_starts=date(2027, 5, 4),
    crew_cost_per_hour=Decimal("17.40"),
    overtime_cost_per_hour=Decimal("26.10"),
    minutes_per_box=Decimal("1.8"),
    minutes_per_line=Decimal("0.12"),
    minutes_per_parcel=Decimal("0.9"),
    piece_overs_percent=Decimal(2),
    piece_overs_fixed=10,
    order_cost=Decimal("25.00"),
    holding_percent=Decimal(20),
    note="Invented from end to end: no club, supplier, carrier or subscriber here is real.",
)

CREW = {  # packing minutes at 1,200 boxes a month
    Weekday.MON: 840,
    Weekday.TUE: 840,
    Weekday.WED: 840,
    Weekday.THU: 840,
    Weekday.FRI: 560,
    Weekday.SAT: 0,
    Weekday.SUN: 0,
}

DAYS_OFF = (
    DayOff(day=date(2027, 3, 26), name="Good Friday"),
    DayOff(day=date(2027, 3, 29), name="Easter Monday"),
    DayOff(day=date(2027, 5, 3), name="May holiday"),
    DayOff(day=date(2027, 5, 7), name="Stock-taking", who=OffFor.CLUB),
    DayOff(day=date(2027, 5, 17), name="Sorting centre closed", who=OffFor.CARRIERS),
    DayOff(day=date(2027, 5, 6), name="Ascension Day", who=OffFor.CARRIERS, country="DE"),
)

GUILLOTINES = (
    Guillotine(
        code="G72",
        name="Guillotine, 72 cm",
        opening=parse_length("720 mm"),
        lift_height=parse_length("60 mm"),
        smallest_strip=parse_length("30 mm"),
        minutes_per_lift=Decimal("3.5"),
        minutes_per_cut=Decimal("0.6"),
        minutes_per_turn=Decimal("0.2"),
        cost_per_hour=Decimal("32.00"),
    ),
)


def week(boxes: int) -> tuple[WeekdayCrew, ...]:
    """Return the crew of a club that sends so many boxes a month."""
    return tuple(
        WeekdayCrew(
            weekday=day,
            minutes=scaled(minutes, boxes),
            starts=time(8),
            ends=time(16),
            overtime=scaled(minutes // 7, boxes),
        )
        for day, minutes in CREW.items()
    )


def crew_days(boxes: int) -> tuple[CrewDay, ...]:
    """Return the days on which the crew is not the usual one."""
    return (
        CrewDay(day=date(2027, 5, 8), minutes=scaled(300, boxes), reason="Saturday in place of stock-taking"),
        CrewDay(day=date(2027, 5, 12), minutes=scaled(420, boxes), reason="Training in the morning"),
    )


def scaled(minutes: int, boxes: int) -> int:
    """Return minutes in proportion to the boxes, enough for a box or two where there are any."""
    return max(20, minutes * boxes // 1_200) if minutes else 0
