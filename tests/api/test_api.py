"""What other programs ask and tell: who may, what comes of it, nothing twice, and what is wrong told in one form."""

import json
from typing import Any

import pytest
from django.core.cache import cache
from django.test import Client

from kits.models import Month
from planning import load, save
from planning.api.tokens import Scope, new_client
from planning.models import ApiClient, Edit, OneOffOrder, Plan, Subscriber
from planning.rights.table import Role
from tests.web.conftest import somebody
from tests.web.planned import plan_of
from tests.web.small_month import SMALL_MONTH

pytestmark = pytest.mark.django_db
BASE = f"/api/months/{SMALL_MONTH.club.code}/{SMALL_MONTH.club.month}"
ADA = {
    "reference": "A-1",
    "name": "Ada Ames",
    "address_1": "Quay 3",
    "city": "Oslo",
    "country": "NO",
    "tier": SMALL_MONTH.tiers[0].code,
}


class Program:
    """Another program with a token."""

    def __init__(self, *scopes: Scope) -> None:
        self.row, token = new_client("shop", scopes, "cleo")
        self.client = Client(headers={"Authorization": f"Bearer {token}"})

    def put(self, path: str, rows: list[dict[str, Any]], key: str = "first-request") -> Any:
        headers = {"Idempotency-Key": key}
        body = json.dumps({"rows": rows})
        return self.client.put(BASE + path, body, "application/json", headers=headers)


@pytest.fixture
def month() -> Month:
    return save.month(SMALL_MONTH)


@pytest.fixture
def plan(month: Month) -> Plan:
    return plan_of(month)


def test_it_works(month: Month) -> None:
    shop = Program(Scope.ROSTER)
    people = Subscriber.objects.filter(month=month).count()
    before = month.fingerprint
    assert shop.put("/subscribers", [ADA]).json() == {"new": 1, "changed": 0, "same": 0, "refused": []}
    kept = Subscriber.objects.get(month=month, reference="A-1")
    assert (kept.name, kept.quantity, kept.active) == ("Ada Ames", 1, True)
    assert Subscriber.objects.filter(month=month).count() == people + 1
    month.refresh_from_db()
    assert month.fingerprint != before
    assert Edit.objects.get().by == "shop"  # and so it can be taken back


def test_what_is_left_out_stays_and_the_same_again_changes_nothing(month: Month) -> None:
    shop = Program(Scope.ROSTER)
    shop.put("/subscribers", [ADA | {"quantity": 2}])
    changed = {"reference": "A-1", "city": "Bergen"}
    assert shop.put("/subscribers", [changed], "second-one").json()["changed"] == 1
    kept = Subscriber.objects.get(month=month, reference="A-1")
    assert (kept.city, kept.quantity, kept.name) == ("Bergen", 2, "Ada Ames")
    assert shop.put("/subscribers", [changed], "third-one").json()["same"] == 1


def test_a_row_with_faults_is_told_and_keeps_no_other_from_being_taken(month: Month) -> None:
    shop = Program(Scope.ROSTER)
    answer = shop.put("/subscribers", [ADA | {"tier": "NONE"}, ADA | {"reference": "A-2"}]).json()
    assert (answer["new"], [one["row"] for one in answer["refused"]]) == (1, [1])
    [refused] = answer["refused"]
    assert (refused["field"], refused["value"]) == ("tier", "NONE")
    assert refused["why"]
    assert not Subscriber.objects.filter(month=month, reference="A-1").exists()


def test_the_same_request_twice_is_done_once_and_its_key_serves_no_other(month: Month) -> None:
    shop = Program(Scope.ROSTER)
    first = shop.put("/subscribers", [ADA])
    Subscriber.objects.filter(reference="A-1").delete()
    again = shop.put("/subscribers", [ADA])
    assert (again.status_code, again.json()) == (200, first.json())
    assert not Subscriber.objects.filter(reference="A-1").exists()
    other = shop.put("/subscribers", [ADA | {"city": "Bergen"}])
    assert other.status_code == 409
    assert other["Content-Type"] == "application/problem+json"


def test_an_order_is_for_somebody_on_the_roster(month: Month) -> None:
    shop = Program(Scope.ORDERS)
    who = SMALL_MONTH.subscribers[0].reference
    item = SMALL_MONTH.tiers[0].code
    rows = [
        {"reference": "W-1", "subscriber": who, "item": item, "count": 1},
        {"reference": "W-2", "subscriber": "nobody", "item": item, "count": 1},
    ]
    answer = shop.put("/orders", rows).json()
    assert (answer["new"], [one["field"] for one in answer["refused"]]) == (1, ["subscriber"])
    assert OneOffOrder.objects.filter(month=month, reference="W-1").exists()


def test_plan_purchases_waves_and_stock_are_those_of_the_plan(plan: Plan) -> None:
    shop = Program(Scope.PLANS, Scope.WAVES, Scope.STOCK)
    planned = load.planned(plan).plan
    said = shop.client.get(f"{BASE}/plan").json()
    assert (said["plan"], said["boxes"], said["cost"]) == (plan.plan_id, plan.boxes, str(plan.cost))
    waves = shop.client.get(f"{BASE}/waves").json()
    assert [one["boxes"] for one in waves["items"]] == [wave.boxes for wave in planned.waves]
    first = shop.client.get(f"{BASE}/purchases?limit=1").json()
    assert first["next"] == 1
    rest = shop.client.get(f"{BASE}/purchases?after=1&limit=500").json()
    bought = [one.offer.material for line in planned.buying.lines for one in line.bought]
    assert [one["material"] for one in first["items"] + rest["items"]] == bought
    assert shop.client.get(f"{BASE}/stock").json() == {"count": 0, "items": [], "next": None}


def test_who_has_no_token_or_not_the_scope_is_told_so(month: Month) -> None:
    nobody = Client().get(f"{BASE}/plan")
    assert (nobody.status_code, nobody["WWW-Authenticate"]) == (401, "Bearer")
    shop = Program(Scope.STOCK)
    refused = shop.client.get(f"{BASE}/plan")
    assert refused.status_code == 403
    assert "lacks the scope 'plans'" in refused.json()["detail"]
    assert shop.put("/subscribers", [ADA]).status_code == 403
    ApiClient.objects.update(active=False)
    assert shop.client.get(f"{BASE}/stock").status_code == 401


def test_what_is_wrong_is_told_with_its_place(month: Month) -> None:
    shop = Program(Scope.ROSTER, Scope.PLANS)
    answer = shop.put("/subscribers", [ADA | {"quantity": "many"}])
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["where"].endswith("rows.0.quantity")
    assert shop.put("/subscribers", [ADA], key="short").status_code == 422
    unplanned = shop.client.get(f"{BASE}/plan")
    assert (unplanned.status_code, unplanned.json()["title"]) == (404, "Not Found")
    assert "is not planned yet" in unplanned.json()["detail"]
    assert shop.client.get("/api/months/NONE/2027-04/plan").status_code == 404


def test_too_many_requests_are_told_to_wait(month: Month, monkeypatch: pytest.MonkeyPatch) -> None:
    from planning.api.app import api

    cache.clear()
    shop = Program(Scope.STOCK)
    [throttle] = api.throttle  # type: ignore[misc]
    monkeypatch.setattr(throttle, "num_requests", 2)
    answers = [shop.client.get(f"{BASE}/stock") for _ in range(3)]
    assert [one.status_code for one in answers] == [200, 200, 429]
    assert int(answers[-1]["Retry-After"]) > 0


def test_an_owner_gives_a_program_a_token_once_and_ends_it(month: Month) -> None:
    desk = Client()
    desk.force_login(somebody("desk", Role.OWNER))
    assert desk.post("/new-program", {"name": "shop"}).status_code == 422  # it may do nothing
    desk.post("/new-program", {"name": "shop", "stock": "yes"})
    token = desk.get("/programs").content.decode().split("Token of shop: ")[1].split()[0]
    assert "Token of shop" not in desk.get("/programs").content.decode()
    shop = Client(headers={"Authorization": f"Bearer {token}"})
    assert shop.get(f"{BASE}/stock").status_code == 200
    assert shop.get(f"{BASE}/plan").status_code == 403
    desk.post(f"/programs/{ApiClient.objects.get().pk}/end-program")
    assert shop.get(f"{BASE}/stock").status_code == 401
