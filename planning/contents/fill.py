"""The rule of contents: the tier's items, then the rules that count, then the box's own extras, and last its country."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from planning.contents.choose import Dropped, by_rank, counting, is_for, rules_for, wish
from planning.contents.differ import besides, changes
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
from planning.contents.rows import Does, Extra, Rule, RuleError, TierLine, When, why_wrong
from planning.contents.unused import applied
from planning.countries import COUNTRIES
from planning.roster import Besides, Contents, Part
from planning.roster.model import plain

Own = tuple[tuple[Besides, str, int], ...]
Asked = tuple[Box, Own]


def plan_contents(problem: ContentsProblem) -> ContentsResult:
    """Fill every box. Raises RuleError for a rule that cannot be, and for a box, a rule or a line that is there twice."""
    refuse_wrong(problem.rules)
    refuse_twice("boxes", (box.code for box in problem.boxes))
    refuse_twice("rules", (rule.code for rule in problem.rules))
    refuse_twice(
        "rows of a tier", (f"{line.tier}, {line.item}{', first box' * line.first}" for line in problem.tiers)
    )
    extras = extras_by_box(problem.extras)
    answers: dict[Asked, Filling] = {}
    filled, clashes, changed = [], Counter[Dropped](), Counter[str]()
    for box in problem.boxes:
        own = tuple(sorted(extras.get(box.code, ())))
        asked = replace(box, code="", boxes=1), bare(own)
        if asked not in answers:
            answers[asked] = Filling(box, problem).fill(own)
        answer = answers[asked]
        clashes.update(dict.fromkeys(answer.dropped, box.boxes))
        changed.update(dict.fromkeys(answer.used, box.boxes))
        filled.append(replace(answer.filled(own), box=box.code, boxes=box.boxes))
    return ContentsResult(
        boxes=tuple(filled),
        alike=tuple(alike(filled)),
        clashes=tuple(sorted(told(clashes))),
        applied=tuple(applied(problem, changed, {dropped.code for _, dropped, _ in clashes})),
        faults=tuple(loose_ends(problem)),
    )


def refuse_wrong(rules: Iterable[Rule]) -> None:
    """Raise RuleError for the first rule that cannot be."""
    for rule in rules:
        field, why = why_wrong(rule)
        if field:
            raise RuleError(f"rule {rule.code}, {field} {getattr(rule, field)!s}: {why}")


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


@dataclass(slots=True)
class Filling:
    """One kind of box under way: what is in it, why, which rules changed it, and what stood against them."""

    box: Box
    problem: ContentsProblem
    goods: Counter[str] = field(default_factory=Counter)
    reasons: list[Reason] = field(default_factory=list)
    used: set[str] = field(default_factory=set)
    dropped: list[Dropped] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    done: Filled | None = None

    def filled(self, extras: Sequence[Extra]) -> Filled:
        """Return what is in the box; the same object each time, so that boxes alike share it."""
        if self.done is None:
            self.done = Filled(
                box=self.box.code,
                contents=Assortment(goods=tuple(sorted((+self.goods).items()))),
                held=self.held(extras),
                reasons=tuple(self.reasons),
                faults=tuple(self.faults),
                first=self.box.is_first,
            )
        return self.done

    def held(self, extras: Sequence[Extra]) -> Contents:
        """Tell what differs from the tier's: by rules, then by what was ordered, then by what is replaced."""
        add_ons = [extra for extra in extras if extra.kind is Besides.ADD_ON]
        kit = self if not extras else Filling(self.box, self.problem).fill(())
        ordered = self if len(add_ons) == len(extras) else Filling(self.box, self.problem).fill(add_ons)
        return Contents(
            tier=self.box.tier,
            kit=self.box.part is not Part.GOODS,
            changes=changes(kit.reasons),
            besides=(
                *besides(kit.goods, ordered, Besides.ADD_ON),
                *besides(ordered.goods, self, Besides.REPLACEMENT),
            ),
        )

    def fill(self, extras: Sequence[Extra]) -> "Filling":
        """Put everything in, in the order that makes a country's rules the last word."""
        if self.box.part is not Part.GOODS:
            self.start([line for line in self.problem.tiers if line.tier == self.box.tier])
        rules, self.dropped = counting(rules_for(self.box, self.problem.rules, self.problem.month))
        for rule in rules:
            if rule.does is Does.ADD:
                self.put(rule.item, rule.count, rule)
        before = self.goods.copy()  # what comes instead of something is not taken out again
        takers = {rule.item: rule for rule in reversed(rules) if rule.does is not Does.ADD}
        for rule in takers.values():  # several that want the same are one
            self.swap(rule, before[rule.item], rule.item)
        for extra in extras:
            self.put_extra(extra)
        if self.box.country not in COUNTRIES and self.box.country:
            self.faults.append(
                f"{self.box.country!r} is no country code, so no country's rules were looked at"
            )
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
        for line in lines:
            why, occasion = f"tier {line.tier}", When.FIRST.value if line.first else ""
            if self.box.is_first or not line.first:
                self.note(Reason(item=line.item, count=line.count, why=why, occasion=occasion))

    def note(self, reason: Reason) -> None:
        """Change how many of an item are in, and keep why."""
        if reason.count:
            self.goods[reason.item] += reason.count
            self.reasons.append(reason)

    def put(self, item: str, count: int, rule: Rule, instead: str = "") -> None:
        """Let a rule change how many of an item are in."""
        if count:
            self.used.add(rule.code)
            why = f"rule {rule.code}, {rule.when}"
            if rule.when is When.COUNTRY:
                why = f"rule {rule.code}, {self.box.country} may not get it"
            self.note(Reason(item=item, count=count, why=why, occasion=rule.when, instead=instead))

    def swap(self, rule: Rule, count: int, first: str) -> None:
        """Take so many of a rule's item out, and put in what goes instead. first: of what it is there in the end."""
        self.put(rule.item, -count, rule)
        if rule.instead:
            self.put(rule.instead, count * rule.count, rule, first)

    def put_extra(self, extra: Extra) -> None:
        """Put an extra in; a damaged item is replaced as its rule says."""
        self.note(Reason(item=extra.item, count=extra.count, why=extra.kind, occasion=extra.kind))
        if extra.kind is Besides.REPLACEMENT:
            rule = self.strongest(When.REPLACEMENT, extra.item)
            if rule is not None:
                self.swap(rule, extra.count, extra.item)

    def send_abroad(self, item: str) -> None:
        """Replace what the country may not get, and the substitute too if it may not get that."""
        passed = [item]
        while self.goods[item] and (rule := self.strongest(When.COUNTRY, item)):
            if rule.instead in passed:
                self.faults.append(
                    f"{' -> '.join(map(plain, [*passed, rule.instead]))}: no substitute may go to {self.box.country}"
                )
                self.put(item, -self.goods[item], rule)
                return
            self.swap(rule, self.goods[item], passed[0])
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
