"""The words of rules texts and the concepts that they stand for.

One line a concept: its name, then its words in their plain form (the lexer undoes plurals, -ed and -ing),
several
words being a phrase that wins over its parts. `OTHER` holds words of rules that the contract does not have: a sentence
with one of them is a rule, and no pattern accounts for it. `FILLER` words change nothing in what a rule says.
"""

from __future__ import annotations

_CONCEPTS = """
ONLY: only, solely, exclusively
SEGMENT: segment, part, section, division, stretch of line
DIGIT: digit, number, numeral, figure, value
IT: it, its, it s, their, them, they, there, these
PAIR: pair, couple, duo
NEUTRALNOUN: group, one of them, thing, way, case, content, contents
CELL: cell, space, field, place, empty square, empty cell, individual square
GRID: grid, diagram, puzzle, board, sudoku grid
ROW: row, rank, horizontal row, line across, across line, horizontal line
COLUMN: column, file, vertical column, line down, down line, vertical line, col
BOX: box, block, nonet, subgrid, sub grid, subsquare, box border, box boundary
REGION: region, area, zone, jigsaw piece, piece, house, window, portion, cluster
LINE: line, path, track, trail, string, curve, strand, stroke, route
THERMO: thermometer, thermo, thermometre, tube, mercury, thermometer shape
SLOW: slow, lazy
BULB: circular bulb, bulb circle, circular part, rounded part, bulb, round end, rounded end, round part,
  circular end, reservoir, bulb end, bulbous end, rounded bulb, bulb shaped end
TIP: top, tip, flat end, other end, far end, open end, opposite end, top end, thin end, straight end
END: end, endpoint, extremity, ending, either end
BRANCH: branch, fork, split, arm, branched, limb
CAGE: cage, dashed shape, dotted outline, dashed outline, dashed area, dotted area, dashed region, dotted
  region, dashed box, dotted box, dashed border, dotted border, outlined block, dashed line cage, dashed
  killer cage, dashed enclosure, enclosure, outlined group, thick outlined block, bold outlined block, dashed
  loop, broken line, dotted loop
CORNER: corner
CORNER=tl: top left, upper left, top left corner, upper left corner, top left cell, upper left cell, top left
  hand corner
CORNER=tr: top right, upper right, top right corner, upper right corner, top right hand corner
CORNER=bl: bottom left, lower left, bottom left corner, lower left corner, bottom left hand corner
CORNER=br: bottom right, lower right, bottom right corner, lower right corner, bottom right hand corner
ARROW: arrow, arrow line
SHAFT: shaft, arrow body, stem, tail
HEAD: pointed end, pointy end, sharp end, narrow end, tip of the sign, closed end, head, arrow head, arrowhead
CIRCLE: circle, ring, circled cell, ringed cell, circled, ringed
PILL: pill, oval, capsule, pill shaped, lozenge, elongated circle, double circle, long circle
TWODIGIT: twodigit, two digit number, three digit number, double digit number
DOT: dot, spot, kropki dot, pip, disc, disk, small circle, tiny circle
BAR: bar, dash mark, tick, rung
DIAMOND: diamond, rhombus
SQUARE: square
SIGN: inequality sign, inequality, inequality symbol, greater than sign, less than sign, greater than symbol,
  less than symbol, chevron, comparison sign, comparison symbol, wedge,
OPSIGN: operation sign, operation, operator, arithmetic sign, mathematical sign, math sign, maths sign,
  arithmetical operation, arithmetic operation, mathematical operation, operation symbol, arithmetic symbol,
  sign given, sign shown
LETTERWORD: letter
MARK: mark, marks, marker, symbol, marking, sign, clue mark, indicator, label, such mark
CLUE: clue, hint, indication
SMALLNUM: small number, small digit, small figure, small clue, little number, tiny number
OUTSIDE: around, border number, edge number, edge clue, marginal number, marginal clue, outside number, at the
  start of
  row, at the start of each row, at the head of column, head of column, at the head of each column, at the head
  of, start of row, peripheral, outside, border clue, outer, beside, above, below, margin, outside clue,
  at the side, perimeter, edge of the grid, around the grid, around the border, along the edge, at the edge, at
  the edges, beyond the edge, next to the grid, next to row, to the left, to the right, at the left, at the
  right, on the left, on the right, left of, right of, at the top, on the side, at the bottom, rim, off the
  grid, alongside, in the margin, by the side, on top of, at the end of
LEFTTORIGHT: left to right, top to bottom, left to right or top to bottom, reading order, downwards or
  rightwards
EDGE: border, edge, side, boundary, cell border, cell edge, cell side, common edge, common side, shared edge,
  shared side, shared border
FOURCELLS: four cell, surrounding cell, adjoining cell, surrounding four cell, adjoining four cell, four
  adjoining cell, four surrounding cell, four neighbouring cell, four adjacent cell, cell around it, cell
  touching it, cell surrounding it, surround cell, 4 surrounding cell, 4 cell, four square, surrounding square,
  adjacent four cell, four touching cell
FOURMEET: crossing of four cell, meeting point of four cell, meeting point, four cell meet, intersection of four
  cell, intersection, corner of four cell, cell corner, grid corner, crossing point, junction of four cell,
  junction, crossing, where cell meet, vertex, grid vertex, corner shared by four cell, corner of cell, corner
  between cell, corner between four cell, point where four cell meet
DIAGONAL: diagonal, diagonal line, corner to corner line
MAINDIAG: main diagonal, long diagonal, major diagonal, great diagonal, big diagonal, corner to corner diagonal,
  full diagonal
SHADED: shade, tint, colour, color, coloured, colored, shadow, shading, tinting, hatch, highlight, background,
  screened, darkened, dark
COLOUR=grey: grey, gray, greyed, light grey, dark grey, light gray, dark gray
COLOUR=white: white, open, empty, hollow, unfilled, clear
COLOUR=black: black, solid, filled, full, fill black
COLOUR=blue: blue, light blue, dark blue, pale blue, navy
COLOUR=green: green, light green, dark green, lime
COLOUR=red: red, crimson, scarlet
COLOUR=purple: purple, violet, mauve, lilac
COLOUR=pink: pink, rose
COLOUR=magenta: magenta
COLOUR=orange: orange, amber
COLOUR=yellow: yellow, gold, golden
COLOUR=brown: brown
COLOUR=cyan: cyan, turquoise
COLOUR=teal: teal
STYLE=dashed: dashed
STYLE=dotted: dotted
STYLE=thick: thick, wide, bold, heavy, broad
STYLE=thin: thin, fine, narrow
STYLE=wavy: wavy, curly, wiggly
BOUNDED: outlined, bold outlined, bold edged, bold bordered, heavily outlined, heavy outlined, heavily bordered,
  thickly outlined, bordered by bold line, marked by heavy line, marked by heavier line, marked by bold line,
  marked by thick line, bounded by heavy line, bounded by bold line, bounded by thick line, bounded by heavier
  line, framed, enclosed, marked off, delineated, demarcated, bounded, outline, heavily framed, enclosed by bold
  line, enclosed by thick line, surrounded by bold line, surrounded by thick line, defined by bold line,
  bordered, bold line, heavy line, heavier line, thick line box, boldly outlined, boldly framed, thick border,
  bold border, heavy border, thicker line, bold frame
IRREGULAR: irregular, jigsaw, irregularly shaped, irregular shape, odd shaped, oddly shaped, geometric, non
  rectangular, misshapen
TOWER: house tower, tower, skyscraper, building, block of flat, skyline, house block, high rise, tower block,
  city block, storey, floor, story, structure
HEIGHT: height, tall, high, as many floor, that height
SEE: many house, see, visible, look, view, seen, viewed, vantage, looking, observer, viewpoint, be
  seen, sight
HIDE: hide, conceal, block the view, obscure, obstruct, invisible, cannot be seen, hidden, block from view, out
  of sight, mask, eclipse, block view, be hidden
BEHIND: behind, in front, beyond
TALLER: taller
SHORTER: shorter
KNIGHT: knight, knight move, chess knight, knightwise
KING: king, king move, chess king,
CHESS: chess, chessboard
MOVE: move, step, jump, leap
SUM: sum, add up, add, total, totals, sums, adding up, come to, addition, sum up, summed, add together, amount
  to
PRODUCT: product, multiply, multiplication, times sign, multiplied
DIFFERENCE: difference
DIFFER: differ, different, distinct, unequal, vary, unlike
QUOTIENT: quotient, divide, division, divided
APPLY: apply, applying, hold, used, result, outcome
DOUBLE: double, twice the, twice as, twice as large, two time, half, half of, twice that, one half, exactly
  twice
TIMES: time
TRIPLE: triple, three time, thrice, treble
RATIO: ratio, proportion
CONSECUTIVE: consecutive, neighbour in counting, consecutively, sequential, in counting order next, consecutive
  value, immediately follow in value
NONCONSECUTIVE: nonconsecutive, non consecutive, unconsecutive
EVEN: even
ODD: odd
INCREASE: increase, rise, ascend, grow, climb, go up, get bigger, get larger, get hotter, get higher, get
  greater, become larger, become bigger, become greater, get strictly larger, ascending order, increasing order,
  ascending, strictly increase, get warmer, heat up, go upward, become higher, become hotter, get progressively
  larger, get progressively bigger, rising order, get big, run upward, ever larger, ever greater, ever higher,
  mount, ever bigger, ever increasing, grow larger, grow bigger, get ever larger, get ever bigger, warm up, rise
  in value, rise strictly
DECREASE: decrease, fall, descend, go down, drop, get smaller, get lower, decline, shrink, become smaller, sink,
  descending order, decreasing order, dip, lessen, diminish, get cooler, cool down
GREATER: greater, larger, bigger, exceed, more, higher, above value, higher number, higher digit, exceeding, bigger
  number, greater value, larger value, higher value
LESS: less, lower, smaller, fewer, lesser, lower number, lower digit, lower value, smaller value
EQUAL: equal, same, identical, match, alike, equal to, identical to
REPEAT: repeat, recur, repetition, duplicate, reoccur, repeated, duplication, reappear
MAYREPEAT: may repeat, can repeat
ONCE: once, exactly once, once and only once, one time, exactly one time, once each, just once, only once,
  precisely once, without repetition, without repeat, without repetitions, without duplication, without
  duplicate, once apiece, single time, one each, one of each, without repeating
TWICE: twice, more than once, more than one time, two time, several time, again
BETWEEN: between, sandwiched, in between, lie between, strictly between, flanked, enclosed between,
  amid, strictly inside
SANDWICHNAME: sandwich, wrapped sandwich, wrap sandwich, sandwich sum, sandwich clue, sandwich sudoku, sandwich
  rule, sandwich total, sandwich puzzle
XSUMNAME: x sum, xsum
LITTLEKILLER: little killer, little killer clue, little killer sum
PALINDROME: palindrome, palindromic, palindromically
READ: read, reading
FORWARD: move to the right, go to the right, to the right or down, going right or down, right, rightwards and
  downwards, forward, forwards, rightward, rightwards, downward, downwards, run to the right, move right, right
  and
  down, right or down, to the right or down, from left to right, clockwise forward, going right, moving right,
  moving down, down, go right, rightwards or downwards, going forward, move forward, right, onward, onwards,
  move rightward
BACKWARD: backward, backwards, in reverse, reverse, back to front, leftward, leftwards, reversed, upside
BOTHWAYS: left to right as from right to left, from left to right as from right to left, left to right as right
  to left, from left to right and from right to left, each direction, in each direction, from each end, both
  direction, either direction, both end, either end, both way, from both side, from either side, forwards and
  backwards, forwards as backwards, forward and backward, forward as backward, backwards and forwards, backwards
  as forwards, backward and forward, whichever end, whichever way, two direction, in both directions, forwards
  or backwards, from both ends, forward or backward, from either end, whichever direction, either way
MIRROR: mirror, symmetric, symmetrical, mirror image
WRAP: round, past, continue at the other side, continue at the beginning, continue at the start, at the
  beginning of the row, continue from the
  beginning, carry on at the start, start again, resume at the other end, resume, round the back, wrap, wrap
  around, wraparound, cyclically, cyclic, round the edge, past the edge, round again, re enter, reenter, go
  round, goes round, around the edge, over the edge, round to the other end, continue at the other end, carry on
  at the other end, carry on from the other end, run off the grid, fall off, fall off the end, opposite edge,
  opposite side, come back, loop, loop round, loop around, go around, circularly, past the end, around to the
  other end, wrap round, at the other end, from the other end, at the other side, from the other side, leave the
  grid, continue from the start, on the opposite side, round the end, past the border, at the opposite end, as
  if joined, joined end to end, at the far end, comes back in, round the corner
FIRST: first, initial, nearest, leading, opening, foremost, closest
LAST: last, final, last but one
SECOND: second, third
PREVIOUS: nearer the bulb, closer to the bulb, nearer to the bulb, previous, before it, before them, preceding,
  before, preceding one, predecessor, one before, one before it, prior, earlier, that come before
NEXTONE: next, following, following one, successor, succeeding
ADJACENT: adjacent, neighbouring, neighboring, neighbour, neighbor, next to, next to one another, next to each
  other, beside each other, side by side, adjoining, adjoin, abutting, contiguous, follow each other,
  successive, consecutive cell, touching, touch, sharing, share, horizontally or vertically, orthogonally
  adjacent, orthogonally, orthogonal, next vertically, horizontally, along the line adjacent, meet, abut,
  bordering, neighbourly, in contact, horizontally or vertically adjacent, consecutive square
SHARESIDE: share a side, share an edge, share a border, sharing a side, sharing an edge, sharing a border,
  common side, with a common edge, with a common side
EVENDIAGONALLY: even diagonally, not even at a corner, including diagonally, even at a corner, diagonally
  adjacent, horizontally vertically or diagonally, or diagonally, and diagonally, also diagonally, diagonally,
  even at corner, including at a corner, by side or corner, side or corner, side or a corner, edge or corner,
  edge or a corner, corner or edge, in any direction
APART: apart, away, separated, distance, away from, distant
ATLEAST: no closer than, at least, minimum, no less than, not less than, at minimum, never less than, minimum
  of, not fewer than, no smaller than, or more, or greater, or larger, or higher, or bigger, no fewer than, or
  over, and more, upwards of, a minimum of
ATMOST: at most, maximum, no more than, not more than, up to, or less, or fewer, maximum of, not exceeding, or
  smaller
MORETHAN: more than, greater than value
EXACTLY: exactly, precisely
ANYORDER: need not be in order, do not have to be in order, does not have to be in order, not need to be in
  order, not be in order, not have to be in order, without regard to order, any order, some order, in any order,
  in some order, no particular order, not necessarily in order, not
  necessarily in numerical order, rearranged, in whatever order, rearrange, whatever order, in an arbitrary
  order, arbitrary order, irrespective of order, regardless of order, not necessarily in that order, unordered,
  not necessarily in sequence, jumbled, scrambled, order does not matter, order is free, order may vary, in a
  random order, though not necessarily in order, if rearranged, when rearranged, when sorted, if sorted, sorted,
  mixed up
RUN: run
SEQUENCE: sequence, set, unbroken sequence, unbroken run, consecutive run, run of, straight, chain, series,
  stretch, streak
NOGAP: no gap, without gap, gapless, unbroken, with no gap, uninterrupted, without a gap
ORDER: order
LOWEST: lowest, smallest, least, minimal, coldest, lowest digit, smallest digit, lowest number, lowest one,
  smallest one, lowest value, smallest number, smallest value, tiniest
HIGHEST: highest, largest, biggest, maximal, highest digit, largest digit, highest number, largest number,
  highest value, largest value, hottest
ALLDIGITS: permutation, permutation of the digits, permutation of digit, each of the digits, all digit, every
  digit, each digit, all number, every number, all of them, every one of them, all nine digit, all nine number,
  all the digit, all the number, complete set, full set, each number, all six digit, all nine, all the nine
  digit, all eight digit, all figure, complete set of digit, every figure, each figure, every one of the digit
INCLUDED: included, including, inclusive, itself included, included in, itself counted, counted too, include, count too
EXCLUDED: excluded, excluding, exclusive, left out, leave out, exclude, but not including, do not count, without
  counting, themselves not included, disregard, ignoring, outside the count
NEG: not, no, never, none, nothing, neither, nor, cannot, can t, don t, doesn t, isn t, mustn t, won t, aren t,
  without, nowhere, shouldn t, may t, couldn t, no two, no pair, n t
NEEDNOT: need not, needn t, does not have to, do not have to, not necessarily, not have to, no need to
ALLOWED: allow, permit, permitted, allowed, possible, free to, permissible
MAY: may, can, could, might
POSSIBLE: possible, potential, such
GIVEN: marked, given, shown, drawn, marked, indicated, printed, displayed, show, indicate, draw, give, present,
  depicted, depict, display, print, specified, provided, provide, supply, supplied, place mark
UNMARKED: unmarked, absence, missing, absent, lack, no mark, without a mark, lacking
ALL: every one, all of the, every one of, all, every, each, any, both, either, everything
SOME: some, several, certain, few
RULE: rule, constraint, restriction, condition, requirement
SUDOKU: sudoku, su doku
STANDARD: normal, standard, classic, usual, regular, ordinary, conventional, traditional, classical, customary,
  familiar, common rule, well known
LATIN: latin square, latin square rule
ADDITIONALLY: on top of the normal, on top of normal, on top of the standard, on top of, additionally, in
  addition, as well as, also, furthermore, moreover, besides
EXCEPT: except, apart from, unless, excepting, save for, with the exception, exception, other than, but for, bar
  one, only if, barring, only when
INSTEAD: instead
UNIQUE: unique, unique solution, exactly one solution, one solution, single solution, only one solution
SOLUTION: solution, answer, solutions
LIMIT: restriction, restrict, sum restriction, limit
NOTHINGMEANS: imply nothing, has no meaning, no meaning, tells nothing, mean nothing, nothing is implied, imply
  nothing
HOLD: produce, yield, give result, target, end of a line, intervene, interrupt, reckon, go past, make, cross,
  need, place, placed, located, located at, encounter,
  travel, take, stood, occupy, lie, lying, range, contain, hold, appear, occur, have, put, fill, fill in, enter,
  write, use, find, stand, complete, insert, has, had, contained, exist, bear, carry, feature, be placed, be
  found, consist, house a digit, lay, form, comprise, cover, pass, go, arrange, take, run through, visit, pass
  through, travel, cross, come, show up, turn up, be filled, inside, within, in
JOIN: join, connect, link, separated by, separate, divide by mark, straddle, joined, tie, on either side, either
  side of, split by
MEAN: mean, denote, signify, tell, say, state, signal, represent, stand for, imply, what, tells, hint at, reveal
POINT: point, aim, open, pointing, face, opens, gape
START: start after, begin after, start, begin, beginning, starting, originate, commence, starting point,
  starting from, out of
FROM: from, moving away, away from bulb, leave, going from
TOWARDS: towards, toward, to
UNTIL: get to, come to the, arrive at, until, till, reach, arrive, up until
OR: or
AND: and, plus
THAN: than
BY: by
IF: if, where, wherever, when, whenever, whichever
SO: so that, such that, in such fashion that, in such a way that, so as
COUNT: count, how many, number of, tally, quantity
MANY: many, as many, as often as
ONE: one, the other, other, another, ones, one another, each other
ALONG: along, through, on, over, down the, throughout, across
SAMEAS: stay the same, remain the same, stay level, remain equal, stay equal, be equal, same or, equal or,
  level, stay put, remain level, remain constant, stay constant, hold steady, plateau
FLAVOUR: set by, luck, evening, morning, enjoy, fun, hello, dear, page, issue, week, month, year, today, tomorrow,
  yesterday, happy, welcome, greetings, thanks, thank, cheers, difficulty, easy, hard, medium, difficulty level,
  tea, coffee, pencil, pen, eraser, good luck, have fun, last week, next week, next issue, last issue, next
  month, last month, this week, minutes, minute, hour, summer, winter, spring, autumn, author, setter, reader,
  gentle, tricky, tough, copyright, editor, magazine, newspaper, gazette, prize, competition, send, post, email,
  entry, entries, deadline, winner
SELF: itself, themselves
FURTHER: further, farther
ASLARGE: as large as, as big as, as high as, as great as, as much as, as tall as
NOREPEAT: non repeating, nonrepeating, all distinct, unrepeated, no repeats, no repeat
FORBIDDEN: forbid, forbidden, prohibit, prohibited, not allowed, not permitted, disallow, illegal, banned, ruled
  out
DISTANCEWORD: way off
COLOUR=white CIRCLE: open circle, open ring
COLOUR=white DOT: open dot
ANTIKNIGHT: anti knight, antiknight, anti knight rule, anti knight constraint, no knight
ANTIKING: anti king, antiking
ATLEASTONCE: at least once, at least one of, in at least one, at least one
OTHER: the other way round, the other way around, other way round, other way around, vice versa, or the reverse,
  star, zigzag, zig zag, prime, queen, bishop, rook, pawn, fog, clone, hexagon, triangle, spiral, snake,
  maze, multiple, divisor, factor, cube, modulo, remainder, median, average, mean value, cyclic number,
  fibonacci, square number, power, battleship, ship, creature, trapped, galaxy, loop of, bomb, mine, tent,
  heart, flower, moon, asterisk, hash, pentagon, pentomino, domino, tetromino, polyomino, antidiagonal,
  dominoes, parity, mod, digital root, root, integer, fraction, decimal, negative, alternate, alternating,
  alternately, position, same position, disjoint, teleport, portal, doubler, wild, joker, weight,   vowel, word,
  spell, code, cipher, clock, clockwise, counterclockwise, anticlockwise, rotate, rotation,
  symmetry, reflect, reflection, liar, false, true, wrong, clue lie, wolf, sheep, cow, fox, chicken, anchor,
  ladder, bridge, river, wall, triangular number, perfect square, concatenate, concatenation, exactly
  half, minus, subtract, opposite, minority, majority, entropic, entropy, modular, whisper count, lunchbox,
  rank order, nested, staircase, ascender, pivot, magic square, magic,   polygon, circleless, arrowless,
  entrance, tunnel,
  worm, bee, spider, ant, octopus, region sum count, battenburg, checkerboard, chequerboard, quarter, quad,
  triple sum, successor count, distance count
"""

_FILLER = """
killer, upwards of the bulb,
ensure, make sure, be sure, observe, observed, the following apply, following apply, following rules apply,
rules below apply, following rule apply, below apply, extra rules below apply, these apply too, respected,
leave, mandatory, compulsory, must hold, in keeping, accordance, in accordance,
need be, if need be, needed, when the need arises,
direction, outwards, upwards, outward, upward, upwards or downwards, steadily, legal, otherwise, in force, in
effect, common, location, treat, follow rule, found there, given that, as the other, everything else, conflict,
regardless, seen as, in value, of value, so called, called, known as, named, either side way, too, both of
which,
a, an, the, of, is, are, be, been, being, was, were, he, that, which, this, those, small, tiny, little, shape,
shaped, great, short, long,
here, with, at, as, for, then, too, do, does, did, must, shall, should, will, would, has to, have to, ought,
thus,
hence, therefore, accordingly, exactly like, namely, i e, e g, that is, in other words, simply, just, please,
note,
remember, always, ever, again say, still, while, whereas, whilst, but, however, though, although, yet, only
then,
respectively, in turn, itself, themselves, whose, who, you, your, we, our, i, me, my, us, per, via, upon, onto,
into,
same time, once more, overall, of course, in particular, in general, particular, corresponding, its own, own,
upon it,
whole, entire, complete puzzle, question, very, quite, rather, about, concerning, regarding, turn, way round,
solver, dear solver, rest, necessarily, like, differently, ye, thou, task, object, aim is, goal, objective, let,
see below, following rule, hold true,
remaining, various, counting, together, altogether, in all, in total, wherever they, get, imagine, think of,
picture, suppose,
consider, certain, given by, in question, concerned, involved, as follow, as usual, like so, like this, e, s,
kind of, type of,
fashion, manner, strictly speaking, needed, necessary, need be, if necessary, if needed, when needed, if need
be, when necessary, as needed, if required, as required, required, long, how,
each case, every case, in each case, in every case, in any case, relevant, respective, respectively, associated,
belonging, belong, attached,
because, since, means that, so long as, obviously, naturally, normally, strictly, valid, obey, observe the,
follow, followed by, respect, satisfy, must satisfy, obeying, starting with the, based, further, extra,
additional, extra rule, special, new, constitute, serve, act, thence, there s, you ll, you ve, s t,
aforementioned, above mentioned, said, available, exactly as, accord, according, according to, seem, happen,
become, remain, keep, keeping, keep to, amongst, among, some of, somewhere, anywhere, everywhere, itself too,
ordinary way, likewise, similarly, whatever, thing to, x mark, end up, made, make up, work, works, does so,
every single, single, individual, whichever is, well, so, such as, eg, ie, example, for example, for instance,
instance, game, challenge, variant, type, style, version, solve, solving, exercise, problem
"""

_MARKS_OF_LISTS = "a, b, c, d, ii, iii, iv"
"""Letters that number rules in a list; harmless as words."""


def _tables() -> tuple[dict[tuple[str, ...], str], int]:
    table: dict[tuple[str, ...], str] = {}
    for phrase in _split(_FILLER) + _split(_MARKS_OF_LISTS):
        table[phrase] = ""
    for line in _CONCEPTS.strip().replace("\n  ", " ").splitlines():
        concept, _, words = line.partition(":")
        for phrase in _split(words):
            table[phrase] = concept
    return table, max(map(len, table))


def bag(words: str) -> frozenset[str]:
    """The words of a text, as a set."""
    return frozenset(words.split())


def _split(words: str) -> list[tuple[str, ...]]:
    return [tuple(phrase.split()) for phrase in words.replace("\n", " ").split(",") if phrase.strip()]


PHRASES, LONGEST = _tables()
"""Each phrase in plain form to its concept, an empty string for filler; LONGEST is the most words a phrase has."""

VOCABULARY = frozenset(word for phrase in PHRASES for word in phrase)
"""Every word that occurs in a phrase."""
