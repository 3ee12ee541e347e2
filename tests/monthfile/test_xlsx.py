"""Reading the cells of a workbook: what they mean, and what a hostile one can do."""

import io
import time
from datetime import datetime
from zipfile import ZIP_DEFLATED, BadZipFile, ZipFile

import openpyxl
import pytest

from planning.monthfile.xlsx import Broken, Row, Workbook
from tests.monthfile.files import saved

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
LINKS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
RELS = f"""<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Id="r1" Type="{LINKS}/%s" Target="%s"/>%s</Relationships>"""
TEXTS_AND_STYLES = f"""<Relationship Id="r2" Type="{LINKS}/sharedStrings" Target="/xl/texts.xml"/>
<Relationship Id="r3" Type="{LINKS}/styles" Target="styles.xml"/>"""


def moment(year: int, month: int, day: int, hour: int = 0, minute: int = 0) -> datetime:
    """Return a moment as spreadsheets know it, without a time zone."""
    return datetime(year, month, day, hour, minute)  # noqa: DTZ001


LONG = 15  # seconds, on a loaded machine


def workbook(rows: str, texts: str = "", settings: str = "", styles: str = "") -> Workbook:
    """Return a workbook of one sheet, from the rows of its XML."""
    parts = {
        "_rels/.rels": RELS % ("officeDocument", "xl/book.xml", ""),
        "xl/book.xml": f'<workbook xmlns="{MAIN}" xmlns:r="{LINKS}">{settings}<sheets>'
        '<sheet name="One" sheetId="1" r:id="r1"/></sheets></workbook>',
        "xl/_rels/book.xml.rels": RELS % ("worksheet", "sheets/one.xml", TEXTS_AND_STYLES),
        "xl/texts.xml": f'<sst xmlns="{MAIN}">{texts}</sst>',
        "xl/styles.xml": f'<styleSheet xmlns="{MAIN}">{styles}</styleSheet>',
        "xl/sheets/one.xml": rows
        if rows.startswith("<!")
        else f'<worksheet xmlns="{MAIN}"><sheetData>{rows}</sheetData></worksheet>',
    }
    buffer = io.BytesIO()
    with ZipFile(buffer, "w", ZIP_DEFLATED) as archive:
        for name, text in parts.items():
            archive.writestr(name, text)
    return Workbook(ZipFile(buffer))


def rows_of(rows: str, texts: str = "", settings: str = "", styles: str = "") -> list[Row]:
    return list(workbook(rows, texts, settings, styles).rows("One"))


def test_cells_of_every_type() -> None:
    assert rows_of(
        """<row r="2"><c r="A2"><v>7</v></c><c r="C2"><v>0.1</v></c><c r="D2" t="b"><v>1</v></c>
        <c r="E2" t="s"><v>1</v></c><c r="F2" t="str"><f>A2</f><v>worked out</v></c>
        <c r="G2" t="inlineStr"><is><t xml:space="preserve"> in line </t></is></c>
        <c r="H2" t="d"><v>2027-03-29</v></c><c r="AA2" t="s"><v>0</v></c></row>""",
        texts="<si><t>first</t></si><si><r><t>rich</t></r><r><t xml:space='preserve'> text</t></r>"
        "<rPh><t>read aloud</t></rPh></si>",
    ) == [
        (
            2,
            {
                1: 7,
                3: 0.1,
                4: True,
                5: "rich text",
                6: "worked out",
                7: " in line ",
                8: moment(2027, 3, 29).date(),
                27: "first",
            },
        )
    ]


def test_rows_and_cells_without_their_places_follow_each_other() -> None:
    assert rows_of(
        '<row><c><v>1</v></c><c/><c><v>3</v></c></row><row/><row><c r="B3"><v>2</v></c></row>'
    ) == [
        (1, {1: 1, 3: 3}),
        (3, {2: 2}),
    ]


def test_names_of_elements_may_have_a_prefix() -> None:
    text = f'<!-- x --><x:worksheet xmlns:x="{MAIN}"><x:sheetData><x:row><x:c><x:v>4</x:v></x:c></x:row></x:sheetData>'
    assert rows_of(f"{text}</x:worksheet>") == [(1, {1: 4})]


def test_a_formula_has_its_value_or_says_that_it_has_none() -> None:
    [(_, cells)] = rows_of(
        """<row><c><f>1+1</f><v>2</v></c><c><f>1+1</f><v></v></c><c><f>1+1</f></c>
        <c t="str"><f>""</f><v></v></c><c t="e"><f>1/0</f><v>#DIV/0!</v></c></row>"""
    )
    assert [type(cells.get(at)) for at in range(1, 6)] == [int, Broken, Broken, type(None), Broken]
    assert isinstance(cells[5], Broken)
    assert cells[5].shown == "#DIV/0!"


def test_dates_and_percentages_are_known_by_their_format() -> None:
    styles = """<numFmts><numFmt numFmtId="164" formatCode="yyyy\\-mm\\-dd"/><numFmt numFmtId="165" formatCode="0.0%"/>
    <numFmt numFmtId="166" formatCode="0 &quot;% of all&quot;"/></numFmts><cellStyleXfs><xf numFmtId="9"/></cellStyleXfs>
    <cellXfs><xf/><xf numFmtId="14"/><xf numFmtId="164"/><xf numFmtId="165"/><xf numFmtId="166"/></cellXfs>"""
    row = """<row><c><v>46110</v></c><c s="1"><v>46110</v></c><c s="2"><v>46110.5</v></c><c s="3"><v>0.025</v></c>
    <c s="4"><v>3</v></c><c s="2"><v>99999999</v></c><c s="2"><v>0.25</v></c></row>"""
    [(_, cells)] = rows_of(row, styles=styles)
    assert cells[1] == 46110
    assert cells[2] == moment(2026, 3, 29)
    assert cells[3] == moment(2026, 3, 29, 12)
    assert cells[4] == "2.5 %"
    assert cells[5] == 3
    assert isinstance(cells[6], Broken)
    assert cells[7] == "06:00:00"


def test_a_workbook_may_count_its_days_from_1904() -> None:
    [(_, cells)] = rows_of(
        '<row><c s="1"><v>0.5</v></c><c s="1"><v>1</v></c></row>',
        settings='<workbookPr date1904="1"/>',
        styles='<cellXfs><xf/><xf numFmtId="14"/></cellXfs>',
    )
    assert cells[2] == moment(1904, 1, 2)


@pytest.mark.parametrize(
    ("stored", "meant"),
    [
        ("a_x000D_\nb", "a\nb"),
        ("a_x000a_b", "a\nb"),
        ("a&#13;b", "a\nb"),
        ("_x005F_x0041_", "_x0041_"),
        ("_x0041_", "A"),
        ("_xD83D_", "_xD83D_"),
        ("_x41_", "_x41_"),
    ],
)
def test_escapes_are_undone(stored: str, meant: str) -> None:
    inline = f'<row><c t="inlineStr"><is><t>{stored}</t></is></c><c t="s"><v>0</v></c></row>'
    assert rows_of(inline, texts=f"<si><t>{stored}</t></si>") == [(1, {1: meant, 2: meant})]


def test_what_openpyxl_writes_is_read_as_openpyxl_reads_it() -> None:
    book = openpyxl.Workbook()
    page = book.active
    assert page is not None
    values = [
        "text",
        "=A1",
        12,
        0.1,
        True,
        moment(2027, 3, 29, 10, 30),
        None,
        "x" * 32_767,
        -5,
        1e-9,
        "é🎀",
    ]
    page.append(values)
    page["B1"].data_type = "s"
    file = saved(book)
    [(number, cells)] = Workbook(ZipFile(io.BytesIO(file))).rows("Sheet")
    theirs = openpyxl.load_workbook(io.BytesIO(file))["Sheet"]
    assert number == 1
    assert [cells.get(at) for at in range(1, 12)] == [theirs.cell(1, at).value for at in range(1, 12)]


HOSTILE = {
    "entities": '<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]><worksheet><sheetData/></worksheet>',
    "a document type": "<!DOCTYPE worksheet><worksheet/>",
    "cells without end": "<row>" + "<c/>" * 2_000_000 + "</row>",
    "rows without end": "<row/>" * 2_000_000,
    "a row beyond the last": '<row r="1048577"/>',
    "a row before the first": '<row r="-1"/>',
    "a column beyond the last": '<row><c r="XFE1"/></row>',
    "a column of nonsense": '<row><c r="ABCDEFG1"/></row>',
    "a text without end": "<row><c t='str'><v>" + "x" * 5_000_000 + "</v></c></row>",
    "a tag without end": '<row r="' + "1" * 9_000_000 + '"/>',
    "nesting without end": "<row>" * 500_000,
    "a number of many digits": "<row><c><v>" + "9" * 30_000 + "</v></c></row>",
    "a number that is none": "<row><c><v>seven</v></c></row>",
    "a text that is not there": '<row><c t="s"><v>9</v></c></row>',
    "a type nobody knows": '<row><c t="z"><v>9</v></c></row>',
    "an end too early": "<row></sheetData>",
}


@pytest.mark.parametrize("kind", HOSTILE)
def test_a_hostile_sheet_is_damaged_and_soon(kind: str) -> None:
    start = time.monotonic()
    with pytest.raises(BadZipFile):
        rows_of(HOSTILE[kind])
    assert time.monotonic() - start < LONG


def test_a_cell_in_the_last_corner_costs_nothing() -> None:
    start = time.monotonic()
    assert rows_of('<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>') == [(1_048_576, {16_384: 1})]
    assert time.monotonic() - start < 1


@pytest.mark.parametrize("number", [-1, 3, 10**30])
def test_a_shared_text_that_is_not_there_is_damage(number: int) -> None:
    cells = f'<row r="1"><c r="A1" t="s"><v>{number}</v></c></row>'
    with pytest.raises(BadZipFile):
        rows_of(cells, texts="<si><t>a</t></si><si><t/></si><si><t>水</t></si>")


def test_shared_texts_are_kept_apart_whatever_letters_they_hold() -> None:
    cells = "".join(f'<c t="s"><v>{number}</v></c>' for number in range(3))
    assert rows_of(
        f'<row r="1">{cells}</row>', texts="<si><t>é</t></si><si><t>水😀</t></si><si><t>b</t></si>"
    ) == [(1, {1: "é", 2: "水😀", 3: "b"})]
