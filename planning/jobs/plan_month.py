"""Planning a month in the background: decided on classes, listed in chunks, checked, printed wave by wave, bundled, shown.

Until the last stage nobody sees any of it. Each stage goes by the month as it was when the job began; where somebody has
changed it since, the job starts over.
"""

from collections.abc import Iterable, Iterator
from functools import lru_cache
from pathlib import Path

from django.conf import settings

from kits.models import Month
from planning import load, run, save
from planning.documents.paper import Paper
from planning.drafts import DraftError, refuse_drafts
from planning.flow import PlanError, Tell
from planning.jobs.bundle import clear_unfinished, write_bundle, write_index
from planning.jobs.kinds import KINDS, Asks, Keep, RefusedError, Stage, StartOverError, one_part
from planning.jobs.watch import Watch
from planning.listing import (
    CountedRoster,
    RosterRead,
    boxes_of_waves,
    count_roster,
    list_chunk,
    listing_faults,
    start_listing,
)
from planning.load import EarlierPlanError
from planning.models import Job, Listing, Plan
from planning.month import Month as Book
from planning.run import BUNDLE, INDEX, MONTH_ERRORS, Counted, Planned, Written

COUNTING = "counting the roster"
EXCEPTIONS = "roster-exceptions.csv"
BOXES_AT_ONCE = 250  # in one part of the papers: about a second of work
PAPERS_A_WAVE = 4
FIRST = 2  # position of the first paper; before it stand the bundle and the index


# --- What the job goes by ---


def plan_of(job: Job) -> Plan:
    """Return the plan a job has begun, which nobody else sees. Raises StartOverError where there is none any more."""
    plan = Plan.every.filter(job=job).defer("answers").first()
    if plan is None:
        raise StartOverError
    return plan


def decided(plan: Plan) -> Planned:
    """Return what was decided. Raises StartOverError where another version of the program did and it cannot be read."""
    try:
        return decided_of(plan.pk)
    except EarlierPlanError:
        raise StartOverError from None


@lru_cache(
    maxsize=1
)  # a large plan is some megabytes, and a worker does many parts of it one after the other
def decided_of(plan: int) -> Planned:
    """Return what was decided in a plan. Raises EarlierPlanError."""
    return load.planned(Plan.every.get(pk=plan))


def unchanged(job: Job, plan_id: str) -> None:
    """See to it that the month is, and until the transaction ends stays, as it was. Raises StartOverError."""
    month = Month.objects.select_for_update(no_key=True).get(pk=job.month_id)
    if id_of(month) != plan_id:
        raise StartOverError


def id_of(month: Month) -> str:
    """Return what plans of a month as it is are called."""
    return run.id_of(month.code, month.month, month.fingerprint)


@lru_cache(maxsize=2)  # one worker does many parts of a plan one after the other
def book_of(month: int, plan_id: str) -> Book:
    """Return a month's book without its people. Raises StartOverError where it is another month by now."""
    row = Month.objects.get(pk=month)
    if id_of(row) != plan_id:
        raise StartOverError
    return load.to_plan_by(row)


# --- Deciding ---


def decide_at_once(job: Job, asks: Asks, watch: Watch) -> Keep:
    """Keep a good plan to look at while the best way to cut is searched for."""
    planned, _ = decision(job, watch, quick=True)

    def keep() -> None:
        unchanged(job, planned.stamp.plan_id)
        save.begun(job, planned)

    return keep


def decide(job: Job, asks: Asks, watch: Watch) -> Keep:
    """Keep what was decided with what the listing goes by."""
    planned, counted = decision(job, watch)

    def keep() -> None:
        unchanged(job, planned.stamp.plan_id)
        start_listing(save.begun(job, planned), planned.plan, counted)

    return keep


def decision(job: Job, watch: Watch, *, quick: bool = False) -> tuple[Planned, CountedRoster]:
    """Count the roster and plan on classes. quick: in a moment, so nobody hears of each step."""
    tell: Tell = (lambda step: None) if quick else watch.stage
    tell(COUNTING)
    month = Month.objects.get(pk=job.month_id)
    book = load.to_plan_by(month)
    try:
        refuse_drafts(book)
        counted = count_roster(month.pk, book)
        people = Counted(id_of(month), counted.problem)
        version = save.next_version(job)
        planned = run.make_plan(book, version, job.created_at, tell, people, quick=quick)
        tell(run.OTHER_COUNTS)
        return planned if quick else run.costed(book, planned), counted
    except (DraftError, *MONTH_ERRORS) as problem:
        unchanged_or_over(month)
        raise RefusedError(str(problem)) from problem


def unchanged_or_over(month: Month) -> None:
    """Blame a month only where it was read as one: it may have been changed while it was. Raises StartOverError."""
    if id_of(Month.objects.get(pk=month.pk)) != id_of(month):
        raise StartOverError


# --- Listing ---


def chunks(job: Job) -> Iterator[Asks]:
    """Yield the chunks of the roster."""
    for number in range(len(plan_of(job).listing.chunks)):
        yield {"chunk": number}


def list_boxes(job: Job, asks: Asks, watch: Watch) -> Keep:
    """List the boxes of a chunk; all of it is one statement, so there is nothing to do before it is kept."""
    plan = plan_of(job)

    def keep() -> None:
        unchanged(job, plan.plan_id)
        list_chunk(plan, plan.listing.chunks[asks["chunk"]])

    return keep


def check_waves(job: Job, asks: Asks, watch: Watch) -> Keep:
    """Count every wave and class again before anything is printed."""
    plan = plan_of(job)
    if faults := listing_faults(plan, decided(plan).plan):
        raise PlanError("; ".join(faults))
    return lambda: None


# --- Papers ---


def papers_to_write(job: Job) -> Iterator[Asks]:
    """Yield the papers of the month as a whole, one part each, then waves, as many together as make a few seconds' work."""
    plan = plan_of(job)
    planned = decided(plan)
    for number, paper in enumerate(whole_month(plan, planned), FIRST):
        yield {"paper": paper.name, "position": number}
    position = number + 1
    first, boxes = 1, 0
    for wave in planned.plan.waves:
        boxes += wave.boxes
        if boxes >= BOXES_AT_ONCE or wave is planned.plan.waves[-1]:
            yield {"first": first, "last": wave.number, "position": position + (first - 1) * PAPERS_A_WAVE}
            first, boxes = wave.number + 1, 0


def whole_month(plan: Plan, planned: Planned) -> Iterable[Paper]:
    """Return the papers of the month as a whole."""
    from planning.documents.papers import month_papers

    book = book_of(plan.month_id, plan.plan_id)
    return month_papers(book, planned.plan, roster_of(plan, planned, book), planned.stamp, planned.curve)


def roster_of(plan: Plan, planned: Planned, book: Book) -> RosterRead:
    """Return the month's people and the plan's boxes where they lie."""
    return RosterRead(plan, planned.plan, book.club, frozenset(tier.code for tier in book.tiers))


def write_papers(job: Job, asks: Asks, watch: Watch) -> Keep:
    """Write one paper of the month, or those of some waves."""
    plan = plan_of(job)
    planned = decided(plan)
    if "paper" in asks:
        papers = [paper for paper in whole_month(plan, planned) if paper.name == asks["paper"]]
    else:
        papers = list(of_waves(plan, planned, asks["first"], asks["last"]))
    written = {
        number: run.write(paper, folder(plan)) for number, paper in enumerate(papers, asks["position"])
    }
    unprinted = unprinted_names(plan, planned) if asks.get("paper") == EXCEPTIONS else ""

    def keep() -> None:
        unchanged(job, plan.plan_id)
        save.artefacts(plan, save.folder_of(plan), written)
        if unprinted:
            Plan.every.filter(pk=plan.pk).update(unprinted=unprinted)

    return keep


def of_waves(plan: Plan, planned: Planned, first: int, last: int) -> Iterator[Paper]:
    """Yield the papers of some waves."""
    from planning.documents.papers import wave_papers

    book = book_of(plan.month_id, plan.plan_id)
    boxes = boxes_of_waves(plan, planned.plan, book.club, first, last)
    for wave in planned.plan.waves[first - 1 : last]:
        yield from wave_papers(book, planned.plan, wave, boxes[wave.number], planned.stamp)


def unprinted_names(plan: Plan, planned: Planned) -> str:
    """Say whose names the papers cannot print, empty where there is nobody."""
    from planning.documents.unprinted import unprinted_among

    people = roster_of(plan, planned, book_of(plan.month_id, plan.plan_id)).everybody()
    return " ".join(map(str, unprinted_among(people)))


def folder(plan: Plan) -> Path:
    """Return where a plan's papers lie."""
    return Path(settings.ARTEFACTS_DIR, save.folder_of(plan))


# --- Showing it ---


def bundle(job: Job, asks: Asks, watch: Watch) -> Keep:
    """Put all papers into one file, list them, and then let the plan be seen: this is the last act."""
    plan = plan_of(job)
    papers = [
        Written(each.name, each.title, each.size, each.sha256) for each in plan.papers.order_by("position")
    ]
    papers = [paper for paper in papers if paper.name not in (INDEX, BUNDLE)]
    stamp = decided(plan).stamp
    clear_unfinished(folder(plan))
    heads = write_bundle(papers, folder(plan), stamp), write_index(papers, folder(plan), stamp)

    def keep() -> None:
        unchanged(job, plan.plan_id)
        save.artefacts(plan, save.folder_of(plan), dict(enumerate(heads)))
        Listing.objects.filter(plan=plan).delete()
        Plan.every.filter(pk=plan.pk).update(ready=True)

    return keep


KINDS["plan"] = (
    Stage("a first plan", one_part, decide_at_once),
    Stage("planning", one_part, decide),
    Stage("listing the boxes", chunks, list_boxes),
    Stage("checking the waves", one_part, check_waves),
    Stage("papers", papers_to_write, write_papers),
    Stage("bundle", one_part, bundle),
)
