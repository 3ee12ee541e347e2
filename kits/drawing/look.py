"""How each kind of mark looks, on screen and on paper: ink on white, told apart in grey as well as in colour."""

from dataclasses import dataclass
from enum import StrEnum


class Style(StrEnum):
    """What a shape is. The same word is its class in an SVG, for a page's own stylesheet."""

    SHEET = "sheet"
    OUTLINE = "outline"
    PIECE = "piece"
    PHOTO = "photo"
    OFFCUT = "offcut"
    GAP = "gap"
    HATCH = "hatch"
    CUT = "cut"
    EDGE = "edge"
    TICK = "tick"
    ARROW = "arrow"
    CORNER = "corner"
    BLANK = "blank"
    LABEL = "label"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Look:
    """Colours as #rrggbb or none; the stroke's width in mm."""

    fill: str = "none"
    stroke: str = "none"
    stroke_width: float = 0


INK, SOFT, RULE, PAPER = "#20242b", "#575d68", "#b4ab98", "#ffffff"

LOOKS = {
    Style.SHEET: Look(PAPER, INK, 0.3),
    Style.OUTLINE: Look(stroke=INK, stroke_width=0.3),
    Style.PIECE: Look("#efe8d8", INK, 0.25),
    Style.PHOTO: Look("#d8e4ec", INK, 0.25),
    Style.OFFCUT: Look(PAPER, RULE, 0.25),
    Style.GAP: Look(RULE),
    Style.HATCH: Look(stroke=RULE, stroke_width=0.2),
    Style.CUT: Look(stroke=INK, stroke_width=0.5),
    Style.EDGE: Look(stroke=INK, stroke_width=0.9),
    Style.TICK: Look(stroke=SOFT, stroke_width=0.2),
    Style.ARROW: Look(stroke=SOFT, stroke_width=0.35),
    Style.CORNER: Look(INK),
    Style.BLANK: Look(PAPER),
    Style.LABEL: Look(INK),
    Style.NOTE: Look(SOFT),
}
