"""The checker of recipes. It shares no code with what searches for trims, nor with what reads the text."""

from itertools import chain, islice

from kits.catalogue import Print
from kits.recipe.check.cuts import sheet_faults
from kits.recipe.check.faults import Fault
from kits.recipe.check.pages import page_faults
from kits.recipe.check.pieces import piece_faults, way_round_faults
from kits.recipe.design import Design

MOST_FAULTS = 2_000  # nobody reads on, and a page of thousands of pieces could have millions


def check(design: Design) -> tuple[Fault, ...]:
    """Return every fault of a design at once; none if it can be cut and laid out as it stands."""
    one_way = frozenset(paper.role for paper in design.papers if paper.print is Print.ONE_WAY)
    faults = chain(
        sheet_faults(design), piece_faults(design), way_round_faults(design, one_way), page_faults(design)
    )
    return tuple(islice(faults, MOST_FAULTS))
