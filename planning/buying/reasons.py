"""Why each line is as it is, in plain words, with what the choice saves."""

from collections.abc import Iterator, Sequence
from decimal import Decimal

from kits.catalogue import Terms
from kits.measures import format_amount
from planning.buying.alone import Alone, from_one
from planning.buying.model import BuyingProblem, BuyLine, Purchase
from planning.buying.options import Lack
from planning.buying.orders import Choice, Part, Parts, Prices


class Reasons:
    """The reasons of one choice of orders. Every saving named is what the orders would cost otherwise, less what they do."""

    def __init__(self, problem: BuyingProblem, lacks: Sequence[Lack], choice: Choice, prices: Prices) -> None:
        self.problem, self.lacks, self.choice, self.prices = problem, lacks, choice, prices
        self.total = prices.total(lacks, choice)
        self.names = {one.code: one.name for one in problem.suppliers}

    def purchase(self, place: int, part: Part) -> Purchase:
        """Return a part as a line of its supplier's order."""
        option, terms = part.option, part.option.terms
        return Purchase(
            need=self.lacks[place].need,
            offer=terms.offer,
            quantity=part.quantity,
            bands=tuple(terms.bands(part.quantity)),
            goods=self.prices.goods(part),
            setup=terms.offer.setup_charge,
            plain=self.prices.part(self.smallest(place, part)),
            order_by=option.order_by,
            arrives=option.arrives,
            late=option.late,
            reason=self.of_part(place, part),
        )

    def of(self, place: int) -> str:
        """Say why so much of one material is ordered, or why nothing is."""
        lack, parts = self.lacks[place], self.choice[place]
        if lack.net == 0:
            return enough(lack)
        if not parts:
            return "no supplier offers it"
        words = "; ".join([self.of_part(place, part) for part in parts] + list(self.of_split(place)))
        if (ordered := sum(part.quantity for part in parts)) < lack.net:
            return f"{ordered:,} is all there is of {lack.net:,}: {words}"
        return words

    # --- How much ---

    def needed_of(self, place: int, part: Part) -> int:
        """Return what the other parts leave to be had of one."""
        others = sum(one.quantity for one in self.choice[place] if one is not part)
        return max(1, self.lacks[place].target - others)

    def smallest(self, place: int, part: Part) -> Part:
        """Return the smallest order of the same offer that does."""
        return Part(part.option, part.option.terms.at_least(self.needed_of(place, part)))

    def least(self, place: int) -> Parts:
        """Return the smallest orders that do; where a need is split, as they are."""
        parts = self.choice[place]
        return (self.smallest(place, parts[0]),) if len(parts) == 1 else parts

    def of_part(self, place: int, part: Part) -> str:
        """Say why a part is as large as it is, and why it is of this supplier."""
        return "; ".join([self.how_much(place, part), *self.from_whom(place, part), *self.when(place, part)])

    def how_much(self, place: int, part: Part) -> str:
        """Say why a part is as large as it is."""
        lack, terms, quantity = self.lacks[place], part.option.terms, part.quantity
        least = self.smallest(place, part).quantity
        if lack.need.used_a_year and quantity != least:
            year = f"the cheapest order for a year's use of {lack.need.used_a_year:,}"
            return f"{quantity:,} rather than {least:,}: {year}"
        if quantity > least:
            return f"{quantity:,} rather than {least:,}: {self.more_pays(place, part)}"
        if len(self.choice[place]) > 1 and quantity == terms.most:
            return f"{quantity:,}, all that {self.supplier(terms)} has"
        if quantity > (needed := self.needed_of(place, part)):
            return f"{quantity:,} for {needed:,} needed: {because(terms, needed)}"
        return f"{quantity:,}, just what is needed"

    def more_pays(self, place: int, part: Part) -> str:
        """Say what makes more than enough cheaper: a price break, what is left over, or free freight."""
        lack, least = self.lacks[place], self.smallest(place, part)
        saves = self.prices.part(least) - self.prices.part(part)
        if saves > 0:
            reached = max(
                one.from_quantity for one in part.option.terms.breaks if one.from_quantity <= part.quantity
            )
            return f"the {reached:,} break saves {self.money(saves)}"
        worth = lack.counted(part.quantity) - lack.counted(least.quantity)
        if worth + saves > 0:
            over = part.quantity - least.quantity
            return f"{self.money(-saves)} dearer, but the {over:,} more left over are worth {self.rounded(worth)}"
        without = self.with_parts(place, (least,)) - self.total
        return f"{self.money(-saves)} dearer, but freight falls away, and all orders cost {self.rounded(without)} less"

    # --- From whom and when ---

    def from_whom(self, place: int, part: Part) -> Iterator[str]:
        """Say why a supplier is chosen that is not the cheapest for this material by itself."""
        lack, parts = self.lacks[place], self.choice[place]
        if lack.need.used_a_year or len(parts) > 1:
            return
        (best,) = from_one(lack, self.prices)
        if best.option.terms.offer.supplier == part.option.terms.offer.supplier:
            return
        less = self.prices.parts(lack, parts) - self.prices.parts(lack, (best,))
        more = self.with_parts(place, (best,)) - self.total
        if less > 0:
            name, all_orders = self.supplier(best.option.terms), "freight would make all orders"
            yield f"{name} asks {self.rounded(less)} less, but {all_orders} {self.rounded(more)} dearer"

    def of_split(self, place: int) -> Iterator[str]:
        """Say why a material comes from several suppliers."""
        lack, parts = self.lacks[place], self.choice[place]
        if len(parts) < 2:
            return
        one = from_one(lack, self.prices)
        if not one:
            yield "no supplier has all of it"
        else:
            saves = self.with_parts(place, one) - self.total
            yield f"together {self.rounded(saves)} cheaper than all from {self.supplier(one[0].option.terms)}"

    def when(self, place: int, part: Part) -> Iterator[str]:
        """Say that a late offer is taken because it was asked for."""
        if part.option.late and any(not one.late for one in self.lacks[place].options):
            yield "late, as its offer says it may be"

    def with_parts(self, place: int, parts: Parts) -> Decimal:
        """Return what all orders would cost if one need were met otherwise."""
        return self.prices.total(self.lacks, (*self.choice[:place], parts, *self.choice[place + 1 :]))

    def waits(self, line: BuyLine, one: Alone) -> str:
        """Say which open orders come late, and what ordering again, where it is sooner, would bring and cost."""
        days = [f"{order.due:%-d %b %Y}" for order in line.coming if order.due > line.need.need_by]
        late = f"waits for {line.due_late:,} on order, due {' and '.join(days)}"
        if one.again is None:
            return f"{late}; nobody offers it sooner"
        parts = one.again.parts
        names = [f"{part.quantity:,} from {self.supplier(part.option.terms)}" for part in parts]
        late_days = [part.option.arrives for part in parts if part.option.late]
        when = f"arrive {max(late_days):%-d %b %Y}" if late_days else "be in time"
        more = sum((self.prices.part(part) for part in parts), Decimal(0)) - line.cost
        return f"{late}; ordered again, {' and '.join(names)} would {when} and cost {self.money(more)} more"

    # --- Words ---

    def supplier(self, terms: Terms) -> str:
        """Return who makes an offer, by name."""
        return self.names.get(terms.offer.supplier, terms.offer.supplier)

    def money(self, amount: Decimal) -> str:
        """Return an amount as people read it."""
        return format_amount(amount, self.problem.exponent)

    def rounded(self, amount: Decimal) -> str:
        """Return an amount that may be finer than a coin as people read it."""
        return self.money(round(amount, self.problem.exponent))


def because(terms: Terms, needed: int) -> str:
    """Say which of the supplier's terms makes the smallest order larger than the need."""
    if needed < terms.offer.minimum:
        return f"the supplier's minimum is {terms.offer.minimum:,}"
    if needed < terms.breaks[0].from_quantity:
        return f"the price list starts at {terms.breaks[0].from_quantity:,}"
    return f"sold in lots of {terms.grid:,}"


def enough(lack: Lack) -> str:
    """Say why nothing is ordered."""
    need, on_order = lack.need, sum(order.quantity for order in lack.coming)
    if need.wanted == 0:
        return "not used this month"
    there = [f"{need.on_hand:,} on the shelf"]
    there += [f"{need.cut:,} cut from larger sheets"] if need.cut else []
    there += [f"{on_order:,} on order"] if on_order else []
    return f"{' and '.join(there)} cover {need.wanted:,}"
