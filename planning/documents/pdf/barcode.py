"""Code 128 as bars, drawn so that a 200 dpi printer in black and white keeps every bar whole."""

from collections.abc import Iterator, Sequence

from reportlab.pdfgen.canvas import Canvas

from planning.documents.codes import code128

DOT = 72 / 200  # points; one dot of a 200 dpi printer
QUIET = 10  # blank modules on either side of a symbol (ISO/IEC 15417, from memory)
WIDEST_MODULE = 3  # dots
INSET = DOT / 20  # a printer blackens every dot that a bar as much as touches, so bars keep off the next one

# Widths of bar, space, bar ... in modules, by symbol value; the last is the stop (ISO/IEC 15417, from memory:
# the tests read every one of them back).
PATTERNS = """
212222 222122 222221 121223 121322 131222 122213 122312 132212 221213 221312 231212 112232 122132 122231
113222 123122 123221 223211 221132 221231 213212 223112 312131 311222 321122 321221 312212 322112 322211
212123 212321 232121 111323 131123 131321 112313 132113 132311 211313 231113 231311 112133 112331 132131
113123 113321 133121 313121 211331 231131 213113 213311 213131 311123 311321 331121 312113 312311 332111
314111 221411 431111 111224 111422 121124 121421 141122 141221 112214 112412 122114 122411 142112 142211
241211 221114 413111 241112 134111 111242 121142 121241 114212 124112 124211 411212 421112 421211 212141
214121 412121 111143 111341 131141 114113 114311 411113 411311 113141 114131 311141 411131 211412 211214
211232 2331112
"""
WIDTHS = tuple(tuple(map(int, pattern)) for pattern in PATTERNS.split())


def draw_code(canvas: Canvas, text: str, x: float, y: float, width: float, height: float) -> None:
    """Draw a text's bars in the middle of a place `width` wide, its lower left corner at x, y (points).

    Modules are whole dots wide and stand on whole dots. Raises ValueError where the narrowest do not fit.
    """
    spans = tuple(bars(code128(text)))
    modules = spans[-1][0] + spans[-1][1] + 2 * QUIET
    dots = min(WIDEST_MODULE, int(width / DOT) // modules)
    if dots == 0:
        raise ValueError(f"the bars of {text!r} do not fit into {width:.0f} points")
    left = round((x + width / 2) / DOT) - modules * dots // 2 + QUIET * dots
    path = canvas.beginPath()
    for start, wide in spans:
        path.rect((left + start * dots) * DOT + INSET, y, wide * dots * DOT - 2 * INSET, height)
    canvas.drawPath(path, stroke=0, fill=1)


def bars(symbols: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Yield the start and the width of each bar, in modules from the left edge of the first."""
    place = 0
    for symbol in symbols:
        for number, width in enumerate(WIDTHS[symbol]):
            if number % 2 == 0:
                yield place, width
            place += width
