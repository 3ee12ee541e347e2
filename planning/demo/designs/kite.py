"""Kite weather: a mosaic without gaps, and two cards to spare."""

KITE = """\
recipe KITE: Kite weather
note: Begin with the two long tails of a page and lay the rest between them, edge against edge. Two sky cards are to spare.
ruler 1/8 in
trimmer 12, takes 1 sheet

paper print: 1 sheet 12 x 12, print one way
paper accent: 1 sheet 12 x 12

piece cloud panel: 2 of 4 x 6 from print -> left
piece kite square: 3 of 4 x 4 from print -> right
piece sky card: 2 of 4 x 3 from print -> left
piece sky card: 2 of 4 x 3 from print
piece tail strip: 2 of 12 x 1 from accent -> left
piece tail strip: 2 of 12 x 1 from accent -> right
piece tail tag: 3 of 4 x 3 from accent -> left
piece kite mat: 3 of 4 x 5 from accent -> right

sheet 1 of print
    cut at 8
        turn
        cut at 9: sky card
        cut at 6: sky card
        cut at 3: sky card -> left
        rest: sky card -> left
    cut at 4
        turn
        cut at 8: kite square -> right
        cut at 4: kite square -> right
        rest: kite square -> right
    turn
    cut at 6: cloud panel -> left
    rest: cloud panel -> left

sheet 1 of accent
    turn
    cut at 11: tail strip -> left
    cut at 10: tail strip -> left
    cut at 9: tail strip -> right
    cut at 8: tail strip -> right
    cut at 5
        turn
        cut at 8: tail tag -> left
        cut at 4: tail tag -> left
        rest: tail tag -> left
    turn
    cut at 8: kite mat -> right
    cut at 4: kite mat -> right
    rest: kite mat -> right

page left: 12 x 12
    tail strip at 0, 1/2
    tail strip at 0, 10 1/2
    cloud panel at 0, 1 1/2
        photo 3 1/2 x 5, border 1/4
    sky card at 0, 7 1/2
    tail tag at 4, 1 1/2
    tail tag at 4, 4 1/2
    tail tag at 4, 7 1/2
    sky card at 8, 1 1/2
    cloud panel at 8, 4 1/2
        photo 3 1/2 x 5, border 1/4

page right: 12 x 12
    tail strip at 0, 1/2
    tail strip at 0, 10 1/2
    kite mat at 0, 1 1/2
        photo 3 1/2 x 4 1/2, border 1/4
    kite square at 0, 6 1/2
    kite square at 4, 1 1/2
    kite mat at 4, 5 1/2
        photo 3 1/2 x 4 1/2, border 1/4
    kite mat at 8, 1 1/2
        photo 3 1/2 x 4 1/2, border 1/4
    kite square at 8, 6 1/2
"""
