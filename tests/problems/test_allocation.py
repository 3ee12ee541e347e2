"""Whose boxes are asked about when something is short."""

from planning.calendar import YearMonth
from planning.problems.allocation import group_code
from planning.roster import Change, Contents

MARCH = YearMonth(2027, 3)


def test_goods_alone_for_two_tiers_are_two_groups() -> None:
    """Who skips a month may still order something: such parcels had one name for all tiers, and the month was refused."""
    goods = (Change(item="material:STICKERS", count=2, why="add-on order"),)
    codes = {group_code(Contents(tier=tier, kit=False, besides=goods), MARCH) for tier in ("FULL", "HALF")}
    assert codes == {
        "FULL, goods only + 2 x STICKERS (add-on order), joined March 2027",
        "HALF, goods only + 2 x STICKERS (add-on order), joined March 2027",
    }


def test_a_kit_names_its_tier_once() -> None:
    assert group_code(Contents(tier="FULL"), None) == "FULL, founding members"
