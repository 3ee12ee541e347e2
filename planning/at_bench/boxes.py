"""The boxes that benches ask for: found by what was scanned, read like the slips, locked while acts are followed."""

from collections.abc import Collection
from dataclasses import dataclass

from planning.at_bench.released import Released, read, signature_of
from planning.documents.listing import Box
from planning.listing.read import boxes_in
from planning.models import BoxWork, Plan, TrackingNumber
from planning.packed import BoxList, BoxState, ScanError, Status, read_scan
from planning.packing import BoxSpec

FIELDS = ("status", "bench", "who", "until", "wrong", "tenths", "closed_at", "pulled", "acts")


@dataclass(slots=True)
class Held:
    """A box with its row, locked. box: as the plan has it; its list: what must be in it."""

    row: BoxWork
    box: Box
    spec: BoxSpec
    list: BoxList

    @property
    def state(self) -> BoxState:
        """How it stands."""
        return state_of(self.row)


def state_of(row: BoxWork) -> BoxState:
    """Return how a box stands as plain data."""
    values = {name: getattr(row, name) for name in FIELDS}
    values["status"] = Status(row.status)
    return BoxState(**values, trail=tuple((item, count) for item, count in row.trail))


def keep_state(row: BoxWork, state: BoxState) -> None:
    """Put plain data into a row, unsaved."""
    for name in FIELDS:
        setattr(row, name, getattr(state, name))
    row.trail = [list(one) for one in state.trail]


# --- What was scanned ---


class WhichVersionError(ScanError):
    """A code whose box was another one in an earlier plan; somebody must look which version the slip says."""

    def __init__(self, code: str, version: int) -> None:
        super().__init__(
            f"Look at the foot of the slip: {code} was another box in an earlier version of the plan. "
            f"Version {version} is packed now."
        )
        self.version = version


def serial_scanned(released: Released, text: str, version: int | None = None) -> int:
    """Return the serial of the box that was scanned. version: what a person says is printed on the slip.

    Raises ScanError for another month's, an earlier plan's, a box that is not there, and anything that is no box code.
    """
    club, packed_now = released.planned.club, released.plan.version
    scan = read_scan(text, club.code, club.month)
    said = scan.version if scan.version is not None else version
    if said != packed_now and (serial := carried_serial(released, scan.code, said)) is not None:
        return serial
    if not 1 <= scan.serial <= released.plan.boxes:
        raise ScanError(f"{scan.code} is no box of this plan. Put it aside and ask at the desk.")
    if said is None and was_another_box(released, scan.serial):
        raise WhichVersionError(scan.code, packed_now)
    if said is not None and said != packed_now:
        raise ScanError(
            f"{scan.code} is a slip of version {said}; version {packed_now} is packed now. "
            "Put it aside and take the slip of that version."
        )
    return scan.serial


def carried_serial(released: Released, code: str, version: int | None) -> int | None:
    """Return what a box that an earlier version packed stands for now. version: of its slip, None where nobody knows."""
    works = BoxWork.objects.filter(plan=released.plan, code=code, packed_by__isnull=False)
    if version is not None:
        works = works.filter(packed_by=version)
    return works.values_list("serial", flat=True).first()


def was_another_box(released: Released, serial: int) -> bool:
    """Tell whether a serial stood for another person or other contents in a plan that was released before."""
    before = (
        Plan.objects.filter(releases__month=released.row.month_id).exclude(pk=released.plan.pk).distinct()
    )
    earlier = list(before.defer("answers"))
    return bool(earlier) and any(
        label(plan, serial) != label(released.plan, serial) for plan in earlier if plan.boxes >= serial
    )


def label(plan: Plan, serial: int) -> tuple[str, str]:
    """Return whose a box of a plan is and what is in it."""
    reference, number = plan.listed.values_list("reference", "box_class").get(serial=serial)
    planned, specs = read(plan)
    return reference, signature_of(specs[planned.plan.roster.classes[number].contents])


# --- Rows ---


def read_box(released: Released, serial: int) -> tuple[Box, BoxSpec]:
    """Return a box as the plan has it. Raises ScanError where it is not there, or nobody has its reference any more."""
    rows = released.plan.listed.filter(serial=serial)
    try:
        box = next(boxes_in(rows, released.plan, released.planned.plan, released.planned.club), None)
    except KeyError as gone:
        raise ScanError(
            f"Nobody on the roster has the reference {gone.args[0]} any more. Put the box aside."
        ) from None
    if box is None:
        raise ScanError("There is no such box in this plan. Put it aside and ask at the desk.")
    return box, released.specs[box.box_class.contents]


def hold(released: Released, serials: Collection[int]) -> dict[int, Held | ScanError]:
    """Lock boxes until the transaction ends, in the order of their serials; or say why there is no such box."""
    found: dict[int, tuple[Box, BoxSpec]] = {}
    lost: dict[int, Held | ScanError] = {}
    for serial in sorted(serials):
        try:
            found[serial] = read_box(released, serial)
        except ScanError as error:
            lost[serial] = error
    rows = BoxWork.objects.filter(plan=released.plan, serial__in=found).order_by("serial")
    there = set(rows.values_list("serial", flat=True))
    fresh = [new_row(released, *each) for serial, each in found.items() if serial not in there]
    BoxWork.objects.bulk_create(fresh, ignore_conflicts=True)
    locked = list(rows.select_for_update())
    sent = with_carrier(released, [row.code for row in locked])
    return lost | {row.serial: held(released, row, *found[row.serial], sent) for row in locked}


def held(released: Released, row: BoxWork, box: Box, spec: BoxSpec, sent: Collection[str]) -> Held:
    """Return a box with its row and its list. sent: codes of boxes that the carrier has."""
    return Held(row, box, spec, released.list_of(spec, sent=row.code in sent))


def new_row(released: Released, box: Box, spec: BoxSpec) -> BoxWork:
    """Return the unsaved row of an untouched box."""
    return BoxWork(
        plan=released.plan,
        serial=box.serial,
        wave=box.wave,
        code=box.code,
        reference=box.subscriber.reference,
        signature=signature_of(spec),
    )


def with_carrier(released: Released, codes: Collection[str]) -> set[str]:
    """Return which of some codes have a tracking number."""
    numbers = TrackingNumber.objects.filter(month=released.row.month_id, box__in=codes)
    return set(numbers.values_list("box", flat=True))
