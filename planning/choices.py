"""What people decide about a month that is kept: how much to have, and who goes short. The month has a new fingerprint."""

from collections.abc import Mapping

from django.db.models import Max
from django.db.transaction import atomic

from kits import models as kits
from planning.allocation import Rule
from planning.changing import changing
from planning.models import BuyFor


def keep_quantities(month: kits.Month, wanted: Mapping[str, int | None]) -> None:
    """Keep how much to have of some items, by code: boxes of a tier, units of a material; None forgets the choice."""
    with changing(month, "choices"):
        last = BuyFor.objects.filter(month=month).aggregate(Max("position"))["position__max"]
        place = -1 if last is None else last
        for item, quantity in wanted.items():
            own = BuyFor.objects.filter(month=month, item=item)
            if quantity is None:
                own.delete()
            elif not own.update(quantity=quantity):
                place += 1
                BuyFor.objects.create(month=month, position=place, item=item, quantity=quantity)


def keep_rule(month: kits.Month, rule: Rule) -> None:
    """Keep by which rule boxes get what there is too little of."""
    with atomic():
        kits.Month.objects.filter(pk=month.pk).update(short_goods=rule.value)
        with changing(month, "club"):
            pass  # the month has another fingerprint now
