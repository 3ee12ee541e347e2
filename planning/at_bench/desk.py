"""What is done to a box at the desk: pulled and put back, goods booked, its slip printed again, its address changed."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from uuid import UUID

from django.db.transaction import atomic
from django.utils.timezone import now

from planning import load
from planning.at_bench.acts import act_row
from planning.at_bench.boxes import Held, hold, keep_state
from planning.at_bench.goods import book_goods
from planning.at_bench.released import Released
from planning.documents.stamp import Stamp
from planning.models import AddressChange, BoxAct
from planning.packed import GOODS, Act, Answer, BoxEvent, ScanError, follow
from planning.roster import Subscriber

ADDRESS = ("name", "address_1", "address_2", "address_3", "city", "region", "postcode")
NEEDED = ("name", "address_1", "city")


class DeskError(ValueError):
    """Something is not done to a box; the message says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """An act at the desk. key: of the form, so that one sent twice counts once."""

    key: str
    act: Act
    who: str
    item: str = ""
    count: int = 1
    note: str = ""


@atomic
def do_at_desk(released: Released, serial: int, asked: Asked) -> Answer:
    """Let an act at the desk count, and say what came of it. Raises DeskError."""
    uid = UUID(asked.key)
    if made := BoxAct.objects.filter(uid=uid).first():
        return Answer(done=True, said=made.note)
    box = held_box(released, serial)
    event = BoxEvent(
        id=str(uid),
        act=asked.act,
        bench="",
        who=asked.who,
        at=now(),
        item=asked.item,
        count=asked.count,
        note=asked.note,
    )
    state, answer = follow(box.list, box.state, event)
    if not answer.done:
        raise DeskError(answer.said)
    keep_state(box.row, state)
    box.row.save()
    booked = book_goods(released.row.month, box.row.code, event) if event.act in GOODS else ""
    note = ". ".join(filter(None, (asked.note, booked)))
    act_row(released, serial, event, note).save()
    return Answer(done=True, said=booked)


def held_box(released: Released, serial: int) -> Held:
    """Return a box, locked. Raises DeskError."""
    box = hold(released, [serial])[serial]
    if isinstance(box, ScanError):
        raise DeskError(str(box))
    return box


# --- Where it goes ---


def now_at(month: int, one: Subscriber) -> Subscriber:
    """Return a subscriber with the address that counts for their boxes of a month."""
    change = AddressChange.objects.filter(month=month, reference=one.reference).first()
    return replace(one, **{name: getattr(change, name) for name in ADDRESS}) if change else one


@atomic
def change_address(released: Released, serial: int, asked: Asked, address: Mapping[str, str]) -> None:
    """Send somebody's boxes elsewhere in the same country, as long as none is with the carrier. Raises DeskError."""
    box = held_box(released, serial)
    if BoxAct.objects.filter(uid=UUID(asked.key)).exists():
        return
    if box.list.sent:
        raise DeskError("This box has a tracking number already: ask the carrier.")
    if empty := [name for name in NEEDED if not address[name]]:
        raise DeskError(f"Fill in {', '.join(empty).replace('address_1', 'the first line')}.")
    before = now_at(released.row.month_id, box.box.subscriber)
    if all(getattr(before, name) == address[name] for name in ADDRESS):
        raise DeskError("Nothing is changed by this: it is the address the box has.")
    AddressChange.objects.create(
        month=released.row.month, reference=before.reference, at=now(), by=asked.who, **address
    )
    do_at_desk(released, serial, asked)


# --- Its slip ---


@dataclass(frozen=True, slots=True, kw_only=True)
class ReprintStamp(Stamp):
    """The stamp of a slip that is printed again. number: how often by now."""

    number: int

    @property
    def text(self) -> str:
        """The stamp as printed at the foot."""
        return f"Reprint {self.number}, {self.made_at:%-d %b %Y %H:%M} UTC, version {self.version}, {self.plan_id}"


def reprint(released: Released, serial: int, asked: Asked) -> bytes:
    """Return the slip of one box as a PDF that says it is a reprint. Raises DeskError."""
    from planning.documents.pdf.packing_slips import packing_slips

    with atomic():
        box = held_box(released, serial)
        if not box.box.wave:
            raise DeskError("This box is in no wave: no service takes it, so it has no slip.")
        do_at_desk(released, serial, asked)
        printed = BoxAct.objects.filter(plan=released.plan, serial=serial, act=Act.REPRINT).count()
    plan, stamp = released.planned.plan, released.planned.stamp
    again = ReprintStamp(plan_id=stamp.plan_id, version=stamp.version, made_at=now(), number=printed)
    book = load.without_people(released.row.month)
    club = replace(released.planned.club, name=f"REPRINT {printed}: {released.planned.club.name}")
    going = replace(box.box, subscriber=now_at(released.row.month_id, box.box.subscriber))
    return packing_slips(replace(book, club=club), plan, released.wave(box.box.wave), [going], again)
