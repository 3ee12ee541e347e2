"""The requirements step: how many of everything the boxes ask for."""

from django.http import HttpRequest, HttpResponse

from kits.drawing import Style, svg
from planning.names import called
from planning.requirements import Kind, Requirement, kind_of
from planning.run import Planned
from planning.views import words
from planning.views.drawings import Part, Row, lying_bars
from planning.views.parts import Cell, Drawing, Figure, Line, Page, Section, Strip, Table, number, text
from planning.views.steps import step_page

CUT = (Kind.PIECE, Kind.LENGTH)
SHOWN = 6  # rows of the drawing


def requirements(request: HttpRequest, month: int) -> HttpResponse:
    """Show what the boxes ask for."""
    return step_page(request, month, "requirements", page)


def strip(planned: Planned) -> Strip:
    """Return the step as the month page shows it."""
    cut, bought = lines_of(planned, *CUT), lines_of(planned, Kind.MATERIAL)
    from_shelf = sum(line.from_shelf for line in cut)
    shelf = f" {from_shelf:,} pieces lie finished on the shelf." if from_shelf else ""
    return Strip(
        figure=Figure(words.count(sum(line.net for line in cut)), "pieces and lengths to cut"),
        words=f"{words.counted(len(cut), 'kind', 'kinds')} of piece, and {len(bought):,} materials that go in whole.{shelf}",
        drawing=drawing(planned, small=True),
    )


def page(planned: Planned) -> Page:
    """Return the step's own page."""
    cut, bought = lines_of(planned, *CUT), lines_of(planned, Kind.MATERIAL)
    made = lines_of(planned, Kind.KIT, Kind.RECIPE)
    return Page(
        figures=(
            Figure(words.count(sum(line.net for line in cut)), "pieces and lengths to cut", sum_of(cut)),
            summed([line.good for line in bought], "units that go in whole"),
            summed([line.overs for line in (*cut, *bought) if line.overs], "overs, for spoilage"),
        ),
        sections=(
            Section(
                "Cut by the club",
                tables=(table("Pieces and lengths", cut, planned),),
                drawings=(Drawing(drawing(planned)),),
            ),
            Section("Into boxes as bought", tables=(table("Materials", bought, planned),)),
            Section("Kits and recipes", tables=(table("What the boxes ask for first", made, planned),)),
        ),
    )


def lines_of(planned: Planned, *kinds: Kind) -> tuple[Requirement, ...]:
    """Return the lines of some kinds that are wanted."""
    lines = planned.plan.requirements.lines
    wanted = (line for line in lines if kind_of(line.item) in kinds and line.good)
    return tuple(sorted(wanted, key=lambda line: name(line, planned).casefold()))


def summed(counts: list[int], unit: str) -> Figure:
    """Return a figure that adds counts up."""
    return Figure(words.count(sum(counts)), unit, words.added(counts, sum(counts)))


def sum_of(lines: tuple[Requirement, ...]) -> str:
    """Return how the pieces to cut add up."""
    good, overs = sum(line.good for line in lines), sum(line.overs for line in lines)
    shelf = sum(line.from_shelf for line in lines)
    return f"{good:,} good + {overs:,} overs − {shelf:,} from the shelf = {good + overs - shelf:,}"


def drawing(planned: Planned, *, small: bool = False) -> str:
    """Draw the largest needs: into boxes, and overs."""
    largest = sorted(lines_of(planned, *CUT), key=lambda line: -line.good)[:SHOWN]
    rows = [Row(name(line, planned), parts(line)) for line in largest]
    said = "; ".join(f"{row.name}: {', '.join(part.name for part in row.parts)}" for row in rows)
    return svg(lying_bars("Pieces wanted: good and overs", rows, said, small=small), "requirements")


def parts(line: Requirement) -> tuple[Part, Part]:
    """Return a line as a bar."""
    return (
        Part(f"{line.good:,} good", line.good, Style.PIECE),
        Part(f"{line.overs:,} overs", line.overs, Style.NOTE),
    )


def table(caption: str, lines: tuple[Requirement, ...], planned: Planned) -> Table:
    """Return lines of the explosion, each with the sum it came from."""
    return Table(
        caption,
        (
            text("Item"),
            number("Good"),
            number("Overs"),
            number("From shelf"),
            number("To make or buy"),
        ),
        [
            Line(
                (
                    Cell(name(line, planned), sum=worked_out(line, planned)),
                    words.count(line.good),
                    words.count(line.overs),
                    words.count(line.from_shelf),
                    words.count(line.net),
                )
            )
            for line in lines
        ],
        empty="The boxes ask for none of these.",
    )


def worked_out(line: Requirement, planned: Planned) -> str:
    """Return the sum behind a line in words: who asks for how many."""
    asked = [
        f"{source.parents:,} × {called(source.parent, planned.names)}"
        + (f" × {source.per}" if source.per != 1 else "")
        if source.parent
        else f"{source.parents:,} boxes"
        for source in line.sources
    ]
    rest = f" + {line.overs:,} overs − {line.from_shelf:,} from the shelf = {line.net:,}"
    return f"{' + '.join(asked)} = {line.good:,} good{rest}"


def name(line: Requirement, planned: Planned) -> str:
    """Return what the club calls an item."""
    return planned.names.get(line.item, line.item)
