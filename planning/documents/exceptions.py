"""Roster exceptions: everyone for whom the month goes otherwise than usual, or whose address needs a look.

Exceptions are data first; the workbook has a sheet of them, and they are a file of their own for other programs.
"""

import csv
import unicodedata
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from io import StringIO
from typing import Protocol

import numpy as np

from planning.documents.listing import Box
from planning.documents.stamp import Stamp
from planning.flow import MonthPlan
from planning.month import Month, SlipFormat
from planning.problems import profiles
from planning.roster import Reason, Subscriber
from planning.roster.boxes import why_no_kit

READABLE = 8  # points; below that an address is hard to read at arm's length
HEADS = ("What", "Subscriber", "Name", "Country", "Why", "Arrives", "Plan", "Version", "Made at")
# What a spreadsheet takes for the start of a formula (OWASP, "CSV Injection"), full-width forms included.
DANGEROUS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
DROPPED = {code: None for code in range(128) if not chr(code).isalnum()}


class What(StrEnum):
    """What is unusual."""

    NOT_SENT = "not sent"
    LATE = "late"
    TWICE = "twice on the roster"
    CHARACTERS = "characters not printed"
    LONG_LINE = "long address line"
    NO_POSTCODE = "no postcode"
    LEFT_OUT = "left out"


@dataclass(frozen=True, slots=True, kw_only=True)
class RosterException:
    """One subscriber and what is unusual. arrives: of a late box."""

    what: What
    subscriber: Subscriber
    why: str
    arrives: date | None = None


class People(Protocol):
    """A month's roster and its boxes, wherever they lie; each call goes through them anew, in the order of the roster."""

    def addressed(self) -> Iterable[Subscriber]:
        """Return everyone who gets a box, once each."""

    def boxes(self, waves: Collection[int]) -> Iterable[Box]:
        """Return the boxes of some waves; wave 0 is what no service takes."""

    def left_out(self) -> Iterable[tuple[Subscriber, Reason]]:
        """Return everyone whose subscription sends no box this month, and why."""


@dataclass(frozen=True, slots=True)
class Held:
    """People and boxes in memory."""

    month: Month
    listed: Sequence[Box]

    def addressed(self) -> Iterable[Subscriber]:
        """Return everyone who gets a box, once each."""
        in_order = sorted(self.listed, key=lambda box: box.serial)
        return {box.subscriber.reference: box.subscriber for box in in_order}.values()

    def boxes(self, waves: Collection[int]) -> Iterable[Box]:
        """Return the boxes of some waves."""
        return sorted((box for box in self.listed if box.wave in waves), key=lambda box: box.serial)

    def left_out(self) -> Iterable[tuple[Subscriber, Reason]]:
        """Return everyone whose subscription sends no box this month, and why."""
        for one, profile in profiles(self.month):
            if (reason := why_no_kit(profile, self.month.club.month)) is not None:
                yield one, reason


def roster_exceptions(month: Month, plan: MonthPlan, boxes: Sequence[Box]) -> tuple[RosterException, ...]:
    """Return every exception of a roster in memory."""
    return tuple(exceptions_of(plan, month.club.slips, Held(month, boxes)))


def exceptions_of(plan: MonthPlan, slips: SlipFormat, people: People) -> Iterator[RosterException]:
    """Yield every exception: first what needs somebody, last who is left out as they asked; by roster within.

    Only who is on the roster twice is held in memory. slips: how the club prints them.
    """
    yield from not_sent(plan, people)
    yield from late(plan, people)
    yield from twice(people)
    yield from characters(people.addressed())
    yield from long_lines(people.addressed(), slips)
    yield from no_postcode(people)
    for one, reason in people.left_out():
        yield RosterException(what=What.LEFT_OUT, subscriber=one, why=reason)


def not_sent(plan: MonthPlan, people: People) -> Iterator[RosterException]:
    """Yield the boxes no service takes."""
    reasons = {one.box_class: one.why for one in plan.shipping.unsendable}
    for box in people.boxes({0}) if reasons else ():
        yield RosterException(what=What.NOT_SENT, subscriber=box.subscriber, why=reasons[box.box_class])


def late(plan: MonthPlan, people: People) -> Iterator[RosterException]:
    """Yield the boxes that miss the promise."""
    loads = {(load.day, load.service.code, load.box_class): load for load in plan.shipping.late}
    days = {(day, service) for day, service, _ in loads}
    waves = {wave.number: wave for wave in plan.waves if (wave.day, wave.service.code) in days}
    for box in people.boxes(waves.keys()) if waves else ():
        wave = waves[box.wave]
        load = loads.get((wave.day, wave.service.code, box.box_class))
        if load is not None:
            why = f"{box.box_class.name}, box {box.code}, by {load.service.name}"
            yield RosterException(what=What.LATE, subscriber=box.subscriber, why=why, arrives=load.arrives)


def twice(people: People) -> Iterator[RosterException]:
    """Yield those whose name and address another subscriber has, too, but for case, accents and spaces.

    Goes through the roster twice: first a number stands for each name and address, eight bytes each, and only whose number
    comes again is looked at more closely.
    """
    numbers = np.fromiter((hash(who_and_where(one)) for one in people.addressed()), dtype=np.int64)
    numbers.sort()
    again = set(numbers[1:][numbers[1:] == numbers[:-1]].tolist())
    doubtful = [one for one in people.addressed() if hash(who_and_where(one)) in again] if again else []
    alike: defaultdict[str, list[str]] = defaultdict(list)
    for one in doubtful:
        alike[who_and_where(one)].append(one.reference)
    for one in doubtful:
        if len(same := alike[who_and_where(one)]) > 1:
            others = ", ".join(reference for reference in same if reference != one.reference)
            yield RosterException(what=What.TWICE, subscriber=one, why=f"same name and address as {others}")


def who_and_where(one: Subscriber) -> str:
    """Return name and address without what people write differently from one time to the next."""
    lines = (one.name, one.address_1, one.address_2, one.address_3, one.city, one.postcode, one.country)
    return "|".join(map(plain, lines))


def plain(text: str) -> str:
    """Return a text without case, accents, punctuation and spaces."""
    if text.isascii():
        return text.lower().translate(DROPPED)
    letters = unicodedata.normalize("NFKD", text).casefold()
    return "".join(letter for letter in letters if letter.isalnum())


def characters(people: Iterable[Subscriber]) -> Iterator[RosterException]:
    """Yield those whose name or address the slips cannot print."""
    from planning.documents.pdf.address import lacking

    for one in people:
        if missing := lacking(one):
            why = f"the slip shows ? for {' '.join(sorted(missing))}: copy the address by hand"
            yield RosterException(what=What.CHARACTERS, subscriber=one, why=why)


def long_lines(people: Iterable[Subscriber], slips: SlipFormat) -> Iterator[RosterException]:
    """Yield those with a line too long for the slip: it is broken there, or set very small."""
    from planning.documents.pdf.address import address_lines
    from planning.documents.pdf.fonts import TEXT, text_width
    from planning.documents.pdf.packing_slips import SIDE
    from planning.documents.pdf.slip_sheets import slip_sheet

    room = slip_sheet(slips).slip[0] - 2 * SIDE
    sure = int(room / max(text_width(chr(code), TEXT, READABLE) for code in range(32, 127)))

    def is_long(line: str) -> bool:
        if len(line) <= sure and line.isascii():  # quickly told of most
            return False
        return text_width(line, TEXT, READABLE) > room

    for one in people:
        long = [line for line in (one.name, *address_lines(one)) if is_long(line)]
        if long:
            why = f"too long for one line of the slip: {'; '.join(long)}"
            yield RosterException(what=What.LONG_LINE, subscriber=one, why=why)


def no_postcode(people: People) -> Iterator[RosterException]:
    """Yield those without a postcode in a country where others on the roster have one."""
    usual = {one.country for one in people.addressed() if one.postcode.strip()}
    for one in people.addressed():
        if one.country in usual and not one.postcode.strip():
            why = "others in the same country have one"
            yield RosterException(what=What.NO_POSTCODE, subscriber=one, why=why)


# --- As a file ---


def exceptions_csv(exceptions: Iterable[RosterException], stamp: Stamp) -> bytes:
    """Return the exceptions as comma-separated values (RFC 4180): UTF-8 with its mark, so that spreadsheets see it."""
    text = StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(HEADS)
    plan = (stamp.plan_id, str(stamp.version), stamp.made_at.isoformat())
    for one in exceptions:
        who, arrives = one.subscriber, one.arrives.isoformat() if one.arrives else ""
        writer.writerow(
            map(harmless, (one.what, who.reference, who.name, who.country, one.why, arrives, *plan))
        )
    return text.getvalue().encode("utf-8-sig")


def harmless(text: str) -> str:
    """Return a text that no spreadsheet takes for a formula: a leading apostrophe keeps it text."""
    return f"'{text}" if text.startswith(DANGEROUS) else text
