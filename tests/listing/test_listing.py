"""The boxes as rows: the very ones that the roster step's rule gives, whatever the database, the chunk and the order."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from itertools import permutations
from unittest.mock import patch

import pytest
from django.utils.timezone import now
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planning import load, models, save
from planning.demo import demo_month
from planning.documents.exceptions import Held, exceptions_of
from planning.documents.listing import Box, list_boxes
from planning.listing import (
    RosterRead,
    boxes_of_waves,
    count_roster,
    list_chunk,
    listing_faults,
    start_listing,
)
from planning.listing.places import size_of, stretches
from planning.listing.sql import Asks, large_statement, people
from planning.models import Job, Plan
from planning.month import Month
from planning.problems import roster_problem
from planning.roster import OneOffOrder, Subscriber
from planning.run import Counted, Planned, make_plan
from planning.shipping import Zone
from tests.contents.ruled import ruled
from tests.documents.small_month import APRIL, EMPTY_MONTH, MARCH, MONTH, person
from tests.support.effort import FULL, examples, thorough

pytestmark = pytest.mark.django_db


class Listed:
    """A month saved, planned on its classes, and listed chunk by chunk."""

    def __init__(self, month: Month, size: int = 5, *, quick: bool = False) -> None:
        self.month = month
        self.row = save.month(month)
        self.book = load.to_plan_by(self.row)
        self.counted = count_roster(self.row.pk, self.book, size)
        counted = Counted("id", self.counted.problem)
        self.planned: Planned = make_plan(self.book, 1, now(), counted=counted, quick=quick)
        self.plan: Plan = save.begun(
            Job.objects.create(key=f"k{now()}", kind="plan", month=self.row), self.planned
        )
        start_listing(self.plan, self.planned.plan, self.counted)

    def list_all(self, order: Iterator[int] | None = None) -> "Listed":
        """List every chunk, in any order."""
        chunks = self.plan.listing.chunks
        for number in order or range(len(chunks)):
            list_chunk(self.plan, chunks[number])
        return self

    @property
    def boxes(self) -> list[Box]:
        """The boxes as read back, wave by wave, those not sent first."""
        last = len(self.planned.plan.waves)
        found = boxes_of_waves(self.plan, self.planned.plan, self.book.club, 0, last)
        return [box for wave in found.values() for box in wave]

    @property
    def people(self) -> RosterRead:
        tiers = frozenset(tier.code for tier in self.book.tiers)
        return RosterRead(self.plan, self.planned.plan, self.book.club, tiers)


def in_order(boxes: list[Box] | tuple[Box, ...]) -> list[Box]:
    return sorted(boxes, key=lambda box: box.serial)


def test_it_works() -> None:
    listed = Listed(MONTH).list_all()
    assert in_order(listed.boxes) == in_order(list_boxes(MONTH, listed.planned.plan))
    assert listing_faults(listed.plan, listed.planned.plan) == []


def test_a_wave_on_another_day_than_its_boxes_leave_is_found() -> None:
    listed = Listed(MONTH).list_all()
    plan = listed.planned.plan
    waves = tuple(replace(wave, day=wave.day - timedelta(days=wave.number == 2)) for wave in plan.waves)
    assert listing_faults(listed.plan, replace(plan, waves=waves)) == [
        "other boxes are packed on a day than leave on it"
    ]


@thorough
def test_each_of_a_hundred_thousand_boxes_stands_in_one_wave_on_one_day() -> None:
    boxes = 100_000 if FULL else 10_000
    listed = Listed(demo_month(boxes), size=boxes // 5, quick=True).list_all()
    plan = listed.planned.plan
    assert (
        models.Box.objects.exclude(wave=0).count() == sum(wave.boxes for wave in plan.waves) > boxes * 9 // 10
    )
    assert listing_faults(listed.plan, plan) == []
    first = boxes_of_waves(listed.plan, plan, listed.book.club, 1, 20)
    for wave in plan.waves[:20]:
        leaves = {
            load.box_class
            for load in plan.shipping.loads
            if (load.day, load.service) == (wave.day, wave.service)
        }
        assert {box.box_class for box in first[wave.number]} <= leaves


def test_there_is_a_row_for_each_box_and_none_for_what_it_holds() -> None:
    listed = Listed(MONTH).list_all()
    roster = listed.planned.plan.roster
    assert models.Box.objects.count() == roster.boxes
    assert {one.signature for one in models.BoxClass.objects.all()} == {
        listed.planned.plan.packing.of(one.contents).signature for one in roster.classes
    }


def test_boxes_of_a_wave_come_in_packing_order() -> None:
    listed = Listed(MONTH).list_all()
    for wave in listed.planned.plan.waves:
        found = boxes_of_waves(listed.plan, listed.planned.plan, MONTH.club, wave.number, wave.number)
        assert [box.place for box in found[wave.number]] == list(range(1, wave.boxes + 1))


def test_the_roster_counted_where_it_lies_asks_what_the_roster_in_memory_asks() -> None:
    counted = Listed(MONTH).counted.problem
    assert set(counted.profiles) == set(roster_problem(MONTH).profiles)


def test_rules_see_the_same_people_where_they_lie_and_in_memory() -> None:
    month = ruled()
    ninth, *others = month.subscribers[::-1]
    month = replace(
        month, subscribers=(*others[::-1], replace(ninth, sent=8), replace(ninth, reference="S6", sent=3))
    )
    listed = Listed(month, size=2).list_all()
    assert set(listed.counted.problem.profiles) == set(roster_problem(month).profiles)
    assert {one.sent for one in listed.counted.problem.profiles} == {None, 8, -1}
    assert in_order(listed.boxes) == in_order(list_boxes(month, listed.planned.plan))
    assert listing_faults(listed.plan, listed.planned.plan) == []


def test_a_code_of_ones_own_for_everybody_makes_no_more_keys() -> None:
    month = ruled()
    many = tuple(
        replace(month.subscribers[2], reference=f"P{n}", promotions=(f"OWN-{n}",), sent=20 + n)
        for n in range(50)
    )
    spring = replace(many[0], reference="SPRING", promotions=("OWN", "SPRING"))
    row = save.month(replace(month, subscribers=(*many, spring), orders=()))
    keys = count_roster(row.pk, load.to_plan_by(row)).profiles
    assert sorted(len(one.promotions) for one in keys.values()) == [0, 1]


def test_chunks_may_be_listed_in_any_order() -> None:
    once = in_order(list_boxes(MONTH, make_plan(MONTH, 1, now()).plan))
    for order in permutations(range(4)):
        listed = Listed(MONTH, size=12)
        assert len(listed.plan.listing.chunks) == 4
        assert in_order(listed.list_all(iter(order)).boxes) == once
        listed.row.delete()


def test_a_book_without_people_makes_the_plan_of_the_whole_month() -> None:
    listed = Listed(MONTH)
    whole = load.month(listed.row.pk)
    assert listed.planned.plan == make_plan(whole, 1, now()).plan


def test_who_ordered_several_things_has_one_key_whether_all_or_a_chunk_are_looked_at() -> None:
    """A database that adds up in no order gave some people two keys: their boxes were counted, and not listed."""
    items = ("STD", "BRAD", "MAT", "TAG", "RIB")
    row = save.month(
        replace(
            EMPTY_MONTH,
            subscribers=tuple(person(f"P{n:05}", "Ada Brook") for n in range(2_000)),
            orders=tuple(
                OneOffOrder(reference=f"{n}-{item}", subscriber=f"P{n:05}", item=item)
                for n in range(2_000)
                for item in (items if n % 2 else items[::-1])
            ),
        )
    )
    chunks = [{"month": row.pk, "first": first, "end": first + 40} for first in range(0, 2_000, 40)]
    with large_statement() as cursor:
        cursor.execute(people(Asks()), chunks[0])
        keys = {place: key for place, _, key in cursor.fetchall()}
        for chunk in chunks:
            cursor.execute(people(Asks(), some=True), chunk)
            assert {keys[place] == key for place, _, key in cursor.fetchall()} == {True}
    assert len(set(keys.values())) == 1


def test_zones_by_postcode_tell_classes_apart_and_make_no_more_keys_than_zones() -> None:
    postcodes = ("80331", "8 0-999", "90402", "9ß1", "10115", "", "8", "ß8")
    month = replace(
        EMPTY_MONTH,
        zones=(
            *EMPTY_MONTH.zones,
            Zone(carrier="POST", country="DE", zone="near", prefix="803", last="809"),
            Zone(carrier="POST", country="DE", zone="near", prefix="9"),
        ),
        subscribers=tuple(
            replace(person(f"P{n:03}", "Ada Brook"), country="DE", postcode=postcodes[n % len(postcodes)])
            for n in range(40)
        ),
    )
    listed = Listed(month, size=7).list_all()
    assert set(listed.counted.problem.profiles) == set(roster_problem(month).profiles)
    assert len(listed.counted.profiles) == 2
    assert {one.zones for one in listed.planned.plan.roster.classes} == {
        (("POST", "home"),),
        (("POST", "near"),),
    }
    assert in_order(listed.boxes) == in_order(list_boxes(month, listed.planned.plan))
    assert listing_faults(listed.plan, listed.planned.plan) == []


def test_an_empty_roster_has_no_chunks() -> None:
    listed = Listed(EMPTY_MONTH).list_all()
    assert (listed.plan.listing.chunks, listed.boxes) == ([], [])
    assert listing_faults(listed.plan, listed.planned.plan) == []


def test_exceptions_read_from_rows_are_those_found_in_memory() -> None:
    listed = Listed(MONTH).list_all()
    plan, slips = listed.planned.plan, MONTH.club.slips
    held = Held(MONTH, list_boxes(MONTH, plan))
    assert list(exceptions_of(plan, slips, listed.people)) == list(exceptions_of(plan, slips, held))


@pytest.mark.parametrize("field", ["wave", "place", "box_class"])
def test_the_checker_finds_a_box_that_stands_elsewhere(field: str) -> None:
    listed = Listed(MONTH).list_all()
    box = models.Box.objects.filter(wave__gt=0).first()
    assert box is not None
    models.Box.objects.filter(pk=box.pk).update(**{field: getattr(box, field) + 1})
    assert listing_faults(listed.plan, listed.planned.plan)


def test_the_checker_finds_a_box_that_is_missing() -> None:
    listed = Listed(MONTH).list_all()
    models.Box.objects.filter(serial=3).delete()
    assert listing_faults(listed.plan, listed.planned.plan)[0] == (
        f"{listed.planned.plan.roster.boxes - 1} boxes are listed of {listed.planned.plan.roster.boxes}"
    )


def test_stretches_cover_every_place_of_every_wave_once() -> None:
    plan = make_plan(MONTH, 1, now()).plan
    numbers = {one: number for number, one in enumerate(plan.roster.classes)}
    size = size_of(plan.waves)
    places = sorted(one.at + n for one in stretches(plan.waves, numbers) for n in range(one.boxes))
    assert places == [(wave.number - 1) * size + n for wave in plan.waves for n in range(wave.boxes)]


# --- Any roster at all ---

PEOPLE = st.builds(
    person,
    st.sampled_from([f"P{n:03}" for n in range(500)]),
    st.sampled_from(["Ada Ames", "Zoë D'Arcy", "水野"]),
    st.sampled_from(["DE", "PL", "JP", "IS"]),
    st.sampled_from(["STD", "DLX"]),
    quantity=st.integers(0, 3),
    active=st.booleans(),
    joined=st.sampled_from([None, date(2027, 3, 9), date(2027, 4, 9), date(2027, 5, 9)]),
    skips=st.sampled_from([(), (MARCH,), (APRIL,), (MARCH, APRIL)]),
)
ROSTERS = st.lists(PEOPLE, max_size=40, unique_by=lambda one: one.reference)
GOODS = ["STD", "DLX", *(line.item for line in MONTH.orders)]
ORDERS = st.lists(st.tuples(st.integers(0, 39), st.sampled_from(GOODS), st.integers(1, 3)), max_size=12)


@settings(max_examples=examples(120), suppress_health_check=list(HealthCheck))
@given(ROSTERS, ORDERS, st.integers(1, 9), st.integers(1, 15))
def test_any_roster_is_listed_as_in_memory(
    roster: list[Subscriber],
    wanted: list[tuple[int, str, int]],
    wave_size: int,
    size: int,
) -> None:
    orders = tuple(
        OneOffOrder(reference=f"W{number}", subscriber=roster[at % len(roster)].reference, item=item, count=n)
        for number, (at, item, n) in enumerate(wanted if roster else ())
    )
    club = replace(MONTH.club, cart_boxes=wave_size)
    month = replace(MONTH, subscribers=tuple(roster), orders=orders, club=club)
    listed = Listed(month, size).list_all()
    held = list_boxes(month, listed.planned.plan)
    try:
        assert set(listed.counted.problem.profiles) == set(roster_problem(month).profiles)
        assert in_order(listed.boxes) == in_order(held)
        assert listing_faults(listed.plan, listed.planned.plan) == []
        plan, slips = listed.planned.plan, month.club.slips
        assert list(exceptions_of(plan, slips, listed.people)) == list(
            exceptions_of(plan, slips, Held(month, held))
        )
        with patch("planning.listing.read.AT_ONCE", 3):
            assert list(listed.people.addressed()) == list(Held(month, held).addressed())
    finally:
        listed.row.delete()
