"""Dates, counts, sizes and weights as the papers put them."""

from datetime import date
from fractions import Fraction

from kits.catalogue import Grain, Material
from kits.measures import INCH, MM, LengthUnit, format_exact, format_length, pounds_from_grams

LETTER = "Letter"
PAPER_SIZES = ("A4", LETTER)


def day(when: date | None) -> str:
    """Return a day such as `Wed 3 Mar 2027`."""
    return f"{when:%a} {short_day(when)}" if when else "no date"


def short_day(when: date) -> str:
    """Return a day such as `3 Mar 2027`."""
    return f"{when.day} {when:%b %Y}"


def count(number: int, one: str, many: str = "") -> str:
    """Return a number with its noun: `1 sheet`, `1,200 sheets`."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"


def packs(quantity: int, pack: int) -> str:
    """Return a quantity in packs and what comes out of one more: `4 packs of 25 and 3`."""
    full, loose = divmod(quantity, pack)
    if full == 0:
        return f"from a pack of {pack:,}"
    return f"{count(full, 'pack')} of {pack:,}" + (f" and {loose:,}" if loose else "")


def size(*sides: int) -> str:
    """Return a size, the unit once where all sides share it: `12 x 12 in`."""
    texts = [format_length(side) for side in sides]
    units = {text.rpartition(" ")[2] for text in texts}
    if len(units) == 1:
        texts[:-1] = [text.rpartition(" ")[0] for text in texts[:-1]]
    return " x ".join(texts)


def rounded(value: Fraction, places: int) -> str:
    """Return a value that is not negative to some decimals, a half up: `1.24`, `1,200`."""
    units = (value * 10**places + Fraction(1, 2)) // 1
    whole, rest = divmod(units, 10**places)
    return f"{whole:,}" + (f".{rest:0{places}}" if places else "")


def weight(grams: Fraction, paper: str) -> str:
    """Return a weight for reading: grams or kilograms, and pounds too in a club that prints on Letter."""
    metric = f"{rounded(grams / 1000, 2)} kg" if grams >= 1000 else f"{rounded(grams, 0)} g"
    return f"{metric} ({rounded(pounds_from_grams(grams), 2)} lb)" if paper == LETTER else metric


def height(length: Fraction, paper: str) -> str:
    """Return the height of a stack for reading, in the club's kind of unit."""
    return f"{rounded(length / INCH, 2)} in" if paper == LETTER else f"{rounded(length / MM, 1)} mm"


def grain(which: Grain, width: int, height: int) -> str:
    """Return the direction of the fibres by the side they run along, its length where that tells it."""
    if which is Grain.NONE:
        return "not known"
    side = width if which is Grain.WIDTH else height
    return f"along the {which}" if width == height else f"along the {format_length(side)} side"


def long_length(length: int) -> str:
    """Return the length of a roll or a ribbon in the unit in which it is shortest: `25 m`, `10 yd`, `1.5 m`."""
    units = (LengthUnit.METRE, LengthUnit.YARD, LengthUnit.INCH)
    return min((format_exact(length, unit) for unit in units), key=len)


def material_words(material: Material) -> str:
    """Return what a supplier needs to know of a material besides its name: size, weight, grain."""
    inside = (material.inside_width, material.inside_height, material.inside_depth)
    words: list[str] = []
    if material.width is not None and material.height is not None:
        words.append(size(material.width, material.height) + " outside" * material.is_container)
    if material.is_container:
        words.append(f"{size(*(side for side in inside if side))} inside")
    if material.grammage is not None:
        words.append(str(material.grammage))
    if material.grain is not Grain.NONE and material.width and material.height:
        words.append(f"grain {grain(material.grain, material.width, material.height)}")
    if material.roll_length is not None:
        words.append(f"rolls of {long_length(material.roll_length)}")
    return ", ".join(words)
