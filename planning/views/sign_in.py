"""Who is there."""

from django.conf import settings
from django.contrib.auth import login, logout
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.forms import AuthenticationForm
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render, resolve_url
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST


@login_not_required
@sensitive_post_parameters("password")
def sign_in(request: HttpRequest) -> HttpResponse:
    """Let somebody in, and lead them where they wanted to go."""
    form = AuthenticationForm(request, request.POST or None)
    if request.method == "POST" and form.is_valid():
        login(request, form.get_user())
        return redirect(wanted(request))
    status = 422 if form.is_bound else 200
    shown = {"form": form, "next": request.POST.get("next") or request.GET.get("next", "")}
    return render(request, "planning/sign_in.html", shown, status=status)


def wanted(request: HttpRequest) -> str:
    """Return the page somebody came for, if it is one of ours."""
    page = request.POST.get("next", "")
    hosts = {request.get_host()}
    ours = url_has_allowed_host_and_scheme(page, hosts, require_https=request.is_secure())
    return page if ours else resolve_url("months")


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """Let somebody go."""
    logout(request)
    return redirect("sign_in")


def locked_out(request: HttpRequest, credentials: object, *args: object, **kwargs: object) -> HttpResponse:
    """Say that too many wrong passwords were tried, and for how long that lasts."""
    shown = {"form": AuthenticationForm(request), "minutes": settings.AXES_COOLOFF_TIME.seconds // 60}
    return render(request, "planning/sign_in.html", shown, status=429)
