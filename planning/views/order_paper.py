"""An order's own papers, as the supplier gets them."""

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from planning import load, ordering
from planning.documents.stamp import OrderStamp
from planning.models import OrderVersion
from planning.orders import differences
from planning.views import gate
from planning.views.months import XLSX


@require_safe
def order_paper(request: HttpRequest, month: int) -> HttpResponse:
    """Send one version of an order as PDF or XLSX; an amended one says what it changes."""
    from planning.documents.pdf.purchase_order import order_pdf
    from planning.documents.workbook.order import order_workbook

    row = gate.month_or_404(request, month)
    kept = gate.order_or_404(request, row)
    form = request.GET.get("form", "pdf")
    wanted = gate.page_number(request, "version")
    versions = {one.version: one for one in kept.versions.prefetch_related("lines")}
    if wanted not in versions or form not in ("pdf", "xlsx"):
        raise Http404
    version = versions[wanted]
    order = ordering.order_of(kept, version)
    before = [one for one in versions.values() if one.version < wanted and one.sent_at]
    changes = differences(ordering.order_of(kept, before[-1]), order) if before else ()
    stamp = stamp_of(kept.number, version)
    club = load.club(row)
    if form == "pdf":
        made, kind = order_pdf(club, order, stamp, changes), "application/pdf"
    else:
        made, kind = order_workbook(club, order, stamp), XLSX
    name = f"{kept.number}-{order.supplier.lower()}-version-{wanted}.{form}"
    headers = {"Content-Disposition": f'attachment; filename="{safe(name)}"'}
    return HttpResponse(made, content_type=kind, headers=headers)


def stamp_of(number: str, version: OrderVersion) -> OrderStamp:
    """Return what each page of an order's paper carries."""
    return OrderStamp(
        plan_id=f"Order {number}",
        version=version.version,
        made_at=version.sent_at or version.made_at,
    )


def safe(name: str) -> str:
    """Return a name that fits between the quotes of a header."""
    return "".join(one if one.isascii() and (one.isalnum() or one in "-._") else "-" for one in name)
