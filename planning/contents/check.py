"""The checker of contents. It shares no code with the rule: it fills every box again, from an empty table."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from planning.contents.model import Box, ContentsProblem, ContentsResult, Filled, Goods
from planning.contents.rows import Does, Extra, Rule, When
from planning.roster import Besides, Change, Part

Table = dict[str, int]


def contents_faults(problem: ContentsProblem, result: ContentsResult) -> tuple[str, ...]:
    """Return every way in which the boxes do not hold what the rows say."""
    if [box.code for box in problem.boxes] != [box.box for box in result.boxes]:
        return ("the boxes filled are not the boxes asked for",)
    return (*box_faults(problem, result), *group_faults(result))


def box_faults(problem: ContentsProblem, result: ContentsResult) -> Iterator[str]:
    """Yield the boxes that hold something else, or whose reasons do not add up."""
    extras: dict[str, list[Extra]] = {box.code: [] for box in problem.boxes}
    for extra in problem.extras:
        extras.get(extra.box, []).append(extra)
    seen: dict[tuple[Box, tuple[Extra, ...]], Goods] = {}
    for box, filled in zip(problem.boxes, result.boxes, strict=True):
        own = tuple(replace(extra, box="") for extra in extras[box.code])
        key = replace(box, code=""), own
        if key not in seen:
            seen[key] = expected(problem, box, own)
        if filled.contents.goods != seen[key] or any(count < 1 for _, count in filled.contents.goods):
            yield f"{box.code} holds {filled.contents.words}"
        plain, kit = tier_table(problem, box), dict(expected(problem, box, ()))
        more = [(plain, filled.held.changes, kit), (kit, filled.held.besides, dict(seen[key]))]
        if any(not leads(before, steps, after) for before, steps, after in more):
            yield f"{box.code}: what differs from its tier does not lead to its contents"
        if not adds_up(filled):
            yield f"{box.code}: its reasons do not add up to its contents"


def leads(before: Table, steps: tuple[Change, ...], after: Table) -> bool:
    """Tell whether changes lead from one table to another."""
    table = dict(before)
    for step in steps:
        table[step.item] = table.get(step.item, 0) + step.count
    return {item: count for item, count in table.items() if count} == after


def adds_up(filled: Filled) -> bool:
    """Add the reasons up."""
    total: Counter[str] = Counter()
    for reason in filled.reasons:
        total[reason.item] += reason.count
    return sorted((item, count) for item, count in total.items() if count) == list(filled.contents.goods)


def group_faults(result: ContentsResult) -> Iterator[str]:
    """Equal contents share one group and one signature, and every box is in one group."""
    goods = {box.box: box.contents.goods for box in result.boxes}
    grouped = [(code, group.contents.goods) for group in result.alike for code in group.boxes]
    if sorted(grouped) != sorted(goods.items()):
        yield "the groups do not hold every box once, by what is in it"
    different = {group.contents.goods for group in result.alike}
    if not len(different) == len(result.alike) == len({group.contents.signature for group in result.alike}):
        yield "two groups are of the same contents, or share a signature"


def expected(problem: ContentsProblem, box: Box, extras: tuple[Extra, ...]) -> Goods:
    """Fill a box by the words of the rows."""
    table = tier_table(problem, box)
    for line in problem.tiers:
        if line.first and line.tier == box.tier and box.number == 1 and box.part is Part.MAIN:
            table[line.item] = table.get(line.item, 0) + line.count
    rules = valid(problem, box)
    for rule in rules:
        if rule.does is Does.ADD:
            table[rule.item] = table.get(rule.item, 0) + rule.count
    changes = [(rule, table.get(rule.item, 0)) for rule in rules if rule.does is not Does.ADD]
    gone = set()
    for rule, count in changes:
        if rule.item not in gone:
            exchange(table, rule, count)
        gone.add(rule.item)
    for extra in extras:
        table[extra.item] = table.get(extra.item, 0) + extra.count
        rule_of = law(problem, box, extra.item, When.REPLACEMENT)
        if extra.kind is Besides.REPLACEMENT and rule_of is not None:
            exchange(table, rule_of, extra.count)
    for item in sorted(table):
        abroad(problem, box, table, item)
    return tuple(sorted((item, count) for item, count in table.items() if count))


def tier_table(problem: ContentsProblem, box: Box) -> Table:
    """Lay the tier's items on an empty table; none for goods alone."""
    table: Table = {}
    for line in problem.tiers:
        if line.tier == box.tier and box.part is not Part.GOODS and not line.first:
            table[line.item] = table.get(line.item, 0) + line.count
    return table


def exchange(table: Table, rule: Rule, count: int) -> None:
    """Take items off the table and lay their substitutes on it."""
    table[rule.item] = table.get(rule.item, 0) - count
    if rule.does is Does.SUBSTITUTE:
        table[rule.instead] = table.get(rule.instead, 0) + count * rule.count


def valid(problem: ContentsProblem, box: Box) -> list[Rule]:
    """Take the strongest rule off the pile, and all that it strikes out, until none is left."""
    pile = [rule for rule in problem.rules if happens(problem, box, rule)]
    taken = []
    while pile:
        highest = max(rule.priority for rule in pile)
        top = min((rule for rule in pile if rule.priority == highest), key=lambda rule: rule.code)
        taken.append(top)
        pile = [rule for rule in pile if rule is not top and not strikes(top, rule)]
    return taken


def strikes(top: Rule, rule: Rule) -> bool:
    """Tell whether a rule strikes another out."""
    if top.slot and top.slot == rule.slot:
        return True
    if top.item != rule.item or top.does is rule.does is Does.ADD:
        return False
    if top.does is not rule.does:
        return True
    return top.does is Does.SUBSTITUTE and (top.instead, top.count) != (rule.instead, rule.count)


def happens(problem: ContentsProblem, box: Box, rule: Rule) -> bool:
    """Tell whether a rule is for a box."""
    if (rule.tiers and box.tier not in rule.tiers) or (rule.countries and box.country not in rule.countries):
        return False
    if box.part is Part.GOODS or (box.part is Part.FURTHER and rule.when is not When.EVERY):
        return False
    match rule.when:
        case When.EVERY:
            return True
        case When.FIRST:
            return box.number == 1
        case When.NTH:
            return box.number == rule.number
        case When.ANNIVERSARY:
            joined, month = box.joined, problem.month
            if joined is None or joined.month != month.month or joined.year >= month.year:
                return False
            return rule.number is None or joined.year + rule.number == month.year
        case When.PROMOTION:
            codes = [code.strip().casefold() for code in box.codes]
            late = rule.last is not None and box.day > rule.last
            early = rule.first is not None and box.day < rule.first
            return (
                not late and not early and (not rule.promotion or rule.promotion.strip().casefold() in codes)
            )
        case _:
            return False


def law(problem: ContentsProblem, box: Box, item: str, when: When) -> Rule | None:
    """Return the strongest rule about a damaged item, or of a country."""
    found = [
        rule
        for rule in problem.rules
        if rule.when is when
        and rule.item == item
        and (not rule.tiers or box.tier in rule.tiers)
        and (not rule.countries or box.country in rule.countries)
    ]
    top = max((rule.priority for rule in found), default=0)
    return min((rule for rule in found if rule.priority == top), key=lambda rule: rule.code, default=None)


def abroad(problem: ContentsProblem, box: Box, table: Table, item: str) -> None:
    """Follow what a country may not get to what it may, or to nothing where that leads in a circle."""
    seen = {item}
    while table[item] and (rule := law(problem, box, item, When.COUNTRY)):
        count, table[item] = table[item], 0
        if not rule.instead or rule.instead in seen:
            return
        table[rule.instead] = table.get(rule.instead, 0) + count * rule.count
        item = rule.instead
        seen.add(item)
