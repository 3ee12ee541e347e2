"""A drawing as SVG, alone in a file or inside a page with a strict content security policy.

Looks are presentation attributes, which such a policy allows and any stylesheet overrules through the classes.
"""

from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

from kits.drawing.look import LOOKS, Look, Style
from kits.drawing.shapes import Anchor, Drawing, Group, Line, Path, Point, Rect, Shape, Text

FONTS = "system-ui, 'Segoe UI', Roboto, 'Noto Sans', 'DejaVu Sans', sans-serif"


def svg(drawing: Drawing, prefix: str) -> str:
    """Return the drawing as one <svg> element. The prefix keeps its ids apart from others in the same page."""
    if not prefix.isascii() or not prefix.replace("-", "").isalnum() or not prefix[0].isalpha():
        raise ValueError(
            f"an id begins with a letter and has letters, digits and hyphens only, not {prefix!r}"
        )
    title, description = f"{prefix}-title", f"{prefix}-description"
    width, height = _number(drawing.width), _number(drawing.height)
    size = f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}"'
    names = f'role="img" aria-labelledby="{title}" aria-describedby="{description}"'
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" {size} {names} font-family="{FONTS}">',
        f'<title id="{title}">{_text(drawing.title)}</title>',
        f'<desc id="{description}">{_text(drawing.description)}</desc>',
        *_written(drawing.shapes),
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def _written(shapes: Iterable[Shape]) -> Iterable[str]:
    for shape in shapes:
        match shape:
            case Group():
                moved = f' transform="translate({_point((shape.x, shape.y))})"' if shape.x or shape.y else ""
                yield f"<g class={quoteattr('drawn-' + shape.name)}{moved}>"
                yield from _written(shape.shapes)
                yield "</g>"
            case Rect():
                place = _attributes(x=shape.x, y=shape.y, width=shape.width, height=shape.height)
                yield f"<rect{place}{_look(shape.style)}/>"
            case Line():
                place = _attributes(x1=shape.x1, y1=shape.y1, x2=shape.x2, y2=shape.y2)
                yield f"<line{place}{_look(shape.style)}/>"
            case Path():
                yield f'<path d="{_way(shape)}"{_look(shape.style)}/>'
            case Text():
                yield _lettering(shape)


def _way(path: Path) -> str:
    end = "Z" if path.closed else ""
    return "".join("M" + "L".join(map(_point, line)) + end for line in path.lines)


def _lettering(text: Text) -> str:
    place = _attributes(x=text.x, y=text.y, font_size=text.size)
    anchor = "" if text.anchor is Anchor.START else f' text-anchor="{text.anchor}"'
    upwards = f' transform="rotate(-90 {_point((text.x, text.y))})"' if text.upwards else ""
    return f"<text{place}{anchor}{upwards}{_look(text.style)}>{_text(text.text)}</text>"


def _look(style: Style) -> str:
    look: Look = LOOKS[style]
    stroke = (
        f' stroke="{look.stroke}" stroke-width="{_number(look.stroke_width)}"' if look.stroke_width else ""
    )
    return f' class="drawn-{style}" fill="{look.fill}"{stroke}'


def _attributes(**values: float) -> str:
    return "".join(f' {name.replace("_", "-")}="{_number(value)}"' for name, value in values.items())


def _point(point: Point) -> str:
    return f"{_number(point[0])} {_number(point[1])}"


def _number(value: float) -> str:
    """Return a number to 1/100 mm, as short as it goes."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _text(text: str) -> str:
    """Return the text without what XML cannot hold: control characters, and halves of characters."""
    return escape("".join(each for each in text if each.isprintable() or each == "\n"))
