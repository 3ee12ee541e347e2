"""Roster exceptions: everyone for whom the month goes otherwise than usual, or whose address needs a look.

Exceptions are data first; the workbook has a sheet of them, and they are a file of their own for other programs.
"""

import csv
import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from io import StringIO

from planning.documents.listing import Box, profiles
from planning.documents.stamp import Stamp
from planning.flow import MonthPlan
from planning.month import Month
from planning.roster import Subscriber
from planning.roster.boxes import why_no_kit

READABLE = 8  # points; below that an address is hard to read at arm's length
HEADS = ("What", "Subscriber", "Name", "Country", "Why", "Arrives", "Plan", "Version", "Made at")
# What a spreadsheet takes for the start of a formula (OWASP, "CSV Injection"), full-width forms included.
DANGEROUS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


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


def roster_exceptions(month: Month, plan: MonthPlan, boxes: Sequence[Box]) -> tuple[RosterException, ...]:
    """Return every exception: first what needs somebody, last who is left out as they asked; by roster within."""
    people = addressed(boxes)
    found = (
        *not_sent(plan, boxes),
        *late(plan, boxes),
        *twice(people),
        *characters(people),
        *long_lines(people, month.club.paper),
        *no_postcode(people),
        *left_out(month),
    )
    places = {one.reference: place for place, one in enumerate(month.subscribers)}
    kinds = list(What)
    return tuple(sorted(found, key=lambda one: (kinds.index(one.what), places[one.subscriber.reference])))


def addressed(boxes: Iterable[Box]) -> tuple[Subscriber, ...]:
    """Return everyone who gets a box, once each, in the order of the roster."""
    people = {box.subscriber.reference: box.subscriber for box in sorted(boxes, key=lambda box: box.serial)}
    return tuple(people.values())


def not_sent(plan: MonthPlan, boxes: Iterable[Box]) -> Iterator[RosterException]:
    """Yield the boxes no service takes."""
    reasons = {one.box_class: one.why for one in plan.shipping.unsendable}
    for box in boxes:
        if box.wave == 0:
            yield RosterException(what=What.NOT_SENT, subscriber=box.subscriber, why=reasons[box.box_class])


def late(plan: MonthPlan, boxes: Iterable[Box]) -> Iterator[RosterException]:
    """Yield the boxes that miss the promise."""
    loads = {(load.day, load.service.code, load.box_class): load for load in plan.shipping.late}
    waves = {wave.number: wave for wave in plan.waves}
    for box in boxes:
        wave = waves.get(box.wave)
        load = loads.get((wave.day, wave.service.code, box.box_class)) if wave else None
        if load is not None:
            why = f"{box.box_class.name}, box {box.code}, by {load.service.name}"
            yield RosterException(what=What.LATE, subscriber=box.subscriber, why=why, arrives=load.arrives)


def twice(people: Iterable[Subscriber]) -> Iterator[RosterException]:
    """Yield those whose name and address another subscriber has, too, but for case, accents and spaces."""
    alike: defaultdict[tuple[str, ...], list[Subscriber]] = defaultdict(list)
    for one in people:
        lines = (one.name, one.address_1, one.address_2, one.address_3, one.city, one.postcode, one.country)
        alike[tuple(map(plain, lines))].append(one)
    for same in alike.values():
        for one in same if len(same) > 1 else ():
            others = ", ".join(other.reference for other in same if other is not one)
            yield RosterException(what=What.TWICE, subscriber=one, why=f"same name and address as {others}")


def plain(text: str) -> str:
    """Return a text without case, accents, punctuation and spaces."""
    letters = unicodedata.normalize("NFKD", text).casefold()
    return "".join(letter for letter in letters if letter.isalnum())


def characters(people: Iterable[Subscriber]) -> Iterator[RosterException]:
    """Yield those whose name or address the slips cannot print."""
    from planning.documents.pdf.address import lacking

    for one in people:
        if missing := lacking(one):
            why = f"the slip shows ? for {' '.join(sorted(missing))}: copy the address by hand"
            yield RosterException(what=What.CHARACTERS, subscriber=one, why=why)


def long_lines(people: Iterable[Subscriber], paper: str) -> Iterator[RosterException]:
    """Yield those with a line too long for the slip: it is broken there, or set very small."""
    from planning.documents.pdf.address import address_lines
    from planning.documents.pdf.fonts import TEXT, text_width
    from planning.documents.pdf.look import slip_size
    from planning.documents.pdf.packing_slips import SIDE

    room = slip_size(paper)[0] - 2 * SIDE
    for one in people:
        long = [line for line in (one.name, *address_lines(one)) if text_width(line, TEXT, READABLE) > room]
        if long:
            why = f"too long for one line of the slip: {'; '.join(long)}"
            yield RosterException(what=What.LONG_LINE, subscriber=one, why=why)


def no_postcode(people: Sequence[Subscriber]) -> Iterator[RosterException]:
    """Yield those without a postcode in a country where others on the roster have one."""
    usual = {one.country for one in people if one.postcode.strip()}
    for one in people:
        if one.country in usual and not one.postcode.strip():
            why = "others in the same country have one"
            yield RosterException(what=What.NO_POSTCODE, subscriber=one, why=why)


def left_out(month: Month) -> Iterator[RosterException]:
    """Yield those whose subscription sends no box this month."""
    for one, profile in profiles(month):
        if (reason := why_no_kit(profile, month.club.month)) is not None:
            yield RosterException(what=What.LEFT_OUT, subscriber=one, why=reason)


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
