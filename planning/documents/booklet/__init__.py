"""The subscriber's booklet: what it says, as data. `pdf.booklet` prints it, `planning.views.booklet` shows it."""

from planning.documents.booklet.compose import booklet
from planning.documents.booklet.model import (
    Booklet,
    BoxContents,
    BoxGroup,
    BoxLine,
    Chapter,
    LaidPage,
    LaidPiece,
    LeftOver,
    LiftToCut,
    ListedPiece,
    PaperRest,
    PhotoToPrint,
    SheetOfPaper,
    Work,
)

__all__ = [
    "Booklet",
    "BoxContents",
    "BoxGroup",
    "BoxLine",
    "Chapter",
    "LaidPage",
    "LaidPiece",
    "LeftOver",
    "LiftToCut",
    "ListedPiece",
    "PaperRest",
    "PhotoToPrint",
    "SheetOfPaper",
    "Work",
    "booklet",
]
