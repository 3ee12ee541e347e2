"""Run by test_killed.py in a process of its own: every way of writing in the book, killed on the way there.

A child does the act and ends itself by kill -9 after its first write to the database, another after its second, and so on.
After every death the book must balance and hold what it held before; left alone at last, the act must succeed.
"""

import os
import signal
import sys
from collections.abc import Callable
from decimal import Decimal
from typing import Any

from django.core.management import call_command
from django.db import connection

from planning import models, ordering
from planning.stock import CutLine, Place
from planning.stockbook import Counted, post_adjust, post_carry, post_count, post_cut
from tests.stock.small_stock import faults_of_the_book, small_stock

MOST = 60  # writes in one act; more would mean that the killing never ends
WRITES = ("INSERT", "UPDATE", "DELETE")


def main() -> None:
    """Do everything once, after having been killed everywhere on the way."""
    call_command("migrate", verbosity=0)
    month, order = small_stock()

    def entry(serial: int) -> models.StockEntry:
        return models.StockEntry.objects.get(serial=serial)

    acts: list[Callable[[], object]] = [
        lambda: ordering.receive_order(month, order, {1: (30, 0), 2: (0, 3)}, "Bo", "1"),
        lambda: post_carry(month, [("SHORE", 12)], Place.SHELF, Place.CUTTING, "Bo", "2"),
        lambda: post_cut(month, "SHORE", 20, [CutLine(item="TAG", good=200, spoiled=9, share=3)], "Bo", "3"),
        lambda: post_count(month, [Counted("SHORE", 7, Decimal(0))], "Bo", "4"),
        lambda: post_adjust(month, "TAG", -4, Decimal(0), Place.SPOILED, "Bo", "5", "damp"),
        lambda: ordering.take_back(month, entry(5), "Bo", "6"),
        lambda: ordering.receive_order(month, order, {1: (10, 0), 2: (30, 0)}, "Bo", "7"),
        lambda: ordering.take_back(month, entry(7), "Bo", "8"),
    ]
    deaths = 0
    for number, act in enumerate(acts, 1):
        deaths += die_everywhere(act, number)
    sys.stdout.write(f"{deaths} deaths\n")


def die_everywhere(act: Callable[[], object], number: int) -> int:
    """Do the act in children killed after their first, second ... write, until one lives; return how many died."""
    for writes in range(1, MOST):
        status = in_a_child(act, writes)
        assert faults_of_the_book() == (), faults_of_the_book()
        if status == 0:
            assert models.StockEntry.objects.count() == number
            return writes - 1
        assert os.WIFSIGNALED(status), f"act {number} failed by itself"
        assert models.StockEntry.objects.count() == number - 1
    raise AssertionError("the act does not end")


def in_a_child(act: Callable[[], object], writes: int) -> int:
    """Do the act in another process that kills itself after so many writes; return how it ended."""
    connection.close()
    child = os.fork()
    if child:
        return os.waitpid(child, 0)[1]
    left = [writes]

    def count(execute: Callable[..., Any], *asked: Any) -> Any:
        answer = execute(*asked)
        left[0] -= asked[0].startswith(WRITES)
        if left[0] == 0:
            os.kill(os.getpid(), signal.SIGKILL)
        return answer

    with connection.execute_wrapper(count):
        act()
    connection.close()
    os._exit(0)
