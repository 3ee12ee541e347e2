from datetime import UTC, date, datetime, timedelta

import icalendar
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planning.documents.calendar_file import (
    FOLD,
    Event,
    calendar_file,
    folded,
    month_events,
    shipping_calendar,
)
from planning.documents.stamp import Stamp
from planning.flow import plan_month
from tests.documents.small_month import EMPTY_MONTH, MONTH, STAMP, small_plan

PLAN = small_plan()
TEXTS = st.text(st.characters(blacklist_categories=("Cs", "Cc", "Zl", "Zp")), max_size=200)


def event(
    title: str = "Film festival",
    words: str = "",
    first: date = date(2007, 6, 28),
    last: date = date(2007, 7, 8),
) -> Event:
    return Event(key="festival", kind="Promise", title=title, words=words, first=first, last=last)


def written(*events: Event, stamp: Stamp = STAMP) -> bytes:
    return calendar_file("A calendar", "RIV/2027-04", events, stamp)


def read(file: bytes) -> icalendar.Calendar:
    """Read the file as another program does."""
    return icalendar.Calendar.from_ical(file)


def test_an_event_of_several_days_ends_on_the_day_after_its_last() -> None:
    # RFC 5545 section 3.6.1: 28 June to 8 July 2007 inclusive is DTSTART 20070628 and DTEND 20070709.
    lines = written(event()).split(b"\r\n")
    assert b"DTSTART;VALUE=DATE:20070628" in lines
    assert b"DTEND;VALUE=DATE:20070709" in lines


def test_an_event_of_one_day_ends_on_the_next() -> None:
    [one] = read(written(event(last=date(2007, 6, 28)))).walk("VEVENT")
    assert one.decoded("DTEND") - one.decoded("DTSTART") == timedelta(days=1)


def test_an_event_that_ends_before_it_begins_is_refused() -> None:
    with pytest.raises(ValueError, match="before it begins"):
        event(last=date(2007, 6, 27))


def test_the_calendar_says_who_made_it_and_of_which_plan_it_is() -> None:
    calendar = read(written(event()))
    assert calendar["VERSION"] == "2.0"
    assert calendar["PRODID"]
    assert calendar["DESCRIPTION"] == STAMP.text
    [one] = calendar.walk("VEVENT")
    assert one.decoded("DTSTAMP") == STAMP.made_at
    assert one["SEQUENCE"] == 3
    assert one["DESCRIPTION"] == STAMP.text


def test_an_event_keeps_its_identity_when_the_plan_changes() -> None:
    later = Stamp(plan_id="RIV-2027-04b", version=4, made_at=datetime(2027, 3, 2, 9, 30, tzinfo=UTC))
    [before] = read(written(event())).walk("VEVENT")
    [after] = read(written(event("Another title"), stamp=later)).walk("VEVENT")
    assert before["UID"] == after["UID"]


def test_the_same_events_make_the_same_bytes() -> None:
    assert written(event()) == written(event())


def test_every_line_ends_in_carriage_return_and_line_feed() -> None:
    file = written(event(words="one\ntwo\rthree"))
    assert file.endswith(b"END:VCALENDAR\r\n")
    assert file.count(b"\n") == file.count(b"\r") == file.count(b"\r\n")


@given(TEXTS, st.lists(TEXTS.filter(bool), max_size=4))
def test_another_program_reads_every_text_as_it_was(title: str, words: list[str]) -> None:
    [one] = read(written(event(title, "\n".join(words)))).walk("VEVENT")
    assert one["SUMMARY"] == title
    assert one["DESCRIPTION"] == "\n".join([*words, STAMP.text])


@given(TEXTS)
def test_no_line_is_longer_than_75_octets_and_no_character_is_torn(title: str) -> None:
    lines = written(event(title)).removesuffix(b"\r\n").split(b"\r\n")
    assert all(len(line) <= FOLD for line in lines)
    assert all(line.decode() for line in lines)


@given(st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=300))
def test_a_folded_line_unfolds_to_itself(line: str) -> None:
    assert folded(line).replace("\r\n ", "") == line


def test_a_line_is_folded_only_when_it_must_be() -> None:
    assert folded("x" * 75) == "x" * 75
    assert folded("x" * 76) == "x" * 75 + "\r\n x"
    assert folded("é" * 38) == "é" * 37 + "\r\n é"  # 2 octets each: 74, and one more would make 76


# --- The month's events ---


def of_kind(kind: str) -> list[Event]:
    return [event for event in month_events(MONTH, PLAN) if event.kind == kind]


def test_every_order_has_its_day_and_a_late_one_stands_on_the_day_of_the_plan() -> None:
    late, in_time = of_kind("Order")
    assert (late.first, in_time.first) == (date(2027, 3, 1), date(2027, 3, 15))
    assert late.title == "Order RIV-2704-1 from Mühle & Söhne - LATE, was due by Fri 26 Feb 2027"
    assert in_time.title == "Order RIV-2704-2 from Trimmings House"
    assert in_time.words == "4 rolls Ribbon, sand\n200 x Brass brad\nTotal 25.20 EUR"


def test_the_days_goods_must_be_in_say_what_is_late_and_what_is_short() -> None:
    *_, last = of_kind("Goods in")
    assert last.first == date(2027, 3, 24)
    assert "50 sheets Kingfisher blue, one-sided print; LATE, arrives Thu 25 Mar 2027" in last.words
    assert "0 x Wooden hoop; 2 SHORT: no supplier offers it" in last.words


def test_packing_days_hold_every_box_that_is_sent() -> None:
    days = of_kind("Packing")
    assert [event.first for event in days] == [one.day for one in PLAN.shipping.days if one.boxes]
    assert days[0].title == "Pack 7 boxes"
    assert days[0].words == "19.25 of 20 crew minutes, 3 waves"


def test_collections_are_told_by_day_and_service() -> None:
    collections = of_kind("Collection")
    assert len(collections) == len({(load.collected, load.service.code) for load in PLAN.shipping.loads})
    assert collections[0].title == "Letter post collects 6 boxes"
    assert collections[0].words == "5 boxes to arrive Thu 1 Apr 2027\n1 box to arrive Mon 5 Apr 2027"


def test_the_promise_lasts_from_monday_to_the_last_day_a_box_is_in_time() -> None:
    [promise] = of_kind("Promise")
    assert (promise.first, promise.last) == (date(2027, 4, 5), date(2027, 4, 9))
    assert promise.words == "1 box LATE, 1 box NOT SENT"


def test_another_program_reads_every_event_of_the_month() -> None:
    events = read(shipping_calendar(MONTH, PLAN, STAMP)).walk("VEVENT")
    assert [(one["SUMMARY"], one.decoded("DTSTART")) for one in events] == [
        (event.title, event.first) for event in month_events(MONTH, PLAN)
    ]
    assert len({str(one["UID"]) for one in events}) == len(events)


def test_an_empty_month_still_has_its_promise() -> None:
    file = shipping_calendar(EMPTY_MONTH, plan_month(EMPTY_MONTH), STAMP)
    assert [str(one["SUMMARY"]) for one in read(file).walk("VEVENT")] == [
        "Promised week: every box arrives by Fri 9 Apr 2027"
    ]
