"""Remarks of the steps as sentences."""


def sentence(text: str) -> str:
    """Begin a remark with a capital and end it with a full stop; nothing said, nothing returned."""
    return f"{text[0].upper()}{text[1:].rstrip('.')}." if text else ""
