"""Postage rows that cannot be, and parcels that cannot be priced."""


class PostageError(ValueError):
    """A row of a carrier that cannot be; the message says which, why, and what to write instead."""


class NoZoneError(PostageError):
    """A carrier has no zone, or more than one, for a destination."""


class NoRateError(PostageError):
    """A service has no rate for a day, a zone or a weight."""
