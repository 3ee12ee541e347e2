"""How much the tests try: what tells most of the program on every run, all of it where there is time.

THOROUGH=1 tries properties with all their examples, without it with an eighth, and runs the tests that start a server, a
browser or an office program once more for what others have shown already; THOROUGH=4 does so with a quarter of the examples.
CI, which has its minutes counted and sets REQUIRE_ALL=1, runs of these the faults on real servers.
"""

import os

import pytest

SHARE = int(os.environ.get("THOROUGH", "0") or 0)
THOROUGH = SHARE > 0
FULL = SHARE == 1  # months as large as are promised
ALL = THOROUGH or os.environ.get("REQUIRE_ALL") == "1"

thorough = pytest.mark.skipif(not THOROUGH, reason="takes seconds: THOROUGH=1 runs it")
in_ci = pytest.mark.skipif(not ALL, reason="takes seconds: THOROUGH=1 or REQUIRE_ALL=1 runs it")


def examples(most: int) -> int:
    """Return how many examples to try; `most` is the number where time does not matter."""
    return max(5, most // (SHARE or 8))
