"""Code 128 as bars, drawn so that a 200 dpi printer in black and white keeps every bar whole."""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import count

from reportlab.lib.rl_accel import fp_str

from planning.documents.codes import code128

DOT = 72 / 200  # points; one dot of a 200 dpi printer
QUIET = 10  # blank modules on either side of a symbol (ISO/IEC 15417, from memory)
WIDEST_MODULE = 3  # dots
SYMBOL, LAST_BAR = 11, 2  # modules of a symbol; of the bar that ends the stop, which is a symbol and this bar
REMEMBERED = 8_000  # symbols in their places: those of a wave's codes
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


def code_marks(text: str, x: float, y: float, width: float, height: float) -> str:
    """Return a text's bars as a PDF's operators, in the middle of a place, its lower left corner at x, y (points).

    Modules are whole dots wide and stand on whole dots. Raises ValueError where the narrowest do not fit.
    """
    symbols = code128(text)
    modules = SYMBOL * len(symbols) + LAST_BAR + 2 * QUIET
    dots = min(WIDEST_MODULE, int(width / DOT) // modules)
    if dots == 0:
        raise ValueError(f"the bars of {text!r} do not fit into {width:.0f} points")
    left = round((x + width / 2) / DOT) - modules * dots // 2 + QUIET * dots
    marks = [
        symbol_marks(symbol, place, dots, y, height)
        for place, symbol in zip(count(left, SYMBOL * dots), symbols, strict=False)
    ]
    return f"{' '.join(marks)} f*"


@lru_cache(maxsize=REMEMBERED)
def symbol_marks(symbol: int, left: int, dots: int, y: float, height: float) -> str:
    """Return the bars of one symbol. left, dots: where it begins and how wide a module is, in dots."""
    return " ".join(
        f"{fp_str((left + start * dots) * DOT + INSET, y, wide * dots * DOT - 2 * INSET, height)} re"
        for start, wide in bars((symbol,))
    )


def bars(symbols: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Yield the start and the width of each bar, in modules from the left edge of the first."""
    place = 0
    for symbol in symbols:
        for number, width in enumerate(WIDTHS[symbol]):
            if number % 2 == 0:
                yield place, width
            place += width
