"""The rule of the cost step.

A month pays for what it uses; what is left over and kept goes to the shelf at what it cost. Units of one material all
cost the same, whether they were on the shelf, on order, or bought now. Each amount is split by largest remainder over the
tiers that use it, so the table adds up to the month's total without a cent lost.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from decimal import Decimal
from fractions import Fraction

from kits.measures import format_amount, round_money, split
from planning.buying import BuyLine
from planning.cost.books import Books, Ticket, key, shown
from planning.cost.charges import charges
from planning.cost.headings import Heading
from planning.cost.landed import landed_lots, shares
from planning.cost.model import (
    ONE_OFF,
    ColumnCost,
    CostEntry,
    CostProblem,
    CostResult,
    KeptGoods,
    MaterialFacts,
    TierBoxes,
    amount_of,
)
from planning.cost.short import short_goods
from planning.requirements import Kind, Requirement, kind_of
from planning.roster import Contents

MINUTES_AN_HOUR = 60


def plan_cost(problem: CostProblem) -> CostResult:
    """Cost the month and set it out by tier and heading."""
    books = Books(problem)
    paid, kept = goods(books)
    work = (*paid, *cutting(books), *freight(books), *packing(books), *overtime(books), *postage(books))
    entries = (*work, *charges(books, work))
    return CostResult(
        entries=entries,
        columns=tuple(table(problem, entries)),
        opening=opening_value(problem),
        bought=sum(
            (line.goods + books.facts[key(line)].due_in_cost for line in problem.buying.lines), Decimal(0)
        ),
        closing=sum((one.value for one in kept), Decimal(0)),
        short=tuple(short_goods(books)),
        lots=tuple(landed_lots(books)),
        kept=tuple(kept),
    )


def goods(books: Books) -> tuple[list[CostEntry], list[KeptGoods]]:
    """Return the entries of everything bought, and what of it is kept on the shelf."""
    entries: list[CostEntry] = []
    kept: list[KeptGoods] = []
    into_cutting: defaultdict[str, Decimal] = defaultdict(Decimal)
    # a sheet that is cut from larger ones costs what these pass on to it, so they come first
    for line in sorted(books.problem.buying.lines, key=lambda one: one.need.cut > 0):
        boxes, overs, left, cut = material_parts(line, into_cutting[key(line)], books)
        for name, part in cut.items():
            into_cutting[name] += part
        fact, whole, users = books.facts[key(line)], books.used[key(line)], books.users_of(key(line))
        why = pool_words(line, into_cutting[key(line)], books)
        entries += books.spread(fact.heading, fact.name, boxes, whole, f"{line.need.in_boxes:,} of {why}")
        entries += books.spread(
            Heading.SPOILAGE, f"{fact.name}, overs", overs, whole, f"{line.need.overs:,} of {why}"
        )
        if fact.written_off and users:
            why = f"{line.left_over:,} of {why}"
            entries += books.spread(Heading.SPOILAGE, f"{fact.name}, left over", left, users, why)
            left = Decimal(0)
        on = sum((part for name, part in cut.items() if kind_of(name) is Kind.MATERIAL), Decimal(0))
        kept += kept_of(line, into_cutting[key(line)], on, left, books)
    for made in books.problem.requirements.lines:
        if kind_of(made.item) in (Kind.PIECE, Kind.LENGTH) and made.good:
            entries += pieces(made, into_cutting[made.item], books)
            if value := round_money(made.from_shelf * books.facts[made.item].value_each, books.exponent):
                name = f"{books.facts[made.item].name}, from the shelf"
                kept.append(KeptGoods(name=name, units=made.from_shelf, cost=value))
    return entries, kept


def kept_of(
    line: BuyLine, from_sheets: Decimal, on: Decimal, left: Decimal, books: Books
) -> Iterator[KeptGoods]:
    """Yield what a material cost, if anything, and what of it is kept.

    from_sheets: what larger sheets passed on to it; on: what it passes on itself; left: what the units kept are worth.
    """
    bought = sum(one.quantity for one in line.coming) + line.quantity
    cost = pool_of(line, books)
    if cost or from_sheets:
        yield KeptGoods(
            name=books.facts[key(line)].name,
            units=line.need.on_hand + line.need.cut + bought,
            cost=cost,
            passed=from_sheets - on,
            left=line.left_over if left else 0,
            value=left,
        )


def material_parts(
    line: BuyLine, from_sheets: Decimal, books: Books
) -> tuple[Decimal, Decimal, Decimal, dict[str, Decimal]]:
    """Split what a material's units cost into boxes, overs, left over, and the jobs it is cut for.

    from_sheets: what the larger sheets cost that some of it is cut from.
    """
    tickets = books.tickets[key(line)]
    weights = [line.need.in_boxes, line.need.overs, line.left_over, *(ticket.units for ticket in tickets)]
    pool = pool_of(line, books) + from_sheets
    parts = split(pool, weights, books.exponent) if any(weights) else (Decimal(0),) * len(weights)
    jobs: defaultdict[str, Decimal] = defaultdict(Decimal)
    for ticket, part in zip(tickets, parts[3:], strict=True):
        for name, share in shared(part, ticket, books):
            jobs[name] += share
    return parts[0], parts[1], parts[2], jobs


def shared(amount: Decimal, ticket: Ticket, books: Books) -> Iterator[tuple[str, Decimal]]:
    """Share an amount by the area that each of a ticket's pieces has on the sheet."""
    areas = ticket.areas
    yield from zip(areas, split(amount, list(areas.values()), books.exponent), strict=True)


def pool_of(line: BuyLine, books: Books) -> Decimal:
    """Return what all units of a material cost: shelf, open orders counted on, and this month's order."""
    fact = books.facts[key(line)]
    shelf = round_money(line.need.on_hand * fact.value_each, books.exponent)
    return shelf + fact.due_in_cost + line.goods


def pool_words(line: BuyLine, from_sheets: Decimal, books: Books) -> str:
    """Say what all units of a material come to, and how many they are."""
    units = line.need.in_boxes + line.need.overs + line.left_over
    units += sum(ticket.units for ticket in books.tickets[key(line)])
    return f"{units:,} units for {format_amount(pool_of(line, books) + from_sheets, books.exponent)}"


def pieces(line: Requirement, from_sheets: Decimal, books: Books) -> Iterator[CostEntry]:
    """Yield the entries of one pre-cut: its good pieces under its heading, overs and spares as spoilage."""
    fact = books.facts[line.item]
    pool = from_sheets + round_money(line.from_shelf * fact.value_each, books.exponent)
    spare = books.spare.get(line.item, 0)
    good, lost = split(pool, (line.good, line.overs + spare), books.exponent)
    used, cost = books.used[line.item], format_amount(pool, books.exponent)
    why = f"of {line.good + line.overs + spare:,} cut for {cost}"
    yield from books.spread(fact.heading, fact.name, good, used, f"{line.good:,} {why}")
    lost_words = f"{line.overs + spare:,} {why}"
    yield from books.spread(Heading.SPOILAGE, f"{fact.name}, overs and spare", lost, used, lost_words)


def cutting(books: Books) -> Iterator[CostEntry]:
    """Yield the knife's time, ticket by ticket, each shared by the area of its pieces."""
    names = {job.item: job.name for job in books.problem.cutting.jobs}
    for ticket in books.problem.cutting.tickets:
        why = f"{ticket.minutes.normalize():f} min for {ticket.name}"
        for name, part in shared(round_money(ticket.cost, books.exponent), ticket, books):
            yield from books.spread(Heading.CUTTING, names[name], part, books.users_of(name), why)


def freight(books: Books) -> Iterator[CostEntry]:
    """Yield each order's freight and each line's set-up, shared by what the lines cost."""
    for order in books.problem.buying.orders:
        for line, share in zip(order.lines, shares(order, books), strict=True):
            name = f"{books.facts[key(line)].name} from {order.supplier.name}"
            setup = round_money(line.setup, books.exponent)
            yield from books.spread(Heading.FREIGHT, name, share + setup, books.users_of(key(line)))


def packing(books: Books) -> Iterator[CostEntry]:
    """Yield the crew's own time; what is worked in overtime stands by itself."""
    minutes = minutes_by_column(books)
    own = sum(minutes.values(), Fraction(0)) - Fraction(books.problem.shipping.overtime)
    total = own * Fraction(books.problem.crew_cost_per_hour) / MINUTES_AN_HOUR
    why = f"{shown(own)} min at {books.problem.crew_cost_per_hour:f} an hour"
    yield from books.spread(
        Heading.PACKING, "Crew at the bench", round_money(total, books.exponent), minutes, why
    )


def overtime(books: Books) -> Iterator[CostEntry]:
    """Yield what is worked beyond the crew's own time; all boxes bear it, for any could have been packed then."""
    shipping = books.problem.shipping
    if shipping.overtime_paid:
        paid = round_money(shipping.overtime_paid, books.exponent)
        why = f"{shown(Fraction(shipping.overtime))} min at {shipping.overtime_cost:f} an hour"
        yield from books.spread(
            Heading.OVERTIME, "Overtime at the bench", paid, minutes_by_column(books), why
        )


def minutes_by_column(books: Books) -> defaultdict[str, Fraction]:
    """Return how long the boxes of each column take to pack."""
    minutes: defaultdict[str, Fraction] = defaultdict(Fraction)
    for spec in books.problem.packing.boxes:
        minutes[column_of(spec.contents)] += Fraction(spec.minutes * spec.boxes)
    return minutes


def postage(books: Books) -> Iterator[CostEntry]:
    """Yield postage, service by service."""
    paid: defaultdict[tuple[str, str], Decimal] = defaultdict(Decimal)
    boxes: Counter[tuple[str, str]] = Counter()
    for load in books.problem.shipping.loads:
        at = load.service.name, column_of(load.box_class.contents)
        paid[at] += load.postage
        boxes[at] += load.boxes
    for (service, name), amount in sorted(paid.items()):
        if amount:
            why = f"{boxes[service, name]:,} boxes by load, each at its rate"
            yield CostEntry(heading=Heading.POSTAGE, what=service, column=name, amount=amount, sum=why)


def table(problem: CostProblem, entries: Iterable[CostEntry]) -> Iterator[ColumnCost]:
    """Set the entries out as one column per tier, and one for one-off orders where there are any."""
    own: defaultdict[str, list[CostEntry]] = defaultdict(list)
    for entry in entries:
        own[entry.column].append(entry)
    for tier in problem.tiers:
        yield column(tier, own[tier.code], problem.exponent)
    if own[ONE_OFF]:
        yield column(
            TierBoxes(code=ONE_OFF, name="One-off orders", price=Decimal(0), boxes=0),
            own[ONE_OFF],
            problem.exponent,
        )


def column(tier: TierBoxes, entries: list[CostEntry], exponent: int) -> ColumnCost:
    """Add one column up by heading."""
    return ColumnCost(
        code=tier.code,
        name=tier.name,
        boxes=tier.boxes,
        price=tier.price,
        by_heading=tuple(
            (heading, amount_of(entry for entry in entries if entry.heading is heading))
            for heading in Heading
        ),
        total=amount_of(entries),
        exponent=exponent,
    )


def opening_value(problem: CostProblem) -> Decimal:
    """Value the shelf before the month: materials, and finished pieces the month takes from it."""
    facts: dict[str, MaterialFacts] = {one.item: one for one in problem.facts}
    shelf = [(line.need.on_hand, facts[key(line)]) for line in problem.buying.lines]
    shelf += [(line.from_shelf, facts[line.item]) for line in problem.requirements.lines if line.from_shelf]
    return sum((round_money(count * fact.value_each, problem.exponent) for count, fact in shelf), Decimal(0))


def column_of(contents: Contents) -> str:
    """Return the column that pays for packing and posting a box."""
    return contents.tier if contents.kit else ONE_OFF
