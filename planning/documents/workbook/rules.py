"""The sheet of the rules of what goes into boxes: what each does, and to how many boxes."""

from collections import defaultdict

from planning.contents import Applied, Clash
from planning.documents.workbook.table import Column, Look, Table
from planning.documents.workbook.words import sentence
from planning.flow import MonthPlan

RULES = "Rules"


def rules_table(plan: MonthPlan) -> Table[Applied]:
    """Return a row for each rule."""
    at_odds: defaultdict[str, list[Clash]] = defaultdict(list)
    for clash in plan.contents.clashes:
        at_odds[clash.dropped].append(clash)
    col = Column[Applied]
    return Table(
        name=RULES,
        says="What each row of the Box rules sheet came to. A box may be changed by several.",
        empty="No rules: every box holds its tier's kit and what was ordered besides.",
        rows=plan.contents.applied,
        columns=(
            col("rule", "Rule", lambda one: one.rule, width=16, needs_you=lambda one: bool(one.why_not)),
            col("words", "What it does", lambda one: sentence(one.words), width=60),
            col("boxes", "Boxes changed", lambda one: one.boxes, Look.COUNT),
            col("why", "Why none", lambda one: sentence(one.why_not), width=44),
            col(
                "odds",
                "Where it did not count",
                lambda one: " ".join(sentence(clash.words) for clash in at_odds[one.rule]),
                width=60,
                needs_you=lambda one: any(clash.equal for clash in at_odds[one.rule]),
            ),
        ),
    )
