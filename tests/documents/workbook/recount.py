"""What the month costs, added up again from nothing but the exported workbook, by other sums than the program's."""

import sys
from collections import defaultdict
from decimal import ROUND_HALF_UP, Decimal
from io import BytesIO
from pathlib import Path
from typing import Any

import openpyxl

COINS = {"JPY": Decimal(1)}  # of the currencies tested; all others have hundredths
IN_A_BOX = ("Paper", "Cutting", "Extras", "Packaging", "Packing", "Overtime", "Postage")


def smallest_coin(book: openpyxl.Workbook) -> Decimal:
    heads = " ".join(str(cell.value) for cell in book["Cost"][3])
    return next((coin for code, coin in COINS.items() if f"({code})" in heads), Decimal("0.01"))


def rows(book: openpyxl.Workbook, name: str) -> list[dict[str, Any]]:
    lines = list(book[name].iter_rows(min_row=3, values_only=True))
    heads = [str(head).split(" (")[0] for head in lines[0]]
    kept = [line for line in lines[1:] if line[0] not in (None, "Total") and line[1] is not None]
    return [
        {
            h: Decimal(str(v)) if isinstance(v, int | float) else v or ""
            for h, v in zip(heads, line, strict=True)
        }
        for line in kept
    ]


def recounted(file: bytes) -> tuple[Decimal, Decimal]:
    """Return the cost of the month counted here, and what the workbook's own table says."""
    book = openpyxl.load_workbook(BytesIO(file), data_only=True)
    coin = smallest_coin(book)

    def coins(amount: Decimal) -> Decimal:
        return amount.quantize(coin, ROUND_HALF_UP)

    lots, tiers, charges = rows(book, "Lots"), rows(book, "Cost"), rows(book, "Other costs")
    bought: defaultdict[str, Decimal] = defaultdict(Decimal)
    for lot in lots:
        bought[lot["Material"]] += lot["Goods"]
    goods = sum(bought.get(one["Goods"], one["Cost of all"]) - one["Kept"] for one in rows(book, "Shelf"))
    for one in rows(book, "Shelf"):
        assert not one["Units"] or one["Kept"] <= one["Cost of all"] + one["From larger sheets"]
    freight = sum(lot["Set-up"] + lot["Freight"] for lot in lots)
    knife = sum(ticket["Cost"] for ticket in rows(book, "Cut"))
    days = rows(book, "Crew days")
    beyond = sum((day["Overtime"] for day in days), Decimal(0))
    bench = sum(one["Boxes"] * one["Minutes each"] for one in rows(book, "Pack")) - beyond
    rates = (days[0]["Crew, an hour"], days[0]["Overtime, an hour"]) if days else (Decimal(0), Decimal(0))
    crew = coins(bench * rates[0] / 60) + coins(beyond * rates[1] / 60)
    postage = sum(load["Boxes"] * load["Postage each"] for load in rows(book, "Ship"))
    others = Decimal(0)
    for charge in charges:
        rate, again, fee = (
            charge["Rate"] / 100,
            charge["Kind"] == "damage in the post",
            charge["Kind"] == "payment fee",
        )
        for tier in tiers:
            if charge["Tiers"] == "all" or tier["Tier"] in charge["Tiers"].split(", "):
                kits = tier["Kits"] or 0
                of = (
                    sum(tier[one] for one in IN_A_BOX)
                    if again
                    else tier["Price of one"] * kits
                    if fee and kits
                    else 0
                )
                others += coins(of * rate + kits * charge["Each"] * (rate if again else 1))
        others += coins(charge["Once"])
    return goods + freight + knife + crew + postage + others, sum(
        (tier["Total"] for tier in tiers), Decimal(0)
    )


if __name__ == "__main__":
    print(*recounted(Path(sys.argv[1]).read_bytes()))
