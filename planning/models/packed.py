"""What happens to boxes once a plan is released to the benches: who packs, where, each box, each act, and what came after.

What the columns of a box and of an act mean is said in `planning.packed`. People and benches are named in them, not referred
to: what somebody packed stays theirs when they leave.
"""

from django.db import models
from django.db.models import Index, Q, UniqueConstraint

from kits.models import Month
from planning.models.plan import Plan
from planning.packed import Act, Status

AT_THE_DESK = [Act.PULL, Act.RESTORE, Act.DAMAGED, Act.MISSING, Act.REPRINT, Act.ADDRESS]


class Release(models.Model):
    """A plan given to the benches; the latest of a month is the one that is packed.

    weigh: every box is weighed before it is closed. scale: by how much the scale and the goods besides paper may be off, in
    tenths of a gram.
    """

    month = models.ForeignKey(Month, models.CASCADE, related_name="releases")
    plan = models.ForeignKey(Plan, models.PROTECT, related_name="releases")
    at = models.DateTimeField()
    by = models.TextField()
    weigh = models.BooleanField(default=False)
    scale = models.PositiveIntegerField(default=50)

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return f"Release of {self.plan_id}, {self.at}"


class Packer(models.Model):
    """Somebody who signs in at a bench.

    pin: hashed; failures: since the last good one; locked_until: until then no PIN is tried.
    """

    club = models.TextField()
    name = models.TextField()
    pin = models.TextField()
    active = models.BooleanField(default=True)
    failures = models.PositiveIntegerField(default=0)
    locked_until = models.DateTimeField(null=True)

    class Meta:
        ordering = ["name"]
        constraints = [UniqueConstraint(fields=["club", "name"], name="one_packer_of_a_name")]

    def __str__(self) -> str:
        return self.name


class Bench(models.Model):
    """A bench with its tablet. key: what the tablet shows to be this bench; last: serial of the box it closed last."""

    club = models.TextField()
    name = models.TextField()
    key = models.TextField()
    seen_at = models.DateTimeField()
    last = models.PositiveIntegerField(null=True)

    class Meta:
        ordering = ["name"]
        constraints = [UniqueConstraint(fields=["club", "name"], name="one_bench_of_a_name")]

    def __str__(self) -> str:
        return self.name


class BoxWork(models.Model):
    """A `planning.packed.BoxState`: how a box of a released plan stands; one without a row waits untouched.

    code: as on its slip, which an earlier version of the plan may have printed; packed_by: that version, where it is another
    one. reference, signature: whose it is and what is in it, kept when the plan's own rows are cleared away.
    """

    plan = models.ForeignKey(Plan, models.PROTECT, related_name="works", db_index=False)
    serial = models.PositiveIntegerField()
    wave = models.PositiveIntegerField()
    code = models.TextField()
    packed_by = models.PositiveIntegerField(null=True)
    reference = models.TextField()
    signature = models.TextField()
    status = models.TextField(choices=[(one.value, one.value) for one in Status], default=Status.WAITING)
    bench = models.TextField(blank=True)
    who = models.TextField(blank=True)
    until = models.DateTimeField(null=True)
    trail = models.JSONField(default=list)
    wrong = models.TextField(blank=True)
    tenths = models.PositiveIntegerField(null=True)
    closed_at = models.DateTimeField(null=True)
    pulled = models.TextField(blank=True)
    acts = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [
            UniqueConstraint(fields=["plan", "serial"], name="one_work_of_a_box"),
            UniqueConstraint(
                fields=["plan", "bench"], condition=Q(status=Status.IN_HAND), name="one_box_in_a_hand"
            ),
        ]
        indexes = [
            Index(fields=["plan", "wave", "status"], name="works_of_a_wave"),
            Index(fields=["plan", "code"], name="works_by_code"),
            Index(fields=["plan", "status", "bench"], name="works_by_status"),
            Index(fields=["plan", "pulled", "wave"], name="works_pulled"),
        ]

    def __str__(self) -> str:
        return f"{self.code}, {self.status}"


class BoxAct(models.Model):
    """A `planning.packed.BoxEvent` that counts; refused ones leave no row. uid: its id, made where it was done."""

    plan = models.ForeignKey(Plan, models.PROTECT, related_name="acts", db_index=False)
    serial = models.PositiveIntegerField()
    uid = models.UUIDField(unique=True)
    act = models.TextField(choices=[(one.value, one.value) for one in Act])
    bench = models.TextField(blank=True)
    who = models.TextField()
    at = models.DateTimeField()
    item = models.TextField(blank=True)
    count = models.PositiveIntegerField(default=1)
    tenths = models.PositiveIntegerField(null=True)
    note = models.TextField(blank=True)

    class Meta:
        ordering = ["pk"]
        indexes = [
            Index(fields=["plan", "serial"], name="acts_of_a_box"),
            Index(fields=["plan", "act"], name="acts_of_a_kind"),
        ]

    def __str__(self) -> str:
        return f"{self.act} on box {self.serial}"


class AddressChange(models.Model):
    """Where somebody's boxes of a month go instead; the latest counts. The roster, and so the plan, stay as they are."""

    month = models.ForeignKey(Month, models.CASCADE, related_name="address_changes", db_index=False)
    reference = models.TextField()
    name = models.TextField()
    address_1 = models.TextField()
    address_2 = models.TextField(blank=True)
    address_3 = models.TextField(blank=True)
    city = models.TextField()
    region = models.TextField(blank=True)
    postcode = models.TextField(blank=True)
    at = models.DateTimeField()
    by = models.TextField()

    class Meta:
        ordering = ["-pk"]
        indexes = [Index(fields=["month", "reference"], name="addresses_changed")]

    def __str__(self) -> str:
        return f"Address of {self.reference}, {self.at}"


class TrackingList(models.Model):
    """A carrier's list as it was read. rows: [row, box, number] each; s10: numbers are by UPU S10; taken_at: None before."""

    month = models.ForeignKey(Month, models.CASCADE, related_name="tracking_lists")
    name = models.TextField()
    at = models.DateTimeField()
    by = models.TextField()
    s10 = models.BooleanField()
    rows = models.JSONField()
    taken_at = models.DateTimeField(null=True)

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return self.name


class TrackingNumber(models.Model):
    """A carrier's number of a box, by the box's code."""

    month = models.ForeignKey(Month, models.CASCADE, related_name="tracking_numbers", db_index=False)
    box = models.TextField()
    number = models.TextField()
    listed = models.ForeignKey(TrackingList, models.CASCADE, related_name="numbers")

    class Meta:
        constraints = [UniqueConstraint(fields=["month", "number"], name="one_box_of_a_number")]
        indexes = [Index(fields=["month", "box"], name="numbers_of_a_box")]

    def __str__(self) -> str:
        return f"{self.number}, {self.box}"
