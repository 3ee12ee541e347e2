"""Which plan the benches pack, and what its boxes must hold."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from hashlib import sha256
from math import ceil, floor

from kits.models import Month
from planning import load
from planning.models import Plan, Release
from planning.packed import BoxList, Line, Weighing
from planning.packing import BoxSpec
from planning.requirements import Kind, code_of, kind_of
from planning.roster import Contents
from planning.run import Planned
from planning.shipping import Wave


@dataclass(frozen=True, slots=True)
class Released:
    """The plan that the benches of a month pack."""

    row: Release
    plan: Plan
    planned: Planned
    specs: Mapping[Contents, BoxSpec]

    def list_of(self, spec: BoxSpec, *, sent: bool = False) -> BoxList:
        """Return what must be in a box."""
        lines = tuple(line_of(line.item.item, line.item.name, line.count) for line in spec.lines)
        return BoxList(lines=lines, weighing=self.weighing(spec) if self.row.weigh else None, sent=sent)

    def weighing(self, spec: BoxSpec) -> Weighing:
        """Return what a box may weigh: as far below its nominal weight as above it, and what the scale may be off."""
        over = spec.heaviest - spec.weight
        return Weighing(
            max(0, floor((spec.weight - over) * 10) - self.row.scale),
            ceil(spec.heaviest * 10) + self.row.scale,
        )

    def wave(self, number: int) -> Wave:
        """Return a wave by its number, from 1."""
        return self.planned.plan.waves[number - 1]

    def items(self) -> dict[str, tuple[str, str]]:
        """Return every item of the month's boxes by what a scan of it reads: its name for the program and for people."""
        return {
            label_of(line.item.item): (line.item.item, line.item.name)
            for spec in self.planned.plan.packing.boxes
            for line in spec.lines
        }


def line_of(item: str, name: str, count: int) -> Line:
    """Return a line of a box's list."""
    return Line(item=item, code=label_of(item), name=name, count=count)


def label_of(item: str) -> str:
    """Return what a scan of an item reads; of a length cut from a roll, the label on the roll."""
    code = code_of(item).upper()
    return code.rpartition("@")[0] if kind_of(item) is Kind.LENGTH else code


def released(month: Month) -> Released | None:
    """Return what the benches pack, None before anything is released. Raises EarlierPlanError."""
    row = month.releases.select_related("plan").defer("plan__answers").first()
    if row is None:
        return None
    planned, specs = read(row.plan)
    return Released(row, row.plan, planned, specs)


def read(plan: Plan) -> tuple[Planned, Mapping[Contents, BoxSpec]]:
    """Return a plan and its boxes by their contents. Raises EarlierPlanError."""
    return _read(plan.pk, plan.plan_id, plan.version)


@lru_cache(
    maxsize=2
)  # a plan never changes, and every scan asks for the same one; the id alone may come again
def _read(plan: int, plan_id: str, version: int) -> tuple[Planned, Mapping[Contents, BoxSpec]]:
    planned = load.planned(Plan.objects.get(pk=plan))
    return planned, {spec.contents: spec for spec in planned.plan.packing.boxes}


def signature_of(spec: BoxSpec) -> str:
    """Return what tells boxes of other contents apart, also where two plans call unlike contents alike."""
    lines = "\n".join(f"{line.count} {line.item.item}" for line in spec.lines)
    return f"{spec.contents.name} #{sha256(lines.encode()).hexdigest()[:12]}"
