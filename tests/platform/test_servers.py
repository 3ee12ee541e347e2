"""The fixtures of conftest.py really answer, and Django really works on the servers they start."""

import os
import re
import subprocess
import sys
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import psycopg
import pytest
import redis
from django.contrib.auth.models import User
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer
from reportlab.pdfgen.canvas import Canvas

from tests.support.effort import thorough

MANAGE = Path(__file__).parents[2] / "manage.py"


def test_redis_keeps_what_it_is_given(redis_server: str) -> None:
    with redis.Redis.from_url(redis_server, decode_responses=True) as client:
        client.set("ribbon", "12 m")
        assert client.get("ribbon") == "12 m"


@thorough
def test_django_migrates_the_postgresql_named_by_database_url(postgres_database: str, tmp_path: Path) -> None:
    environment = os.environ | {"DATABASE_URL": postgres_database, "KITS_DATA_DIR": str(tmp_path)}
    subprocess.run(
        [sys.executable, MANAGE, "migrate", "--verbosity=0"], env=environment, check=True, timeout=120
    )

    with psycopg.connect(postgres_database) as connection:
        assert connection.execute("SELECT count(*) FROM auth_user").fetchone() == (0,)
    assert not list(tmp_path.glob("*.sqlite3"))


def test_each_test_gets_an_empty_postgresql_database(postgres_database: str) -> None:
    with psycopg.connect(postgres_database) as connection:
        found = connection.execute("SELECT count(*) FROM pg_tables WHERE schemaname = 'public'").fetchone()
    assert found == (0,)


@pytest.mark.django_db(transaction=True)
def test_a_browser_and_the_test_reach_the_same_database(live_server: LiveServer, page: Page) -> None:
    answer = page.goto(f"{live_server.url}/healthz")
    assert answer is not None
    assert (answer.status, page.inner_text("body").strip()) == (200, "ok")
    User.objects.create_superuser("cleo")  # Django allows the test its database although a browser runs
    assert User.objects.count() == 1


@thorough
def test_libreoffice_works_formulas_out_anew(
    libreoffice: Callable[[Path, str], Path], tmp_path: Path
) -> None:
    path = workbook(tmp_path / "pieces.xlsx", A1=12, A2=30, A3="=SUM(A1:A2)")
    keep_result(path, formula="SUM(A1:A2)", result=999)
    assert cell(path, "A3") == 999

    assert cell(libreoffice(path, "xlsx"), "A3") == 42


@thorough
def test_libreoffice_turns_a_workbook_into_pages(
    libreoffice: Callable[[Path, str], Path], pdf_pages: Callable[[Path], list[Path]], tmp_path: Path
) -> None:
    path = workbook(tmp_path / "buy.xlsx", A1="Ribbon, 12 m")
    assert len(pdf_pages(libreoffice(path, "pdf"))) == 1


def workbook(path: Path, **cells: int | str) -> Path:
    book = openpyxl.Workbook()
    for place, value in cells.items():
        book["Sheet"][place] = value
    book.save(path)
    return path


def cell(path: Path, place: str) -> object:
    return openpyxl.load_workbook(path, data_only=True)["Sheet"][place].value


def keep_result(path: Path, formula: str, result: int) -> None:
    """Store a result beside the formula that its cells do not add up to."""
    with zipfile.ZipFile(path) as book:
        parts = {name: book.read(name).decode() for name in book.namelist()}
    with zipfile.ZipFile(path, "w") as book:
        for name, text in parts.items():
            book.writestr(
                name, re.sub(rf"(<f>{re.escape(formula)}</f>)<v ?(/>|></v>)", rf"\1<v>{result}</v>", text)
            )


@thorough
def test_every_page_of_a_pdf_becomes_a_picture(
    pdf_pages: Callable[[Path], list[Path]], tmp_path: Path
) -> None:
    path = tmp_path / "eleven.pdf"
    canvas = Canvas(str(path))
    for number in range(11):
        canvas.drawString(72, 72, str(number))
        canvas.showPage()
    canvas.save()
    pages = pdf_pages(path)
    assert [page.name for page in pages] == [f"page-{number:02}.png" for number in range(1, 12)]


def test_a_missing_program_is_named_and_fails_only_on_demand(
    need: Callable[[str, str], str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("REQUIRE_ALL", raising=False)
    with pytest.raises(pytest.skip.Exception, match="no-such-program is not installed: it folds"):
        need("no-such-program", "it folds")
    monkeypatch.setenv("REQUIRE_ALL", "1")
    with pytest.raises(pytest.fail.Exception, match="no-such-program is not installed: it folds"):
        need("no-such-program", "it folds")
