"""Every fault of the tests at full size: what is killed, and how soon the run goes on, every box once and every file whole.

The tests themselves are run, on servers they start, so that what is promised small and what is measured large are one thing.
"""

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from xml.etree.ElementTree import Element

from defusedxml.ElementTree import parse
from django.conf import settings

from planning.bench.rates import within
from planning.bench.row import Row

SCENES = Path("tests", "jobs", "test_faults.py")
PYTEST = ("-m", "pytest", "-q", "-n0", "-o", "junit_family=xunit1", str(SCENES))
LATEST = 60  # seconds until the next part is done
OURS = ("DATABASE_URL", "REDIS_URL", "KITS_DATA_DIR")  # the scenes start servers of their own
LONGEST = 36  # characters of a case's name


def fault_rows(boxes: int) -> Iterator[Row]:
    """Yield a row for each fault. Raises OSError where the tests are not here, or cannot be run."""
    around = {name: value for name, value in os.environ.items() if name not in OURS}
    with TemporaryDirectory() as folder:
        report = Path(folder, "report.xml")
        subprocess.run(  # noqa: S603 - our own tests
            [sys.executable, *PYTEST, f"--junitxml={report}"],
            cwd=settings.BASE_DIR,
            env=around | {"FAULT_BOXES": str(boxes), "THOROUGH": "1"},
            check=False,
            stdout=subprocess.DEVNULL,
        )
        if not report.exists():
            raise OSError(f"{SCENES} cannot be run here: install .requirements/test.txt in a checkout.")
        yield from (row(case, boxes) for case in parse(report).iter("testcase"))


def row(case: Element, boxes: int) -> Row:
    """Return how a fault went."""
    resumed = next((float(one.attrib["value"]) for one in case.iter("property")), 0.0)
    name = case.attrib["name"].removeprefix("test_").replace("_", " ")
    said = f"{ended(case, resumed)}; a run of {boxes:,} boxes"
    return Row(name[:LONGEST], None, int(resumed), None, said, resumed)


def ended(case: Element, resumed: float) -> str:
    """Say how a fault went."""
    for how in ("failure", "error", "skipped"):
        if (found := case.find(how)) is not None:
            return f"{how}: {found.attrib.get('message', '').partition(chr(10))[0][:100]}"
    return f"{within(resumed, LATEST)} s until work went on; every box once, every file whole"
