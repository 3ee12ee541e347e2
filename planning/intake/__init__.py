"""A roster into a month that is kept: looked through first, then taken in by the references the club gives its people.

The rows of the file wait in a table of their own, so that comparing and changing are one statement each, whatever their
number: `rows` has these statements, `looking` finds what would change and what is wrong, `taking` changes the month, and
`pending` does either in the background for files that came by the app.
"""

from planning.intake.looking import SupersededError, look
from planning.intake.pending import PENDING, forget, receive, refused_path, work
from planning.intake.taking import ChangedMonthError, drop, take

__all__ = [
    "PENDING",
    "ChangedMonthError",
    "SupersededError",
    "drop",
    "forget",
    "look",
    "receive",
    "refused_path",
    "take",
    "work",
]
