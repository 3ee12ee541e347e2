"""Where each page lives: a map of the site. The last part of a path is the name of the page, its view and its template."""

from collections.abc import Callable

from django.http.response import HttpResponseBase
from django.urls import URLPattern, URLResolver, path
from django.views.decorators.cache import never_cache

from planning.views.balance import balance
from planning.views.booklet import booklet
from planning.views.buying import buying
from planning.views.cost import cost
from planning.views.cutting import cutting
from planning.views.documents import documents, paper
from planning.views.health import healthz, metrics, readyz
from planning.views.intake import agree, drop, intake, look_again, refused, roster_file
from planning.views.job import cancel, history, job
from planning.views.lots import lots
from planning.views.month import month, plan
from planning.views.months import export, months, template
from planning.views.order import order
from planning.views.order_check import order_check
from planning.views.order_lines import order_edit
from planning.views.order_paper import order_paper
from planning.views.order_receive import order_close, order_days, receive
from planning.views.orders import orders, receipts, receipts_calendar
from planning.views.overs import overs
from planning.views.packing import packing
from planning.views.recipe_editor import recipe, recipe_look
from planning.views.recipe_papers import recipe_papers
from planning.views.recipes import new_recipe, recipe_copy, recipe_delete, recipes
from planning.views.requirements import requirements
from planning.views.roster import roster
from planning.views.shipping import shipping
from planning.views.short_supply import short_supply
from planning.views.sign_in import sign_in, sign_out
from planning.views.stock import stock, stock_check, stock_entries, stock_entry, stock_item
from planning.views.stock_count import stock_adjust, stock_count
from planning.views.stock_cut import stock_cut
from planning.views.stock_issue import stock_issue
from planning.views.stock_take import stock_take
from planning.views.ticket import ticket
from planning.views.upload import upload


def page(route: str, view: Callable[..., HttpResponseBase]) -> URLPattern:
    """Return a page under its view's own name. No browser keeps what it shows: it may be somebody's address."""
    return path(route, never_cache(view), name=view.__name__)


urlpatterns: list[URLPattern | URLResolver] = [
    page("healthz", healthz),
    page("readyz", readyz),
    page("metrics", metrics),
    page("sign-in", sign_in),
    page("sign-out", sign_out),
    # All months
    page("", months),
    page("upload", upload),
    page("template", template),
    # One month
    page("months/<int:month>/", month),
    page("months/<int:month>/export", export),
    page("months/<int:month>/plan", plan),
    page("months/<int:month>/history", history),
    page("months/<int:month>/recipes", recipes),
    page("months/<int:month>/new-recipe", new_recipe),
    page("months/<int:month>/recipe", recipe),
    page("months/<int:month>/recipe-look", recipe_look),
    page("months/<int:month>/recipe-copy", recipe_copy),
    page("months/<int:month>/recipe-papers", recipe_papers),
    page("months/<int:month>/recipe-delete", recipe_delete),
    page("months/<int:month>/booklet", booklet),
    page("months/<int:month>/roster", roster),
    page("months/<int:month>/roster-file", roster_file),
    page("months/<int:month>/requirements", requirements),
    page("months/<int:month>/cutting", cutting),
    page("months/<int:month>/cutting/<int:ticket>", ticket),
    page("months/<int:month>/buying", buying),
    page("months/<int:month>/overs", overs),
    page("months/<int:month>/lots", lots),
    page("months/<int:month>/short-supply", short_supply),
    page("months/<int:month>/packing", packing),
    page("months/<int:month>/shipping", shipping),
    page("months/<int:month>/cost", cost),
    page("months/<int:month>/balance", balance),
    page("months/<int:month>/documents", documents),
    # Orders and the club's stock book, over all months
    page("months/<int:month>/orders", orders),
    page("months/<int:month>/order", order),
    page("months/<int:month>/order-edit", order_edit),
    page("months/<int:month>/order-check", order_check),
    page("months/<int:month>/order-paper", order_paper),
    page("months/<int:month>/order-days", order_days),
    page("months/<int:month>/order-close", order_close),
    page("months/<int:month>/receive", receive),
    page("months/<int:month>/receipts", receipts),
    page("months/<int:month>/receipts-calendar", receipts_calendar),
    page("months/<int:month>/stock", stock),
    page("months/<int:month>/stock-item", stock_item),
    page("months/<int:month>/stock-entries", stock_entries),
    page("months/<int:month>/stock-entry", stock_entry),
    page("months/<int:month>/stock-issue", stock_issue),
    page("months/<int:month>/stock-cut", stock_cut),
    page("months/<int:month>/stock-count", stock_count),
    page("months/<int:month>/stock-adjust", stock_adjust),
    page("months/<int:month>/stock-take", stock_take),
    page("months/<int:month>/stock-check", stock_check),
    # A roster's file on its way in
    page("intakes/<int:intake>/", intake),
    page("intakes/<int:intake>/agree", agree),
    page("intakes/<int:intake>/drop", drop),
    page("intakes/<int:intake>/look-again", look_again),
    page("intakes/<int:intake>/refused", refused),
    # Papers and background work
    page("papers/<int:paper>", paper),
    page("jobs/<int:job>/", job),
    page("jobs/<int:job>/cancel", cancel),
]
