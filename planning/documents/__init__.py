"""The papers people work from: what each says, and its bytes. `papers.py` names every one of a month.

Nothing is imported here: whoever wants a paper's name or stamp alone need not wait for the writers.
"""
