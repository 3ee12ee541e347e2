"""What else people call the columns and settings of a month file, so that a strange heading is answered with ours."""

from collections.abc import Sequence

from planning.faults.hints import bare_letters, did_you_mean

SHORTEST = 3  # letters by which a heading is known; fewer begin too many words

# what is typed -> our headings it may stand for, the likeliest first; common practice, no source
ALSO_CALLED = {
    "id": ("Reference", "Code", "Order"),
    "no": ("Reference", "Order", "Code"),
    "number": ("Reference", "Order", "Code"),
    "sku": ("Code", "Item", "Material"),
    "description": ("Name", "Title"),
    "customer": ("Name", "Subscriber"),
    "firstname": ("Name",),
    "surname": ("Name",),
    "fullname": ("Name",),
    "street": ("Address line 1",),
    "town": ("City",),
    "place": ("City",),
    "state": ("Region",),
    "county": ("Region",),
    "province": ("Region",),
    "zip": ("Postcode",),
    "zipcode": ("Postcode",),
    "postalcode": ("Postcode",),
    "qty": ("Quantity", "Boxes", "Count", "On hand", "From quantity"),
    "amount": ("Count", "Quantity", "Boxes"),
    "numberofboxes": ("Boxes",),
    "subscription": ("Tier",),
    "level": ("Tier",),
    "plan": ("Tier",),
    "startdate": ("Joined",),
    "since": ("Joined",),
    "status": ("Active",),
    "type": ("Kind",),
    "category": ("Kind",),
    "gsm": ("Paper weight",),
    "grammage": ("Paper weight",),
    "basisweight": ("Paper weight",),
    "weight": ("Weight each", "Paper weight", "Up to"),
    "caliper": ("Thickness",),
    "depth": ("Inside depth", "Thickness"),
    "length": ("Height", "Length each", "Roll length"),
    "grain": ("Grain along",),
    "stock": ("On hand",),
    "instock": ("On hand",),
    "cost": ("Price each", "Price a parcel", "Value each", "Price a box"),
    "unitprice": ("Price each",),
    "moq": ("Minimum order",),
    "leadtime": ("Lead time",),
    "shipping": ("Freight an order",),
    "maxweight": ("Heaviest parcel", "Up to"),
    "maximumweight": ("Heaviest parcel", "Up to"),
    "weightlimit": ("Heaviest parcel", "Up to"),
    "days": ("Transit", "Lead time", "Collects on"),
    "transittime": ("Transit",),
    "expected": ("Due",),
    "duedate": ("Due",),
    "eta": ("Due",),
    "pieces": ("Piece", "Count"),
    "paper": ("Material", "Paper role"),
    "role": ("Paper role",),
    "sheets": ("Sheets posted",),
    "day": ("Date", "Weekday"),
    "minutes": ("Crew",),
    "holiday": ("Date",),
    "shop": ("Club name",),
    "company": ("Club name",),
    "units": ("Ruler",),
    "measure": ("Ruler",),
    "deliveryweek": ("Promised week",),
    "deadline": ("Promised week",),
}


def probably(text: str, key: str, titles: Sequence[str], keys: Sequence[str]) -> str:
    """Return a question that names which of some titles a heading stands for, or nothing.

    key and keys: the heading and the titles as headings are compared.
    """
    ours = dict(zip(keys, titles, strict=True))
    named = (ours[other] for name in ALSO_CALLED.get(key, ()) if (other := bare_letters(name)) in ours)
    begun = (ours[other] for other in ours if len(key) >= SHORTEST and alike(key, other))
    meant = next(named, None) or next(begun, None)
    return f"Did you mean {meant}?" if meant else did_you_mean(text, titles)


def alike(key: str, other: str) -> bool:
    """Tell whether one of two headings is the beginning of the other."""
    return other.startswith(key) or (len(other) >= SHORTEST and key.startswith(other))
