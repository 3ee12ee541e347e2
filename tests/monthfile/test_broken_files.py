"""Broken month files, each with its whole report, word for word."""

from datetime import date, datetime

import pytest
from openpyxl import Workbook

from tests.monthfile.files import Edit, edited, report, typed


def without_sheet(title: str) -> Edit:
    return lambda workbook: workbook.remove(workbook[title])


def renamed(title: str, new: str) -> Edit:
    def edit(workbook: Workbook) -> None:
        workbook[title].title = new

    return edit


def without_column(title: str, letter: str) -> Edit:
    return lambda workbook: workbook[title].delete_cols(ord(letter) - ord("A") + 1)


def without_rows(title: str, first: int, count: int) -> Edit:
    return lambda workbook: workbook[title].delete_rows(first, count)


BROKEN: dict[str, tuple[list[Edit], list[str]]] = {
    "a missing sheet": (
        [without_sheet("Materials")],
        ["Materials: the file has no such sheet. Add a sheet with the title Materials."],
    ),
    "a misspelled sheet": (
        [renamed("Tiers", "Teirs")],
        [
            "Tiers: the file has no such sheet. Add a sheet with the title Tiers.",
            "Teirs: this is not a sheet of a month file. Did you mean Tiers?",
        ],
    ),
    "a sheet without headings": (
        [without_rows("Rates", 1, 2)],
        [
            "Rates: no headings were found in the first ten rows. It needs these: Service, Zone, Up to (g), Price a parcel "
            "(GBP)."
        ],
    ),
    "a missing column": (
        [without_column("Tiers", "B")],
        ['Tiers, row 2: the heading "Name" is missing. Add the column.'],
    ),
    "a column with a strange heading": (
        [typed("Materials", "R2", "Colour"), typed("Materials", "R3", "red")],
        [
            "Materials, row 2: the heading Colour in column R is not one of this sheet. A column of your own may "
            "stay if its heading is empty."
        ],
    ),
    "a column with a misspelled heading": (
        [typed("Offers", "G2", "Lead tmie (days)")],
        [
            "Offers, row 2: the heading Lead tmie (days) in column G is not one of this sheet. Did you mean Lead "
            "time (working days)?"
        ],
    ),
    "a column twice": (
        [typed("Tiers", "D2", "price a box")],
        ["Tiers, row 2: the heading price a box in column D stands here already. Keep one of the two."],
    ),
    "an unknown material": (
        [typed("Offers", "C4", "PRNIT")],
        ['Offers, row 4, column C "Material": PRNIT is not on the Materials sheet. Did you mean PRINT?'],
    ),
    "a duplicate code": (
        [typed("Materials", "A5", "CARD")],
        [
            'Materials, row 5, column A "Code": CARD stands here already, in row 3. Give each a code of its own.',
            'Offers, row 5, column C "Material": BIG is not on the Materials sheet. Add it there, or write one that is.',
            'Pre-cuts, row 3, column E "Cut from": BIG is not on the Materials sheet. Add it there, or write one that is.',
        ],
    ),
    "a negative count": (
        [typed("Stock", "B3", -2)],
        [
            'Stock, row 3, column B "On hand (units)": -2 is not a count: it is negative. Write a whole number '
            "from 0 to 1,000,000,000, such as 1,200."
        ],
    ),
    "a count of halves": (
        [typed("Kit", "C4", 2.5)],
        [
            'Kit, row 4, column C "Count": 2.5 is not a count: it is no whole number. Write a whole number from 0 '
            "to 1,000,000,000, such as 1,200."
        ],
    ),
    "a count of nothing": (
        [typed("Kit", "C4", 0)],
        ['Kit, row 4, column C "Count": 0 is less than 1. Write 1 to 10,000.'],
    ),
    "a piece larger than its sheet": (
        [typed("Pieces", "D3", "13 in"), typed("Pieces", "F3", 1)],
        [
            'Pieces, row 3, column D "Width (in or mm)": 13 in x 6 in is larger than its sheet, 12 in x 12 in '
            "(base of DAISY). Correct the piece or the sheet."
        ],
    ),
    "a price break out of order": (
        [typed("Price breaks", "B3", 50)],
        [
            'Price breaks, row 4, column B "From quantity (units)": 20 stands below 50, so the price breaks of '
            "M-CARD fall out of order. Write the breaks of an offer from the smallest quantity up."
        ],
    ),
    "a date that is not one": (
        [typed("Days off", "A3", "30 Feb 2027")],
        [
            'Days off, row 3, column A "Date": 30 Feb 2027 is not a date: there is no such day. Write a date as '
            "2027-03-29 or 29 Mar 2027."
        ],
    ),
    "a date that can be read in two ways": (
        [typed("Open orders", "F3", "03/04/2027")],
        [
            'Open orders, row 3, column F "Due": 03/04/2027 could be read in two ways, 3 Apr 2027 or 4 Mar 2027. Write a '
            "date as 2027-03-29 or 29 Mar 2027."
        ],
    ),
    "a date in numbers alone": (
        [typed("Open orders", "F3", "18/3/27")],
        [
            'Open orders, row 3, column F "Due": 18/3/27 says day and month in numbers alone. Did you mean 18 Mar 2027?'
        ],
    ),
    "a day in numbers that is none": (
        [typed("Open orders", "F3", "31/02/2027")],
        [
            'Open orders, row 3, column F "Due": 31/02/2027 is not a date: there is no such day. Write a date as 2027-03-29 '
            "or 29 Mar 2027."
        ],
    ),
    "a paper weight without its unit": (
        [typed("Materials", "H3", 80)],
        [
            'Materials, row 3, column H "Paper weight (g/m² or lb)": 80 is not a paper weight: it has no unit, and 80 g/m², '
            "80 lb cover and 80 lb text are three different papers. Write grams per square metre, such as 300 g/m², or "
            "pounds with their grade, such as 80 lb cover; the grades are bond, cover, text, index, bristol, tag, writing, "
            "ledger, book, offset, newsprint."
        ],
    ),
    "a number for a date": (
        [typed("Days off", "A3", 46107, "General")],
        ['Days off, row 3, column A "Date": 46107 is not a date. Write a date as 2027-03-29 or 29 Mar 2027.'],
    ),
    "an unknown country": (
        [typed("Roster", "I3", "UK")],
        ['Roster, row 3, column I "Country": UK is not a country code. Did you mean GB?'],
    ),
    "a country without a zone": (
        [typed("Roster", "I3", "NO")],
        [
            'Roster, row 3, column I "Country": NO (Norway, 1 active subscriber) has no zone at any carrier. Add '
            "its zone, with transit days and rates, to the sheets of these names."
        ],
    ),
    "a word that is not on the list": (
        [typed("Materials", "C3", "sheets")],
        [
            'Materials, row 3, column C "Kind": sheets is not one of the words for it. Did you mean sheet? Write '
            "sheet, roll, counted, packaging or print."
        ],
    ),
    "neither yes nor no": (
        [typed("Roster", "L4", "perhaps")],
        ['Roster, row 4, column L "Active": perhaps is neither yes nor no. Write yes or no.'],
    ),
    "a length that is none": (
        [typed("Pieces", "D3", "six inches")],
        [
            'Pieces, row 3, column D "Width (in or mm)": six inches is not a length: there is no number where '
            "'six "
            "inches' stands. Write a length above zero, at most 100 km, such as 9 1/4 in, 9.25 in, 235 mm, 23.5 "
            "cm, 1.5 m, 2 yd or 1 ft 6 in."
        ],
    ),
    "a roll whose length has no unit": (
        [typed("Materials", "K6", 10)],
        [
            'Materials, row 6, column K "Roll length (m or yd)": 10 is not a length: it has no unit. Write a '
            "length above zero, at most 100 km, such as 9 1/4 in, 9.25 in, 235 mm, 23.5 cm, 1.5 m, 2 yd or 1 ft 6 in."
        ],
    ),
    "a price that is no amount": (
        [typed("Price breaks", "C3", "cheap")],
        [
            'Price breaks, row 3, column C "Price each (GBP)": cheap is not an amount of money: '
            "'cheap' is not a "
            "number. Write an amount from 0 to below 1,000,000,000,000, with at most 6 decimals, such as 1,234.50 "
            "or 0.0425."
        ],
    ),
    "a price in other money": (
        [
            typed("Price breaks", "C3", "$0.40"),
            typed("Rates", "D3", "3 EUR"),
            typed("Rates", "D4", "GBP 4.00"),
        ],
        [
            'Price breaks, row 3, column C "Price each (GBP)": $0.40 is in $, but all money in this file is in GBP. Write '
            "the amount in that, as a number alone.",
            'Rates, row 3, column D "Price a parcel (GBP)": 3 EUR is in EUR, but all money in this file is in GBP. Write '
            "the amount in that, as a number alone.",
        ],
    ),
    "a word for every tier": (
        [typed("Kit", "E3", "all")],
        [
            'Kit, row 3, column E "Tiers": all is not on the Tiers sheet. Write one that is, or empty the cell if every '
            "tier gets it."
        ],
    ),
    "a sheet twice": (
        [lambda workbook: workbook.create_sheet("TIERS ").append(["Code"])],
        ["TIERS : there is another sheet of this name. Keep one of the two."],
    ),
    "overs of more than all": (
        [typed("Pre-cuts", "G3", "250 %")],
        ['Pre-cuts, row 3, column G "Overs (% of good count)": 250 is more than 100. Write 0 to 100.'],
    ),
    "an empty cell that is needed": (
        [typed("Roster", "B5", "   ")],
        ['Roster, row 5, column B "Name": it is empty. Fill it in. As on the label.'],
    ),
    "a broken formula": (
        [typed("Stock", "B3", "#REF!")],
        [
            'Stock, row 3, column B "On hand (units)": #REF! is an error of the spreadsheet. Correct the formula, '
            "or type the value."
        ],
    ),
    "a formula never worked out": (
        [typed("Stock", "B3", "=1+1")],
        [
            'Stock, row 3, column B "On hand (units)": the cell holds a formula that was never worked out. Open '
            "the file in your spreadsheet and save it, or type the value."
        ],
    ),
    "a text that became a date": (
        [typed("Roster", "H3", date(2027, 2, 1), "d mmm yyyy")],
        [
            'Roster, row 3, column H "Postcode": 1 Feb 2027 has become a date in the spreadsheet. Format the cell '
            "as text and type it again."
        ],
    ),
    "a setting that is none": (
        [typed("Club", "A9", "Rular")],
        ['Club, row 9, column A "Setting": Rular is not a setting. Did you mean Ruler?'],
    ),
    "a setting that is missing": (
        [without_rows("Club", 7, 1)],
        [
            'Club: the setting "Currency" is missing. Fill it in. Three letters of ISO 4217, like GBP. All money here is '
            "in it."
        ],
    ),
    "a setting twice": (
        [typed("Club", "A27", "currency"), typed("Club", "B27", "EUR")],
        ['Club, row 27, column A "Setting": currency stands here already, in row 7. Keep one of the two.'],
    ),
    "a promise before packing": (
        [typed("Club", "B11", "2027-W13")],
        [
            'Club, row 11, column B "Promised week": 2027-W13 is over before packing starts, 5 Apr 2027. Correct '
            "one of them."
        ],
    ),
    "a week that is none": (
        [typed("Club", "B11", "2027-W54")],
        [
            'Club, row 11, column B "Promised week": 2027-W54 is not a week of a year. Write it as 2027-W14, or '
            "write a date in it as 29 Mar 2027."
        ],
    ),
    "an unknown ruler": (
        [typed("Club", "B9", "1/7 in")],
        [
            'Club, row 9, column B "Ruler": 1/7 in is not a ruler. The rulers are 1/8 in, 1/16 in, 1/32 in, 0.5 mm, 1 mm.'
        ],
    ),
    "a sheet of one's own": (
        [lambda workbook: workbook.create_sheet("Ideas").append(["ribbon?"])],
        ["Ideas: this is not a sheet of a month file. If it is your own, put the word Notes into its name."],
    ),
}


@pytest.mark.parametrize("broken", BROKEN)
def test_a_broken_file_is_reported_word_for_word(broken: str) -> None:
    edits, expected = BROKEN[broken]
    assert report(edited(*edits)) == expected


def test_a_sheet_with_notes_in_its_name_is_ones_own() -> None:
    file = edited(
        lambda workbook: workbook.create_sheet("Notes").append(["ribbon?"]),
        lambda workbook: workbook.create_sheet("My notes on paper").append(["Code", 1, "=1/0"]),
    )
    assert report(file) == []


@pytest.mark.parametrize(
    ("sheet", "cell", "typed_heading", "meant"),
    [
        ("Offers", "D2", "Pack size", "Pack (units)"),
        ("Offers", "E2", "MOQ", "Minimum order (units)"),
        ("Roster", "A2", "Ref", "Reference"),
        ("Roster", "F2", "Town", "City"),
        ("Roster", "G2", "State", "Region"),
        ("Roster", "H2", "Zip code", "Postcode"),
        ("Services", "F2", "Max weight (g)", "Heaviest parcel (g)"),
        ("Price breaks", "C2", "Price", "Price each (GBP)"),
        ("Rates", "D2", "Price (GBP)", "Price a parcel (GBP)"),
        ("Tiers", "C2", "Price", "Price a box (GBP)"),
        ("Materials", "H2", "GSM", "Paper weight (g/m² or lb)"),
        ("Materials", "I2", "Caliper", "Thickness (mil, mm or in)"),
        ("Club", "A9", "Units", "Ruler"),
        ("Club", "A3", "Shop", "Club name"),
    ],
)
def test_what_people_call_a_column_is_answered_with_ours(
    sheet: str, cell: str, typed_heading: str, meant: str
) -> None:
    assert any(f"Did you mean {meant}?" in line for line in report(edited(typed(sheet, cell, typed_heading))))


def test_everything_wrong_is_reported_at_once_in_the_order_of_sheets_and_rows() -> None:
    file = edited(
        typed("Rates", "D5", "free"),
        typed("Offers", "D3", -5),
        typed("Offers", "C3", "KARD"),
        typed("Materials", "D3", "wide"),
        typed("Club", "B8", "England"),
        typed("Roster", "J4", "FUL"),
        typed("Roster", "M7", datetime(2027, 4, 2, 13, 30)),  # noqa: DTZ001
    )
    assert [line.partition(": ")[0] for line in report(file)] == [
        'Club, row 8, column B "Country"',
        'Materials, row 3, column D "Width (in or mm)"',
        'Offers, row 3, column D "Pack (units)"',
        'Roster, row 4, column J "Tier"',
        'Rates, row 5, column D "Price a parcel (GBP)"',
    ]
