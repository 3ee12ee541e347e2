"""Where each page lives: a map of the site. The last part of a path is the name of the page, its view and its template."""

from collections.abc import Callable

from django.http.response import HttpResponseBase
from django.urls import URLPattern, URLResolver, path
from django.views.decorators.cache import never_cache

from planning.api.app import urls
from planning.rights.table import Area
from planning.views.account import account
from planning.views.after_month import after_month
from planning.views.balance import balance
from planning.views.bench import bench, bench_acts
from planning.views.bench_people import bench_people
from planning.views.bench_sign_in import bench_sign_in, bench_sign_out
from planning.views.benches import bench_release, benches
from planning.views.booklet import booklet
from planning.views.box import box, box_address, box_goods, box_pull, box_slip
from planning.views.buying import buying
from planning.views.chances import chances
from planning.views.changes import changes
from planning.views.cost import cost
from planning.views.cost_curve import cost_curve
from planning.views.cutting import cutting
from planning.views.documents import documents, paper
from planning.views.health import healthz, metrics, readyz
from planning.views.intake import agree, drop, intake, look_again, refused, roster_file
from planning.views.job import cancel, history, job
from planning.views.lots import lots
from planning.views.month import month, plan
from planning.views.months import export, months, template
from planning.views.months_ahead import months_ahead
from planning.views.order import order
from planning.views.order_check import order_check
from planning.views.order_lines import order_edit
from planning.views.order_paper import order_paper
from planning.views.order_receive import order_close, order_days, receive
from planning.views.order_size import order_size
from planning.views.orders import orders, receipts, receipts_calendar
from planning.views.overs import overs
from planning.views.packing import packing
from planning.views.people import new_person, people, person
from planning.views.person_data import person_data
from planning.views.programs import end_program, new_program, programs
from planning.views.rate_table import rate_table
from planning.views.recipe_editor import recipe, recipe_look
from planning.views.recipe_papers import recipe_papers
from planning.views.recipes import new_recipe, recipe_copy, recipe_delete, recipes
from planning.views.requirements import requirements
from planning.views.roster import roster
from planning.views.row import row
from planning.views.row_delete import row_delete
from planning.views.rows import rows, sheets
from planning.views.rows_take import (
    rows_export,
    rows_file,
    rows_paste,
    rows_preview,
    rows_refused,
    rows_undo,
)
from planning.views.search import search
from planning.views.shipping import shipping
from planning.views.short_supply import short_supply
from planning.views.sign_in import sign_in, sign_out
from planning.views.since_release import since_release
from planning.views.stock import stock, stock_check, stock_entries, stock_entry, stock_item
from planning.views.stock_count import stock_adjust, stock_count
from planning.views.stock_cut import stock_cut
from planning.views.stock_issue import stock_issue
from planning.views.stock_take import stock_take
from planning.views.ticket import ticket
from planning.views.tracking import (
    tracking,
    tracking_list,
    tracking_refused,
    tracking_take,
    tracking_template,
)
from planning.views.upload import upload
from planning.views.what_if import what_if


def page(route: str, view: Callable[..., HttpResponseBase], area: Area | None) -> URLPattern:
    """Return a page under its view's own name. No browser keeps what it shows: it may be somebody's address.

    area: whose rights it asks for (`planning.rights.table`); None for a page that people see before they sign in.
    """
    shown = never_cache(view)
    shown.area = area  # type: ignore[attr-defined]
    return path(route, shown, name=view.__name__)


urlpatterns: list[URLPattern | URLResolver] = [
    path("api/", urls()),
    page("healthz", healthz, None),
    page("readyz", readyz, None),
    page("metrics", metrics, None),
    page("sign-in", sign_in, None),
    page("sign-out", sign_out, Area.OPEN),
    # People
    page("account", account, Area.OPEN),
    page("people", people, Area.PEOPLE),
    page("new-person", new_person, Area.PEOPLE),
    page("people/<int:person>/", person, Area.PEOPLE),
    page("changes", changes, Area.PEOPLE),
    page("programs", programs, Area.PEOPLE),
    page("new-program", new_program, Area.PEOPLE),
    page("programs/<int:program>/end-program", end_program, Area.PEOPLE),
    # All months
    page("", months, Area.OPEN),
    page("search", search, Area.OPEN),
    page("upload", upload, Area.BOOK),
    page("template", template, Area.BOOK),
    # One month
    page("months/<int:month>/", month, Area.OPEN),
    page("months/<int:month>/export", export, Area.BOOK),
    page("months/<int:month>/plan", plan, Area.PLAN),
    page("months/<int:month>/history", history, Area.FIGURES),
    # Its sheets, row by row; each sheet has an area of its own, which the gate asks for
    page("months/<int:month>/sheets", sheets, Area.OPEN),
    page("months/<int:month>/rows", rows, Area.OPEN),
    page("months/<int:month>/row", row, Area.OPEN),
    page("months/<int:month>/row-delete", row_delete, Area.OPEN),
    page("months/<int:month>/rows-paste", rows_paste, Area.OPEN),
    page("months/<int:month>/rows-file", rows_file, Area.OPEN),
    page("months/<int:month>/rate-table", rate_table, Area.OPEN),
    page("months/<int:month>/rows-preview", rows_preview, Area.OPEN),
    page("months/<int:month>/rows-refused", rows_refused, Area.OPEN),
    page("months/<int:month>/rows-export", rows_export, Area.OPEN),
    page("months/<int:month>/rows-undo", rows_undo, Area.OPEN),
    # Its flow
    page("months/<int:month>/recipes", recipes, Area.RECIPES),
    page("months/<int:month>/new-recipe", new_recipe, Area.RECIPES),
    page("months/<int:month>/recipe", recipe, Area.RECIPES),
    page("months/<int:month>/recipe-look", recipe_look, Area.RECIPES),
    page("months/<int:month>/recipe-copy", recipe_copy, Area.RECIPES),
    page("months/<int:month>/recipe-papers", recipe_papers, Area.RECIPES),
    page("months/<int:month>/recipe-delete", recipe_delete, Area.RECIPES),
    page("months/<int:month>/booklet", booklet, Area.RECIPES),
    page("months/<int:month>/roster", roster, Area.ROSTER),
    page("months/<int:month>/person-data", person_data, Area.ROSTER),
    page("months/<int:month>/roster-file", roster_file, Area.ROSTER),
    page("months/<int:month>/requirements", requirements, Area.FIGURES),
    page("months/<int:month>/cutting", cutting, Area.CUTTING),
    page("months/<int:month>/cutting/<int:ticket>", ticket, Area.CUTTING),
    page("months/<int:month>/buying", buying, Area.BUYING),
    page("months/<int:month>/overs", overs, Area.BUYING),
    page("months/<int:month>/lots", lots, Area.BUYING),
    page("months/<int:month>/short-supply", short_supply, Area.PACKING),
    page("months/<int:month>/packing", packing, Area.PACKING),
    page("months/<int:month>/shipping", shipping, Area.SHIPPING),
    page("months/<int:month>/cost", cost, Area.COST),
    page("months/<int:month>/cost-curve", cost_curve, Area.COST),
    page("months/<int:month>/order-size", order_size, Area.COST),
    page("months/<int:month>/what-if", what_if, Area.COST),
    page("months/<int:month>/after-month", after_month, Area.COST),
    page("months/<int:month>/months-ahead", months_ahead, Area.COST),
    page("months/<int:month>/chances", chances, Area.COST),
    page("months/<int:month>/balance", balance, Area.FIGURES),
    page("months/<int:month>/documents", documents, Area.FIGURES),
    # The benches, and what comes after packing
    page("months/<int:month>/benches", benches, Area.PACKING),
    page("months/<int:month>/bench-release", bench_release, Area.PACKING),
    page("months/<int:month>/bench-people", bench_people, Area.PACKING),
    page("months/<int:month>/bench", bench, Area.PACKING),
    page("months/<int:month>/bench-acts", bench_acts, Area.PACKING),
    page("months/<int:month>/bench-sign-in", bench_sign_in, Area.PACKING),
    page("months/<int:month>/bench-sign-out", bench_sign_out, Area.PACKING),
    page("months/<int:month>/box", box, Area.PACKING),
    page("months/<int:month>/box-pull", box_pull, Area.PACKING),
    page("months/<int:month>/box-goods", box_goods, Area.PACKING),
    page("months/<int:month>/box-address", box_address, Area.PACKING),
    page("months/<int:month>/box-slip", box_slip, Area.PACKING),
    page("months/<int:month>/since-release", since_release, Area.PACKING),
    page("months/<int:month>/tracking", tracking, Area.PACKING),
    page("months/<int:month>/tracking-list", tracking_list, Area.PACKING),
    page("months/<int:month>/tracking-take", tracking_take, Area.PACKING),
    page("months/<int:month>/tracking-refused", tracking_refused, Area.PACKING),
    page("months/<int:month>/tracking-template", tracking_template, Area.PACKING),
    # Orders and the club's stock book, over all months
    page("months/<int:month>/orders", orders, Area.BUYING),
    page("months/<int:month>/order", order, Area.BUYING),
    page("months/<int:month>/order-edit", order_edit, Area.BUYING),
    page("months/<int:month>/order-check", order_check, Area.BUYING),
    page("months/<int:month>/order-paper", order_paper, Area.BUYING),
    page("months/<int:month>/order-days", order_days, Area.BUYING),
    page("months/<int:month>/order-close", order_close, Area.BUYING),
    page("months/<int:month>/receive", receive, Area.BUYING),
    page("months/<int:month>/receipts", receipts, Area.BUYING),
    page("months/<int:month>/receipts-calendar", receipts_calendar, Area.BUYING),
    page("months/<int:month>/stock", stock, Area.STOCK),
    page("months/<int:month>/stock-item", stock_item, Area.STOCK),
    page("months/<int:month>/stock-entries", stock_entries, Area.STOCK),
    page("months/<int:month>/stock-entry", stock_entry, Area.STOCK),
    page("months/<int:month>/stock-issue", stock_issue, Area.STOCK),
    page("months/<int:month>/stock-cut", stock_cut, Area.STOCK),
    page("months/<int:month>/stock-count", stock_count, Area.STOCK),
    page("months/<int:month>/stock-adjust", stock_adjust, Area.STOCK),
    page("months/<int:month>/stock-take", stock_take, Area.STOCK),
    page("months/<int:month>/stock-check", stock_check, Area.STOCK),
    # A roster's file on its way in
    page("intakes/<int:intake>/", intake, Area.ROSTER),
    page("intakes/<int:intake>/agree", agree, Area.ROSTER),
    page("intakes/<int:intake>/drop", drop, Area.ROSTER),
    page("intakes/<int:intake>/look-again", look_again, Area.ROSTER),
    page("intakes/<int:intake>/refused", refused, Area.ROSTER),
    # Papers and background work
    page("papers/<int:paper>", paper, Area.FIGURES),
    page("jobs/<int:job>/", job, Area.OPEN),
    page("jobs/<int:job>/cancel", cancel, Area.PLAN),
]
