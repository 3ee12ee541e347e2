"""The rule of the balance step.

For every material: on hand + due in + ordered + short = in boxes + overs + into cutting + left over. For every sheet size
cut: its area = pieces + offcuts. For every piece: on hand + cut = packed + overs + spare + still on the shelf. What is in
boxes is counted again from the packed boxes, what is cut from the drawings of the tickets: not from what was asked for.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from kits.guillotine import count_pieces, offcuts, piece_area
from planning.buying import BuyingResult
from planning.cutting import CuttingResult
from planning.packing import PackingResult
from planning.requirements import Kind, RequirementsResult, item, kind_of


class BalanceError(ValueError):
    """A plan whose books do not balance; the message names the first line that fails."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BalanceProblem:
    """The answers that must agree. on_shelf: finished pieces on the shelf, as (item, count)."""

    requirements: RequirementsResult
    cutting: CuttingResult
    buying: BuyingResult
    packing: PackingResult
    on_shelf: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialLine:
    """Units of one material, where they come from and where they go. cut: from larger sheets, in their drawings."""

    material: str
    name: str
    unit: str
    on_hand: int
    due_in: int
    ordered: int
    short: int
    cut: int
    in_boxes: int
    overs: int
    in_cutting: int
    left_over: int

    @property
    def had(self) -> int:
        """Units that come from somewhere."""
        return self.on_hand + self.due_in + self.ordered + self.short + self.cut

    @property
    def went(self) -> int:
        """Units that go somewhere."""
        return self.in_boxes + self.overs + self.in_cutting + self.left_over


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaLine:
    """Area of the sheets one ticket cuts, in square lengths."""

    material: str
    name: str
    sheets: int
    had: int
    pieces: int
    offcuts: int

    @property
    def went(self) -> int:
        """Area of pieces and offcuts together."""
        return self.pieces + self.offcuts


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceLine:
    """Pieces of one pre-cut, or lengths of one roll good."""

    item: str
    name: str
    on_hand: int
    cut: int
    packed: int
    overs: int
    spare: int
    on_shelf: int

    @property
    def had(self) -> int:
        """Pieces that come from somewhere."""
        return self.on_hand + self.cut

    @property
    def went(self) -> int:
        """Pieces that go somewhere."""
        return self.packed + self.overs + self.spare + self.on_shelf


@dataclass(frozen=True, slots=True, kw_only=True)
class BalanceResult:
    """Books that balance."""

    materials: tuple[MaterialLine, ...]
    areas: tuple[AreaLine, ...]
    pieces: tuple[PieceLine, ...]


def plan_balance(problem: BalanceProblem) -> BalanceResult:
    """Draw the books up. Raises BalanceError when a line does not balance."""
    packed = packed_counts(problem.packing)
    result = BalanceResult(
        materials=tuple(material_lines(problem, packed)),
        areas=tuple(area_lines(problem.cutting)),
        pieces=tuple(piece_lines(problem, packed)),
    )
    lines: list[MaterialLine | AreaLine | PieceLine] = [*result.materials, *result.areas, *result.pieces]
    for line in lines:
        if line.had != line.went:
            raise BalanceError(
                f"{line.name} does not balance: {line.had} in, {line.went} out. The plan is refused: {line}"
            )
    return result


def packed_counts(packing: PackingResult) -> Counter[str]:
    """Count what the packed boxes hold, their cartons included."""
    packed: Counter[str] = Counter()
    for spec in packing.boxes:
        for parcel in spec.parcels:
            packed[parcel.carton.container.item] += spec.boxes
            for line in parcel.lines:
                packed[line.item.item] += line.count * spec.boxes
    return packed


def material_lines(problem: BalanceProblem, packed: Counter[str]) -> Iterator[MaterialLine]:
    """Yield a line for every material the month needs."""
    into_cutting: Counter[str] = Counter()
    for ticket in problem.cutting.all:
        into_cutting[ticket.source] += ticket.units
    cut = drawn(problem.cutting)
    for line in problem.buying.lines:
        need = line.need
        yield MaterialLine(
            material=need.material,
            name=need.name,
            unit=need.unit,
            on_hand=need.on_hand,
            due_in=line.on_order,
            ordered=line.quantity,
            short=line.short,
            cut=cut[item(Kind.MATERIAL, need.material)],
            in_boxes=packed[item(Kind.MATERIAL, need.material)],
            overs=need.overs,
            in_cutting=into_cutting[need.material],
            left_over=line.left_over,
        )


def area_lines(cutting: CuttingResult) -> Iterator[AreaLine]:
    """Yield a line for every ticket: the whole sheets against the rectangles of its drawing."""
    for ticket in cutting.tickets:
        yield AreaLine(
            material=ticket.sheet.material,
            name=f"{ticket.name} from {ticket.sheet.name}",
            sheets=ticket.sheets,
            had=ticket.sheet.width * ticket.sheet.height * ticket.sheets,
            pieces=piece_area(ticket.tree) * ticket.sheets,
            offcuts=sum(one.part.width * one.part.height for one in offcuts(ticket.tree)) * ticket.sheets,
        )


def drawn(cutting: CuttingResult) -> Counter[str]:
    """Count what the tickets' drawings hold of each item, and the lengths of the rolls."""
    cut: Counter[str] = Counter()
    for ticket in cutting.tickets:
        on_sheet = count_pieces(ticket.tree)
        for one in ticket.pieces:
            cut[one.job.item] += ticket.sheets * on_sheet.get(one.label, 0)
    for length in cutting.lengths:
        cut[length.job.item] += length.made
    return cut


def piece_lines(problem: BalanceProblem, packed: Counter[str]) -> Iterator[PieceLine]:
    """Yield a line for every pre-cut and every length; what the drawings hold is counted, not what the tickets say."""
    cut = drawn(problem.cutting)
    names = {job.item: job.name for job in problem.cutting.jobs}
    spare = problem.cutting.spare
    shelf = dict(problem.on_shelf)
    for line in problem.requirements.lines:
        if kind_of(line.item) in (Kind.PIECE, Kind.LENGTH):
            on_hand = shelf.get(line.item, 0)
            yield PieceLine(
                item=line.item,
                name=names.get(line.item, line.item),
                on_hand=on_hand,
                cut=cut[line.item],
                packed=packed[line.item],
                overs=line.overs,
                spare=spare.get(line.item, 0),
                on_shelf=on_hand - line.from_shelf,
            )
