"""How much a property test tries: a little on every run, four times as much where THOROUGH=1 says there is time (CI)."""

import os

THOROUGH = os.environ.get("THOROUGH") == "1"


def examples(thorough: int) -> int:
    """Return how many examples to try; `thorough` is the number where time does not matter."""
    return thorough if THOROUGH else max(5, thorough // 4)
