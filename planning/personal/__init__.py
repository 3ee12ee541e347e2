"""What is kept of one person, over all months of a club: told to whoever asks for them, and erased when they ask for that.

`held.py` finds it, `erase.py` removes it, of one person or of everybody in months that are long over.
"""

from planning.personal.erase import ERASED, erase_old_months, erase_person
from planning.personal.held import held

__all__ = ["ERASED", "erase_old_months", "erase_person", "held"]
