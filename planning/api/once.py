"""Nothing twice: a request that changes something carries a key of its own, and sent again gets the answer it got."""

import hashlib
from collections.abc import Callable
from datetime import timedelta
from typing import Annotated, Any

from django.db import IntegrityError
from django.db.models.functions import Now
from django.db.transaction import atomic
from django.http import HttpRequest
from ninja import Header

from planning.api.trouble import Trouble
from planning.models import ApiAnswer, ApiClient

KEPT = timedelta(days=1)

Key = Annotated[
    str,
    Header(
        alias="Idempotency-Key",
        min_length=8,
        max_length=100,
        pattern=r"^[\x21-\x7e]+$",
        description="Your own name for this request, another for each: sent again within a day, nothing is done twice",
    ),
]


def once(request: HttpRequest, key: str, act: Callable[[ApiClient], Any]) -> Any:
    """Do what is asked, or answer what was answered before. Raises Trouble where the key was for something else."""
    client: ApiClient = request.auth  # type: ignore[attr-defined]
    asked = hashlib.sha256(f"{request.method} {request.path}\n".encode() + request.body).hexdigest()
    ApiAnswer.objects.filter(at__lt=Now() - KEPT).delete()
    try:
        with atomic():  # a second one that comes meanwhile waits here for the first
            kept = ApiAnswer.objects.create(client=client, key=key, asked=asked)
            answered = act(client)
            kept.status, kept.body = 200, answered.model_dump(mode="json")
            kept.save(update_fields=["status", "body"])
            return answered
    except IntegrityError:
        before = ApiAnswer.objects.filter(client=client, key=key).first()
        if before is None:
            raise
        if before.asked != asked:
            raise Trouble(
                409, "This Idempotency-Key was sent with another request. Give each its own."
            ) from None
        return before.body
