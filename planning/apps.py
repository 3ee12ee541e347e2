"""What is done about a kit this month, as a Django app."""

from django.apps import AppConfig


class PlanningConfig(AppConfig):
    """Months, their plans and the jobs that make them."""

    name = "planning"
    label = "planning"
    verbose_name = "Planning"

    def ready(self) -> None:
        """Let every kind of background work be known."""
        import planning.jobs.plan_month
        import planning.jobs.take_roster  # noqa: F401
