"""The rule of contents: the tier's items, then the rules that count, then the box's own extras, and last its country."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from planning.contents.choose import Dropped, by_rank, counting, is_for, rules_for, wish
from planning.contents.model import (
    Alike,
    Assortment,
    Box,
    Clash,
    ContentsProblem,
    ContentsResult,
    Filled,
    Reason,
)
from planning.contents.rows import Does, Extra, Kind, Rule, RuleError, TierLine, When
from planning.countries import COUNTRIES

Own = tuple[tuple[Kind, str, int], ...]
Asked = tuple[Box, Own]


def plan_contents(problem: ContentsProblem) -> ContentsResult:
    """Fill every box. Raises RuleError where two boxes or two rules have one code, or a tier names an item twice."""
    refuse_twice("boxes", (box.code for box in problem.boxes))
    refuse_twice("rules", (rule.code for rule in problem.rules))
    refuse_twice("rows of a tier", (f"{line.tier}, {line.item}" for line in problem.tiers))
    extras = extras_by_box(problem.extras)
    answers: dict[Asked, Filling] = {}
    filled, clashes = [], Counter[Dropped]()
    for box in problem.boxes:
        own = tuple(sorted(extras.get(box.code, ())))
        asked = replace(box, code=""), bare(own)
        if asked not in answers:
            answers[asked] = Filling(box, problem).fill(own)
        clashes.update(answers[asked].dropped)
        filled.append(replace(answers[asked].filled(), box=box.code))
    return ContentsResult(
        boxes=tuple(filled),
        alike=tuple(alike(filled)),
        clashes=tuple(sorted(told(clashes))),
        faults=tuple(loose_ends(problem)),
    )


def refuse_twice(what: str, codes: Iterable[str]) -> None:
    """Raise RuleError for the first code that is there twice."""
    code, times = next(iter(Counter(codes).most_common(1)), ("", 0))
    if times > 1:
        raise RuleError(f"two {what} have the code {code}: rename or add up one")


def extras_by_box(extras: Iterable[Extra]) -> dict[str, list[Extra]]:
    """Sort extras by their box."""
    kept: defaultdict[str, list[Extra]] = defaultdict(list)
    for extra in extras:
        kept[extra.box].append(extra)
    return kept


def bare(extras: Sequence[Extra]) -> Own:
    """Return extras without the box they are for."""
    return tuple((extra.kind, extra.item, extra.count) for extra in extras)


def loose_ends(problem: ContentsProblem) -> Iterator[str]:
    """Yield extras for boxes that are not there, which would be lost, and rules for tiers that are not."""
    codes = {box.code for box in problem.boxes}
    for extra in problem.extras:
        if extra.box not in codes:
            yield f"{extra.kind}, {extra.count} x {extra.item}: there is no box {extra.box} this month"
    tiers = {line.tier for line in problem.tiers}
    for rule in problem.rules:
        for tier in rule.tiers:
            if tier not in tiers:
                yield f"rule {rule.code} is for tier {tier}, which holds nothing: correct its name or add its items"


def told(clashes: Counter[Dropped]) -> Iterator[Clash]:
    """Yield rules at odds with the number of boxes."""
    for (kept, dropped, about), boxes in clashes.items():
        equal = kept.priority == dropped.priority
        yield Clash(kept=kept.code, dropped=dropped.code, about=about, equal=equal, boxes=boxes)


def alike(filled: Iterable[Filled]) -> Iterator[Alike]:
    """Yield boxes with the same contents together, the most numerous first."""
    kept: defaultdict[tuple[tuple[str, int], ...], list[Filled]] = defaultdict(list)
    for box in filled:
        kept[box.contents.goods].append(box)
    for goods, boxes in sorted(kept.items(), key=lambda one: (-len(one[1]), one[0])):
        yield Alike(contents=Assortment(goods=goods), boxes=tuple(sorted(box.box for box in boxes)))


def because(rule: Rule) -> str:
    """Name a rule as a reason."""
    return f"rule {rule.code}, {rule.when}"


@dataclass(slots=True)
class Filling:
    """One kind of box under way: what is in it, why, and what stood against it."""

    box: Box
    problem: ContentsProblem
    goods: Counter[str] = field(default_factory=Counter)
    reasons: list[Reason] = field(default_factory=list)
    dropped: list[Dropped] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    done: Filled | None = None

    def filled(self) -> Filled:
        """Return what is in the box; the same object each time, so that boxes alike share it."""
        if self.done is None:
            contents = Assortment(goods=tuple(sorted((+self.goods).items())))
            self.done = Filled(
                box=self.box.code, contents=contents, reasons=tuple(self.reasons), faults=tuple(self.faults)
            )
        return self.done

    def fill(self, extras: Sequence[Extra]) -> "Filling":
        """Put everything in, in the order that makes a country's rules the last word."""
        lines = [line for line in self.problem.tiers if line.tier == self.box.tier]
        self.start(lines)
        rules, self.dropped = counting(rules_for(self.box, self.problem.rules, self.problem.month))
        for rule in rules:
            if rule.does is Does.ADD:
                self.put(rule.item, rule.count, because(rule))
        before = self.goods.copy()  # what comes instead of something is not taken out again
        takers = {rule.item: rule for rule in reversed(rules) if rule.does is not Does.ADD}
        for rule in takers.values():  # several that want the same are one
            self.swap(rule, before[rule.item], because(rule))
        for extra in extras:
            self.put_extra(extra)
        for item in sorted(self.goods):
            self.send_abroad(item)
        if not +self.goods:
            self.faults.append(
                "nothing goes into it: look at its tier and at the rules that leave things out"
            )
        return self

    def start(self, lines: Sequence[TierLine]) -> None:
        """Put the tier's items in."""
        if not lines:
            self.faults.append(f"tier {self.box.tier} holds nothing: add its items")
        if self.box.country not in COUNTRIES:
            self.faults.append(
                f"{self.box.country!r} is no country code, so no country's rules were looked at"
            )
        for line in lines:
            self.put(line.item, line.count, f"tier {line.tier}")

    def put(self, item: str, count: int, why: str) -> None:
        """Change how many of an item are in, and keep why."""
        if count:
            self.goods[item] += count
            self.reasons.append(Reason(item=item, count=count, why=why))

    def swap(self, rule: Rule, count: int, why: str) -> None:
        """Take so many of a rule's item out, and put in what goes instead."""
        self.put(rule.item, -count, why)
        if rule.instead:
            self.put(rule.instead, count * rule.count, why)

    def put_extra(self, extra: Extra) -> None:
        """Put an extra in; a damaged item is replaced as its rule says."""
        self.put(extra.item, extra.count, extra.kind)
        if extra.kind is Kind.REPLACEMENT:
            rule = self.strongest(When.REPLACEMENT, extra.item)
            if rule is not None:
                self.swap(rule, extra.count, because(rule))

    def send_abroad(self, item: str) -> None:
        """Replace what the country may not get, and the substitute too if it may not get that."""
        passed = [item]
        while self.goods[item] and (rule := self.strongest(When.COUNTRY, item)):
            why = f"rule {rule.code}, {self.box.country} may not get it"
            if rule.instead in passed:
                self.faults.append(
                    f"{' -> '.join([*passed, rule.instead])}: no substitute may go to {self.box.country}"
                )
                self.put(item, -self.goods[item], why)
                return
            count = self.goods[item]
            self.swap(rule, count, why)
            if not rule.instead:
                return
            item = rule.instead
            passed.append(item)

    def strongest(self, when: When, item: str) -> Rule | None:
        """Return the rule of a kind that counts for an item, and note those that want another thing."""
        rules = by_rank(
            rule
            for rule in self.problem.rules
            if rule.when is when and rule.item == item and is_for(rule, self.box)
        )
        for other in rules[1:]:
            if wish(other) != wish(rules[0]) and (rules[0], other, item) not in self.dropped:
                self.dropped.append((rules[0], other, item))
        return rules[0] if rules else None
