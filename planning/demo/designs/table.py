"""Long table: two photos of 5 x 7 in, tabs that come ready cut, and a scrap no larger than a stamp."""

TABLE = """\
recipe TABLE: Long table
note: The runners go right over both pages, like a cloth. The four date tabs come ready cut.
ruler 1/8 in
trimmer 12, takes 1 sheet

paper mats: 1 sheet 12 x 12
paper print: 1 sheet 12 x 12
# a parent sheet; the club's guillotine makes many tabs of it
paper tabs: 0 sheets 450 x 640 mm

piece photo mat: 1 of 5 1/4 x 7 1/4 from mats -> left
piece photo mat: 1 of 5 1/4 x 7 1/4 from mats -> right
piece menu card: 2 of 4 3/4 x 3 from mats -> left
piece menu card: 1 of 4 3/4 x 3 from mats -> right
piece place strip: 1 of 4 3/4 x 1 1/2 from mats -> left
piece place strip: 2 of 4 3/4 x 1 1/2 from mats -> right
piece runner: 2 of 12 x 3 from print -> left
piece runner: 2 of 12 x 3 from print -> right
piece date tab: 4 of 1 1/2 x 2 1/4 from tabs -> left, not turned, cut by the club

sheet 1 of mats
    cut at 10 1/2
        turn
        cut at 9 1/2: offcut
        cut at 4 3/4: place strip -> right
        rest: place strip -> right
    turn
    cut at 7 1/4
        turn
        cut at 9: place strip -> left
        cut at 6: menu card -> right
        cut at 3: menu card -> left
        rest: menu card -> left
    turn
    cut at 5 1/4: photo mat -> right
    rest: photo mat -> left

sheet 1 of print
    turn
    cut at 9: runner -> right
    cut at 6: runner -> right
    cut at 3: runner -> left
    rest: runner -> left

page left: 12 x 12
    runner at 0, 1
    runner at 0, 8
    photo mat at 3/4, 2 3/8, layer 2
        photo 5 x 7, border 1/8
    menu card at 6 5/8, 2, layer 2
    menu card at 6 5/8, 5 1/4, layer 2
    place strip at 6 5/8, 8 1/2, layer 2
    date tab at 1/4, 9 3/4, layer 2
    date tab at 1 7/8, 9 3/4, layer 2
    date tab at 3 1/2, 9 3/4, layer 2
    date tab at 5 1/8, 9 3/4, layer 2

page right: 12 x 12
    runner at 0, 1
    runner at 0, 8
    photo mat at 6, 2 3/8, layer 2
        photo 5 x 7, border 1/8
    menu card at 5/8, 2 3/4, layer 2
    place strip at 5/8, 6, layer 2
    place strip at 5/8, 7 3/4, layer 2
"""
