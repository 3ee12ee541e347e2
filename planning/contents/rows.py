"""What goes into a box, in plain rows: what a tier holds, rules for some boxes, and what single boxes get besides."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from planning.countries import COUNTRIES, country_hint


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


class Kind(StrEnum):
    """Why a single box gets something besides."""

    ADD_ON = "add-on order"
    REPLACEMENT = "replacement"


@dataclass(frozen=True, slots=True, kw_only=True)
class TierLine:
    """`count` of an item in every box of a tier."""

    tier: str
    item: str
    count: int = 1

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

    def __post_init__(self) -> None:
        wrong = why_wrong(self)
        if wrong:
            raise RuleError(f"rule {self.code}: {wrong}")


def why_wrong(rule: Rule) -> str:
    """Say why a rule cannot be; nothing where it can."""
    stray = next((code for code in rule.countries if code not in COUNTRIES), None)
    special = rule.when in (When.REPLACEMENT, When.COUNTRY)
    reasons = (
        (not rule.item, "it names no item"),
        (rule.count < 1, f"{rule.count} is no count: write 1 or more"),
        (
            (rule.does is Does.SUBSTITUTE) != bool(rule.instead),
            "a substitute, and nothing else, names what goes instead",
        ),
        (rule.instead == rule.item, "an item is no substitute for itself"),
        (special and rule.does is Does.ADD, f"a {rule.when} rule leaves out or substitutes"),
        (special and bool(rule.slot), f"a {rule.when} rule has no slot"),
        (rule.when is When.COUNTRY and not rule.countries, "name the countries that may not get it"),
        (rule.when is When.NTH and rule.number is None, "say which box"),
        (rule.number is not None and rule.number < 1, f"there is no number {rule.number}: write 1 or more"),
        (
            bool(rule.first and rule.last and rule.first > rule.last),
            f"it ends on {rule.last}, before it begins",
        ),
        (stray is not None, f"{stray!r} is no country code of ISO 3166-1{meant(stray or '')}"),
    )
    return next((words for is_wrong, words in reasons if is_wrong), "")


def meant(country: str) -> str:
    """Ask whether another code was meant."""
    code = country_hint(country)
    return f": write {code}" if code else ""


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Extra:
    """`count` of an item for one box besides: ordered, or for one that came damaged."""

    box: str
    kind: Kind
    item: str
    count: int = 1

    def __post_init__(self) -> None:
        if self.count < 1:
            raise RuleError(
                f"{self.kind} for {self.box}: {self.count} of {self.item} is no count: write 1 or more"
            )
