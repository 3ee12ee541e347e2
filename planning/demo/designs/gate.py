"""Garden gate: not a scrap is left of its sheets."""

GATE = """\
recipe GATE: Garden gate
note: The blossom runs along the top of both pages, and a band of it along the bottom.
ruler 1/8 in
trimmer 12, takes 1 sheet

paper ground: 2 sheets 12 x 12, at least 180 g/m²
paper mats: 1 sheet 12 x 12, at least 180 g/m²
paper print: 1 sheet 12 x 12, print one way

piece ground: 1 of 12 x 12 from ground -> left
piece ground: 1 of 12 x 12 from ground -> right
piece photo mat: 2 of 4 1/4 x 6 1/4 from mats -> left
piece photo mat: 1 of 4 1/4 x 6 1/4 from mats -> right
piece story card: 3 of 3 1/2 x 4 from mats -> right
piece caption strip: 1 of 6 1/4 x 1 1/2 from mats -> left
piece gate tag: 1 of 2 1/4 x 4 from mats -> left
piece corner label: 1 of 2 1/4 x 1 3/4 from mats -> right
piece border band: 1 of 12 x 2 from print -> left
piece border band: 1 of 12 x 2 from print -> right
piece blossom square: 3 of 4 x 4 from print -> left
piece blossom square: 3 of 4 x 4 from print -> right

sheet 1 of ground: ground -> left

sheet 2 of ground: ground -> right

sheet 1 of mats
    cut at 8 1/2
        turn
        cut at 8: story card -> right
        cut at 4: story card -> right
        rest: story card -> right
    turn
    cut at 6 1/4
        turn
        cut at 6 1/4
            turn
            cut at 4: corner label -> right
            rest: gate tag -> left
        turn
        cut at 4 1/4: caption strip -> left
        rest: photo mat -> right
    turn
    cut at 4 1/4: photo mat -> left
    rest: photo mat -> left

sheet 1 of print
    turn
    cut at 10: border band -> right
    cut at 8: border band -> left
    cut at 4
        turn
        cut at 8: blossom square -> right
        cut at 4: blossom square -> right
        rest: blossom square -> right
    turn
    cut at 8: blossom square -> left
    cut at 4: blossom square -> left
    rest: blossom square -> left

page left: 12 x 12
    ground at 0, 0
    blossom square at 0, 0, layer 2
    blossom square at 4, 0, layer 2
    blossom square at 8, 0, layer 2
    border band at 0, 9 1/2, layer 2
    photo mat at 1 1/4, 2, layer 3
        photo 4 x 6, border 1/8
    photo mat at 6 1/2, 2, layer 3
        photo 4 x 6, border 1/8
    caption strip at 1 1/4, 9 3/4, layer 3
    gate tag at 7 3/4, 9 3/8, layer 3, turned

page right: 12 x 12
    ground at 0, 0
    blossom square at 0, 0, layer 2
    blossom square at 4, 0, layer 2
    blossom square at 8, 0, layer 2
    border band at 0, 9 1/2, layer 2
    photo mat at 3/4, 3/4, layer 3, turned
        photo 6 x 4, border 1/8
    story card at 3/8, 5 1/4, layer 3
    story card at 4 1/4, 5 1/4, layer 3
    story card at 8 1/8, 5 1/4, layer 3
    corner label at 9, 9 5/8, layer 3
"""
