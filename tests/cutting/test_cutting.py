from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.catalogue import Grain, Offer, PriceBreak, Terms
from kits.guillotine import Cut, Piece, best_use, divide, longest_cut
from kits.guillotine import Direction as CutDirection
from kits.kit import Direction
from kits.measures import INCH, METRE, MM
from planning.cutting import (
    CuttingError,
    CuttingProblem,
    CuttingResult,
    CuttingTicket,
    Guillotine,
    LengthJob,
    PieceJob,
    Roll,
    SheetStock,
    Supply,
    cutting_faults,
    plan_cutting,
)
from planning.cutting.alone import alone
from planning.cutting.fit import fit, question
from planning.cutting.tickets import labels
from tests.support.effort import examples

Supplies = tuple[Supply, ...]

SHEET = SheetStock(
    material="CARD",
    name="Card",
    width=12 * INCH,
    height=12 * INCH,
    thickness=Fraction(MM, 2),
)
LARGE = replace(SHEET, material="LARGE", name="Large", width=24 * INCH, height=24 * INCH)
OTHER = replace(SHEET, material="OTHER", name="Other")
TRIMMER = Guillotine(
    code="G",
    name="Guillotine",
    opening=20 * INCH,
    lift_height=50 * MM,
    minutes_per_lift=Decimal(2),
    minutes_per_cut=Decimal("0.5"),
    minutes_per_turn=Decimal("0.25"),
    cost_per_hour=Decimal(30),
)


def inches(text: str) -> int:
    return int(Fraction(text) * INCH)


def job(width: str, height: str, count: int = 1000, **fields: object) -> PieceJob:
    plain = PieceJob(
        item="piece:P",
        name="Piece",
        width=inches(width),
        height=inches(height),
        count=count,
        cut_from=("CARD",),
    )
    return replace(plain, **fields)  # type: ignore[arg-type]


def plan(
    one: PieceJob, *sheets: SheetStock, machine: Guillotine = TRIMMER, supplies: Supplies = ()
) -> CuttingTicket:
    (ticket,) = plan_all((one,), sheets or (SHEET,), (machine,), supplies)
    return ticket


def out_and_proof(one: PieceJob, sheet: SheetStock, machine: Guillotine) -> tuple[int, bool]:
    problem = CuttingProblem(pieces=(one,), sheets=(sheet,), guillotines=(machine,))
    result = plan_cutting(problem)
    [ticket], [group] = result.tickets, result.groups
    return ticket.out, group.is_proved


def plan_all(
    jobs: tuple[PieceJob, ...],
    sheets: tuple[SheetStock, ...],
    machines: tuple[Guillotine, ...] = (TRIMMER,),
    supplies: Supplies = (),
) -> tuple[CuttingTicket, ...]:
    problem = CuttingProblem(pieces=jobs, sheets=sheets, guillotines=machines, supplies=supplies)
    result = plan_cutting(problem)
    assert cutting_faults(problem, result) == ()
    return result.tickets


def sold(material: str, *breaks: tuple[int, str], minimum: int = 0, **fields: Any) -> Supply:
    """Return the supply of a sheet that one supplier sells at these prices from these quantities on."""
    offer = Offer(code=material, supplier="MILL", material=material, minimum=minimum)
    rows = tuple(
        PriceBreak(offer=material, from_quantity=start, price=Decimal(each)) for start, each in breaks
    )
    return Supply(material=material, terms=(Terms(offer=offer, breaks=rows),), **fields)


def test_fourteen_cards_come_out_of_a_twelve_inch_sheet_where_rows_and_columns_give_twelve() -> None:
    # computed table of best guillotine yields, exact dynamic programme
    ticket = plan(job("5/2", "7/2"))
    assert ticket.out == 14
    assert (ticket.sheets, ticket.made, ticket.made - 1000) == (72, 1008, 8)  # 1,000 / 14 = 71.4


@pytest.mark.parametrize(
    ("grain", "direction", "out"),
    [
        # Computed: 25 x 38 in grain long into 8.5 x 11 in with the grain along 11 -> 6; ignoring the grain -> 8
        (Grain.HEIGHT, Direction.GRAIN_ALONG_HEIGHT, 6),
        (Grain.HEIGHT, Direction.ANY, 8),
        (Grain.HEIGHT, Direction.GRAIN_ALONG_WIDTH, 8),
        (Grain.WIDTH, Direction.GRAIN_ALONG_HEIGHT, 8),
        (Grain.NONE, Direction.NOT_TURNED, 6),
    ],
)
def test_the_grain_decides_which_way_a_piece_may_lie(grain: Grain, direction: Direction, out: int) -> None:
    parent = replace(SHEET, width=25 * INCH, height=38 * INCH, grain=grain)
    wide = replace(TRIMMER, opening=40 * INCH)
    assert plan(job("17/2", "11", direction=direction), parent, machine=wide).out == out


@pytest.mark.parametrize(
    ("caliper", "sheets"),
    [  # exact fractions of an inch and a half; 0.0075, 0.010 and 0.015 divide it and catch a floor in floating point
        ("0.0075", 200),
        ("0.0091", 164),
        ("0.0095", 157),
        ("0.010", 150),
        ("0.0114", 131),
        ("0.0138", 108),
        ("0.015", 100),
    ],
)
def test_a_lift_holds_as_many_sheets_as_its_height_takes(caliper: str, sheets: int) -> None:
    thick = replace(SHEET, thickness=Fraction(caliper) * INCH)
    low = replace(TRIMMER, lift_height=inches("3/2"))
    assert plan(job("3", "4"), thick, machine=low).sheets_per_lift == sheets


def test_lifts_cuts_and_minutes_follow_the_machines_own_figures() -> None:
    # 12 out of 12 x 12 in; 2,500 pieces need 209 sheets: two lifts of 100 and one of 9
    ticket = plan(job("3", "4", count=2400, overs=100))
    assert (ticket.out, ticket.sheets, ticket.sheets_per_lift, ticket.lifts) == (12, 209, 100, 3)
    assert (
        ticket.cuts_per_lift == 5
    )  # two cuts into three strips, which lie side by side for three cuts into four
    assert ticket.turns_per_lift == 1
    assert ticket.minutes == 3 * (2 + 5 * Decimal("0.5") + 1 * Decimal("0.25"))
    assert ticket.cost == Decimal("7.125")  # 14.25 minutes at 30 an hour


def test_a_sheet_whose_caliper_nobody_knows_is_cut_one_at_a_time() -> None:
    assert plan(job("3", "4"), replace(SHEET, thickness=None)).sheets_per_lift == 1


# --- Which sheet ---

# 12 pieces of 3 x 4 in come out of a sheet of 12 x 12 in, so 1,000 take 84 sheets; 48 out of 24 x 24 in, so 21 sheets.
EITHER = job("3", "4", cut_from=("CARD", "OTHER"))
FREE_KNIFE = replace(TRIMMER, opening=30 * INCH, cost_per_hour=Decimal(0))


def test_the_sheet_that_costs_least_for_the_whole_job_is_taken() -> None:
    # 84 sheets at 0.30 = 25.20, or 21 at 1.10 = 23.10 plus more knife time
    supplies = sold("CARD", (1, "0.30")), sold("LARGE", (1, "1.10"))
    either = job("3", "4", cut_from=("CARD", "LARGE"))
    dear_knife = replace(FREE_KNIFE, cost_per_hour=Decimal(60))
    assert plan(either, SHEET, LARGE, machine=FREE_KNIFE, supplies=supplies).sheet == LARGE
    assert plan(either, SHEET, LARGE, machine=dear_knife, supplies=supplies).sheet == SHEET


@pytest.mark.parametrize(
    ("card", "other", "taken"),
    [
        # at the supplier's minimum of 500 x 0.30 = 150.00, against 84 x 0.50 = 42.00
        (sold("CARD", (1, "0.30"), minimum=500), sold("OTHER", (1, "0.50")), OTHER),
        # 84 x 1.00 = 84.00, but 100 x 0.20 = 20.00, against 84 x 0.50 = 42.00
        (sold("CARD", (1, "1.00"), (100, "0.20")), sold("OTHER", (1, "0.50")), SHEET),
        # all 84 on the shelf or on order cost nothing more, against 84 x 0.10 = 8.40
        (sold("CARD", (1, "0.30"), in_time=84), sold("OTHER", (1, "0.10")), SHEET),
        # of 84 on the shelf the boxes take 40 whole, so 40 x 0.30 = 12.00 against 8.40
        (sold("CARD", (1, "0.30"), in_time=84, whole=40), sold("OTHER", (1, "0.10")), OTHER),
        # late at any price comes after in time; waiting for an order that is late is late, too
        (sold("CARD", (1, "0.10"), is_late=True), sold("OTHER", (1, "0.90")), OTHER),
        (sold("CARD", (1, "0.10"), coming=84), sold("OTHER", (1, "0.90")), OTHER),
        (sold("CARD", (1, "0.10"), in_time=84, coming=84), sold("OTHER", (1, "0.01")), SHEET),
        # what nobody sells is not free: it comes after what is late, unless enough is on the shelf
        (Supply(material="CARD"), sold("OTHER", (1, "0.90"), is_late=True), OTHER),
        (Supply(material="CARD", in_time=83), sold("OTHER", (1, "0.90")), OTHER),
        (Supply(material="CARD", in_time=84), sold("OTHER", (1, "0.90")), SHEET),
        (Supply(material="CARD"), Supply(material="OTHER"), SHEET),
    ],
)
def test_the_quantity_needed_is_priced_as_it_would_be_ordered(
    card: Supply, other: Supply, taken: SheetStock
) -> None:
    assert plan(EITHER, SHEET, OTHER, machine=FREE_KNIFE, supplies=(card, other)).sheet == taken


def test_jobs_that_share_a_sheet_pay_for_what_they_add_to_it() -> None:
    # 100 on the shelf: the first job takes 84 of them; for the second 68 must be bought at 0.30 = 20.40, against
    # 84 x 0.20 = 16.80. A third of 12 pieces adds 1 to either: nothing more while the shelf has it
    supplies = sold("CARD", (1, "0.30"), in_time=100), sold("OTHER", (1, "0.20"))
    jobs = EITHER, replace(EITHER, item="piece:Q"), replace(EITHER, item="piece:R", count=12)
    problem = CuttingProblem(pieces=jobs, sheets=(SHEET, OTHER), guillotines=(FREE_KNIFE,), supplies=supplies)
    tickets, is_proved = alone(labels(jobs), problem)
    assert ([ticket.source for ticket in tickets], is_proved) == (["CARD", "OTHER", "CARD"], True)


def test_what_earlier_jobs_bought_at_a_break_is_not_paid_twice() -> None:
    # the first 84 are bought as 100 x 0.25 = 25.00; 168 cost 42.00, so the next 84 add 17.00
    supply = sold("CARD", (1, "0.50"), (100, "0.25"))
    assert supply.outlay(0, 84) == (False, False, Decimal("25.00"))
    assert supply.outlay(84, 84) == (False, False, Decimal("17.00"))


@given(
    st.integers(0, 300),
    st.integers(0, 300),
    st.integers(0, 200),
    st.lists(st.tuples(st.integers(1, 400), st.decimals("0.01", 2, places=2)), max_size=4),
    st.integers(0, 300),
)
def test_more_sheets_never_cost_less(
    before: int, more: int, shelf: int, breaks: list[tuple[int, Decimal]], minimum: int
) -> None:
    rising = {start: str(each) for start, each in sorted(breaks)} or {1: "1"}
    assert sold("CARD", *rising.items(), minimum=minimum, in_time=shelf).outlay(before, more).cost >= 0


# --- What the guillotine takes ---


def test_no_cut_is_longer_than_the_opening() -> None:
    # 18 of 3 x 4 in come out of 12 x 18 in, but a machine that opens 15 in must not cut along the 18 in
    narrow = replace(TRIMMER, opening=15 * INCH)
    high = replace(SHEET, height=18 * INCH)
    ticket = plan(job("3", "4"), high, machine=narrow)
    assert out_and_proof(job("3", "4"), high, narrow) == (18, True)
    assert longest_cut(ticket.tree) <= 15 * INCH


@pytest.mark.parametrize(
    ("sheet", "piece", "opening", "out", "proved"),
    [
        # 6 of 2 x 3 in in both parts of 5 x 4 in: 2 x 3 upright, and beside each two of 3 x 2 in; 40 / 6 allows no more
        (("5", "8"), ("2", "3"), "5", 6, True),
        # 5 of them come out of 5 x 6 in, but only by a cut of 6 in; 5 x 3 in yields 2, 5 x 4 in and 5 x 5 in 3, 5 x 2 in 1
        (("5", "6"), ("2", "3"), "5", 4, False),
        # parts of 5 x 4, 5 x 4 and 5 x 5 in with 3 each; 10 come out, but only by a cut of 12 in
        (("5", "13"), ("2", "3"), "5", 9, False),
    ],
)
def test_a_sheet_longer_than_the_opening_is_parted_before_it_is_cut_along(
    sheet: tuple[str, str], piece: tuple[str, str], opening: str, out: int, proved: bool
) -> None:
    for turned in (False, True):
        wide, high = map(inches, sheet[::-1] if turned else sheet)
        long, small = (
            replace(SHEET, width=wide, height=high),
            replace(TRIMMER, opening=inches(opening)),
        )
        ticket = plan(job(*piece), long, machine=small)
        assert out_and_proof(job(*piece), long, small) == (out, proved)
        assert longest_cut(ticket.tree) <= inches(opening)


def test_a_board_of_a_metre_is_cut_on_a_machine_that_opens_72_cm() -> None:
    # the best use of 700 x 1000 mm has a cut of 965 mm whichever way it begins; in parts as many come out
    kraft = replace(SHEET, width=700 * MM, height=1000 * MM)
    machine = replace(TRIMMER, opening=720 * MM)
    ticket = plan(job("5/2", "19/4"), kraft, machine=machine)
    assert out_and_proof(job("5/2", "19/4"), kraft, machine) == (88, True)
    assert longest_cut(ticket.tree) <= 720 * MM


@pytest.mark.parametrize(
    ("sheet", "piece"),
    [
        (SHEET, job("3", "4")),  # wider than 11 in both ways: it cannot be put in
        # strips of 10 x 20 in can be cut off, but to part one into pieces of 5 x 20 in takes a cut of 20 in
        (replace(SHEET, width=10 * INCH, height=30 * INCH), job("5", "20", direction=Direction.NOT_TURNED)),
    ],
)
def test_a_sheet_that_needs_a_longer_cut_is_not_taken_and_the_message_says_so(
    sheet: SheetStock, piece: PieceJob
) -> None:
    with pytest.raises(
        CuttingError, match="only with a cut longer than 11 in, the opening of the widest guillotine"
    ):
        plan(piece, sheet, machine=replace(TRIMMER, opening=11 * INCH))


def test_the_message_names_every_sheet_and_what_is_wrong_with_it() -> None:
    small = replace(SHEET, material="OTHER", name="Small", width=2 * INCH, height=3 * INCH)
    with pytest.raises(CuttingError) as error:
        plan(EITHER, SHEET, small, machine=replace(TRIMMER, opening=11 * INCH))
    assert str(error.value) == (
        "Piece, 3 in x 4 in, comes out of Card (12 in x 12 in) only with a cut longer than 11 in, the opening of the "
        "widest guillotine; does not come out of Small (2 in x 3 in) in the direction asked for. Name another sheet, "
        "direction or guillotine."
    )


def test_a_sheet_is_cut_on_the_machine_that_takes_it() -> None:
    small, large = replace(TRIMMER, code="S", opening=11 * INCH), replace(TRIMMER, code="L")
    (ticket,) = plan_all((job("3", "4"),), (SHEET,), (small, large))
    assert ticket.machine == large


def test_strips_narrower_than_the_machine_holds_are_named_and_avoided_where_that_costs_nothing() -> None:
    # strips of 1 in: the last two are parted with 1 in behind the knife, whichever way round
    coarse, fine = (
        replace(TRIMMER, code="C", smallest_strip=2 * INCH),
        replace(TRIMMER, code="F", smallest_strip=INCH),
    )
    assert plan(job("1", "12"), machine=coarse).too_narrow == INCH
    (ticket,) = plan_all((job("1", "12"),), (SHEET,), (coarse, fine))
    assert (ticket.machine, ticket.too_narrow) == (fine, None)


@pytest.mark.parametrize(
    "impossible",
    [
        job("13", "1"),
        job("11", "3", direction=Direction.GRAIN_ALONG_WIDTH),  # the sheet's grain is not known
    ],
)
def test_a_piece_that_cannot_come_out_is_refused_with_what_was_tried(impossible: PieceJob) -> None:
    with pytest.raises(CuttingError, match=r"does not come out of Card \(12 in x 12 in\)"):
        plan(impossible)


def test_nothing_wanted_is_nothing_cut() -> None:
    result = plan_cutting(
        CuttingProblem(pieces=(job("3", "4", count=0),), sheets=(SHEET,), guillotines=(TRIMMER,))
    )
    assert result.tickets == ()


def test_lengths_come_from_single_rolls_never_from_their_pooled_length() -> None:
    # recomputed: ten rolls of 10 yd into 14 in lengths give 25 each, 250 in all; the pooled length says 257
    ribbon = LengthJob(item="length:R", name="Ribbon", length=14 * INCH, count=250, cut_from="R")
    problem = CuttingProblem(
        pieces=(), lengths=(ribbon,), rolls=(Roll(material="R", name="Ribbon", length=360 * INCH),)
    )
    (ticket,) = plan_cutting(problem).lengths
    assert (ticket.out, ticket.rolls) == (25, 10)
    more = replace(problem, lengths=(replace(ribbon, count=257),))
    assert plan_cutting(more).lengths[0].rolls == 11


def test_a_strip_of_54_inches_yields_24_pieces_of_two_and_a_quarter() -> None:
    # Lial, Basic College Mathematics 10e, p. 194 no. 20 (read at gradesaver)
    strip = LengthJob(item="length:S", name="Strip", length=inches("9/4"), count=1, cut_from="S")
    problem = CuttingProblem(
        pieces=(), lengths=(strip,), rolls=(Roll(material="S", name="Strip", length=54 * INCH),)
    )
    assert plan_cutting(problem).lengths[0].out == 24


def test_a_length_longer_than_its_roll_is_refused() -> None:
    long = LengthJob(item="length:R", name="Ribbon", length=11 * METRE, count=1, cut_from="R")
    problem = CuttingProblem(
        pieces=(), lengths=(long,), rolls=(Roll(material="R", name="Reed", length=10 * METRE),)
    )
    with pytest.raises(CuttingError, match="longer than a roll of Reed"):
        plan_cutting(problem)


def checked(ticket: CuttingTicket) -> tuple[str, ...]:
    jobs = tuple(one.job for one in ticket.pieces)
    problem = CuttingProblem(pieces=jobs, sheets=(ticket.sheet,), guillotines=(ticket.machine,))
    return cutting_faults(problem, CuttingResult(tickets=(ticket,), lengths=(), ended=""))


def test_the_checker_sees_a_ticket_that_promises_too_much() -> None:
    good = plan(job("3", "4"))
    [piece] = good.pieces
    more = replace(good, pieces=(replace(piece, out=13),))
    assert "the drawing holds 12 pieces, the ticket says 13" in checked(more)[0]
    assert "1000 wanted, 996 cut" in checked(replace(good, sheets=83))[0]
    assert "is higher than Guillotine is set for" in checked(replace(good, sheets_per_lift=101))[0]
    assert "are not those of 84 sheets" in checked(replace(good, lifts=2))[0]
    assert "its lines take" in checked(replace(good, cuts_per_lift=4))[0]
    assert "minutes cost" in checked(replace(good, cost=good.cost + 1))[0]


def test_the_checker_sees_a_cut_longer_than_the_machine_opens() -> None:
    # a sheet of 12 x 12 in, cut in two along its height; its parts are cut across, 6 in long
    half = divide(CutDirection.LEVEL, (Piece("Piece", 6 * INCH, 6 * INCH),) * 2)
    tree = divide(CutDirection.UPRIGHT, (half, half))
    good = replace(plan(job("6", "6", count=4)), tree=tree)
    assert checked(good) == ()
    small = replace(TRIMMER, opening=12 * INCH - 1)
    assert any(
        "a cut of 12 in is longer than the" in fault for fault in checked(replace(good, machine=small))
    )


def test_the_checker_sees_a_tree_that_is_no_tree_of_the_sheet() -> None:
    good = plan(job("3", "4"))
    assert isinstance(good.tree, Cut)
    half = divide(CutDirection.LEVEL, good.tree.parts[:-1])
    assert checked(replace(good, tree=half))


def test_the_checker_sees_a_piece_with_its_grain_the_wrong_way() -> None:
    good = plan(job("3", "5", direction=Direction.GRAIN_ALONG_WIDTH), replace(SHEET, grain=Grain.WIDTH))
    turned = replace(good, sheet=replace(SHEET, grain=Grain.HEIGHT))
    assert any("wrong way" in fault for fault in checked(turned))


sides = st.integers(1, 30).map(lambda side: side * INCH)


@settings(max_examples=examples(60), deadline=None)
@given(sides, sides, st.integers(1, 8), st.integers(1, 8), st.integers(1, 30), st.integers(0, 4))
def test_no_cut_is_too_long_whatever_sheet_piece_and_machine(
    wide: int, high: int, width: int, height: int, opening: int, smallest: int
) -> None:
    small = replace(TRIMMER, opening=opening * INCH, smallest_strip=smallest * INCH)
    sheet = replace(SHEET, width=wide, height=high)
    try:
        free = plan(job(str(width), str(height)), sheet, machine=replace(TRIMMER, opening=30 * INCH))
    except CuttingError:
        return
    try:
        ticket = plan(job(str(width), str(height)), sheet, machine=small)  # which its checker looks at
    except CuttingError:
        assert min(wide, high) > small.opening or max(width, height) > opening
        return
    assert ticket.out <= free.out
    proved = out_and_proof(job(str(width), str(height)), sheet, small)
    assert proved == (ticket.out, ticket.out == free.out)


@settings(max_examples=examples(40), deadline=None)
@given(st.integers(1, 6), st.integers(2, 14), st.integers(1, 5), st.integers(1, 5), st.integers(1, 13))
def test_no_parting_of_a_long_sheet_yields_more(
    wide: int, high: int, width: int, height: int, opening: int
) -> None:
    """Against every way to cut the sheet across into parts that are no longer than the opening."""
    piece = job(str(width), str(height))

    def out(length: int) -> int:
        sheet = replace(SHEET, width=wide * INCH, height=length * INCH)
        asked = question("Piece", piece, sheet)
        return best_use(asked).value if asked else 0

    most = [0]
    for length in range(1, high + 1):
        most.append(max(most[length - part] + out(part) for part in range(1, min(opening, length) + 1)))
    small = replace(TRIMMER, opening=opening * INCH)
    found = fit("Piece", piece, replace(SHEET, width=wide * INCH, height=high * INCH), small)
    if wide <= opening:
        assert (found.out if found else 0) >= most[high]  # more only where a piece is as wide as the sheet


eighths = st.integers(8, 96).map(lambda eighth: eighth * INCH // 8)


@settings(max_examples=examples(60), deadline=None)
@given(
    eighths,
    eighths,
    st.integers(1, 3000),
    st.sampled_from(Direction),
    st.sampled_from([Grain.WIDTH, Grain.HEIGHT]),
)
def test_any_ticket_passes_its_checker_and_wastes_less_than_a_sheet(
    width: int, height: int, count: int, direction: Direction, grain: Grain
) -> None:
    asked = replace(job("1", "1", count=count, direction=direction), width=width, height=height)
    ticket = plan(asked, replace(SHEET, grain=grain))
    assert 0 <= ticket.made - asked.wanted < ticket.out
    area_bound = (12 * INCH) ** 2 // (width * height)
    assert 1 <= ticket.out <= area_bound
