"""What a kit is, as a Django app."""

from django.apps import AppConfig


class KitsConfig(AppConfig):
    """Catalogue, recipes and kits."""

    name = "kits"
    label = "kits"
    verbose_name = "Kits"
