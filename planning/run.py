"""A whole run, as the command line and the background job share it: plan a month, write its papers."""

import csv
import hashlib
import io
import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, fields, replace
from datetime import date, datetime
from pathlib import Path, PurePosixPath
from tempfile import NamedTemporaryFile
from typing import IO

from planning.balance import BalanceError
from planning.calendar import CalendarError
from planning.chances import ChancesError
from planning.curve import CurveProblem, CurveResult, plan_curve
from planning.cutting import CuttingError
from planning.digests import digest, fingerprint_of
from planning.documents.paper import Paper
from planning.documents.stamp import Stamp
from planning.flow import MonthPlan, PlanError, Tell, plan_month
from planning.forecast import ForecastError
from planning.gaps import Gap, gaps
from planning.month import Club, Month
from planning.names import names_of
from planning.problems import promised_day
from planning.requirements import RequirementsError
from planning.roster import RosterProblem

# What stands in the way of a plan; each message is for people.
MONTH_ERRORS = (
    BalanceError,
    CalendarError,
    ChancesError,
    CuttingError,
    ForecastError,
    PlanError,
    RequirementsError,
)
# Points of the cost curve kept with a plan, for up to so many classes of boxes, and the fewest for more
POINTS, CLASSES, LEAST_POINTS = 40, 50, 12
OTHER_COUNTS = "other counts"  # what is told while they are costed
INDEX, BUNDLE = "index.csv", "all-papers.zip"
INDEX_HEADINGS = ("file", "what it is", "bytes", "SHA-256", "plan")
Count = Callable[[int, int], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """A plan with all that its pages say besides: whose it is, the promise, names, what was not said, its cost curve."""

    stamp: Stamp
    club: Club
    promised: date
    names: dict[str, str]
    plan: MonthPlan
    gaps: tuple[str, ...] = ()
    curve: CurveResult | None = None


@dataclass(frozen=True, slots=True)
class Written:
    """A paper that was written: its path under the folder, what it is, and its bytes by size and SHA-256."""

    name: str
    title: str
    size: int
    sha256: str


@dataclass(frozen=True, slots=True)
class Counted:
    """A roster that was counted where it lies, for a book that holds nobody; and the id of every plan of the whole month."""

    plan_id: str
    people: RosterProblem


def make_plan(
    month: Month,
    version: int,
    made_at: datetime,
    tell: Tell = lambda step: None,
    counted: Counted | None = None,
    *,
    quick: bool = False,
) -> Planned:
    """Plan a month and stamp the plan. made_at: aware, UTC. quick, and what is raised: see `planning.flow.plan_month`."""
    name = counted.plan_id if counted else plan_id(month)
    plan = plan_month(month, tell, counted.people if counted else None, quick=quick)
    return Planned(
        stamp=Stamp(plan_id=name, version=version, made_at=made_at),
        club=month.club,
        promised=promised_day(month),
        names=names_of(month),
        plan=plan,
        gaps=tuple(map(str, all_gaps(month))),
    )


def costed(month: Month, planned: Planned) -> Planned:
    """Return a plan with what its month would cost at other counts, each planned as a whole."""
    return replace(planned, curve=cost_curve(month, planned.plan))


def cost_curve(month: Month, plan: MonthPlan) -> CurveResult | None:
    """Return what the month costs at other counts, fewer of them for a month of many classes; None where one has no plan."""
    points = max(LEAST_POINTS, min(POINTS, POINTS * CLASSES // max(1, len(plan.roster.classes))))
    try:
        return plan_curve(
            CurveProblem(
                month=month, contents=plan.contents, roster=plan.roster, known=plan.cutting, points=points
            )
        )
    except MONTH_ERRORS:
        return None


def all_gaps(month: Month) -> tuple[Gap, ...]:
    """Return what the month does not say, and what of it the papers cannot print."""
    from planning.documents.unprinted import unprinted_names, unprinted_people

    return (*gaps(month), *unprinted_names(month), *unprinted_people(month))


# --- What a plan is called ---


def plan_id(month: Month) -> str:
    """Return the id of every plan of these rows: club, month and the rows' fingerprint."""
    return id_of(month.club.code, str(month.club.month), fingerprint(month))


def id_of(club: str, month: str, fingerprint: str) -> str:
    """Join the parts of a plan's id."""
    return f"{club}-{month}-{fingerprint}"


def fingerprint(month: Month) -> str:
    """Return a short hash of all rows: equal months, equal fingerprint, however their decimals were written."""
    return fingerprint_of(digests(month))


def digests(month: Month) -> dict[str, int]:
    """Return the digest of every table of a month."""
    held = {table.name: getattr(month, table.name) for table in fields(month)}
    return {name: digest(rows if isinstance(rows, tuple) else (rows,)) for name, rows in held.items()}


# --- Papers ---


def write_papers(
    papers: Iterable[Paper], out: Path, stamp: Stamp, tell: Count = lambda done, total: None
) -> tuple[Written, ...]:
    """Write each paper under a temporary name and rename it once it is whole; write an index beside them.

    Papers that an earlier run wrote here and this one did not are removed, unless somebody changed them since: an old
    slip in the same folder would be packed from. tell hears how many are done, of how many. Raises OSError.
    """
    wanted, before = tuple(papers), read_index(out)
    written = []
    for done, paper in enumerate(wanted):
        tell(done, len(wanted))
        written.append(write(paper, out))
    remove_stale(before, written, out)
    put(out / INDEX, index(written, stamp))
    tell(len(wanted), len(wanted))
    return tuple(written)


def write(paper: Paper, out: Path) -> Written:
    """Write one paper."""
    made = paper.make()
    put(place(paper.name, out), made)
    return Written(paper.name, paper.title, len(made), hashlib.sha256(made).hexdigest())


def place(name: str, out: Path) -> Path:
    """Return where a paper lies. Raises ValueError for a name that leads out of the folder."""
    if not leads_inside(name):
        raise ValueError(f"{name!r} is no name for a paper: write a path inside its folder")
    return out / name


def leads_inside(name: str) -> bool:
    """Tell whether a relative path stays in the folder it starts from."""
    path = PurePosixPath(name)
    return bool(path.parts) and not path.is_absolute() and ".." not in path.parts


def put(path: Path, made: bytes) -> None:
    """Make the file appear at once and whole, whoever reads or writes it meanwhile."""
    with writing(path) as file:
        file.write(made)


@contextmanager
def writing(path: Path) -> Iterator[IO[bytes]]:
    """Open a file that appears at once and whole when the block ends, and not at all where it fails."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with NamedTemporaryFile(dir=path.parent, prefix=".", suffix=".part", delete=False) as fresh:
        part = Path(fresh.name)
        try:
            yield fresh
            fresh.flush()
            os.fsync(fresh.fileno())  # whole on the disk before it has its name, whatever fails then
            fresh.close()
            part.chmod(0o644)
            part.replace(path)
        except BaseException:
            part.unlink(missing_ok=True)
            raise


def index(written: Sequence[Written], stamp: Stamp) -> bytes:
    """Return the list of papers as CSV."""
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\r\n")
    table.writerow(INDEX_HEADINGS)
    table.writerows((each.name, each.title, each.size, each.sha256, stamp.text) for each in written)
    return text.getvalue().encode()


def read_index(out: Path) -> dict[str, str]:
    """Return the papers an earlier run left in the folder: name -> SHA-256."""
    try:
        with (out / INDEX).open(newline="", encoding="utf-8") as file:
            rows = ((row[INDEX_HEADINGS[0]], row[INDEX_HEADINGS[3]]) for row in csv.DictReader(file))
            return {name: sha256 for name, sha256 in rows if leads_inside(name)}
    except (OSError, KeyError, UnicodeDecodeError, csv.Error):
        return {}


def remove_stale(before: dict[str, str], written: Sequence[Written], out: Path) -> None:
    """Remove what an earlier run wrote here, nobody changed, and this run did not write."""
    for name in before.keys() - {each.name for each in written}:
        path = place(name, out)
        if path.is_file() and hashlib.sha256(path.read_bytes()).hexdigest() == before[name]:
            path.unlink()
