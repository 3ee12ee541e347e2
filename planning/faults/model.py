"""What a fault is, and what the tables of a month are called where people see them."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from planning.faults.book import Book

TITLES = {
    "club": "Club",
    "materials": "Materials",
    "suppliers": "Suppliers",
    "offers": "Offers",
    "price_breaks": "Price breaks",
    "stock": "Stock",
    "open_orders": "Open orders",
    "recipes": "Recipes",
    "roles": "Paper roles",
    "pieces": "Pieces",
    "kit_papers": "Kit papers",
    "pre_cuts": "Pre-cuts",
    "kit_lines": "Kit",
    "tiers": "Tiers",
    "rules": "Box rules",
    "subscribers": "Roster",
    "orders": "One-off orders",
    "week": "Week",
    "days_off": "Days off",
    "crew_days": "Crew",
    "services": "Services",
    "zones": "Zones",
    "transits": "Transit",
    "rates": "Rates",
    "surcharges": "Surcharges",
    "delivery_weeks": "Delivery days",
    "guillotines": "Guillotines",
    "forecasts": "Coming months",
    "spoilages": "Spoilage",
    "outlooks": "Count outlook",
    "quantiles": "Count quantiles",
    "choices": "Buy for",
    "substitutes": "Substitutes",
    "customs": "Customs",
    "charges": "Other costs",
    "aims": "Aims",
    "budget": "Budget",
    "price_points": "Price points",
    "promotions": "Promotions",
    "actuals": "What happened",
    "variants": "Variants",
    "past": "Past months",
    "stayed": "Who stayed",
    "promoted": "Promoted months",
    "announced": "Announced changes",
    "by_hand": "Count by hand",
    "uncertain": "Not certain yet",
}
"""Month field -> title, in the order of the flow."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing about a month that cannot be right.

    table: a field of Month, or "club"; row: index in it, None for the table as a whole; field: one of the row.
    value: what stands there, as people read it. why goes on from it; allowed is a sentence of its own.
    first: index of another row of the table that this one clashes with.
    """

    table: str
    row: int | None
    field: str | None
    value: str
    why: str
    allowed: str
    first: int | None = None

    def __str__(self) -> str:
        return sentence(self.value, self.why, self.allowed)


Rule = Callable[[Book], Iterator[Fault]]


def sentence(value: str, why: str, allowed: str) -> str:
    """Join value, reason and advice into what a helpful colleague would say."""
    return " ".join(part for part in (value, f"{why}.", allowed) if part)
