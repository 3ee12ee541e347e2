"""The web application as a server runs it: `gunicorn planning.wsgi`."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "planning.settings")

application = get_wsgi_application()
