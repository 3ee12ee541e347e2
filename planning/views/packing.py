"""The packing step: what each box holds, what it weighs, whether it fits."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import partial

from django.http import HttpRequest, HttpResponse

from kits.drawing import svg
from kits.measures import CM, MM
from kits.models import Month
from planning.names import contents_words, thing, tier_name
from planning.packing import BoxSpec, PackedParcel
from planning.packing.cartons import JustOver
from planning.postage import length_and_girth
from planning.requirements import Kind, item
from planning.run import Planned
from planning.shipping import Wave
from planning.shipping.picks import short_picks
from planning.stock import Place
from planning.stockbook import book_of, is_counted
from planning.views import buying, gate, words
from planning.views.drawings import stack
from planning.views.parts import (
    Cell,
    Drawing,
    Figure,
    Line,
    Page,
    Pages,
    Section,
    Strip,
    Table,
    number,
    text,
    when,
)
from planning.views.steps import step_page
from planning.views.stock import shelf
from planning.views.stock_issue import issued


def packing(request: HttpRequest, month: int) -> HttpResponse:
    """Show what goes into each box."""
    there = there_now(gate.month_or_404(request, month))
    waves = gate.page_number(request, "waves")
    return step_page(request, month, "packing", partial(page, waves=waves, there=there))


def strip(planned: Planned) -> Strip:
    """Return the step as the month page shows it."""
    result = planned.plan.packing
    main = main_box(planned)
    heaviest = max((spec.heaviest for spec in result.boxes), default=None)
    weighs = f"; the heaviest box {words.weight(heaviest)}" if heaviest is not None else ""
    return Strip(
        figure=Figure(
            words.count(len(planned.plan.waves)),
            f"waves, {words.minutes(result.minutes)} at the bench{weighs}",
        ),
        words=fit_words(planned),
        drawing="" if main is None else drawing(main, planned),
        deadline=starts(planned),
        needs=(
            *map(words.sentence, (*planned.plan.contents.needs, *misfits(planned))),
            *(words.sentence(one) for one in just_over(planned)),
            *planned.gaps,
        ),
        blocked=buying.blocks(planned),
    )


def fit_words(planned: Planned) -> str:
    """Say how the boxes fit."""
    spare = [spec.spare_depth for spec in planned.plan.packing.boxes if spec.spare_depth is not None]
    if misfits(planned) or not spare:
        return ""
    return (
        f"All lie flat in their cartons, with at least {words.millimetres(min(spare))} left above the stack."
    )


def starts(planned: Planned) -> str:
    """Return the first day at the bench."""
    days = [wave.day for wave in planned.plan.waves]
    return f"First wave {words.weekday(min(days))}" if days else ""


def misfits(planned: Planned) -> list[str]:
    """Return every box that does not fit, in the club's words."""
    boxes = planned.plan.packing.boxes
    return [
        f"{contents_words(spec.contents, planned.names)}: {fault}" for spec in boxes for fault in spec.faults
    ]


def just_over(planned: Planned) -> Iterator[str]:
    """Yield each limit that parcels are just over: the one there are most of with what would bring it under."""
    found: dict[str, list[tuple[str, BoxSpec, JustOver]]] = {}
    for each in over_limits(planned):
        found.setdefault(each[2].limit.name, []).append(each)
    for alike in found.values():
        name, _, one = max(alike, key=lambda each: each[1].boxes)
        more = f"; and {words.counted(len(alike) - 1, 'kind', 'kinds')} of box more" if alike[1:] else ""
        yield f"{name}: {one.words}{more}"


def over_limits(planned: Planned) -> Iterator[tuple[str, BoxSpec, JustOver]]:
    """Yield the parcels just over a limit, by name, with their box."""
    for spec in planned.plan.packing.boxes:
        for at, parcel in enumerate(spec.parcels):
            for one in parcel.just_over:
                yield parcel_name(spec, at, planned), spec, one


def parcel_name(spec: BoxSpec, at: int, planned: Planned) -> str:
    """Return what a parcel is of, and which of several it is."""
    what = contents_words(spec.contents, planned.names)
    return f"{what}, parcel {at + 1} of {len(spec.parcels)}" if len(spec.parcels) > 1 else what


def main_box(planned: Planned) -> BoxSpec | None:
    """Return the box there are most of."""
    return max(planned.plan.packing.boxes, key=lambda spec: spec.boxes, default=None)


def page(planned: Planned, waves: int = 1, there: Mapping[str, int] | None = None) -> Page:
    """Return the step's own page, with one page of its waves. there: units of the stock book, None before it is counted."""
    result, main = planned.plan.packing, main_box(planned)
    drawn = () if main is None else (Drawing(drawing(main, planned)),)
    return Page(
        figures=(
            Figure(
                words.count(planned.plan.roster.boxes),
                "boxes",
                words.added((spec.boxes for spec in result.boxes), planned.plan.roster.boxes),
            ),
            Figure(
                words.count(len(planned.plan.waves)),
                f"waves, a {planned.club.wave_fills} of at most {planned.club.wave_size} each",
            ),
            Figure(
                words.minutes(result.minutes),
                "at the bench",
                words.added(
                    (f"{spec.boxes:,} × {spec.minutes} min" for spec in result.boxes),
                    words.minutes(result.minutes),
                ),
            ),
        ),
        sections=(
            Section("Boxes", tables=(box_table(planned),)),
            Section("Parcels", tables=(parcel_table(planned), limit_table(planned))),
            *(
                [Section("Rules at work", tables=rule_tables(planned))]
                if planned.plan.contents.applied
                else ()
            ),
            *(
                [Section("What is in the box there are most of", (content_table(main, planned),), drawn)]
                if main
                else ()
            ),
            *([Section("Short picks", tables=(short_table(planned, there),))] if there is not None else ()),
            Section("Waves", tables=(wave_table(planned, waves),)),
        ),
    )


def drawing(spec: BoxSpec, planned: Planned) -> str:
    """Draw the stack of a box's fullest parcel against its carton's depth."""
    fullest = spec.fullest
    lines = fullest.lines if fullest else spec.lines
    layers = [(line.item.name, float(line.item.thickness * line.count / MM)) for line in lines]
    depth = fullest.carton.container.inside[2] / MM if fullest else 0.0
    said = (
        f"{contents_words(spec.contents, planned.names)}: the stack is {words.millimetres(spec.stack)} high"
    )
    if fullest:
        inside = fullest.carton.container
        said += f", {inside.name} is {words.millimetres(inside.inside[2])} deep inside"
    return svg(
        stack("The stack in its carton, from the side", [one for one in layers if one[1]], depth, said),
        "packing",
    )


def box_table(planned: Planned) -> Table:
    """Return one line for each different box."""
    return Table(
        "Weights: nominal, and with the paper as heavy as its tolerance allows",
        (
            text("Contents"),
            number("Boxes"),
            number("Weight"),
            number("At most"),
            number("Stack"),
            number("Room above"),
            number("Time each", "min"),
            text("Goes into"),
        ),
        [box_line(spec, planned) for spec in planned.plan.packing.boxes],
        empty="There are no boxes to pack.",
    )


def box_line(spec: BoxSpec, planned: Planned) -> Line:
    """Return one different box."""
    return Line(
        (
            Cell(
                contents_words(spec.contents, planned.names),
                sum=words.added(
                    map(weighing, spec.parcels), f"{words.weight(spec.weight)}; contents {spec.signature}"
                ),
            ),
            words.count(spec.boxes),
            words.weight(spec.weight),
            words.weight(spec.heaviest),
            words.millimetres(spec.stack),
            "–" if spec.spare_depth is None else words.millimetres(spec.spare_depth),
            str(spec.minutes.normalize()),
            words.sentence("; ".join(spec.faults)) or spec.packed_in,
        ),
        needs="Does not fit" if spec.faults else "",
    )


def weighing(parcel: PackedParcel) -> str:
    """Return what a parcel's weight is added up of."""
    things = (f"{line.count} × {line.item.name} {words.weight(line.item.weight)}" for line in parcel.lines)
    carton = parcel.carton.container
    return " + ".join((*things, f"{carton.name} {words.weight(carton.weight)}"))


def parcel_table(planned: Planned) -> Table:
    """Return one line for each different parcel, as the carrier sees it."""
    specs = [(spec, at, one) for spec in planned.plan.packing.boxes for at, one in enumerate(spec.parcels)]
    return Table(
        "In its carton, with the paper as heavy as its tolerance allows",
        (
            text("Parcel"),
            number("Parcels"),
            text("Carton"),
            number("Weight"),
            number("At most"),
            text("Outside (cm)"),
            number("Length and girth", "cm"),
            number("Room above"),
        ),
        [
            Line(
                (
                    Cell(parcel_name(spec, at, planned), sum=why_parted(spec)),
                    words.count(spec.boxes),
                    one.carton.container.name,
                    words.weight(one.weight),
                    words.weight(one.heaviest),
                    " × ".join(words.tenths(Fraction(side, CM)) for side in one.outside),
                    words.tenths(Fraction(length_and_girth(one.outside), CM)),
                    words.millimetres(one.spare_depth),
                ),
                needs="Just over a limit" if one.just_over else "",
            )
            for spec, at, one in specs
        ],
        foot=("All", words.count(planned.plan.packing.parcels), "", "", "", "", "", ""),
        empty="There are no parcels.",
    )


def why_parted(spec: BoxSpec) -> str:
    """Say what is proved of the number of parcels of a box that makes several."""
    if len(spec.parcels) < 2:
        return ""
    known = f"no packing into these cartons has fewer than {spec.least}"
    return f"No carton takes all of it: {len(spec.parcels)} parcels, {known}"


def limit_table(planned: Planned) -> Table:
    """Return the parcels just over a limit."""
    return Table(
        f"Over a carrier's limit by no more than {planned.club.just_over.normalize():f} %",
        (text("Parcel"), number("Boxes"), text("Limit"), number("Over"), text("What would bring it under")),
        [
            Line(
                (
                    name,
                    words.count(spec.boxes),
                    one.limit.name,
                    one.by,
                    words.sentence("; or ".join(cure.words for cure in one.nearest)) or "No single change.",
                ),
                needs="May be over" if one.only_if_heavy else "Over",
            )
            for name, spec, one in over_limits(planned)
        ],
        empty="No parcel is just over a limit of thickness or weight.",
    )


def rule_tables(planned: Planned) -> tuple[Table, ...]:
    """Return what each rule came to, and which were at odds."""
    result = planned.plan.contents
    rules = Table(
        "What each rule of the Box rules sheet came to",
        (text("Rule"), text("What it does"), number("Boxes changed")),
        [
            Line(
                (one.rule, words.sentence(one.words), words.count(one.boxes)),
                needs=f"Changes no box: {one.why_not}" if one.why_not else "",
            )
            for one in result.applied
        ],
    )
    clashes = Table(
        "Rules at odds",
        (text("Counted"), text("Did not"), text("Over"), number("Boxes"), text("By")),
        [
            Line(
                (
                    clash.kept,
                    clash.dropped,
                    thing(clash.about, planned.names),
                    words.count(clash.boxes),
                    "its code alone: give one a higher priority" if clash.equal else "its priority",
                ),
                needs="At odds" if clash.equal else "",
            )
            for clash in result.clashes
        ],
    )
    return (rules, clashes) if result.clashes else (rules,)


def content_table(spec: BoxSpec, planned: Planned) -> Table:
    """Return what lies in one box, in the order of packing."""
    return Table(
        f"{contents_words(spec.contents, planned.names)}, {spec.boxes:,} boxes",
        (text("Item"), number("Each box"), number("Weight"), number("In the stack")),
        [
            Line(
                (
                    line.item.name,
                    words.count(line.count),
                    words.weight(line.item.weight * line.count),
                    words.millimetres(line.item.thickness * line.count),
                )
            )
            for line in spec.lines
        ],
    )


def there_now(row: Month) -> Mapping[str, int] | None:
    """Return what the stock book has for a month's boxes by code: on the shelf, or issued into them."""
    if not is_counted(row):
        return None
    return Counter(shelf(book_of(row))) + Counter(issued(row, Place.BOXES))


def short_table(planned: Planned, there: Mapping[str, int]) -> Table:
    """Return what waves lack by the stock book as it is now, goods to come and pieces not cut yet not counted."""
    plan = planned.plan
    bought = {line.need.material for line in plan.buying.lines}
    units = {item(Kind.MATERIAL, code): there.get(code, 0) for code in bought}
    units |= {item(Kind.PIECE, code): held for code, held in there.items()}
    return Table(
        "By the stock book as it is now; goods still to come are not counted",
        (
            text("Item"),
            number("Waves take"),
            number("There"),
            number("Lacking"),
            text("From wave"),
            when("Packed on"),
        ),
        [
            Line(
                (
                    planned.names.get(one.item, one.item),
                    words.count(one.wanted),
                    words.count(one.there),
                    words.count(one.lacking),
                    str(one.wave),
                    words.weekday(one.day),
                ),
                needs="Not there yet",
            )
            for one in short_picks(plan.waves, plan.packing, units)
        ],
        empty="The shelf holds what every wave takes.",
    )


def wave_table(planned: Planned, number_shown: int) -> Table:
    """Return one page of the waves in the order they are packed."""
    waves = planned.plan.waves
    pages = Pages("waves", number_shown, len(waves))
    pages = replace(pages, number=min(pages.number, pages.count))
    return Table(
        "Each wave has one day and one service; its slips and pick list are among the papers",
        (
            text("Wave"),
            when("Pack on"),
            text("Service"),
            when("Collected"),
            number("Boxes"),
            text("Contents"),
        ),
        [
            Line(
                (
                    str(wave.number),
                    words.weekday(wave.day),
                    wave.service.name,
                    words.weekday(wave.collected),
                    words.count(wave.boxes),
                    "; ".join(wave_contents(wave, planned)),
                )
            )
            for wave in waves[pages.first - 1 : pages.last]
        ],
        foot=("All", "", "", "", words.count(sum(wave.boxes for wave in waves)), ""),
        pages=pages if pages.count > 1 else None,
        empty="No box has a day yet: see the shipping page for what stands in the way.",
    )


def wave_contents(wave: Wave, planned: Planned) -> Iterator[str]:
    """Yield what a wave packs: boxes by tier, and how many of them are not just their tier's kit."""
    counts: Counter[str] = Counter()
    otherwise = 0
    for part in wave.parts:
        contents = part.box_class.contents
        counts[tier_name(contents.tier, planned.names) if contents.kit else "Goods only"] += part.boxes
        otherwise += part.boxes if contents.kit and (contents.changes or contents.besides) else 0
    yield from (f"{boxes:,} {what}" for what, boxes in counts.items())
    if otherwise:
        yield f"{otherwise:,} of them with more, less or something instead"
