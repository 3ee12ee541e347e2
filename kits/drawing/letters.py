"""How wide a text is at most, without knowing the font it will be set in."""

# Widths in ems of DejaVu Sans, the widest of the usual sans-serif fonts, rounded up.
_CLASSES = {
    0.32: "'ijlIJ ,.",
    0.42: "/:;\\|f-()[]t!r",
    0.53: '"*_`sz?',
    0.64: "cLFkvxyPTYaoeESbdghnpqu$0123456789{}",
    0.7: "KAVBRXZC",
    0.8: "UHNDG&OQ",
    0.86: "w#+<=>^~×≈M",
}
_WIDTHS = {letter: width for width, letters in _CLASSES.items() for letter in letters}
_WIDEST = 1.0


def text_width(text: str, size: float) -> float:
    """Return a width that the text will hardly exceed in any usual sans-serif font, in the unit of the size."""
    return size * sum(_WIDTHS.get(letter, _WIDEST) for letter in text)
