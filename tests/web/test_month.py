"""The month page: the flow from top to bottom."""

from dataclasses import replace

import pytest
from django.test import Client

from kits.models import Month
from planning import jobs, save
from planning.models import Job, Plan, State
from planning.views.steps import STEPS
from tests.web.planned import plan_of
from tests.web.small_month import SMALL_MONTH


def page_of(desk: Client, month: Month) -> str:
    return desk.get(f"/months/{month.pk}/").content.decode()


def test_it_works(desk: Client, plan: Plan) -> None:
    page = page_of(desk, plan.month)
    places = [page.index(f'<h2><a href="/months/{plan.month_id}/{step}">') for step in STEPS]
    assert places == sorted(places)
    assert "Promised for the week to Fri 9 Apr 2027" in page
    assert "Plan HERON-2027-04-" in page


def test_what_needs_somebody_is_said_in_words(desk: Client, plan: Plan) -> None:
    page = page_of(desk, plan.month)
    assert "5 things need you." in page
    assert "Customs facts missing: Shore White" in page
    assert "Reed Ribbon: to be ordered by 26 Feb 2027, now arrives 25 Mar 2027, needed 24 Mar 2027." in page
    assert "2 orders of the plan not drafted." in page
    assert "1 box to far would arrive Tue 13 Apr 2027" in page
    assert "Half: each kit costs" in page  # more than its price


def test_before_it_is_planned_every_step_says_what_it_waits_for(desk: Client, month: Month) -> None:
    page = page_of(desk, month)
    assert page.count("Waits for the month to be planned") == len(STEPS)
    assert "people on the roster" in page
    assert "Plan this month</button>" in page


def test_while_it_is_planned_it_leads_to_the_job(desk: Client, month: Month) -> None:
    job = jobs.enqueue("plan", month)
    assert f'href="/jobs/{job.pk}/">See how planning goes' in page_of(desk, month)


def test_when_planning_failed_it_says_why_until_it_is_planned(desk: Client, month: Month) -> None:
    Job.objects.create(
        key="x", kind="plan", month=month, state=State.FAILED, error="Tag does not come out of Shore White."
    )
    assert "Tag does not come out of Shore White." in page_of(desk, month)
    plan_of(month, with_papers=False)
    assert "Tag does not come out of Shore White." not in page_of(desk, month)


def test_an_earlier_version_stays_readable(desk: Client, plan: Plan) -> None:
    save.month(replace(SMALL_MONTH, subscribers=SMALL_MONTH.subscribers[:1], orders=()))
    plan_of(plan.month)
    url = f"/months/{plan.month_id}/"
    assert "version 2," in desk.get(url).content.decode()
    first = desk.get(f"{url}?version=1").content.decode()
    assert "version 1," in first
    assert "<b>4</b> boxes" in first
    assert "The latest is" in first
    assert f'href="{url}cutting?version=1"' in first


def test_a_version_that_never_was_is_told_so(desk: Client, plan: Plan) -> None:
    for version in ("9", "-1", "x", "1" * 40, "²"):
        assert desk.get(f"/months/{plan.month_id}/?version={version}").status_code == 404


def test_a_name_cannot_write_into_the_page(desk: Client) -> None:
    evil = "<script>alert(1)</script>"
    club = replace(SMALL_MONTH.club, name=evil, kit_name=evil)
    tiers = tuple(replace(tier, name=evil) for tier in SMALL_MONTH.tiers)
    materials = tuple(replace(one, name=evil) for one in SMALL_MONTH.materials)
    month = save.month(replace(SMALL_MONTH, club=club, tiers=tiers, materials=materials))
    plan_of(month, with_papers=False)
    for step in ("", *STEPS):
        answer = desk.get(f"/months/{month.pk}/{step}")
        assert answer.status_code == 200
        assert evil not in answer.content.decode()


def test_a_step_that_waits_for_another_says_for_which_and_why(desk: Client) -> None:
    offers = tuple(offer for offer in SMALL_MONTH.offers if offer.material != "SHORE")
    breaks = tuple(one for one in SMALL_MONTH.price_breaks if one.offer != "MILL-SHORE")
    month = save.month(replace(SMALL_MONTH, offers=offers, price_breaks=breaks))
    plan_of(month, with_papers=False)
    page = page_of(desk, month)
    assert page.count("Blocked by buying: Shore White is short.") == 2  # cutting and packing
    assert "Shore White: 9 short, no supplier offers it; 4 boxes" in page


@pytest.mark.parametrize("page", ["", "cutting", "booklet"])
def test_a_plan_of_another_version_of_the_program_is_to_be_made_again(
    desk: Client, plan: Plan, page: str
) -> None:
    Plan.objects.filter(pk=plan.pk).update(answers='{"stamp": {}}')
    shown = desk.get(f"/months/{plan.month_id}/{page}")
    assert shown.status_code == 200
    assert "planned by another version of this program: plan the month again" in shown.content.decode()
    assert desk.get(f"/months/{plan.month_id}/documents").status_code == 200
