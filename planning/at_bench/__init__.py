"""The benches in the database: a plan is released to them, boxes are packed, and what comes after is kept beside the plan.

The rules are in `planning.packed`. `released.py` gives the plan that is packed, `boxes.py` a box's list, `acts.py` lets acts
count in one transaction, `people.py` is who signs in, `waves.py` how a wave gets on, `desk.py` what is done at the desk,
`numbers.py` the carriers' numbers, `changes.py` what changed since.
"""
