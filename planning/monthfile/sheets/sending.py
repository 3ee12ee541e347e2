"""The sheets of who works when, of the carriers, and of the machines."""

from planning.calendar import Weekday
from planning.cutting.machine import Guillotine
from planning.monthfile.codecs import (
    Capitals,
    Choice,
    Code,
    Codes,
    Count,
    Date,
    Day,
    Days,
    Length,
    Money,
    Number,
    Percent,
    Text,
    Time,
    WeightLimit,
    YesNo,
)
from planning.monthfile.sheets.sheet import Column, Sheet
from planning.shipping.rows import (
    CrewDay,
    DayOff,
    DeliveryWeek,
    OffFor,
    Rate,
    Rounding,
    Service,
    SurchargeRow,
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
        Column(
            "who", "Who", Text(), "Where not all work alike, a row for each: Mornings, Sam. Empty: the crew."
        ),
        Column("starts", "From", Time(), "When they begin, like 8:00; counts for cut-offs only."),
        Column("ends", "To", Time(), "When they end, like 16:30."),
        Column(
            "overtime",
            "Overtime at most (minutes)",
            Count(),
            "They may work after that, at the price on the Club sheet. Empty: none.",
        ),
        Column(
            "country", "Days off of", Capitals(), "The country whose days off they keep. Empty: the club's."
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
        Column("country", "Country", Capitals(), "Two letters, like DE, if only there. Empty: everywhere."),
    ),
)

CREW_DAYS = Sheet(
    "crew_days",
    CrewDay,
    (
        Column("day", "Date", Date(), "A day on which the crew is not as on every such weekday."),
        Column("minutes", "Crew (minutes)", Count(), "On this day, instead of the Week sheet's."),
        Column("reason", "Reason", Text(), "For yourself."),
        Column("overtime", "Overtime at most (minutes)", Count(), "On this day. Empty: none."),
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
        Column(
            "cut_off",
            "Cut-off",
            Time(),
            "Packed by then, a parcel goes that day, like 15:00; later ones wait. Empty: all that is packed that day goes.",
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
        Column(
            "sides_to",
            "Sides to (cm or in)",
            Number("a step", "0.5"),
            "The step sides are rounded to, if not 1: like 0.25.",
        ),
        Column(
            "weight_to",
            "Volume weight to (kg or lb)",
            Number("a step", "0.5"),
            "The step volume weight is rounded to, if not 1: like 0.5.",
        ),
        Column(
            "charged_to",
            "Charged in steps of (g)",
            WeightLimit(),
            "What is charged is rounded up to these, like 500. Empty: as it is.",
        ),
        Column("max_longest", "Longest side (in or mm)", Length(), "The most it may be. Empty: no limit."),
        Column("max_second", "Second side (in or mm)", Length(), "The most the next longest may be."),
        Column(
            "max_thickness",
            "Thickness (in or mm)",
            Length(),
            "The most the shortest side may be, like 25 mm.",
        ),
        Column(
            "max_girth",
            "Length and girth (in or mm)",
            Length(),
            "The most of the longest side and the way around the other two, together.",
        ),
        Column("min_longest", "Least length (in or mm)", Length(), "The least the longest side may be."),
        Column("min_second", "Least width (in or mm)", Length(), "The least the next longest may be."),
    ),
    needed=True,
)

ZONES = Sheet(
    "zones",
    Zone,
    (
        Column("carrier", "Carrier", Code(), "As on the Services sheet."),
        Column("country", "Country", Capitals(), "Two letters of ISO 3166: GB, FR, US."),
        Column("zone", "Zone", Code(), "What the carrier calls the zone it lies in."),
        Column(
            "prefix",
            "Postcodes from",
            Code(),
            "How its postcodes begin, like BT or 900. Empty: all of the country that no other row names.",
        ),
        Column(
            "last",
            "Postcodes to",
            Code(),
            "Where a span of beginnings ends, as long as the first: 900 to 918.",
        ),
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
        Column(
            "over",
            "Over (g)",
            WeightLimit(),
            "Only heavier parcels pay this. Empty: from where the lighter row ends.",
        ),
        Column("valid_from", "Valid from", Date(), "First day it holds, by collection. Empty: ever since."),
        Column("valid_to", "Valid to", Date(), "Last day it holds. Empty: until further notice."),
    ),
    needed=True,
)

SURCHARGES = Sheet(
    "surcharges",
    SurchargeRow,
    (
        Column("service", "Service", Code(), "Its code on the Services sheet."),
        Column("name", "Name", Text(), "What the carrier calls it, like Fuel."),
        Column("amount", "Amount ({money})", Money(), "Added to the postage of a parcel."),
        Column("percent", "Percent (%)", Percent(), "Of the postage, added besides."),
        Column(
            "on_all",
            "Of surcharges too",
            YesNo(),
            "Yes if the percentage is of the postage and of the surcharges in the rows above. Empty: no.",
        ),
        Column("zones", "Zones", Codes(), "Only to these, with commas. Empty: to all."),
        Column("over_weight", "Over (g)", WeightLimit(), "Only for parcels heavier than this."),
        Column("over_longest", "Longest side over (in or mm)", Length(), "Only if it is longer than this."),
        Column("over_second", "Second side over (in or mm)", Length(), "Only if it is longer than this."),
        Column(
            "over_girth",
            "Length and girth over (in or mm)",
            Length(),
            "Only if the two together are more than this.",
        ),
        Column("valid_from", "Valid from", Date(), "First day of collection it is asked. Empty: ever since."),
        Column("valid_to", "Valid to", Date(), "Last day. Empty: until further notice."),
    ),
)

DELIVERY_WEEKS = Sheet(
    "delivery_weeks",
    DeliveryWeek,
    (
        Column("country", "Country", Capitals(), "Two letters of ISO 3166: GB, FR, US."),
        Column(
            "weekdays",
            "Delivers on",
            Days(),
            "Weekdays on which parcels move and arrive there, like Mon-Sat. No row: Mon-Fri.",
        ),
    ),
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
