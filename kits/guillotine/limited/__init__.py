"""The best use of one sheet where only so many of some pieces are wanted."""

from kits.guillotine.limited.question import Question, asked
from kits.guillotine.limited.search import Limited, best_limited
from kits.guillotine.limited.surplus import without_surplus
from kits.guillotine.limited.within import Within, within_limits

__all__ = ["Limited", "Question", "Within", "asked", "best_limited", "within_limits", "without_surplus"]
