"""Names for the things a bill of materials speaks of: a kind and the code the club knows it by."""

from enum import StrEnum


class Kind(StrEnum):
    """Rooms of the bill, from what is sent down to what is bought."""

    KIT = "kit"  # a tier's kit in one box
    WELCOME = "welcome"  # what the kit says a first box holds besides
    ADDED = "added"  # what rules add to the boxes of a tier
    LEFT_OUT = "left out"  # what they take out of them, counted below zero
    WRAPPING = "wrapping"  # a tier's packaging for one box
    ORDER = "order"  # add-on orders and replacements
    CARTONS = "cartons"  # the cartons of all a tier's boxes
    ORDER_CARTONS = "order cartons"  # the cartons of all its parcels of one-off goods alone
    ORDER_WRAPPING = "order wrapping"  # packaging of a parcel of one-off goods alone
    RECIPE = "recipe"
    PIECE = "piece"  # cut by the club from a sheet
    LENGTH = "length"  # cut by the club from a roll
    MATERIAL = "material"  # bought


def item(kind: Kind, code: str) -> str:
    """Join kind and code into the one name the step uses."""
    return f"{kind}:{code}"


def kind_of(name: str) -> Kind:
    """Return the kind of a name made by `item`."""
    return Kind(name.partition(":")[0])


def code_of(name: str) -> str:
    """Return the club's own code of a name made by `item`."""
    return name.partition(":")[2]
