"""Published cases from a file, whose path is in the environment."""

import json
import os
from pathlib import Path
from typing import Any

CASES = "PUBLISHED_CUTTING_CASES"


def published_cases(kind: str) -> list[dict[str, Any]]:
    """Return the cases of one kind, `best_sheet` or `fewest_sheets`; none where the environment names no file.

    Raises OSError where the file cannot be read, ValueError where it holds no cases.
    """
    path = os.environ.get(CASES)
    if not path:
        return []
    try:
        cases = json.loads(Path(path).read_text(encoding="utf-8"))["cases"]
        return [case for case in cases if case["kind"] == kind]
    except (KeyError, TypeError) as error:
        raise ValueError(f"{path}, which {CASES} names, is not a file of published cases") from error
