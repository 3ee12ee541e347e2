"""Market day: two awnings over both pages, a pocket with cards, and two offcuts worth keeping."""

MARKET = """\
recipe MARKET: Market day
note: Glue the pocket along its sides and its lower edge only, and tuck the three cards in from above.
ruler 1/8 in
trimmer 12, takes 1 sheet

paper mats: 1 sheet 12 x 12
paper print: 1 sheet 12 x 12
paper accent: 1 sheet 12 x 12, print one way

piece photo mat: 1 of 4 1/2 x 6 1/2 from mats -> left
piece photo mat: 1 of 4 1/2 x 6 1/2 from mats -> right
piece price strip: 1 of 9 x 1 from mats -> left
piece pocket card: 3 of 3 x 4 from mats -> right
piece market tag: 1 of 4 1/2 x 2 1/2 from mats -> right
piece awning strip: 2 of 12 x 1 1/2 from print -> left
piece awning strip: 2 of 12 x 1 1/2 from print -> right
piece stall square: 1 of 6 x 6 from print -> left
piece stall square: 1 of 6 x 6 from print -> right
piece letter panel: 1 of 6 x 8 from accent -> left
piece letter panel: 1 of 6 x 8 from accent -> right
piece pocket: 1 of 6 x 4 from accent -> right

sheet 1 of mats
    cut at 9
        turn
        cut at 8: pocket card -> right
        cut at 4: pocket card -> right
        rest: pocket card -> right
    turn
    cut at 11: price strip -> left
    cut at 6 1/2
        turn
        cut at 6 1/2: market tag -> right
        # large enough for one more mat
        rest: offcut
    turn
    cut at 4 1/2: photo mat -> right
    rest: photo mat -> left

sheet 1 of print
    turn
    cut at 10 1/2: awning strip -> left
    cut at 9: awning strip -> left
    cut at 7 1/2: awning strip -> right
    cut at 6: awning strip -> right
    turn
    cut at 6: stall square -> right
    rest: stall square -> left

sheet 1 of accent
    turn
    cut at 8
        turn
        cut at 6: offcut
        rest: pocket -> right
    turn
    cut at 6: letter panel -> right
    rest: letter panel -> left

page left: 12 x 12
    awning strip at 0, 0
    awning strip at 0, 10 1/2
    letter panel at 6, 2
    stall square at 1/2, 3, layer 2
        photo 5 1/2 x 5 1/2, border 1/4
    photo mat at 7, 2 3/4, layer 2
        photo 4 x 6, border 1/4
    price strip at 1 1/2, 10 3/4, layer 2

page right: 12 x 12
    awning strip at 0, 0
    awning strip at 0, 10 1/2
    stall square at 0, 3
    letter panel at 6, 2
    photo mat at 3/4, 1 3/4, layer 2
        photo 4 x 6, border 1/4
    market tag at 3/4, 8 3/8, layer 2
    pocket card at 6 1/4, 4 1/4, layer 2
    pocket card at 7 1/2, 3 5/8, layer 3
    pocket card at 8 3/4, 3, layer 4
    pocket at 6, 6, layer 5
"""
