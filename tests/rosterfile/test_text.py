"""Rosters as other programs write them: encodings, marks between cells, line ends, quotation marks."""

from pathlib import Path

import pytest

from planning.monthfile import MonthFileError
from planning.rosterfile import Chunk, read_roster
from tests.support.months import tiny_month

HEADINGS = ["Reference", "Name", "Address line 1", "City", "Country", "Tier"]
PEOPLE = [
    ["A1", "Zoë Šimková", "1 Elm, rear", "Brno", "GB", "FULL"],
    ["A2", 'Ann "Bee"', "2 Oak\nfloor 3", "Leeds", "GB", "FULL"],
]


def csv_text(mark: str = ",", end: str = "\r\n") -> str:
    """Return the people as RFC 4180 has them: every cell in quotation marks, those inside doubled."""
    quoted = [mark.join('"' + cell.replace('"', '""') + '"' for cell in row) for row in (HEADINGS, *PEOPLE)]
    return end.join([*quoted, ""])


def read(tmp_path: Path, file: bytes | str) -> list[Chunk]:
    path = tmp_path / "roster.csv"
    path.write_bytes(file if isinstance(file, bytes) else file.encode())
    return list(read_roster(path, tiny_month()))


def names(chunks: list[Chunk]) -> list[tuple[int, str, str, str]]:
    return [(row, one.reference, one.name, one.address_1) for chunk in chunks for row, one in chunk.people]


EXPECTED = [(row, cells[0], cells[1], cells[2]) for row, cells in enumerate(PEOPLE, 2)]


def test_it_works(tmp_path: Path) -> None:
    chunks = read(tmp_path, csv_text())
    assert names(chunks) == EXPECTED
    assert [chunk.refused for chunk in chunks] == [()]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le-mark", "utf-16-be-mark"])
def test_every_encoding_that_says_which_it_is_is_read(encoding: str, tmp_path: Path) -> None:
    mark = "\ufeff" if encoding.endswith("-mark") else ""
    assert names(read(tmp_path, (mark + csv_text()).encode(encoding.removesuffix("-mark")))) == EXPECTED


@pytest.mark.parametrize("mark", [",", ";", "\t", "|"])
@pytest.mark.parametrize("end", ["\r\n", "\n", "\r"])
def test_every_mark_between_cells_and_every_end_of_a_line(mark: str, end: str, tmp_path: Path) -> None:
    assert names(read(tmp_path, csv_text(mark, end))) == EXPECTED


def test_a_first_line_that_names_the_mark_is_passed_over_and_counted(tmp_path: Path) -> None:
    """Some spreadsheets write it (common practice, no source)."""
    found = names(read(tmp_path, f"sep=;\r\n{csv_text(';')}"))
    assert found == [(one[0] + 1, *one[1:]) for one in EXPECTED]


def test_a_title_above_the_headings_and_empty_lines_do_no_harm(tmp_path: Path) -> None:
    assert [one[1:] for one in names(read(tmp_path, f"Our roster, May\n\n{csv_text()}\n,,\n"))] == [
        one[1:] for one in EXPECTED
    ]


def test_another_encoding_is_refused_with_the_line_and_what_it_seems_to_say(tmp_path: Path) -> None:
    """ü is FC in Windows-1252 (its code chart), which is no UTF-8."""
    file = csv_text().encode() + '"A3","Jürgen","3 Ash","Köln","GB","FULL"\r\n'.encode("cp1252")
    with pytest.raises(
        MonthFileError, match=r"Line 5 is not UTF-8 text.*Jürgen.*Save the file again as “CSV UTF-8”"
    ):
        read(tmp_path, file)


def test_a_file_cut_off_in_a_character_is_refused(tmp_path: Path) -> None:
    file = csv_text().encode("utf-16")[:-1]
    with pytest.raises(MonthFileError, match="ends in the middle of a character"):
        read(tmp_path, file)


@pytest.mark.parametrize(
    ("broken", "said"),
    [
        (csv_text() + '"A3,"x","y","z","GB","FULL"\n', r"Line 5 cannot be read as CSV.*quotation mark"),
        (csv_text() + '"A3,x,y,z,GB,FULL\n', r"cannot be read as CSV.*unexpected end"),
        ("", "The file is empty"),
        ("Name of dog,Age\nRex,3\n", "no headings were found"),
        (csv_text().replace("City", "Ctiy"), r"the heading Ctiy in column D is not one.*Did you mean City"),
        (csv_text().replace('"Tier"', '"City"'), "stands here already"),
        (b"\x00\x01\x02" * 50, "neither CSV nor a workbook"),
        (b"%PDF-1.7 ...", "is a PDF"),
        (b"<html><table>", "is a web page"),
        (b"PK\x03\x04 and no more", "is damaged"),
    ],
)
def test_what_cannot_be_read_is_refused_in_words(broken: str | bytes, said: str, tmp_path: Path) -> None:
    with pytest.raises(MonthFileError, match=said):
        read(tmp_path, broken)


def test_a_row_with_more_cells_than_headings_is_refused_not_shifted(tmp_path: Path) -> None:
    [chunk] = read(tmp_path, csv_text() + "A3,Bo,3 Ash, rear,Leeds,GB,FULL\nA4,Cy,4 Fir,Leeds,GB,FULL,,\n")
    assert [number for number, _ in chunk.people] == [2, 3, 5]  # empty cells too many are nobody's address
    [refused] = chunk.refused
    assert refused.number == 4
    assert "7 cells, but there are 6 headings" in str(refused.problems[0])


def test_no_folder_and_no_file(tmp_path: Path) -> None:
    with pytest.raises(MonthFileError, match="There is no file"):
        list(read_roster(tmp_path / "none.csv", tiny_month()))
    with pytest.raises(MonthFileError, match="is a folder"):
        list(read_roster(tmp_path, tiny_month()))
