"""Acts from the benches: a batch counts in one transaction, each act once, whatever is sent again or comes at once."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from uuid import UUID

from django.db.transaction import atomic
from django.utils.timezone import now

from planning.at_bench.boxes import Held, WhichVersionError, hold, keep_state, serial_scanned
from planning.at_bench.goods import book_goods
from planning.at_bench.released import Released
from planning.models import Bench, BoxAct, BoxWork
from planning.packed import GOODS, Act, Answer, BoxEvent, ScanError, Status, follow

MOST_AGO = timedelta(hours=12)  # nobody was without a network for longer and means today
REPEATED = Answer(done=True, said="This counts already.")
OTHER_PLAN = Answer(
    done=False, said="Another version of the plan was released meanwhile. Scan the box again.", stops=True
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sent:
    """An act as a bench sends it.

    plan: that it packs; code: what was scanned; serial: of a box whose list it has. version: of the plan, as a person read
    it on the slip. ago: how long the act has waited.
    """

    id: UUID
    plan: int
    act: Act
    who: str
    code: str = ""
    serial: int = 0
    version: int | None = None
    item: str = ""
    count: int = 1
    tenths: int | None = None
    note: str = ""
    ago: timedelta = timedelta(0)


@dataclass(frozen=True, slots=True)
class Answered:
    """What comes of an act that was sent. asks: the version of the plan somebody must find on the slip, else 0."""

    id: UUID
    answer: Answer
    asks: int = 0


@atomic
def do_acts(released: Released, bench: Bench, sent: Sequence[Sent]) -> list[Answered]:
    """Let the acts of a bench count, in their order. One bench's batches follow one another."""
    bench = Bench.objects.select_for_update().get(pk=bench.pk)
    found = {one.id: find(released, one) for one in sent}
    serials = {serial for serial in found.values() if isinstance(serial, int)}
    batch = Batch(released, bench, now(), hold(released, serials | in_hand(released, bench)), known(sent))
    answers = [batch.answered(one, found[one.id]) for one in sent]
    batch.keep()
    return answers


def find(released: Released, sent: Sent) -> int | ScanError:
    """Return the serial of the box an act is about, or why there is none."""
    if sent.act is not Act.TAKE:
        return sent.serial
    try:
        return serial_scanned(released, sent.code, sent.version)
    except ScanError as error:
        return error


def in_hand(released: Released, bench: Bench) -> set[int]:
    """Return the box a bench has in hand, if any."""
    rows = BoxWork.objects.filter(plan=released.plan, bench=bench.name, status=Status.IN_HAND)
    return set(rows.values_list("serial", flat=True))


def known(sent: Sequence[Sent]) -> set[UUID]:
    """Return which acts count already."""
    return set(BoxAct.objects.filter(uid__in=[one.id for one in sent]).values_list("uid", flat=True))


@dataclass(slots=True)
class Batch:
    """Acts of one bench on boxes that are locked; what counts is kept at the end."""

    released: Released
    bench: Bench
    at: datetime
    boxes: Mapping[int, Held | ScanError]
    known: set[UUID]
    changed: dict[int, BoxWork] = field(default_factory=dict)
    acts: list[BoxAct] = field(default_factory=list)

    def answered(self, sent: Sent, found: int | ScanError) -> Answered:
        """Do an act, or say why not."""
        if sent.id in self.known:
            return Answered(sent.id, REPEATED)
        if sent.plan != self.released.plan.pk:
            return Answered(sent.id, OTHER_PLAN)
        box = self.boxes[found] if isinstance(found, int) else found
        if isinstance(box, ScanError):
            asks = box.version if isinstance(box, WhichVersionError) else 0
            return Answered(sent.id, Answer(done=False, said=str(box), stops=True), asks)
        return Answered(sent.id, self.do(sent, box))

    def do(self, sent: Sent, box: Held) -> Answer:
        """Follow an act, and note it down where it counts."""
        if sent.act in (Act.TAKE, Act.UNDO) and (other := self.other_in_hand(box)):
            said = f"{other.code} is in hand at this bench: close it, or put it back first."
            return Answer(done=False, said=said, stops=True)
        event = self.event(sent)
        state, answer = follow(box.list, box.state, event)
        if answer.done:
            keep_state(box.row, state)
            self.note(event, box)
        return answer

    def other_in_hand(self, box: Held) -> BoxWork | None:
        """Return another box that the bench has in hand."""
        rows = (one.row for one in self.boxes.values() if isinstance(one, Held))
        return next(
            (
                row
                for row in rows
                if row.status == Status.IN_HAND
                and row.bench == self.bench.name
                and row.serial != box.row.serial
            ),
            None,
        )

    def event(self, sent: Sent) -> BoxEvent:
        """Return an act as the rule takes it. A box is taken when the server hears of it, whenever it was scanned."""
        ago = timedelta(0) if sent.act is Act.TAKE else min(max(sent.ago, timedelta(0)), MOST_AGO)
        return BoxEvent(
            id=str(sent.id),
            act=sent.act,
            bench=self.bench.name,
            who=sent.who,
            at=self.at - ago,
            item=sent.item,
            count=sent.count,
            tenths=sent.tenths,
            note=sent.note,
        )

    def note(self, event: BoxEvent, box: Held) -> None:
        """Note an act down, and book goods that are gone."""
        gone = event.act in GOODS
        note = book_goods(self.released.row.month, box.row.code, event) if gone else event.note
        self.acts.append(act_row(self.released, box.row.serial, event, note))
        self.known.add(UUID(event.id))
        self.changed[box.row.serial] = box.row
        if event.act is Act.CLOSE:
            self.bench.last = box.row.serial

    def keep(self) -> None:
        """Save what changed; a box that is let go before the one that is taken, for the database sees to that, too."""
        BoxAct.objects.bulk_create(self.acts)
        for row in sorted(self.changed.values(), key=lambda row: row.status == Status.IN_HAND):
            row.save()
        self.bench.seen_at = self.at
        self.bench.save(update_fields=["seen_at", "last"])


def act_row(released: Released, serial: int, event: BoxEvent, note: str) -> BoxAct:
    """Return the unsaved row of an act."""
    return BoxAct(
        plan=released.plan,
        serial=serial,
        uid=UUID(event.id),
        act=event.act,
        bench=event.bench,
        who=event.who,
        at=event.at,
        item=event.item,
        count=event.count,
        tenths=event.tenths,
        note=note,
    )
