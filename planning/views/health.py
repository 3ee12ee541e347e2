"""Whether this server can do its work and how its jobs go, for whatever watches it."""

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.db import connection
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.utils.crypto import constant_time_compare
from django.utils.timezone import now
from django.views.decorators.http import require_safe

from planning.upkeep import metrics as told
from planning.upkeep import ready


@login_not_required
@require_safe
def healthz(request: HttpRequest) -> HttpResponse:
    """Answer 200 while the database answers and 503 when it does not."""
    if not ready.check_database(connection).is_ok:
        return HttpResponse("the database does not answer\n", status=503, content_type="text/plain")
    return HttpResponse("ok\n", content_type="text/plain")


@login_not_required
@require_safe
def readyz(request: HttpRequest) -> HttpResponse:
    """Answer 200 while everything this server needs is as it should be, 503 when not, and say what is the matter."""
    checks = ready.look(now())
    is_ready = all(check.is_ok for check in checks)
    said = {"ready": is_ready, "checks": {check.name: check.said for check in checks}}
    return JsonResponse(said, status=200 if is_ready else 503)


@login_not_required
@require_safe
def metrics(request: HttpRequest) -> HttpResponse:
    """Tell how the jobs go, to people signed in and to whoever shows KITS_METRICS_KEY."""
    if not may_measure(request):
        return HttpResponse(
            "Show the bearer token that KITS_METRICS_KEY holds.\n",
            status=401,
            content_type="text/plain",
            headers={"WWW-Authenticate": "Bearer"},
        )
    return HttpResponse(told.metrics(now()), content_type=told.CONTENT_TYPE)


def may_measure(request: HttpRequest) -> bool:
    """Tell whether whoever asks may see the metrics."""
    shown = request.headers.get("Authorization", "")
    if settings.METRICS_KEY and constant_time_compare(shown, f"Bearer {settings.METRICS_KEY}"):
        return True
    return request.user.is_authenticated
