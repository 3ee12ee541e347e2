"""The roster step: who gets a box, and which boxes are alike."""

from collections import Counter

from django.http import HttpRequest, HttpResponse

from kits.drawing import Style, svg
from planning.names import contents_words, tier_name
from planning.run import Planned
from planning.views import words
from planning.views.drawings import Part, Row, lying_bars
from planning.views.parts import Drawing, Figure, Line, Page, Section, Strip, Table, number, text
from planning.views.steps import step_page


def roster(request: HttpRequest, month: int) -> HttpResponse:
    """Show who gets a box."""
    return step_page(request, month, "roster", page)


def strip(planned: Planned) -> Strip:
    """Return the step as the month page shows it."""
    result = planned.plan.roster
    out = sum(one.heads for one in result.left_out)
    kinds = "; ".join(f"{boxes:,} {name}" for name, boxes in boxes_by_kind(planned).items())
    none = (
        f" {words.counted(out, 'person', 'people')} of {result.heads:,} on the roster get none."
        if out
        else ""
    )
    return Strip(
        figure=Figure(words.count(result.boxes), "box" if result.boxes == 1 else "boxes"),
        words=f"{kinds}.{none}",
        drawing=drawing(planned, small=True),
    )


def page(planned: Planned) -> Page:
    """Return the step's own page."""
    result = planned.plan.roster
    alike = words.counted(len(result.classes), "kind of box", "kinds of box")
    return Page(
        figures=(
            Figure(
                words.count(result.boxes),
                "boxes",
                words.added((one.boxes for one in result.classes), result.boxes),
            ),
            Figure(words.count(result.heads), "people on the roster", people_sum(planned)),
            Figure(words.count(len(result.classes)), f"{alike.partition(' ')[2]} by contents and zone"),
        ),
        sections=(
            Section(
                "Boxes by tier",
                tables=(tier_table(planned), left_out_table(planned)),
                drawings=(Drawing(drawing(planned)),),
            ),
            Section("Boxes that are alike", tables=(class_table(planned),)),
        ),
    )


def people_sum(planned: Planned) -> str:
    """Return how the people on the roster add up."""
    result = planned.plan.roster
    out = sum(one.heads for one in result.left_out)
    return f"{result.heads - out:,} with a box of their subscription + {out:,} without = {result.heads:,}"


def boxes_by_kind(planned: Planned) -> dict[str, int]:
    """Count the boxes of each tier, and the parcels that hold goods alone."""
    boxes: Counter[str] = Counter()
    for one in planned.plan.roster.classes:
        tier = tier_name(one.contents.tier, planned.names)
        boxes[tier if one.contents.kit else "Goods only"] += one.boxes
    return dict(boxes.most_common())


def drawing(planned: Planned, *, small: bool = False) -> str:
    """Draw the boxes by tier."""
    kinds = boxes_by_kind(planned)
    said = ", ".join(f"{name} {boxes:,}" for name, boxes in kinds.items())
    rows = [Row(name, (Part(f"{boxes:,}", boxes, Style.PIECE),)) for name, boxes in kinds.items()]
    return svg(lying_bars("Boxes by tier", rows, said, small=small), "roster")


def tier_table(planned: Planned) -> Table:
    """Return the boxes by tier."""
    kinds, all_boxes = boxes_by_kind(planned), planned.plan.roster.boxes
    first = planned.plan.contents.first_boxes
    lines = [
        Line((name, words.count(boxes), words.percent(boxes, all_boxes))) for name, boxes in kinds.items()
    ]
    return Table(
        f"Boxes by tier; {first:,} of them are first boxes",
        (text("Tier"), number("Boxes"), number("Share")),
        lines,
        foot=("All", words.count(all_boxes), ""),
    )


def left_out_table(planned: Planned) -> Table:
    """Return how many get nothing, and why."""
    result = planned.plan.roster
    lines = [Line((one.reason.capitalize(), words.count(one.heads))) for one in result.left_out]
    return Table(
        "People without a box of their subscription this month",
        (text("Why"), number("People")),
        lines,
        empty="Everyone on the roster gets a box.",
    )


def class_table(planned: Planned) -> Table:
    """Return the classes: every later step decides on these and not on single boxes."""
    result = planned.plan.roster
    lines = [
        Line((contents_words(one.contents, planned.names), one.destination, words.count(one.boxes)))
        for one in result.classes
    ]
    return Table(
        "Boxes with the same contents to the same zones",
        (text("Contents"), text("Zones"), number("Boxes")),
        lines,
        foot=("All", "", words.count(result.boxes)),
        empty="Nobody gets a box. Add subscribers on the Roster sheet.",
    )
