"""The balance step: every sheet and piece accounted for."""

from collections.abc import Mapping

from django.http import HttpRequest, HttpResponse

from kits.drawing import Style, svg
from kits.measures import Area, square_metres
from planning.balance import AreaLine, Booked, CutSoFar, cut_so_far
from planning.requirements import code_of
from planning.run import Planned
from planning.stockbook import cut_totals
from planning.views import gate, words
from planning.views.drawings import Part, Row, lying_bars
from planning.views.parts import Cell, Drawing, Figure, Line, Page, Section, Strip, Table, number, text
from planning.views.steps import step_page


def balance(request: HttpRequest, month: int) -> HttpResponse:
    """Show that the books balance, and what was cut so far."""
    totals = cut_totals(gate.month_or_404(request, month))
    return step_page(request, month, "balance", lambda planned: page(planned, totals))


def strip(planned: Planned) -> Strip:
    """Return the step as the month page shows it."""
    result = planned.plan.balance
    lines = len(result.materials) + len(result.areas) + len(result.pieces)
    return Strip(
        figure=Figure(words.count(lines), "lines, all in balance"),
        words=f"{len(result.materials):,} materials, {len(result.areas):,} sheet areas and {len(result.pieces):,} "
        "pieces: what comes in goes out. A plan that does not balance is refused.",
        drawing=drawing(planned, small=True) if result.areas else "",
    )


def page(planned: Planned, totals: Mapping[str, tuple[int, int]]) -> Page:
    """Return the step's own page. totals: pieces booked as cut, by code: good and spoiled."""
    result = planned.plan.balance
    pieces, sheets = sum(one.pieces for one in result.areas), sum(one.had for one in result.areas)
    return Page(
        figures=(
            Figure(words.count(len(result.materials)), "materials in balance"),
            Figure(
                words.percent(pieces, sheets),
                "of the cut sheets' area becomes pieces",
                f"{square(pieces)} m² of pieces ÷ {square(sheets)} m² of sheets",
            ),
            Figure(words.count(len(result.pieces)), "pieces and lengths in balance"),
        ),
        ended="Every line balances: what comes in goes out. What is in boxes is counted from the packed boxes, "
        "what is cut from the drawings.",
        sections=(
            Section("Sheets by area", tables=(area_table(planned),), drawings=(Drawing(drawing(planned)),)),
            Section("Materials", tables=(material_table(planned),)),
            Section("Pieces and lengths", tables=(piece_table(planned),)),
            Section(
                "Cut so far",
                tables=(so_far_table(planned, totals),),
                href="stock-cut",
                link="Enter cut totals of a ticket",
            ),
        ),
    )


def so_far_table(planned: Planned, totals: Mapping[str, tuple[int, int]]) -> Table:
    """Return what was booked from the tickets against what they make, and what will lack."""
    lines = so_far(planned, totals)
    return Table(
        "Planned = good + spoiled + still to cut",
        (
            text("Piece"),
            *map(number, ("Needed good", "Planned", "Good", "Spoiled", "Still to cut", "Short")),
        ),
        [so_far_line(one) for one in lines],
        empty="No pieces are cut this month.",
    )


def so_far(planned: Planned, totals: Mapping[str, tuple[int, int]]) -> list[CutSoFar]:
    """Hold what was booked against the plan."""
    booked = {job.item: Booked(*totals.get(code_of(job.item), (0, 0))) for job in planned.plan.cutting.jobs}
    return list(cut_so_far(planned.plan.cutting, booked))


def so_far_line(one: CutSoFar) -> Line:
    """Return one piece; where too few will be good, with what makes that good."""
    counts = (one.needed, one.planned, one.good, one.spoiled, one.to_cut, one.short)
    sheets = words.counted(one.more_sheets, "sheet or roll", "sheets or rolls")
    needs = f"cut {sheets} more, at {one.out:,} each" if one.short else ""
    worked = f"{one.needed:,} needed − {one.good:,} good − {one.to_cut:,} still to cut, at least 0"
    return Line((Cell(one.name, worked), *map(words.count, counts)), needs=needs)


def drawing(planned: Planned, *, small: bool = False) -> str:
    """Draw what becomes of the area of the sheets that are cut."""
    areas = planned.plan.balance.areas
    rows = [Row(one.name, parts(one)) for one in areas]
    said = "; ".join(f"{one.name}: {words.percent(one.pieces, one.had)} pieces" for one in areas)
    return svg(
        lying_bars("Pieces and offcuts by area", rows, said or "nothing is cut", small=small), "balance"
    )


def parts(one: AreaLine) -> tuple[Part, Part]:
    """Return what becomes of a ticket's sheets as a bar."""
    return (
        Part(f"pieces {words.percent(one.pieces, one.had)}", one.pieces / one.had, Style.PIECE),
        Part("offcuts", one.offcuts / one.had, Style.HATCH),
    )


def area_table(planned: Planned) -> Table:
    """Return each ticket's area."""
    return Table(
        "Area of sheets = pieces + offcuts",
        (
            text("Ticket"),
            number("Sheets"),
            number("Sheets", "m²"),
            number("Pieces", "m²"),
            number("Offcuts", "m²"),
        ),
        [area_line(one) for one in planned.plan.balance.areas],
        empty="No sheets are cut this month.",
    )


def area_line(one: AreaLine) -> Line:
    """Return one ticket's area."""
    return Line((one.name, words.count(one.sheets), *map(square, (one.had, one.pieces, one.offcuts))))


def square(area: Area) -> str:
    """Return an area in square metres."""
    return f"{float(square_metres(area)):,.2f}"


def material_table(planned: Planned) -> Table:
    """Return where each material comes from and goes."""
    heads = ("On hand", "Due in", "Ordered", "Short", "Cut", "In boxes", "Overs", "Into cutting", "Left over")
    return Table(
        "On hand + due in + ordered + short + cut from larger sheets = in boxes + overs + into cutting + left over",
        (text("Material"), *(number(head) for head in heads)),
        [
            Line(
                (
                    one.name,
                    *map(
                        words.count,
                        (
                            one.on_hand,
                            one.due_in,
                            one.ordered,
                            one.short,
                            one.cut,
                            one.in_boxes,
                            one.overs,
                            one.in_cutting,
                            one.left_over,
                        ),
                    ),
                ),
                needs="Short" if one.short else "",
            )
            for one in planned.plan.balance.materials
        ],
    )


def piece_table(planned: Planned) -> Table:
    """Return where each piece comes from and goes."""
    heads = ("On hand", "Cut", "Packed", "Overs", "Spare", "Still on shelf")
    return Table(
        "On hand + cut = packed + overs + spare + still on the shelf",
        (text("Piece"), *(number(head) for head in heads)),
        [
            Line(
                (
                    planned.names.get(one.item, one.name),
                    *map(words.count, (one.on_hand, one.cut, one.packed, one.overs, one.spare, one.on_shelf)),
                )
            )
            for one in planned.plan.balance.pieces
        ],
        empty="No pieces are cut this month.",
    )
