"""The one gate: every row a page shows is fetched here, so that who may see it is asked in one place.

That somebody is signed in is seen to before any view runs (LoginRequiredMiddleware). Whoever is may see every month.
"""

from django.contrib import messages
from django.http import Http404, HttpRequest
from django.shortcuts import get_object_or_404

from kits.models import Month, Recipe
from planning import load
from planning.models import Artefact, Edit, Intake, Job, Plan, PurchaseOrder, StockEntry
from planning.monthfile.sheets import BY_TABLE, Sheet
from planning.rights.ask import SAFE, require, rights
from planning.rights.table import Act, sheet_area


def month_or_404(request: HttpRequest, pk: int) -> Month:
    """Return a month."""
    return get_object_or_404(Month, pk=pk)


def recipe_or_404(request: HttpRequest, month: Month) -> Recipe:
    """Return the recipe of a month whose code the URL asks for."""
    return get_object_or_404(Recipe, month=month, code=request.GET.get("code", ""))


def sheet_or_404(request: HttpRequest, act: Act = Act.LOOK) -> Sheet:
    """Return the sheet the URL asks for, if whoever asks may do that with it: to send a form is to change it."""
    sheet = BY_TABLE.get(request.GET.get("sheet", ""))
    if sheet is None:
        raise Http404
    require(request, sheet_area(sheet.table), act if request.method in SAFE else Act.CHANGE)
    return sheet


def edit_or_404(request: HttpRequest, month: Month, pk: str) -> Edit:
    """Return an edit of a month's rows that whoever asks may make and take back."""
    known = pk.isascii() and pk.isdigit() and len(pk) < 18
    edit = get_object_or_404(Edit, month=month, pk=int(pk) if known else 0)
    require(request, sheet_area(edit.table), Act.CHANGE)
    return edit


def may_change(request: HttpRequest, table: str) -> bool:
    """Tell whether whoever asks may change a sheet."""
    return rights(request).may(Act.CHANGE, sheet_area(table))


def plan_or_none(request: HttpRequest, month: Month) -> Plan | None:
    """Return the version of the month's plan the URL asks for, else the latest; None before there is any.

    A version that is still being worked on is shown to whoever asks for it, and to nobody else.
    """
    if "version" not in request.GET:
        return month.plans.first()
    return get_object_or_404(Plan.every, month=month, version=page_number(request, "version"))


def readable_plan_or_none(request: HttpRequest, month: Month) -> Plan | None:
    """Return what `plan_or_none` does, and None with a word about it for a plan this program cannot read any more."""
    plan = plan_or_none(request, month)
    try:
        if plan is not None:
            load.planned(plan)
    except load.EarlierPlanError as error:
        messages.warning(request, str(error))
        return None
    return plan


def version_asked(request: HttpRequest, plan: Plan | None) -> str:
    """Return the query that keeps a reader on the version they asked for, empty for readers of the latest."""
    return f"?version={plan.version}" if plan and "version" in request.GET else ""


def page_number(request: HttpRequest, name: str) -> int:
    """Return a number from 1 on that the URL holds, 1 where it holds none. Raises Http404 for anything else."""
    text = request.GET.get(name, "1")
    if not text.isascii() or not text.isdigit() or not 0 < len(text) < 9 or int(text) == 0:
        raise Http404
    return int(text)


def number_asked(request: HttpRequest, name: str) -> int:
    """Return a number from 1 on that the URL must hold. Raises Http404."""
    if name not in request.GET:
        raise Http404
    return page_number(request, name)


def job_or_404(request: HttpRequest, pk: int) -> Job:
    """Return a job."""
    return get_object_or_404(Job.objects.select_related("month"), pk=pk)


def intake_or_404(request: HttpRequest, pk: int) -> Intake:
    """Return a roster's file on its way in."""
    return get_object_or_404(Intake.objects.select_related("month"), pk=pk)


def paper_or_404(request: HttpRequest, pk: int) -> Artefact:
    """Return a paper."""
    return get_object_or_404(Artefact, pk=pk)


def order_or_404(request: HttpRequest, month: Month) -> PurchaseOrder:
    """Return the order of the month's club whose number the URL asks for."""
    rows = PurchaseOrder.objects.select_related("book").filter(book__club=month.code)
    return get_object_or_404(rows, number=request.GET.get("number", ""))


def entry_or_404(request: HttpRequest, month: Month) -> StockEntry:
    """Return the entry in the stock book of the month's club whose number the URL asks for."""
    rows = StockEntry.objects.select_related("book").filter(book__club=month.code)
    return get_object_or_404(rows, serial=page_number(request, "entry"))
