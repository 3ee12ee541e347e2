"""All operations in one application: `openapi.json` tells other programs what there is (OpenAPI 3.1)."""

from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.urls import URLPattern, URLResolver
from ninja import NinjaAPI
from ninja.openapi.schema import OpenAPISchema
from ninja.throttling import AuthRateThrottle

from planning.api import plans, rows, stock
from planning.api.trouble import PROBLEM_TYPE, tell_troubles

MONTH = "/months/{club}/{month}"
MOST_OFTEN = "240/m"


class Api(NinjaAPI):
    """Says in its schema too that what is wrong comes as a problem document."""

    def get_openapi_schema(self, **asked: Any) -> OpenAPISchema:
        """Return the schema."""
        schema = super().get_openapi_schema(**asked)
        for operations in schema["paths"].values():
            for operation in operations.values():
                for status, said in operation["responses"].items():
                    if int(status) >= 400:
                        said["content"] = {PROBLEM_TYPE: said["content"]["application/json"]}
        return schema


api = Api(
    title="Kit production planning",
    version="1",
    description="Rosters and one-off orders in, plans, stock and waves out. Every request shows a token.",
    urls_namespace="api",
    docs_url=None,
    throttle=[AuthRateThrottle(MOST_OFTEN)],
)
tell_troubles(api)
for router in (rows.SUBSCRIBERS, rows.ORDERS, plans.router, stock.router):
    api.add_router(MONTH, router)


def urls() -> tuple[list[URLPattern | URLResolver], str, str]:
    """Return the addresses; a token is asked for in place of a sign-in."""
    patterns, app, namespace = api.urls
    for pattern in patterns:
        if isinstance(pattern, URLPattern):
            login_not_required(pattern.callback)
    return patterns, app, namespace
