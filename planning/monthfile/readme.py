"""The first sheet of a month file: how to fill it in, in ten lines."""

TITLE = "A month, to be planned"

LINES = (
    "One file is one month: what can be bought, what the kit is made of, who gets a box, and how it is sent.",
    "Fill in the sheets from left to right. The needed ones are Club, Materials, Kit, Tiers, Roster, Services, Zones, "
    "Transit and Rates; a recipe in the kit needs its own sheets too, and the others may stay empty.",
    "Above every heading stands what to type, and what an empty cell means. The order of the columns does not matter.",
    "Rows refer to each other by codes of your own, such as CARD-12. Write a code the same way everywhere.",
    "Sizes are written with their unit: 9 1/4 in, 9¼, 235 mm, 23.5 cm. A size without one is read in the club's; the "
    "weight of a paper always needs its unit, 300 g/m² or 80 lb cover.",
    "Numbers may be written as 1,200 and 12 % and £0.42. Dates are real dates, or text such as 29 Mar 2027.",
    "Several codes go into one cell with commas between them: FULL, HALF.",
    "Money is in the club's currency. Quantities are in the material's own units: sheets, rolls, or single goods.",
    "When the file is read, everything to put right is named at once, with its sheet, row and column. Until all of "
    "it is put right, nothing is planned.",
    "This sheet and Countries are not read, nor is any sheet with the word Notes in its name: that one is yours. Notes "
    "may also stand in columns without a heading.",
)
