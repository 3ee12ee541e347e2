"""The best use of one sheet where only so many of some pieces are wanted."""

from kits.guillotine.limited.question import Question, asked
from kits.guillotine.limited.search import Limited, best_limited
from kits.guillotine.limited.within import within_limits

__all__ = ["Limited", "Question", "asked", "best_limited", "within_limits"]
