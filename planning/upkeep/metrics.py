"""What the job rows tell a monitoring system, in the text format of Prometheus.

Format: "Exposition formats", text-based format version 0.0.4, in the documentation of Prometheus. Rows of old jobs are
cleared away, so nothing here only ever grows: every figure is a gauge, and durations are those of the last day.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import ceil

from django.db.models import Count, Min

from planning.models import Job, State

CONTENT_TYPE = "text/plain; version=0.0.4; charset=utf-8"
DAY = timedelta(days=1)
QUANTILES = ("0.5", "0.9", "1")
ENDS = (State.DONE, State.FAILED, State.CANCELLED)

Labels = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Metric:
    """A named gauge with its samples, each by labels. helps: one line for people."""

    name: str
    helps: str
    samples: Sequence[tuple[Labels, float]]


def metrics(now: datetime) -> str:
    """Return all figures as they are now."""
    return exposed([jobs(), queue_age(now), heartbeat_age(now), *durations(now)])


# --- The figures ---


def jobs() -> Metric:
    """Count the jobs there are, by kind and state; a state without any says 0."""
    found = {(kind, state): count for kind, state, count in by("kind", "state")}
    kinds = sorted({kind for kind, _ in found} | {"plan"})
    samples = [
        ({"kind": kind, "state": state.value}, found.get((kind, state), 0))
        for kind in kinds
        for state in State
    ]
    return Metric("kits_jobs", "Jobs by kind and state.", samples)


def by(*names: str) -> Iterator[tuple[str, str, int]]:
    """Yield how many jobs there are of each combination."""
    yield from Job.objects.order_by().values_list(*names).annotate(Count("pk"))


def queue_age(now: datetime) -> Metric:
    """Say how long the oldest job has waited to be begun."""
    return age(
        "kits_job_queue_age_seconds",
        "Seconds that the oldest queued job has waited since it was asked for; 0 without any.",
        Job.objects.filter(state=State.QUEUED).aggregate(Min("created_at"))["created_at__min"],
        now,
    )


def heartbeat_age(now: datetime) -> Metric:
    """Say how long the quietest worker has been quiet."""
    return age(
        "kits_job_heartbeat_age_seconds",
        "Seconds since the running job that was quiet longest gave a sign of life; 0 without any.",
        Job.objects.filter(state=State.RUNNING).aggregate(Min("heartbeat"))["heartbeat__min"],
        now,
    )


def age(name: str, helps: str, since: datetime | None, now: datetime) -> Metric:
    """Return seconds since then; 0 where there is no then, or a clock stepped back."""
    seconds = (now - since).total_seconds() if since else 0
    return Metric(name, helps, [({}, max(0, seconds))])


def durations(now: datetime) -> Iterator[Metric]:
    """Tell how long jobs took that ended within a day, from being begun, and how many they were."""
    took: dict[tuple[str, str], list[float]] = {}
    ended = Job.objects.filter(state__in=ENDS, ended_at__gt=now - DAY)
    for kind, state, started_at, ended_at in ended.values_list("kind", "state", "started_at", "ended_at"):
        if started_at and ended_at:
            took.setdefault((kind, state), []).append(max(0, (ended_at - started_at).total_seconds()))
    samples = [
        ({"kind": kind, "state": state, "quantile": quantile}, quantile_of(times, float(quantile)))
        for (kind, state), times in sorted(took.items())
        for quantile in QUANTILES
    ]
    counts = [({"kind": kind, "state": state}, len(times)) for (kind, state), times in sorted(took.items())]
    yield Metric(
        "kits_job_duration_seconds",
        "Seconds from begin to end of the jobs that ended within 24 hours.",
        samples,
    )
    yield Metric("kits_jobs_ended", "Jobs that ended within 24 hours.", counts)


def quantile_of(times: Iterable[float], quantile: float) -> float:
    """Return the smallest of the times that at least so large a share of them does not exceed."""
    ordered = sorted(times)
    return ordered[max(0, ceil(quantile * len(ordered)) - 1)]


# --- The format ---


def exposed(found: Iterable[Metric]) -> str:
    """Return metrics as text."""
    return "".join(f"{line}\n" for metric in found for line in lines(metric))


def lines(metric: Metric) -> Iterator[str]:
    """Yield a metric's lines."""
    yield f"# HELP {metric.name} {metric.helps}"
    yield f"# TYPE {metric.name} gauge"
    for labels, value in metric.samples:
        named = ",".join(f'{name}="{escaped(text)}"' for name, text in labels.items())
        yield f"{metric.name}{f'{{{named}}}' if named else ''} {value:.12g}"


def escaped(text: str) -> str:
    """Write a label's value: backslash, quotation mark and line feed have a backslash before them."""
    return text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
