"""The background worker's application: `celery -A planning.celery worker`.

Import `app` from here, never from the package: planning/__init__.py stays empty so that the pure steps
can be imported without Celery.
"""

import os
from typing import Any

from celery import Celery
from celery.signals import setup_logging

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "planning.settings")

app = Celery("planning")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()


@setup_logging.connect
def _keep_the_log_of_the_settings(**_: Any) -> None:
    """Celery leaves logging alone as soon as anybody listens to this signal."""
