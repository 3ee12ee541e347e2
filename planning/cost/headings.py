"""What money goes on."""

from enum import StrEnum


class Heading(StrEnum):
    """A line of the cost table."""

    PAPER = "Paper"
    CUTTING = "Cutting"
    EXTRAS = "Extras"
    PACKAGING = "Packaging"
    PACKING = "Packing"
    OVERTIME = "Overtime"
    POSTAGE = "Postage"
    FEES = "Payment fees"
    SPOILAGE = "Spoilage"
    DAMAGE = "Damage"
    FREIGHT = "Freight and set-up"
    DESIGN = "Design"
    FIXED = "Fixed costs"
