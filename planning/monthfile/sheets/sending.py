"""The sheets of who works when, of the carriers, and of the machines."""

from planning.calendar import Weekday
from planning.cutting.machine import Guillotine
from planning.monthfile.codecs import (
    Capitals,
    Choice,
    Code,
    Count,
    Date,
    Day,
    Days,
    Length,
    Money,
    Number,
    Text,
    WeightLimit,
)
from planning.monthfile.sheets.sheet import Column, Sheet
from planning.shipping.rows import (
    CrewDay,
    DayOff,
    OffFor,
    Rate,
    Rounding,
    Service,
    Transit,
    Volume,
    WeekdayCrew,
    Zone,
)

ONE_PERSON = 480  # minutes of eight hours
OFFICE_DAYS = tuple(Weekday)[:5]
MINUTES = Number("a number of minutes", "0.5")

WEEK = Sheet(
    "week",
    WeekdayCrew,
    (
        Column("weekday", "Weekday", Day(), "Mon to Sun, a row each; no row: closed."),
        Column(
            "minutes",
            "Crew (minutes)",
            Count(),
            "Of everyone at the bench together: two people for 8 hours are 960.",
        ),
    ),
    missing=tuple(WeekdayCrew(weekday=day, minutes=ONE_PERSON) for day in OFFICE_DAYS),
)

DAYS_OFF = Sheet(
    "days_off",
    DayOff,
    (
        Column("day", "Date", Date(), "Like 26 Mar 2027."),
        Column("name", "Name", Text(), "Like Good Friday."),
        Column("who", "Who is off", Choice(OffFor), "Everyone, the club, or the carriers."),
    ),
)

CREW_DAYS = Sheet(
    "crew_days",
    CrewDay,
    (
        Column("day", "Date", Date(), "A day on which the crew is not as on every such weekday."),
        Column("minutes", "Crew (minutes)", Count(), "On this day, instead of the Week sheet's."),
        Column("reason", "Reason", Text(), "For yourself."),
    ),
)

SERVICES = Sheet(
    "services",
    Service,
    (
        Column("code", "Code", Code(), "Your own short code, like ECO."),
        Column("carrier", "Carrier", Code(), "Who carries; the Zones sheet names it the same way."),
        Column("name", "Name", Text(), "What the carrier calls the service."),
        Column(
            "collects",
            "Collects on",
            Days(),
            "Weekdays on which parcels are taken away, like Mon, Wed or Mon-Fri.",
        ),
        Column("max_weight", "Heaviest parcel (g)", WeightLimit(), "Like 2,000 or 70 lb. Empty: no limit."),
        Column(
            "divisor",
            "Volume divisor",
            Number("a divisor", "5000"),
            "Of the carrier's rule for large light parcels. Empty: no such rule.",
        ),
        Column("volume", "Divisor is in", Choice(Volume), "The units of the divisor."),
        Column(
            "round_sides",
            "Sides are rounded",
            Choice(Rounding),
            "To whole cm or in, before they are multiplied.",
        ),
        Column(
            "volume_above",
            "Only above (cm³ or in³)",
            Number("a volume", "1728"),
            "Smaller parcels go by their weight alone.",
        ),
        Column("round_weight", "Volume weight is rounded", Choice(Rounding), "To whole kg or lb."),
    ),
    needed=True,
)

ZONES = Sheet(
    "zones",
    Zone,
    (
        Column("carrier", "Carrier", Code(), "As on the Services sheet."),
        Column("country", "Country", Capitals(), "Two letters of ISO 3166: GB, FR, US."),
        Column("zone", "Zone", Code(), "What the carrier calls the zone the country lies in."),
    ),
    needed=True,
)

TRANSITS = Sheet(
    "transits",
    Transit,
    (
        Column("service", "Service", Code(), "Its code on the Services sheet."),
        Column("zone", "Zone", Code(), "As on the Zones sheet."),
        Column("days", "Transit (working days)", Count(), "From collection to the door."),
    ),
    needed=True,
)

RATES = Sheet(
    "rates",
    Rate,
    (
        Column("service", "Service", Code(), "Its code on the Services sheet."),
        Column("zone", "Zone", Code(), "As on the Zones sheet."),
        Column(
            "up_to",
            "Up to (g)",
            WeightLimit(),
            "Heaviest parcel at this price, like 500 or 1 lb; the lightest first.",
        ),
        Column("price", "Price a parcel ({money})", Money(), "Like 3.20."),
    ),
    needed=True,
)

GUILLOTINES = Sheet(
    "guillotines",
    Guillotine,
    (
        Column("code", "Code", Code(), "Your own short code."),
        Column("name", "Name", Text(), "As its operator knows it."),
        Column(
            "opening",
            "Opening (in or mm)",
            Length(),
            "The longest cut it makes: what lies under the knife is no wider.",
        ),
        Column(
            "lift_height",
            "Lift height (in or mm)",
            Length(),
            "The tallest stack its manual and its owner allow.",
        ),
        Column(
            "smallest_strip",
            "Smallest strip (in or mm)",
            Length(zero=True),
            "The narrowest strip its clamp can hold.",
        ),
        Column("minutes_per_lift", "Minutes per lift", MINUTES, "To load and unload one stack."),
        Column("minutes_per_cut", "Minutes per cut", MINUTES, ""),
        Column("minutes_per_turn", "Minutes per turn", MINUTES, "To turn what is in hand by a quarter."),
        Column("cost_per_hour", "Cost per hour ({money})", Money(), "Of the machine and its operator."),
    ),
)
