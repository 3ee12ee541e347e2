"""The month's papers as PDF, each the bytes of a file: orders, cutting tickets, pick lists, packing slips."""

from planning.documents.pdf.cutting_tickets import cutting_tickets
from planning.documents.pdf.fonts import unprintable
from planning.documents.pdf.packing_slips import packing_slips
from planning.documents.pdf.pick_list import pick_list
from planning.documents.pdf.purchase_order import purchase_order

__all__ = ["cutting_tickets", "packing_slips", "pick_list", "purchase_order", "unprintable"]
