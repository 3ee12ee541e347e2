"""The tables of the buying page that say what to order of each supplier, and which sheets to cut instead."""

from planning.buying import BuyLine, OwnOrLarger, Purchase, SupplierOrder
from planning.run import Planned
from planning.views import words
from planning.views.parts import Cell, Column, Line, Section, Table, number, text, when, why


def line_tables(planned: Planned) -> tuple[Table, ...]:
    """Return a table for each supplier's order, and one for what nobody offers."""
    lines = {line.need.material: line for line in planned.plan.buying.lines}
    orders = planned.plan.buying.orders
    nowhere = [line for line in lines.values() if line.net and not line.bought]
    tables = [order_lines(order, lines, planned) for order in orders]
    if nowhere or not orders:
        tables.append(unoffered(nowhere))
    return tuple(tables)


def order_lines(order: SupplierOrder, lines: dict[str, BuyLine], planned: Planned) -> Table:
    """Return the lines of one order; a material that comes from several suppliers stands in the order of each."""
    return Table(
        f"From {order.supplier.name}, to be ordered by {words.weekday(order.order_by)}",
        columns(planned.club.currency),
        [bought_row(lines[part.need.material], part, planned) for part in order.lines],
        foot=("All", "", "", "", "", words.money(order.goods + order.setup, planned.club), "", ""),
    )


def columns(currency: str) -> tuple[Column, ...]:
    """Return the columns of an order's lines."""
    return (
        text("Material"),
        number("Lacking"),
        number("Order"),
        why("Why as many"),
        number("Price each", currency),
        number("Cost", currency),
        when("Order by"),
        when("Arrives"),
    )


def bought_row(line: BuyLine, part: Purchase, planned: Planned) -> Line:
    """Return what one supplier is asked for of one material."""
    club, several = planned.club, len(line.bought) > 1
    return Line(
        (
            Cell(line.need.name, sum=worked_out(line)),
            words.count(line.net),
            words.count(part.quantity),
            words.sentence(line.reason if part is line.bought[0] else part.reason),
            " / ".join(words.price(price, club) for _, price in part.bands),
            words.money(part.cost, club),
            words.day(part.order_by),
            words.day(part.arrives if several else line.late_day or part.arrives),
        ),
        needs=state(line),
    )


def unoffered(lines: list[BuyLine]) -> Table:
    """Return what lacks and nobody offers."""
    return Table(
        "Offered by nobody",
        (text("Material"), number("Lacking"), when("Needed by"), text("Why")),
        [
            Line(
                (
                    Cell(line.need.name, sum=worked_out(line)),
                    words.count(line.net),
                    words.day(line.need.need_by),
                    words.sentence(line.reason),
                ),
                needs=state(line),
            )
            for line in lines
        ],
        empty="Nothing is ordered: shelf and open orders cover the month.",
    )


def state(line: BuyLine) -> str:
    """Return what waits for somebody: how many are short, or that it is late."""
    return f"{line.short:,} short" if line.short else "Late" if line.late_day else ""


def worked_out(line: BuyLine) -> str:
    """Return the sum behind what must be ordered."""
    need = line.need
    late = f" − {line.due_late:,} on order that come late" if line.due_late else ""
    cut = f" − {need.cut:,} cut from larger sheets" if need.cut else ""
    extra = f" + {need.extra:,} chosen to have besides" if need.extra else ""
    return (
        f"{need.in_boxes:,} into boxes + {need.overs:,} overs + {need.in_cutting:,} into cutting = {need.total:,}{extra}; "
        f"− {need.on_hand:,} on the shelf{cut} − {line.due_in:,} on order{late} = {line.net:,} to order"
    )


def larger_section(planned: Planned) -> tuple[Section, ...]:
    """Return both totals of every sheet that may be cut from a larger one, where there are any."""
    larger, club = planned.plan.larger, planned.club
    if not larger.choices:
        return ()
    table = Table(
        f"What all orders and the guillotine cost either way; {larger.ended}",
        (
            text("Sheet"),
            number("Lacking"),
            number("In its own size", club.currency),
            text("Or from"),
            number("Sheets"),
            number("Cut from it", club.currency),
            text("Decided"),
        ),
        [
            Line(
                (
                    one.name,
                    words.count(one.units),
                    words.money(one.own, club),
                    one.parent,
                    words.count(one.sheets),
                    words.money(one.cut, club),
                    words.sentence(decided(one, planned)),
                )
            )
            for one in larger.choices
        ],
    )
    return (Section("Own size, or cut from larger sheets", tables=(table,)),)


def decided(one: OwnOrLarger, planned: Planned) -> str:
    """Say which way was taken, and what it saves or avoids."""
    taken = "cut" if one.taken else "bought in its own size"
    if one.worse:
        other = "in its own size" if one.taken else "cut"
        return f"{taken}: {other}, something would be {one.worse}"
    return f"{taken}, which saves {words.money(one.saves, planned.club)}"
