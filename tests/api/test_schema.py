"""Whatever is sent to whatever operation, answers are as `openapi.json` says, and nothing breaks."""

from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from django.core.cache import cache
from django.core.signals import request_finished, request_started
from django.db import close_old_connections
from hypothesis import HealthCheck, given, settings
from schemathesis import Case, GenerationMode

from planning import save
from planning.api.app import api
from planning.api.tokens import Scope, new_client
from planning.wsgi import application
from tests.support.effort import examples
from tests.web.planned import plan_of
from tests.web.small_month import SMALL_MONTH

MONTH = {"club": SMALL_MONTH.club.code, "month": str(SMALL_MONTH.club.month)}
SAID: dict[str, Any] = dict(api.get_openapi_schema())
OPERATIONS = [(path, method) for path, found in SAID["paths"].items() for method in found]


@pytest.fixture
def stays_open() -> Iterator[None]:
    """Keep the test's own connection, which a server would close after each request."""
    for signal in (request_started, request_finished):
        signal.disconnect(close_old_connections)
    yield
    for signal in (request_started, request_finished):
        signal.connect(close_old_connections)


@pytest.mark.usefixtures("db", "stays_open")
@pytest.mark.parametrize("mode", [GenerationMode.POSITIVE, GenerationMode.NEGATIVE], ids=["good", "bad"])
@pytest.mark.parametrize(("path", "method"), OPERATIONS)
def test_no_request_breaks_an_operation(path: str, method: str, mode: GenerationMode) -> None:
    plan_of(save.month(SMALL_MONTH))
    _, token = new_client("anybody", Scope, "test")
    schema = schemathesis.openapi.from_wsgi("/api/openapi.json", application)

    @settings(max_examples=examples(80), suppress_health_check=list(HealthCheck), deadline=None)
    @given(case=schema[path][method].as_strategy(generation_mode=mode))
    def holds(case: "Case[Any]") -> None:
        cache.clear()  # nobody is told to wait here
        if mode is GenerationMode.POSITIVE:
            case.path_parameters |= MONTH
        case.call_and_validate(headers={"Authorization": f"Bearer {token}"})

    holds()
