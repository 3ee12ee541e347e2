"""Where each page lives: a map of the site. The last part of a path is the name of the page, its view and its template."""

from django.urls import URLPattern, URLResolver, path

from planning.views.balance import balance
from planning.views.buying import buying
from planning.views.cost import cost
from planning.views.cutting import cutting
from planning.views.documents import documents, paper
from planning.views.health import healthz
from planning.views.job import cancel, job
from planning.views.month import month, plan
from planning.views.months import export, months, template
from planning.views.packing import packing
from planning.views.requirements import requirements
from planning.views.roster import roster
from planning.views.shipping import shipping
from planning.views.sign_in import sign_in, sign_out
from planning.views.upload import upload

urlpatterns: list[URLPattern | URLResolver] = [
    path("healthz", healthz, name="healthz"),
    path("sign-in", sign_in, name="sign_in"),
    path("sign-out", sign_out, name="sign_out"),
    # All months
    path("", months, name="months"),
    path("upload", upload, name="upload"),
    path("template", template, name="template"),
    # One month
    path("months/<int:month>/", month, name="month"),
    path("months/<int:month>/export", export, name="export"),
    path("months/<int:month>/plan", plan, name="plan"),
    path("months/<int:month>/roster", roster, name="roster"),
    path("months/<int:month>/requirements", requirements, name="requirements"),
    path("months/<int:month>/cutting", cutting, name="cutting"),
    path("months/<int:month>/buying", buying, name="buying"),
    path("months/<int:month>/packing", packing, name="packing"),
    path("months/<int:month>/shipping", shipping, name="shipping"),
    path("months/<int:month>/cost", cost, name="cost"),
    path("months/<int:month>/balance", balance, name="balance"),
    path("months/<int:month>/documents", documents, name="documents"),
    # Papers and background work
    path("papers/<int:paper>", paper, name="paper"),
    path("jobs/<int:job>/", job, name="job"),
    path("jobs/<int:job>/cancel", cancel, name="cancel"),
]
