"""Whether this server can do its work, for whatever watches it."""

from django.contrib.auth.decorators import login_not_required
from django.db import Error, connection
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe


@login_not_required
@require_safe
def healthz(request: HttpRequest) -> HttpResponse:
    """Answer 200 while the database answers and 503 when it does not."""
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
    except Error:
        return HttpResponse("the database does not answer\n", status=503, content_type="text/plain")
    return HttpResponse("ok\n", content_type="text/plain")
