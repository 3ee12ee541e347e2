"""Letters home: two A4 sheets trimmed together on an inch ruler, and pockets that come ready cut."""

LETTERS = """\
recipe LETTERS: Letters home
note: The two pockets come ready cut. Glue them along three edges, so that letters slide in from above.
ruler 1/8 in
trimmer 12, takes 2 sheets

paper ground: 2 sheets 12 x 12, at least 180 g/m²
paper overlay: 1 sheet 210 x 297 mm, at most 120 g/m²
paper mats: 1 sheet 210 x 297 mm
# a parent sheet; the club's guillotine makes many pockets of it
paper pockets: 0 sheets 700 x 1000 mm, at least 250 g/m²

piece ground: 1 of 12 x 12 from ground -> left
piece ground: 1 of 12 x 12 from ground -> right
piece veil: 1 of 8 x 5 3/4 from overlay -> left
piece half veil: 2 of 4 x 5 3/4 from overlay -> right
piece letter mat: 2 of 4 x 5 3/4 from mats -> left
piece letter mat: 2 of 4 x 5 3/4 from mats -> right
piece letter pocket: 2 of 5 1/2 x 8 1/2 from pockets -> right, cut by the club

sheet 1 of ground: ground -> left

sheet 2 of ground: ground -> right

together: sheet 1 of overlay, sheet 1 of mats
    cut at 8: offcut
    turn
    cut at 11 1/2: offcut
    cut at 5 3/4
        turn
        cut at 4
            sheet 1 of overlay: half veil -> right
            sheet 1 of mats: letter mat -> right
        sheet 1 of overlay: half veil -> right
        sheet 1 of mats: letter mat -> right
    sheet 1 of overlay: veil -> left
    sheet 1 of mats
        turn
        cut at 4: letter mat -> left
        rest: letter mat -> left

page left: 12 x 12
    ground at 0, 0
    veil at 2, 5 3/4, layer 2
    letter mat at 1 1/2, 3/4, layer 3
        photo 3 1/2 x 5, border 1/4
    letter mat at 6 1/2, 3/4, layer 3
        photo 3 1/2 x 5, border 1/4

page right: 12 x 12
    ground at 0, 0
    letter mat at 1, 1/2, layer 2
    letter mat at 7, 1/2, layer 2
    letter pocket at 1/4, 3, layer 3
    letter pocket at 6 1/4, 3, layer 3
    half veil at 1, 4 1/2, layer 4
    half veil at 7, 4 1/2, layer 4
"""
