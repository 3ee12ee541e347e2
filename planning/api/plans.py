"""What is planned: the figures of a month, what to order, and its waves."""

from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.http import HttpRequest
from ninja import Router, Schema

from planning.api.months import Club, MonthCode, plan_of
from planning.api.pages import After, Limit, Paged, page_of
from planning.api.tokens import Bearer, Scope
from planning.api.trouble import PROBLEMS

router = Router(tags=["Plans"])
PLANS, WAVES = Bearer(Scope.PLANS), Bearer(Scope.WAVES)


class PlanOut(Schema):
    """The latest plan of a month. Amounts are in the club's currency."""

    plan: str
    version: int
    made_at: datetime
    currency: str
    boxes: int
    late_boxes: int
    cost: Decimal
    orders_cost: Decimal
    waves: int


class PurchaseOut(Schema):
    """What to order of one material."""

    number: int
    supplier: str
    material: str
    quantity: int
    price_each: Decimal
    goods: Decimal
    order_by: date
    arrives: date
    late: bool


class WaveOut(Schema):
    """Boxes packed together."""

    number: int
    day: date
    carrier: str
    service: str
    collected: date
    boxes: int


@router.get("/plan", response={200: PlanOut, **PROBLEMS}, auth=PLANS, summary="The latest plan of a month")
def plan(request: HttpRequest, club: Club, month: MonthCode) -> Any:
    """Return its key figures."""
    row, planned = plan_of(club, month)
    return PlanOut(
        plan=row.plan_id,
        version=row.version,
        made_at=row.made_at,
        currency=planned.club.currency,
        boxes=row.boxes,
        late_boxes=row.late_boxes,
        cost=row.cost,
        orders_cost=planned.plan.buying.total,
        waves=len(planned.plan.waves),
    )


@router.get(
    "/purchases",
    response={200: Paged[PurchaseOut], **PROBLEMS},
    auth=PLANS,
    summary="What to order for a month",
)
def purchases(
    request: HttpRequest, club: Club, month: MonthCode, after: After = 0, limit: Limit = 100
) -> Any:
    """Return what to order, material by material."""
    _, planned = plan_of(club, month)
    bought = [one for line in planned.plan.buying.lines for one in line.bought]
    rows = (
        PurchaseOut(
            number=number,
            supplier=one.offer.supplier,
            material=one.offer.material,
            quantity=one.quantity,
            price_each=one.price,
            goods=one.goods,
            order_by=one.order_by,
            arrives=one.arrives,
            late=one.late,
        )
        for number, one in enumerate(bought, 1)
    )
    return page_of(list(rows), after, limit)


@router.get("/waves", response={200: Paged[WaveOut], **PROBLEMS}, auth=WAVES, summary="The waves of a month")
def waves(request: HttpRequest, club: Club, month: MonthCode, after: After = 0, limit: Limit = 100) -> Any:
    """Return which boxes are packed together, day by day."""
    _, planned = plan_of(club, month)
    rows = (
        WaveOut(
            number=wave.number,
            day=wave.day,
            carrier=wave.service.carrier,
            service=wave.service.name,
            collected=wave.collected,
            boxes=wave.boxes,
        )
        for wave in planned.plan.waves
    )
    return page_of(list(rows), after, limit)
