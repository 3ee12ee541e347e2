"""What the papers cannot print: names in a script their typeface lacks."""

from collections.abc import Iterable, Iterator

from planning.documents.pdf.address import lacking
from planning.documents.pdf.fonts import unprintable
from planning.gaps import Gap, listed
from planning.month import Month
from planning.roster import Subscriber

MOST_SHOWN = 12  # characters
NAMED = ("materials", "suppliers", "recipes", "pre_cuts", "tiers", "services", "guillotines")


def unprinted_names(month: Month) -> tuple[Gap, ...]:
    """Return one gap for all names of things that the papers show with question marks."""
    texts = [text for text in names(month) if not text.isascii() and unprintable(text)]
    return gap_of(
        texts, set().union(*map(unprintable, texts)), "Write them in Latin, Greek or Cyrillic letters."
    )


def unprinted_people(month: Month) -> tuple[Gap, ...]:
    """Return one gap for all people of a book whose name or address the slips show with question marks."""
    return unprinted_among(month.subscribers)


def unprinted_among(people: Iterable[Subscriber]) -> tuple[Gap, ...]:
    """Return one gap for all these people whose name or address the slips show with question marks."""
    which, missing = list[str](), set[str]()
    for one in people:
        if one.active and (lacks := lacking(one)):
            which.append(one.reference)
            missing |= lacks
    return gap_of(which, missing, "Copy these addresses by hand; the roster exceptions name every one.")


def gap_of(which: list[str], missing: Iterable[str], advice: str) -> tuple[Gap, ...]:
    """Word the gap, if there is any."""
    if not which:
        return ()
    letters = sorted(missing)
    shown = " ".join(letters[:MOST_SHOWN]) + (" ..." if len(letters) > MOST_SHOWN else "")
    words = f"The papers show ? for {shown}. {advice}"
    return (Gap(what="Characters not printed", which=listed(which), count=len(which), words=words),)


def names(month: Month) -> Iterator[str]:
    """Yield every name that is printed, those of the roster apart."""
    yield from (month.club.name, month.club.kit_name, month.club.address)
    yield from (supplier.address for supplier in month.suppliers)
    for table in NAMED:
        for row in getattr(month, table):
            yield row.title if table == "recipes" else row.name
