"""Names and sentences in the text form: as they are where that is clear, else in double quotes."""

import re

RESERVED = frozenset(("at", "from", "of", "offcut", "edge", "spacing", "together"))

_PLAIN_WORD = re.compile(r"[^\W_](?:[^\W_]|[-'’.&/+!?_()])*")
_ESCAPED = re.compile(r"\\(?:u\{([0-9a-fA-F]{1,6})\}|(.))", re.DOTALL)
_KNOWN = {"n": "\n", "t": "\t", '"': '"', "\\": "\\"}
_SPELLED = {char: f"\\{letter}" for letter, char in _KNOWN.items()}


def name_text(name: str) -> str:
    """Return a name so that `Cursor.name` reads it back."""
    words = name.split(" ")
    is_plain = all(_PLAIN_WORD.fullmatch(word) and word.casefold() not in RESERVED for word in words)
    return name if is_plain and words[0][0].isalpha() else quoted(name)


def sentence_text(text: str) -> str:
    """Return a title or note so that `Cursor.sentence` reads it back."""
    is_plain = text.isprintable() and text == " ".join(text.split()) and not set('"#') & set(text)
    return text if is_plain and text else quoted(text)


def quoted(text: str) -> str:
    """Return a text in double quotes; whatever would break a line is spelled out."""
    return f'"{"".join(map(_spelled, text))}"'


def _spelled(char: str) -> str:
    if char in _SPELLED:
        return _SPELLED[char]
    return char if char.isprintable() else f"\\u{{{ord(char):x}}}"


def unquoted(inside: str) -> str:
    """Return what stands between quotes as it was meant."""
    return _ESCAPED.sub(lambda match: _meant(match[1], match[2]), inside)


def _meant(code: str | None, letter: str | None) -> str:
    if code is None:
        return _KNOWN.get(letter or "", letter or "")
    return chr(int(code, 16)) if int(code, 16) <= 0x10FFFF else "�"
