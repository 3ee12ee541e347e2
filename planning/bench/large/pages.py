"""Every page of a large month that is planned, as the server makes it: how long the slowest of twenty takes."""

import logging
import time
from collections.abc import Iterator, Sequence

from django.contrib.auth.models import User
from django.test import Client
from django.urls import URLPattern, reverse

from kits.models import Month
from planning.at_bench.release import release
from planning.bench.rates import within
from planning.bench.row import Row
from planning.urls import urlpatterns

LOOKS = 21  # the first of them is not counted: a server has looked at every page before
MOST = 0.050  # seconds
Look = tuple[float, float]  # seconds by the clock, and of processor time in this process
SHEETS = ("", "?sheet=materials", "?sheet=subscribers", "?sheet=subscribers&sort=name&page=9")
NOT_PAGES = {"sign_out", "template", "export", "metrics"}  # files, and what people do not look at


def page_rows(month: Month, boxes: int) -> Iterator[Row]:
    """Yield one row over all pages, and one for each page whose own looks take too long."""
    for plan in month.plans.all()[:1]:  # so that the pages of the benches are there
        release(month, plan, "bench", weigh=False, scale=50)
    client = Client(headers={"host": "localhost"})
    client.force_login(User.objects.create_superuser("bench"))
    logging.disable(logging.WARNING)  # of pages that are not there without more being asked
    found = {address: looks(client, address) for address in addresses(month)}
    logging.disable(logging.NOTSET)
    found = {address: each for address, each in found.items() if each}
    said, most = of_looks([look for each in found.values() for look in each])
    ended = f"{said} in 95 of 100 looks at {len(found)} pages with {boxes:,} boxes"
    yield Row("Pages, 95th percentile, ms", None, int(most * 1000), None, ended, most)
    for address, each in found.items():
        said, most = of_looks(each)
        if most > MOST:
            yield Row(f"Page {address}, ms", None, int(most * 1000), None, said, most)


def of_looks(times: Sequence[Look]) -> tuple[str, float]:
    """Say how long looks took by the clock, and our own share; return the first as well."""
    most, own = (late(sorted(each)) for each in zip(*times, strict=True))
    return f"{within(most * 1000, MOST * 1000)} ms, {own * 1000:.0f} of our own processor time", most


def addresses(month: Month) -> Iterator[str]:
    """Yield the address of every page there is about a month, or about none."""
    for page in urlpatterns:
        if isinstance(page, URLPattern) and page.name not in NOT_PAGES:
            asks = set(page.pattern.converters)
            if asks <= {"month"}:
                address = reverse(str(page.name), kwargs=dict.fromkeys(asks, month.pk))
                yield from (f"{address}{more}" for more in (SHEETS if page.name == "rows" else ("",)))


def looks(client: Client, address: str) -> list[Look]:
    """Return what each look took; nothing where the page is not for looking at without more."""
    times = []
    for _ in range(LOOKS):
        begun = time.perf_counter(), time.process_time()
        answer = client.get(address)
        b"".join(answer)
        if answer.status_code != 200:
            return []
        times.append((time.perf_counter() - begun[0], time.process_time() - begun[1]))
    return times[1:]


def late(ordered: list[float]) -> float:
    """Return the time that 95 of 100 looks do not exceed."""
    return ordered[-(-len(ordered) * 95 // 100) - 1]
