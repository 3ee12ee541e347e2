"""The plan as a table for a terminal."""

from dataclasses import replace
from datetime import UTC, datetime

from planning.run import make_plan
from planning.summary import summary
from tests.web.small_month import SMALL_MONTH

AT = datetime(2027, 3, 1, 9, tzinfo=UTC)


def test_it_works() -> None:
    said = summary(make_plan(SMALL_MONTH, 3, AT))
    assert said.startswith("Reedbed, April 2027, Heron Lane Paper Club\nPlan HERON-2027-04-")
    assert "version 3, 1 Mar 2027 09:00 UTC" in said
    assert "Roster                     4  boxes for 5 people, 2 get none" in said
    assert "  - Reed Ribbon: should have been ordered by 26 Feb 2027, now arrives 25 Mar 2027" in said
    assert "  Fri 9 Apr 2027    end of the promised week: every box has arrived" in said


def test_a_kit_without_a_name_is_called_by_its_month_once() -> None:
    club = replace(SMALL_MONTH.club, kit_name=SMALL_MONTH.club.month.title)
    said = summary(make_plan(replace(SMALL_MONTH, club=club), 1, AT))
    assert said.startswith("April 2027, Heron Lane Paper Club\n")


def test_of_a_roll_only_the_lengths_that_are_wanted_are_counted() -> None:
    """A roll of the ribbon yields dozens of lengths."""
    planned = make_plan(SMALL_MONTH, 1, AT)
    [ribbon] = planned.plan.cutting.lengths
    pieces = sum(ticket.made for ticket in planned.plan.cutting.tickets)
    assert ribbon.made > ribbon.job.wanted
    assert f"into {pieces + ribbon.job.wanted:,} pieces and lengths" in summary(planned)


def test_figures_stand_under_each_other() -> None:
    table = summary(make_plan(SMALL_MONTH, 1, AT)).split("\n\n")[1].splitlines()
    assert {line[27] for line in table} <= set("0123456789")
    assert {line[28:30] for line in table} == {"  "}


def test_days_stand_in_their_order() -> None:
    [days] = [
        part for part in summary(make_plan(SMALL_MONTH, 1, AT)).split("\n\n") if part.startswith("Deadlines")
    ]
    dates = [
        datetime.strptime(line[2:18].strip(), "%a %d %b %Y").replace(tzinfo=UTC)
        for line in days.splitlines()[1:]
    ]
    assert dates == sorted(dates)


def test_a_month_with_nothing_late_says_so() -> None:
    near = [one for one in SMALL_MONTH.subscribers if one.country == "GB"]
    home = tuple(zone for zone in SMALL_MONTH.zones if zone.country == "GB")  # nothing asks for customs facts
    offers = [replace(offer, lead_days=0) for offer in SMALL_MONTH.offers]
    calm = replace(SMALL_MONTH, subscribers=tuple(near), orders=(), offers=tuple(offers), zones=home)
    assert "Nothing is late or short." in summary(make_plan(calm, 1, AT))


def test_an_empty_roster_has_a_table_too() -> None:
    assert "Roster                     0" in summary(
        make_plan(replace(SMALL_MONTH, subscribers=(), orders=()), 1, AT)
    )
