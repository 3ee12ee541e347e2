"""A roster on its own, as long as it may be: CSV or a workbook's Roster sheet, read and judged a thousand rows at a time.

Headings, cells and rules are the month file's, so a row is judged the same way in either. `source` opens a file, `text`
reads CSV, `read` turns rows into people and says what is wrong with the others.
"""

from planning.rosterfile.read import CHUNK, Chunk, Refused, read_roster

__all__ = ["CHUNK", "Chunk", "Refused", "read_roster"]
