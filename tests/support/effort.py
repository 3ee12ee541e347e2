"""How much the tests try: what tells most of the program on every run, all of it where there is time.

THOROUGH=1 (CI sets it) tries properties eight times as hard and runs the tests that start a server, a browser or an
office program once more for what others have shown already. REQUIRE_ALL=1 runs these as well.
"""

import os

import pytest

THOROUGH = os.environ.get("THOROUGH") == "1"
ALL = THOROUGH or os.environ.get("REQUIRE_ALL") == "1"

thorough = pytest.mark.skipif(not ALL, reason="takes seconds: THOROUGH=1 runs it")


def examples(most: int) -> int:
    """Return how many examples to try; `most` is the number where time does not matter."""
    return most if THOROUGH else max(5, most // 8)
