"""A month to try everything on: an invented club, its kit, its suppliers and its subscribers."""

from planning.demo.month import demo_month

__all__ = ["demo_month"]
