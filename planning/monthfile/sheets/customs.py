"""The sheet of what customs asks of each item."""

from planning.customs.rows import CustomsFact
from planning.monthfile.codecs import Capitals, Code, Money, Text
from planning.monthfile.sheets.sheet import Column, Sheet

CUSTOMS = Sheet(
    "customs",
    CustomsFact,
    (
        Column(
            "item",
            "Item",
            Code(),
            "Code of a material or a pre-cut. A piece without a row goes by its paper's.",
        ),
        Column(
            "words",
            "Plain words",
            Text(),
            "What it is to somebody who does not know the kit, like printed card.",
        ),
        Column("hs_code", "HS code", Text(), "Of the Harmonized System: 6, 8 or 10 digits, like 4802.57."),
        Column(
            "origin",
            "Made in",
            Capitals(),
            "The country it was made in, by two letters of ISO 3166, like PT.",
        ),
        Column(
            "value", "Value each ({money})", Money(), "Of one unit; of a roll, of the whole roll. Like 0.35."
        ),
    ),
)
