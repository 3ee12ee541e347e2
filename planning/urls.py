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
from planning.views.job import cancel, job
from planning.views.month import month, plan
from planning.views.months import export, months, template
from planning.views.packing import packing
from planning.views.recipe_editor import recipe, recipe_look
from planning.views.recipe_papers import recipe_papers
from planning.views.recipes import new_recipe, recipe_copy, recipe_delete, recipes
from planning.views.requirements import requirements
from planning.views.roster import roster
from planning.views.shipping import shipping
from planning.views.sign_in import sign_in, sign_out
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
    page("months/<int:month>/recipes", recipes),
    page("months/<int:month>/new-recipe", new_recipe),
    page("months/<int:month>/recipe", recipe),
    page("months/<int:month>/recipe-look", recipe_look),
    page("months/<int:month>/recipe-copy", recipe_copy),
    page("months/<int:month>/recipe-papers", recipe_papers),
    page("months/<int:month>/recipe-delete", recipe_delete),
    page("months/<int:month>/booklet", booklet),
    page("months/<int:month>/roster", roster),
    page("months/<int:month>/requirements", requirements),
    page("months/<int:month>/cutting", cutting),
    page("months/<int:month>/cutting/<int:ticket>", ticket),
    page("months/<int:month>/buying", buying),
    page("months/<int:month>/packing", packing),
    page("months/<int:month>/shipping", shipping),
    page("months/<int:month>/cost", cost),
    page("months/<int:month>/balance", balance),
    page("months/<int:month>/documents", documents),
    # Papers and background work
    page("papers/<int:paper>", paper),
    page("jobs/<int:job>/", job),
    page("jobs/<int:job>/cancel", cancel),
]
