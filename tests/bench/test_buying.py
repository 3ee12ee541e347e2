from planning.bench.buying import beside_brute_force, beside_greedy, published_rows
from planning.bench.months import can_be_tried, random_month, small_month


def test_published_lots_come_out() -> None:
    for row in published_rows():
        assert row.found == row.optimum


def test_a_small_month_stands_beside_what_trying_everything_finds() -> None:
    month = next(month for seed in range(20) if can_be_tried(month := small_month(seed)))
    row = beside_brute_force("small", month)
    assert (row.found, row.ended) == (row.optimum, "proved")


def test_a_larger_month_stands_beside_a_greedy_buyer_with_what_it_saves() -> None:
    row, less = beside_greedy("large", random_month(1, 6, 3, 3))
    assert less >= 0
    assert row.ended == f"proved; saves {less:,} against a greedy buyer"
