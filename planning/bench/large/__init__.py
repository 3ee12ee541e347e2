"""A month of a million boxes: planned, listed, looked at and printed, each beside what bounds it. Start at `run.py`."""
