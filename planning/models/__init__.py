"""The month's roster, crew, carriers and machines in rows, and the jobs and plans made of them."""

from planning.models.bench import CrewDay, DayOff, Guillotine, WeekdayCrew
from planning.models.carriers import Rate, Service, Transit, Zone
from planning.models.job import LIVE, Job, State
from planning.models.plan import Artefact, Plan
from planning.models.roster import OneOffOrder, Subscriber

__all__ = [
    "LIVE",
    "Artefact",
    "CrewDay",
    "DayOff",
    "Guillotine",
    "Job",
    "OneOffOrder",
    "Plan",
    "Rate",
    "Service",
    "State",
    "Subscriber",
    "Transit",
    "WeekdayCrew",
    "Zone",
]
