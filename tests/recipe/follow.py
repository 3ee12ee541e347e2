"""Somebody who follows the steps at the trimmer, knowing nothing but what they say."""

from dataclasses import dataclass, field
from typing import TypeAlias

from kits.guillotine import Edge
from kits.recipe import Design, Fate, Lot, TrimStep, trim_steps

Rect: TypeAlias = tuple[int, int, int, int]  # left, top, width, height on the sheet it comes from
Found: TypeAlias = tuple[str, int, int, str, str]  # sheet, left, top, name, page


@dataclass
class Trimmer:
    """What lies around it. hand: of each sheet in hand the part; aside: likewise by name, with the edge last used."""

    design: Design
    hand: dict[str, Rect] = field(default_factory=dict)
    edge: Edge = Edge.LEFT
    aside: dict[str, tuple[dict[str, Rect], Edge]] = field(default_factory=dict)
    fresh: set[str] = field(default_factory=set)
    finished: list[Found] = field(default_factory=list)

    def follow(self) -> list[Found]:
        """Make every cut; return what is finished, each with its place on its sheet."""
        steps = trim_steps(self.design)
        self.fresh = {sheet.label for sheet in self.design.sheets}
        for lot in steps.uncut:
            self.fresh -= set(lot.sheets)
            self.finished += [(sheet, 0, 0, lot.name, lot.page) for sheet in lot.sheets]
        for step in steps.steps:
            self.cut(step)
        left = [*self.hand, *self.aside, *self.fresh]
        assert left == [], "nothing is left to be cut"
        return self.finished

    def cut(self, step: TrimStep) -> None:
        """Make one cut."""
        if step.picked_up:
            self.pick_up(step)
        assert set(self.hand) == set(step.sheets)
        assert step.turned is (step.fence is not self.edge), (
            "it is turned whenever another edge goes to the fence"
        )
        self.edge, level = step.fence, step.fence is Edge.TOP
        assert {rect[2:] for rect in self.hand.values()} == {(step.width, step.height)}
        assert 0 < step.mark < (step.height if level else step.width)
        off, kept = {}, {}
        for sheet, (x, y, width, height) in self.hand.items():
            if level:
                kept[sheet], off[sheet] = (
                    (x, y, width, step.mark),
                    (x, y + step.mark, width, height - step.mark),
                )
            else:
                kept[sheet], off[sheet] = (
                    (x, y, step.mark, height),
                    (x + step.mark, y, width - step.mark, height),
                )
        assert sorted(sheet for lot in step.off for sheet in lot.sheets) == sorted(step.sheets)
        self.sort(step.off, off)
        self.sort(step.kept, kept)
        gone = {sheet for lot in step.kept if lot.fate is not Fate.IN_HAND for sheet in lot.sheets}
        self.hand = {sheet: rect for sheet, rect in kept.items() if sheet not in gone}

    def pick_up(self, step: TrimStep) -> None:
        """Take what was laid aside, or whole sheets."""
        assert not self.hand, "what is in hand is finished first"
        if step.hand in self.aside:
            self.hand, self.edge = self.aside.pop(step.hand)
            return
        assert set(step.sheets) <= self.fresh, "a whole sheet is taken once"
        self.fresh -= set(step.sheets)
        trees = {sheet.label: sheet.tree for sheet in self.design.sheets if sheet.label in step.sheets}
        self.hand = {label: (0, 0, tree.width, tree.height) for label, tree in trees.items()}
        self.edge = Edge.LEFT

    def sort(self, lots: tuple[Lot, ...], parts: dict[str, Rect]) -> None:
        """Put what a cut gives where it goes."""
        for lot in lots:
            some = {sheet: parts[sheet] for sheet in lot.sheets}
            assert {rect[2:] for rect in some.values()} == {(lot.part.width, lot.part.height)}
            if lot.fate is Fate.ASIDE:
                self.aside[lot.name] = (some, self.edge)
            elif lot.fate is not Fate.IN_HAND:
                self.finished += [(sheet, *rect[:2], lot.name, lot.page) for sheet, rect in some.items()]
