"""What a question about overs is refused with."""


class OversError(ValueError):
    """A count, a price or a quantity that cannot be; the message says which and what is allowed."""
