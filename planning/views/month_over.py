"""What the month that is planned adds to the club's past, as its roster has it: to be looked at in a form, and kept.

A roster names who is subscribed: those who rest are paused, and who left is no longer on it. It is counted when asked for.
"""

from collections.abc import Iterator
from urllib.parse import urlencode

from django.db.models import Q, Sum, TextField
from django.db.models.functions import Cast, Coalesce, TruncMonth
from django.urls import reverse

from kits import models as kits
from planning.calendar import YearMonth
from planning.forecast.model import month_of, serial
from planning.forecast.rows import PastTier
from planning.models import PastTier as Kept
from planning.models import Stayed, Subscriber
from planning.views import words
from planning.views.parts import Cell, Line, Section, Table, number, text


def month_over(row: kits.Month) -> tuple[Section, ...]:
    """Return a section with the row of each tier, and who is there by month of joining where that is kept."""
    this = YearMonth.parse(row.month)
    months = Kept.objects.filter(month=row).values_list("in_month", flat=True)
    told = sorted({YearMonth.parse(str(one)) for one in months})
    before = month_of(serial(this) - 1)
    if this in told or (told and told[-1] != before):
        said = (
            f"{this.title} is on Past months already."
            if this in told
            else f"Past months end with {told[-1]}: add the months up to {before} first."
        )
        return (
            Section(
                f"What {this.title} adds to the past", tables=(Table("", (text("Tier"),), [], empty=said),)
            ),
        )
    tables = [tier_table(row, this, before)]
    if Stayed.objects.filter(month=row).exists():
        tables.append(joined_table(row))
    return (Section(f"What {this.title} adds to the past", tables=tuple(tables)),)


def tier_rows(row: kits.Month, this: YearMonth, before: YearMonth) -> Iterator[PastTier]:
    """Yield each tier's row: who is not there any more has left, and who changed tiers has joined the other."""
    was = {
        one.tier: one.boxes + one.skipped + one.paused
        for one in Kept.objects.filter(month=row, in_month=before)
    }
    counts = counted(row, this)
    for tier in sorted(was.keys() | counts.keys()):
        one = counts.get(tier, dict.fromkeys(("members", "joined", "skipped", "paused"), 0))
        left = was.get(tier, 0) + one["joined"] - one["members"]
        yield PastTier(
            in_month=this,
            tier=tier,
            joined=one["joined"] + max(0, -left),
            left=max(0, left),
            skipped=one["skipped"],
            paused=one["paused"],
            boxes=one["members"] - one["skipped"] - one["paused"],
        )


def counted(row: kits.Month, this: YearMonth) -> dict[str, dict[str, int]]:
    """Return the roster's boxes by tier: members, and of these who joined, skips and rests."""
    here = Q(joined__year=this.year, joined__month=this.month)
    skips = Q(active=True, written__contains=f'"{this}"')
    people = Subscriber.objects.filter(month=row).annotate(written=Cast("skips", TextField()))
    found = (
        people.order_by("tier")
        .values("tier")
        .annotate(
            members=Sum("quantity"),
            joined_now=Coalesce(Sum("quantity", filter=here), 0),
            skipped=Coalesce(Sum("quantity", filter=skips), 0),
            paused=Coalesce(Sum("quantity", filter=Q(active=False)), 0),
        )
        .values_list("tier", "members", "joined_now", "skipped", "paused")
    )
    names = ("members", "joined", "skipped", "paused")
    return {tier: dict(zip(names, sums, strict=True)) for tier, *sums in found}


def tier_table(row: kits.Month, this: YearMonth, before: YearMonth) -> Table:
    """Return the rows with where each is kept."""
    heads = ("Joined", "Left", "Skipped", "Paused", "Sent")
    return Table(
        "Boxes as the roster has them; keep each once the month is over",
        (text("Tier"), *(number(head) for head in heads), text("Keep")),
        [
            Line(
                (
                    one.tier,
                    *map(words.count, (one.joined, one.left, one.skipped, one.paused, one.boxes)),
                    Cell(f"add {one.tier} to Past months", href=form_of(row, one)),
                )
            )
            for one in tier_rows(row, this, before)
        ],
        empty="Nobody is on the roster.",
    )


def form_of(row: kits.Month, one: PastTier) -> str:
    """Return where a row is looked at in a form that is filled in with it."""
    counts = {name: getattr(one, name) for name in ("joined", "left", "skipped", "paused", "boxes")}
    asked = {"sheet": "past", "in_month": str(one.in_month), "tier": one.tier} | counts
    return f"{reverse('row', args=[row.pk])}?{urlencode(asked)}"


def joined_table(row: kits.Month) -> Table:
    """Return who is there by month of joining, for Who stayed."""
    months = (
        Subscriber.objects.filter(month=row)
        .annotate(since=TruncMonth("joined"))
        .order_by("since")
        .values_list("since")
        .annotate(boxes=Sum("quantity"))
    )
    return Table(
        "Still there, by month of joining, for Who stayed",
        (text("Joined in"), number("Still there")),
        [Line((f"{since:%Y-%m}" if since else "not told", words.count(boxes))) for since, boxes in months],
    )
