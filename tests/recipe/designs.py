"""Recipes for the tests: a small one in its text form, and random ones."""

from collections import Counter
from dataclasses import dataclass, field
from fractions import Fraction
from random import Random

from hypothesis import strategies as st

from kits.catalogue import Print
from kits.guillotine import Cut, Direction, Offcut, Part
from kits.measures import MM, RULERS, Grammage
from kits.recipe.design import (
    Comment,
    CutSheet,
    Design,
    Lift,
    Opening,
    Page,
    PagePiece,
    Paper,
    Placement,
    Section,
    Trimmer,
    WantedPiece,
)
from kits.recipe.hand import joined

# 12 wide is 8 1/2 + 3 1/2; three cards of 4 are 12 high; 12 high is 6 1/4 + 5 3/4; two mats of 4 1/4 are 8 1/2 wide.
# The two sheets of band are cut together: at 10 comes off a band of 2, at 8 and 4 squares, to left and to right.
SMALL = """\
recipe GATE: Garden gate
note: Two photos of 4 x 6 in.
ruler 1/8 in
trimmer 12, takes 2 sheets

# What the subscriber finds in the box
paper mats: 1 sheet 12 x 12, at least 160 g/m²
paper band: 2 sheets 12 x 12, print one way

piece photo mat: 2 of 4 1/4 x 6 1/4 from mats -> left
piece story card: 3 of 3 1/2 x 4 from mats -> right
piece stripe: 1 of 2 x 12 from band -> left
piece stripe: 1 of 2 x 12 from band -> right
piece panel: 1 of 10 x 12 from band -> right
piece tag: 1 of 10 x 4 from band -> left

sheet 1 of mats
    cut at 8 1/2
        turn
        cut at 8: story card -> right
        cut at 4: story card -> right
        rest: story card -> right
    turn
    cut at 6 1/4: offcut
    # both mats lie side by side now
    turn
    cut at 4 1/4: photo mat -> left
    rest: photo mat -> left

together: sheet 1 of band, sheet 2 of band
    cut at 10
        sheet 1 of band: stripe -> left
        sheet 2 of band: stripe -> right
    sheet 1 of band: panel -> right
    sheet 2 of band
        turn
        cut at 4: offcut
        rest: tag -> left

page left: 12 x 12, margin 1/4
    stripe at 0, 0
    tag at 2, 1/2
    photo mat at 3, 5, layer 2
        photo 4 x 6, border 1/8
    photo mat at 7 1/2, 5, layer 2
        photo 3 x 5 at 5/8, 1/2, border 1/8

page right: 12 x 12
    stripe at 0, 0
    panel at 2, 0
    story card at 3, 1, layer 2
    story card at 3, 5, layer 2
    story card at 7, 1, layer 2, turned
"""

NAMES = st.sampled_from(
    ("mat", "photo mat", "story card 2", "Étiquette n° 1", "at 4", 'a "b", c: d -> e # f', "offcut", "a\nb")
)
TEXTS = st.text(max_size=12)
STEPS = st.integers(1, 40)
HALF = 0.5
CHANCE = st.randoms(use_true_random=True)  # whole sheets from one draw: drawing every cut takes far longer


@dataclass
class Wanted:
    """The pieces that random sheets have given so far: by role and size, and how many for each page."""

    names: dict[tuple[str, int, int], str] = field(default_factory=dict)
    turned: set[str] = field(default_factory=set)
    counts: Counter[tuple[str, str]] = field(default_factory=Counter)

    def piece(self, role: str, width: int, height: int, turned: bool, page: str) -> PagePiece:
        turned = turned and width != height
        size = (height, width) if turned else (width, height)
        name = self.names.setdefault((role, *size), f"piece {len(self.names)}")
        self.counts[name, page] += 1
        if turned:
            self.turned.add(name)
        return PagePiece(name, width, height, turned=turned, page=page)


@st.composite
def designs(draw: st.DrawFn) -> Design:
    """Return designs without faults that their text could not say."""
    ruler = draw(st.sampled_from(RULERS))
    chance = draw(CHANCE)
    width, height = (chance.randint(1, 40) * ruler.step + chance.choice((0, 0, MM // 4)) for _ in range(2))
    roles = draw(st.lists(NAMES, min_size=1, max_size=3, unique=True))
    pages = draw(st.lists(NAMES, min_size=1, max_size=2, unique=True))
    wanted = Wanted()
    sheets = [(role, number) for role in roles for number in range(1, chance.randint(1, 3))]
    lifts = []
    while sheets:
        some = [sheets.pop(0) for _ in range(min(len(sheets), chance.randint(1, 3)))]
        cutter = Cutter(chance, ruler.step, (width, height), wanted, (*pages, ""))
        parts = cutter.cut(tuple(role for role, _ in some), width, height, 3)
        lifts.append(Lift(tuple(CutSheet(*sheet, part) for sheet, part in zip(some, parts, strict=True))))
    return Design(
        code=draw(NAMES),
        title=draw(TEXTS),
        note=draw(TEXTS),
        ruler=ruler,
        trimmer=Trimmer(draw(STEPS) * ruler.step, draw(st.integers(1, 3))),
        papers=tuple(draw(papers(role, (width, height), lifts)) for role in roles),
        pieces=tuple(pieces_of(chance, wanted)),
        lifts=tuple(lifts),
        pages=tuple(laid_out(chance, page, tuple(wanted.names.values()), ruler.step) for page in pages),
        comments=tuple(sorted(draw(comments(lifts)), key=lambda comment: comment.place)),
    )


@st.composite
def papers(draw: st.DrawFn, role: str, size: tuple[int, int], lifts: list[Lift]) -> Paper:
    sheets = [sheet for lift in lifts for sheet in lift.sheets if sheet.role == role]
    return Paper(
        role=role,
        width=size[0],
        height=size[1],
        sheets=len(sheets),
        print=draw(st.sampled_from(Print)),
        lightest=draw(st.none() | st.just(Grammage(Fraction(120)))),
        heaviest=draw(st.none() | st.just(Grammage(Fraction("300.5")))),
    )


def pieces_of(chance: Random, wanted: Wanted) -> list[WantedPiece]:
    size_of = {name: key for key, name in wanted.names.items()}
    turn = {name: name in wanted.turned or chance.choice((True, False)) for name in size_of}
    return [
        WantedPiece(
            piece=name,
            role=size_of[name][0],
            width=size_of[name][1],
            height=size_of[name][2],
            count=count,
            page=page,
            turn=turn[name],
        )
        for (name, page), count in wanted.counts.items()
    ]


def laid_out(chance: Random, name: str, pieces: tuple[str, ...], step: int) -> Page:
    def length() -> int:
        return chance.randint(1, 40) * step

    def opening() -> Opening:
        place = (length(), length()) if chance.random() < HALF else (None, None)
        return Opening(length(), length(), length(), *place)

    placements = [
        Placement(
            chance.choice(pieces),
            length(),
            length(),
            chance.randint(1, 3),
            chance.random() < HALF,
            tuple(opening() for _ in range(chance.randint(0, 2))),
        )
        for _ in range(chance.randint(0, 3) if pieces else 0)
    ]
    return Page(name, length(), length(), length(), length(), tuple(placements))


@st.composite
def comments(draw: st.DrawFn, lifts: list[Lift]) -> list[Comment]:
    texts = TEXTS.map(lambda text: "".join(filter(str.isprintable, text)).strip())
    places = [(Section.HEAD, 0), (Section.PAPERS, 0), (Section.PAGES, 0), (Section.END, 0)]
    places += [(Section.SHEETS, 0)] if lifts else []
    return [Comment(*place, draw(texts)) for place in draw(st.lists(st.sampled_from(places), max_size=3))]


@dataclass
class Cutter:
    """Cuts equal sheets into random parts; several are cut the same way for as long as chance has it."""

    chance: Random
    step: int
    sheet: tuple[int, int]
    wanted: Wanted
    pages: tuple[str, ...]

    def cut(self, roles: tuple[str, ...], width: int, height: int, depth: int) -> list[Part]:
        if len(roles) > 1 and self.chance.random() < HALF:
            return [self.cut((role,), width, height, depth)[0] for role in roles]
        direction = self.chance.choice(list(Direction))
        along = width if direction is Direction.UPRIGHT else height
        marks = [number * self.step for number in range(1, -(-along // self.step))]
        if not depth or not marks or self.chance.random() < HALF / 2:
            return self.leaves(roles, width, height)
        mark = self.chance.choice(marks)
        upright = direction is Direction.UPRIGHT
        near, far = (
            ((mark, height), (width - mark, height)) if upright else ((width, mark), (width, height - mark))
        )
        kept, off = self.cut(roles, *near, depth - 1), self.cut(roles, *far, depth - 1)
        return [joined(direction, part, [each]) for part, each in zip(kept, off, strict=True)]

    def leaves(self, roles: tuple[str, ...], width: int, height: int) -> list[Part]:
        can_be_piece = all(side % self.step == 0 or side in self.sheet for side in (width, height))
        if not can_be_piece or self.chance.random() < HALF / 2:
            return [Offcut(width, height)] * len(roles)
        turned, page = self.chance.random() < HALF, self.chance.choice(self.pages)
        return [self.wanted.piece(role, width, height, turned, page) for role in roles]


def leaves_of(tree: Part) -> list[Part]:
    """Return the pieces and offcuts of a tree."""
    return [leaf for part in tree.parts for leaf in leaves_of(part)] if isinstance(tree, Cut) else [tree]
