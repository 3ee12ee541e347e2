"""Five recipes, each a spread of two pages, as their designer typed them."""

from planning.demo.designs.gate import GATE
from planning.demo.designs.kite import KITE
from planning.demo.designs.letters import LETTERS
from planning.demo.designs.market import MARKET
from planning.demo.designs.table import TABLE

__all__ = ["GATE", "KITE", "LETTERS", "MARKET", "TABLE"]
