"""The bytes of a workbook: the same for the same plan, with every formula's figure beside it.

A program that does not work formulas out (a preview, a phone, a script) then shows the plan's figures, too.
"""

from collections.abc import Mapping
from io import BytesIO
from zipfile import ZipFile

from lxml import etree  # type: ignore[import-untyped]
from openpyxl import Workbook
from openpyxl.packaging.custom import IntProperty, StringProperty
from openpyxl.packaging.extended import ExtendedProperties
from openpyxl.xml.functions import tostring

from planning.documents.stamp import Stamp
from planning.documents.workbook.cells import stored
from planning.documents.workbook.table import Value
from planning.monthfile.package import timeless

MAKER = "Kit production planning"
MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"

Figures = Mapping[str, Value]  # of each formula on a sheet, by its place


def workbook_bytes(book: Workbook, figures: Mapping[str, Figures], stamp: Stamp) -> bytes:
    """Return a workbook's bytes, the stamp in its properties. figures: of every formula, by sheet and place."""
    mark(book, stamp)
    written = BytesIO()
    book.save(written)
    own = {
        f"xl/worksheets/sheet{number}.xml": figures[sheet.title]
        for number, sheet in enumerate(book.worksheets, 1)
    }
    settled = BytesIO()
    with ZipFile(written) as before, ZipFile(settled, "w") as after:
        for name in before.namelist():
            part = with_figures(before.read(name), own[name]) if name in own else before.read(name)
            after.writestr(timeless(name), properties(book, stamp).get(name, part))
    return settled.getvalue()


def mark(book: Workbook, stamp: Stamp) -> None:
    """Say in the workbook's properties which plan it belongs to."""
    about = book.properties
    about.subject, about.identifier, about.version = stamp.text, stamp.plan_id, str(stamp.version)
    about.created = stamp.made_at.replace(tzinfo=None)
    own = book.custom_doc_props  # type: ignore[attr-defined]
    own.append(StringProperty(name="Plan", value=stamp.plan_id))
    own.append(IntProperty(name="Plan version", value=stamp.version))
    own.append(StringProperty(name="Plan made", value=stamp.made_at.isoformat()))


def properties(book: Workbook, stamp: Stamp) -> dict[str, bytes]:
    """Return the parts that would otherwise tell the time of saving and another maker."""
    book.properties.modified = stamp.made_at.replace(tzinfo=None)
    program = ExtendedProperties()
    program.Application = MAKER
    return {
        "docProps/core.xml": tostring(book.properties.to_tree()),
        "docProps/app.xml": tostring(program.to_tree()),
    }


def with_figures(sheet: bytes, figures: Figures) -> bytes:
    """Return a sheet with the plan's figure in the cell of each formula."""
    root = etree.fromstring(sheet)
    for cell in root.iter(f"{MAIN}c"):
        if cell.find(f"{MAIN}f") is not None:
            text, kind = stored(figures[cell.get("r")])
            cell.find(f"{MAIN}v").text = text
            if kind:
                cell.set("t", kind)
    settled: bytes = etree.tostring(root)
    return settled
