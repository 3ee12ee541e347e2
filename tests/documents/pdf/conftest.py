"""The small month's plan, and printed papers as people and machines see them."""

import subprocess
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader

from planning.documents.listing import Box, list_boxes
from planning.flow import MonthPlan
from tests.documents.small_month import MONTH, small_plan


@pytest.fixture(scope="session")
def plan() -> MonthPlan:
    return small_plan()


@pytest.fixture(scope="session")
def boxes(plan: MonthPlan) -> tuple[Box, ...]:
    return list_boxes(MONTH, plan)


@pytest.fixture(scope="session")
def texts() -> Callable[[bytes], list[str]]:
    """Return read(pdf) -> texts: the words of each page in one line, as a reader or a search finds them."""

    def read(pdf: bytes) -> list[str]:
        return [" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(pdf)).pages]

    return read


@pytest.fixture
def printed(need: Callable[[str, str], str], tmp_path: Path) -> Callable[[bytes], list[Image.Image]]:
    """Return draw(pdf) -> images: each page as a 200 dpi printer prints it, in black and white without grey."""
    pdftoppm = need("pdftoppm", "printed pages are drawn by poppler-utils")

    def draw(pdf: bytes) -> list[Image.Image]:
        path = tmp_path / "paper.pdf"
        path.write_bytes(pdf)
        subprocess.run(
            [pdftoppm, "-mono", "-r", "200", str(path), str(tmp_path / "page")], check=True, timeout=300
        )
        return [Image.open(page).convert("L") for page in sorted(tmp_path.glob("page-*.pbm"))]

    return draw
