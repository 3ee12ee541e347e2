"""The bench of rosters runs the command itself, on data of its own."""

from typing import Any

import pytest

from planning.bench import roster
from tests.support.effort import thorough


@thorough
@pytest.mark.parametrize("server", ["", "postgres_server"])
def test_a_small_roster_is_taken_in_and_found_the_same(
    server: str, request: pytest.FixtureRequest, settings: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings.DATABASE_URL = request.getfixturevalue(server) if server else None
    monkeypatch.setattr(roster, "ROWS", 500)
    rows = list(roster.roster_rows())
    assert [row.case for row in rows] == [
        "Roster, all rows new, rows/s",
        "Roster, the same file again, rows/s",
    ]
    assert all("within 400" in row.ended for row in rows)


def test_a_command_that_fails_says_why() -> None:
    with pytest.raises(ValueError, match="Unknown command"):
        roster.run({}, "no-such-command")
