"""Lists of everything one by one, of any length: workbooks written row by row."""

from planning.documents.lists.write import MOST_ROWS, Listed, ListTooLongError, write_lists

__all__ = ["MOST_ROWS", "ListTooLongError", "Listed", "write_lists"]
