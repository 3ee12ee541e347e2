"""What is wrong, as a problem document (RFC 9457): what, where, and what to do; never how the program works inside."""

import logging
from http import HTTPStatus
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from ninja import NinjaAPI, Schema
from ninja.errors import AuthenticationError, HttpError, Throttled, ValidationError
from pydantic import Field

PROBLEM_TYPE = "application/problem+json"
log = logging.getLogger(__name__)


class Trouble(Exception):  # noqa: N818 - what is wrong with a request, to be told to whoever sent it
    """A request that is not done, with the status and what to say."""

    def __init__(self, status: int, detail: str) -> None:
        super().__init__(detail)
        self.status = status
        self.detail = detail


class Fault(Schema):
    """One thing that is wrong with a request."""

    where: str = Field(description="The place in the request, such as body.rows.0.reference")
    why: str


class Problem(Schema):
    """A problem document of RFC 9457."""

    type: str = "about:blank"
    title: str
    status: int
    detail: str
    errors: tuple[Fault, ...] = ()


PROBLEMS = dict.fromkeys((400, 401, 403, 404, 409, 413, 422, 429), Problem)


def answer(status: int, detail: str, errors: list[dict[str, str]] | None = None) -> HttpResponse:
    """Return a problem document."""
    said = {
        "type": "about:blank",
        "title": HTTPStatus(status).phrase,
        "status": status,
        "detail": detail,
        "errors": errors or [],
    }
    return JsonResponse(said, status=status, content_type=PROBLEM_TYPE)


def tell_troubles(api: NinjaAPI) -> None:
    """Have everything that goes wrong told in this one form."""

    @api.exception_handler(Trouble)
    def _trouble(request: HttpRequest, error: Trouble) -> HttpResponse:
        return answer(error.status, error.detail)

    @api.exception_handler(ValidationError)
    def _invalid(request: HttpRequest, error: ValidationError) -> HttpResponse:
        faults = [{"where": place(each), "why": each["msg"]} for each in error.errors]
        return answer(422, "The request does not say what it should; see errors.", faults)

    @api.exception_handler(AuthenticationError)
    def _nobody(request: HttpRequest, error: AuthenticationError) -> HttpResponse:
        told = answer(401, "Show a token: Authorization: Bearer TOKEN. An owner of the club makes one.")
        told["WWW-Authenticate"] = "Bearer"
        return told

    @api.exception_handler(Throttled)
    def _too_often(request: HttpRequest, error: Throttled) -> HttpResponse:
        told = answer(429, "These are too many requests. Wait as long as Retry-After says.")
        told["Retry-After"] = str(error.wait or 60)
        return told

    @api.exception_handler(Http404)
    def _missing(request: HttpRequest, error: Http404) -> HttpResponse:
        return answer(404, str(error) or "There is no such thing.")

    @api.exception_handler(HttpError)
    def _other(request: HttpRequest, error: HttpError) -> HttpResponse:
        return answer(error.status_code, str(error))

    @api.exception_handler(Exception)
    def _ours(request: HttpRequest, error: Exception) -> HttpResponse:
        log.exception("a request of another program failed")
        return answer(500, "This is a fault of this program. It is written down; ask again later.")


def place(error: dict[str, Any]) -> str:
    """Return where in a request something is wrong."""
    return ".".join(map(str, error["loc"]))
