"""What a customs declaration says of an item, in rows."""

import re
from dataclasses import dataclass
from decimal import Decimal

HS_CODE = re.compile(
    r"[0-9]{6}([0-9]{2}){0,2}"
)  # six digits are the same everywhere, further ones a country's own


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomsFact:
    """One thing a box may hold, as a declaration names it.

    item: code of a material or of what is cut from one; a piece without a row of its own is declared as its paper is, by its
    share of the area. words: what it is, in plain words. hs_code: of the Harmonized System, dots and spaces do not count.
    origin: the country it was made in, ISO 3166. value: of one unit, in the club's money.
    """

    item: str
    words: str
    hs_code: str
    origin: str
    value: Decimal

    @property
    def digits(self) -> str:
        """The code's digits alone."""
        return re.sub(r"[. ]", "", self.hs_code)
