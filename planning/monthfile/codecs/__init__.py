"""Cells to fields and back: one codec for each kind of thing people write in a cell."""

from planning.monthfile.codecs.codec import TEXT, Cell, Codec, Habits, text_of
from planning.monthfile.codecs.days import Date, Month, Months, Time, Week
from planning.monthfile.codecs.measures import Length, PaperWeight, RollLength, Thickness, Weight, WeightLimit
from planning.monthfile.codecs.numbers import Change, Count, Money, Number, Percent
from planning.monthfile.codecs.words import (
    Capitals,
    Choice,
    Code,
    Codes,
    Day,
    Days,
    Lines,
    Listed,
    Signal,
    Signals,
    Text,
    YesNo,
)

__all__ = [
    "TEXT",
    "Capitals",
    "Cell",
    "Change",
    "Choice",
    "Code",
    "Codec",
    "Codes",
    "Count",
    "Date",
    "Day",
    "Days",
    "Habits",
    "Length",
    "Lines",
    "Listed",
    "Money",
    "Month",
    "Months",
    "Number",
    "PaperWeight",
    "Percent",
    "RollLength",
    "Signal",
    "Signals",
    "Text",
    "Thickness",
    "Time",
    "Week",
    "Weight",
    "WeightLimit",
    "YesNo",
    "text_of",
]
