"""What goes into a box, in plain rows: what a tier holds, rules for some boxes, and what single boxes get besides."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from planning.countries import COUNTRIES, country_hint
from planning.roster import Besides
from planning.roster.model import plain


class RuleError(ValueError):
    """A row that cannot be; the message says which rule, why, and what to write instead."""


class When(StrEnum):
    """Which boxes a rule is for, within its tiers and countries."""

    EVERY = "every box"
    FIRST = "first box"
    NTH = "nth box"
    ANNIVERSARY = "anniversary"
    PROMOTION = "promotion"
    REPLACEMENT = "replacement"
    COUNTRY = "country"


class Does(StrEnum):
    """What a rule does with its item."""

    ADD = "add"
    LEAVE_OUT = "leave out"
    SUBSTITUTE = "substitute"


@dataclass(frozen=True, slots=True, kw_only=True)
class TierLine:
    """`count` of an item in every box of a tier, or in first boxes only: a welcome."""

    tier: str
    item: str
    count: int = 1
    first: bool = False

    def __post_init__(self) -> None:
        if self.count < 1:
            raise RuleError(
                f"{self.tier} holds {self.count} of {self.item}: write 1 or more, or leave the row out"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One rule.

    count: how many to add; for a substitute, how many of `instead` for each of `item`. tiers, countries: none named, all.
    priority: the higher wins. slot: of the rules of one slot a box gets only one. number: the box of "nth box", the year of
    "anniversary" (None: every year). first, last: days of a promotion, both included; promotion: its code, "" for all.
    A "replacement" rule says what goes out for a damaged item, a "country" rule what a country may not get.
    """

    code: str
    when: When
    does: Does
    item: str
    count: int = 1
    instead: str = ""
    tiers: tuple[str, ...] = ()
    countries: tuple[str, ...] = ()
    priority: int = 0
    slot: str = ""
    number: int | None = None
    first: date | None = None
    last: date | None = None
    promotion: str = ""

    @property
    def words(self) -> str:
        """The rule in words: `nth box 6: add 1 x STENCIL, BRANCH and LEAF only`."""
        count = f"{self.count} x " if self.does is Does.ADD else ""
        instead = f" by {self.count} x {plain(self.instead)} each" if self.instead else ""
        number = f" {self.number}" if self.number else ""
        code = f" {self.promotion}" if self.promotion else ""
        where = f", in {' and '.join(self.countries)}" if self.countries else ""
        tiers = f", {' and '.join(self.tiers)} only" if self.tiers else ""
        return f"{self.when}{number}{code}: {self.does} {count}{plain(self.item)}{instead}{where}{tiers}"

    def holds_on(self, day: date) -> bool:
        """Tell whether a day lies in those of the rule."""
        return (self.first is None or self.first <= day) and (self.last is None or day <= self.last)


def why_wrong(rule: Rule) -> tuple[str, str]:
    """Return which field of a rule cannot be as it is, and why, to go on from its value; two empty texts where all can."""
    stray = next((code for code in rule.countries if code not in COUNTRIES), None)
    special, swaps = rule.when in (When.REPLACEMENT, When.COUNTRY), rule.does is Does.SUBSTITUTE
    reasons = (
        ("item", not rule.item, "it names no item"),
        ("count", rule.count < 1, f"{rule.count} is no count: write 1 or more"),
        ("instead", swaps and not rule.instead, "a substitute names what goes instead"),
        ("instead", bool(rule.instead) and not swaps, "is named, but the rule does not substitute"),
        ("instead", rule.instead == rule.item, "is the item itself"),
        ("does", special and rule.does is Does.ADD, f"is nothing that a {rule.when} rule does"),
        ("slot", special and bool(rule.slot), f"stands there, but a {rule.when} rule has no slot"),
        (
            "countries",
            rule.when is When.COUNTRY and not rule.countries,
            "name the countries that may not get it",
        ),
        ("number", rule.when is When.NTH and rule.number is None, "say which box"),
        (
            "number",
            rule.number is not None and rule.number < 1,
            "is no number: write 1 or more",
        ),
        (
            "last",
            bool(rule.first and rule.last and rule.first > rule.last),
            "is before its first day",
        ),
        (
            "countries",
            stray is not None,
            f"holds {stray!r}, no country code of ISO 3166-1{meant(stray or '')}",
        ),
    )
    return next(((field, words) for field, is_wrong, words in reasons if is_wrong), ("", ""))


def meant(country: str) -> str:
    """Ask whether another code was meant."""
    code = country_hint(country)
    return f": write {code}" if code else ""


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Extra:
    """`count` of an item for one box besides: ordered, or for one that came damaged."""

    box: str
    kind: Besides
    item: str
    count: int = 1

    def __post_init__(self) -> None:
        if self.count < 1:
            raise RuleError(
                f"{self.kind} for {self.box}: {self.count} of {self.item} is no count: write 1 or more"
            )
