"""How the workbook looks: ink on white, hairlines, and one warm colour that means "needs you" and nothing else."""

from collections.abc import Iterator

from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Side

from planning.documents.workbook.table import WORDS, Look

FONT = "Arial"  # on every machine, or one of equal widths in its place
INK = "20242B"
SOFT = "575D68"
RULE = "B4AC9B"
FAINT = "F3EEE3"
NEED = "A63C17"

TITLE, SAYS, HEAD, HEAD_OF_FIGURES = "title", "says", "head", "head of figures"
NEEDS_YOU, TOTAL = "needs you", "total"


def number_format(look: Look, exponent: int) -> str:
    """Return the format of a look's figures; exponent: decimals of the club's money."""
    cents = "." + "0" * exponent if exponent else ""
    return {
        Look.COUNT: "#,##0",
        Look.MONEY: f"#,##0{cents}",
        Look.PRICE: f"#,##0{cents or '.'}{'#' * (6 - exponent)}",
        Look.TENTHS: "#,##0.0",
        Look.HUNDREDTHS: "#,##0.00",
        Look.SHARE: "0%",
        Look.DAY: "[$-809]d mmm yyyy",  # in English whatever the machine's own language
        Look.WEEKDAY: "[$-809]ddd d mmm yyyy",
    }.get(look, "General")


def styles(exponent: int) -> Iterator[NamedStyle]:
    """Yield every style of the workbook: titles and heads, and each look plain, as a total, and where it needs you."""
    left = Alignment(horizontal="left", vertical="top", wrap_text=True, indent=1)
    right = Alignment(horizontal="right", vertical="bottom", wrap_text=True)
    below = Border(bottom=Side("thin", color=INK))
    shade = PatternFill("solid", fgColor=FAINT)
    yield NamedStyle(TITLE, Font(FONT, 16, bold=True, color=INK), alignment=Alignment("left", indent=1))
    yield NamedStyle(SAYS, Font(FONT, 10, color=SOFT), alignment=left)
    heads = Font(FONT, 9, bold=True, color=SOFT)
    yield NamedStyle(HEAD, heads, shade, below, Alignment("left", "bottom", wrap_text=True, indent=1))
    yield NamedStyle(HEAD_OF_FIGURES, heads, shade, below, right)
    for look in Look:
        yield from styles_of(look, exponent)


def styles_of(look: Look, exponent: int) -> Iterator[NamedStyle]:
    """Yield a look's three styles."""
    hairline, line = Border(bottom=Side("hair", color=RULE)), Border(top=Side("thin", color=INK))
    words = look in WORDS  # a step in from the left, so that they keep clear of figures before them
    alignment = Alignment("left" if words else "right", "top", wrap_text=words, indent=int(words))
    for name, bold, color, border in (
        (look.value, False, INK, hairline),
        (f"{look} {NEEDS_YOU}", True, NEED, hairline),
        (f"{look} {TOTAL}", True, INK, line),
    ):
        font = Font(FONT, 10, bold=bold, color=color, underline="single" if look is Look.LINK else None)
        style = NamedStyle(name, font, border=border, alignment=alignment)
        style.number_format = number_format(look, exponent)
        yield style
