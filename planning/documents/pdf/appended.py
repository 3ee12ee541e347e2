"""Pages put behind the parts of a PDF that has none, and a new list of where each part begins.

ISO 32000-1, 7.5 (file structure) and 7.7.3 (page tree), from memory.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

TABLE = re.compile(rb"xref\n0 (\d+)\s*\n")
ENTRY = 20  # bytes
SIZE = re.compile(rb"/Size \d+")


@dataclass(frozen=True, slots=True)
class Pages:
    """What the pages share: the numbers of the parts that list them and hold their resources; their box."""

    parent: int
    resources: int
    box: bytes


def with_pages(file: bytes, shared: Pages, streams: Sequence[bytes]) -> bytes:
    """Return a file of one section with pages added to it. streams: what is on each page, packed by zlib."""
    begins = file.rindex(b"xref\n0 ")
    table = TABLE.match(file, begins)
    if table is None:
        raise ValueError("the library writes its files in another way than it did")
    count = int(table[1])
    entries = [file[at : at + ENTRY] for at in range(table.end(), table.end() + count * ENTRY, ENTRY)]
    trailer = file[table.end() + count * ENTRY : file.rindex(b"startxref")]

    parts, length = [file[:begins]], begins
    for part in page_parts(count, shared, streams):
        entries.append(b"%010d 00000 n \n" % length)
        parts.append(part)
        length += len(part)
    entries[shared.parent] = b"%010d 00000 n \n" % length
    parts.append(list_of_pages(count, shared.parent, len(streams)))
    table_at = length + len(parts[-1])
    parts += [b"xref\n0 %d\n" % len(entries), *entries, SIZE.sub(b"/Size %d" % len(entries), trailer)]
    return b"".join([*parts, b"startxref\n%d\n%%%%EOF\n" % table_at])


def page_parts(first: int, shared: Pages, streams: Sequence[bytes]) -> Iterator[bytes]:
    """Yield two parts a page: what is on it, and the page. first: the number of the first part."""
    page = (
        b"%%d 0 obj\n<< /Type /Page /Parent %d 0 R /Resources %d 0 R /MediaBox %b /Contents %%d 0 R >>\nendobj\n"
    ) % (shared.parent, shared.resources, shared.box)
    for number, stream in zip(range(first, first + 2 * len(streams), 2), streams, strict=True):
        head = b"%d 0 obj\n<< /Filter /FlateDecode /Length %d >>\nstream\n" % (number, len(stream))
        yield b"".join((head, stream, b"\nendstream\nendobj\n"))
        yield page % (number + 1, number)


def list_of_pages(first: int, parent: int, pages: int) -> bytes:
    """Return the part that lists every page."""
    kids = b"\n".join(b"%d 0 R" % number for number in range(first + 1, first + 1 + 2 * pages, 2))
    return b"%d 0 obj\n<< /Type /Pages /Count %d /Kids [\n%b ] >>\nendobj\n" % (parent, pages, kids)
