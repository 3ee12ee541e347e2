"""The month's papers as PDF, each the bytes of a file: orders, cutting tickets, pick lists, packing slips."""

from planning.documents.pdf.fonts import unprintable

__all__ = ["unprintable"]
