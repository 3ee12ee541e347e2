"""The balance sheets: every unit, piece and area accounted for, line by line."""

from collections.abc import Callable
from fractions import Fraction

from kits.measures import square_inches, square_metres
from planning.balance import AreaLine, MaterialLine, PieceLine
from planning.documents.pdf.words import LETTER
from planning.documents.workbook.cut import names_of
from planning.documents.workbook.table import Column, Look, Table
from planning.flow import MonthPlan
from planning.month import Month
from planning.requirements import code_of

BALANCE, PIECES_BALANCE, AREA_BALANCE = "Balance", "Balance of pieces", "Balance of area"

LEFT_OVER = "On the shelf when the month is packed."
DUE_IN = "Units of the open orders that are counted on, in time or late."
IN_BOXES = "Counted again from the packed boxes, not taken from what was asked for."
CUT = "Counted in the drawings of the tickets: sheets x pieces drawn."
AREA = "Counted in the drawings of the tickets, every piece and every offcut."


def materials_balance(month: Month, plan: MonthPlan) -> Table[MaterialLine]:
    """Return a row for every material."""
    col = Column[MaterialLine]
    return Table(
        name=BALANCE,
        says="For every material: on hand + due in + ordered + short + cut from larger sheets = in boxes + overs + into "
        "cutting + left over.",
        empty="No materials yet.",
        rows=plan.balance.materials,
        columns=(
            col("material", "Material", lambda line: line.name, width=30),
            col("unit", "Unit", lambda line: line.unit, width=7),
            col("on_hand", "On hand", lambda line: line.on_hand, Look.COUNT),
            col("due_in", "Due in", lambda line: line.due_in, Look.COUNT, note=DUE_IN),
            col("ordered", "Ordered", lambda line: line.ordered, Look.COUNT),
            col("short", "Short", lambda line: line.short, Look.COUNT, needs_you=lambda line: line.short > 0),
            col("cut", "Cut", lambda line: line.cut, Look.COUNT, note=CUT),
            col(
                "had",
                "In",
                lambda line: line.had,
                Look.COUNT,
                "={on_hand}+{due_in}+{ordered}+{short}+{cut}",
                width=9,
            ),
            col("in_boxes", "In boxes", lambda line: line.in_boxes, Look.COUNT, note=IN_BOXES),
            col("overs", "Overs", lambda line: line.overs, Look.COUNT),
            col("in_cutting", "Into cutting", lambda line: line.in_cutting, Look.COUNT, note=CUT),
            col("left_over", "Left over", lambda line: line.left_over, Look.COUNT, note=LEFT_OVER),
            col(
                "went",
                "Out",
                lambda line: line.went,
                Look.COUNT,
                "={in_boxes}+{overs}+{in_cutting}+{left_over}",
                width=9,
            ),
            col(
                "balances",
                "Balances",
                lambda line: line.had == line.went,
                Look.CHECK,
                "={had}={went}",
                width=10,
            ),
        ),
    )


def pieces_balance(month: Month, plan: MonthPlan) -> Table[PieceLine]:
    """Return a row for every piece and every length."""
    names = names_of(month)
    col = Column[PieceLine]
    return Table(
        name=PIECES_BALANCE,
        says="For every piece and length the club cuts: on hand + cut = packed + overs + spare + still on the shelf.",
        empty="No pieces are cut this month.",
        rows=plan.balance.pieces,
        columns=(
            col("piece", "Piece or length", lambda line: names.get(line.item, code_of(line.item)), width=30),
            col("on_hand", "On hand", lambda line: line.on_hand, Look.COUNT),
            col("cut", "Cut", lambda line: line.cut, Look.COUNT, note=CUT),
            col("had", "In", lambda line: line.had, Look.COUNT, "={on_hand}+{cut}", width=9),
            col("packed", "Packed", lambda line: line.packed, Look.COUNT, note=IN_BOXES),
            col("overs", "Overs", lambda line: line.overs, Look.COUNT),
            col("spare", "Spare", lambda line: line.spare, Look.COUNT),
            col("shelf", "Still on the shelf", lambda line: line.on_shelf, Look.COUNT, width=10),
            col(
                "went",
                "Out",
                lambda line: line.went,
                Look.COUNT,
                "={packed}+{overs}+{spare}+{shelf}",
                width=9,
            ),
            col(
                "balances",
                "Balances",
                lambda line: line.had == line.went,
                Look.CHECK,
                "={had}={went}",
                width=10,
            ),
        ),
    )


def area_balance(month: Month, plan: MonthPlan) -> Table[AreaLine]:
    """Return a row for every ticket."""
    unit, shown = ("in²", square_inches) if month.club.paper == LETTER else ("m²", square_metres)

    def area(units: Callable[[AreaLine], int]) -> Callable[[AreaLine], Fraction]:
        return lambda line: shown(units(line))

    col = Column[AreaLine]
    return Table(
        name=AREA_BALANCE,
        says="For every ticket: the area of its sheets is the area of its pieces and of its offcuts.",
        empty="No sheets are cut this month.",
        rows=plan.balance.areas,
        columns=(
            col("name", "Pieces and sheet", lambda line: line.name, width=46),
            col("sheets", "Sheets", lambda line: line.sheets, Look.COUNT, total=True),
            col(
                "had", f"Sheets ({unit})", area(lambda line: line.had), Look.HUNDREDTHS, width=12, total=True
            ),
            col(
                "pieces",
                f"Pieces ({unit})",
                area(lambda line: line.pieces),
                Look.HUNDREDTHS,
                width=12,
                total=True,
                note=AREA,
            ),
            col(
                "offcuts",
                f"Offcuts ({unit})",
                area(lambda line: line.offcuts),
                Look.HUNDREDTHS,
                width=12,
                total=True,
                note=AREA,
            ),
            col("used", "Used", lambda line: Fraction(line.pieces, line.had), Look.SHARE, "={pieces}/{had}"),
            col(
                "balances",
                "Balances",
                lambda line: line.had == line.went,
                Look.CHECK,
                "=ROUND({had}-{pieces}-{offcuts},9)=0",
                width=10,
            ),
        ),
    )
