"""The text layer in and around one grid: characters put together to numbers, running text and other grids left out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

import numpy as np

from ingest.page import Box, Page, Point, VectorGlyph
from ingest.pdf_alone import FREE
from recognise.evidence import Glyph, Guess, Shape
from recognise.geometry import holds, middle
from recognise.glyphs.window import window
from recognise.picture import Reader
from recognise.vectors.characters import SURE, read_alone, readings
from recognise.vectors.place import Placement
from schema.grid import Side

TEXT_LAYER = 0.995
"""How far a text layer is believed: a subset font may map a glyph to a wrong character."""
RING = 2.4
"""Cells around the grid in which clues stand: rings two deep."""
LEAST_CLUE = 0.22
"""Font size in cells: smaller characters beside a grid are running text or a table."""
TIGHT = 0.5
"""As a part of the font size: the widest gap of ink between characters of one number, as between the ones of "11" in
a font of equally wide figures; a space adds about 0.25."""
LOOSE = 1.4
"""As a part of the font size: the widest gap in a line of running text, as justified lines have."""
SAME_LINE = 0.3
"""The part of the lower character's height that two characters of one line share; a comma stands lower than most."""
ABREAST = 0.6
"""The same for characters of one number."""
LETTERS = 3
"""A line with a word of so many letters is running text; labels of large grids are single letters."""
CENTRED = 0.27
"""In cells: how far a clue's middle may lie off the middle of its row or column."""
SAME_RING = 0.3
"""In cells: clues whose distances from the grid differ by less are of one ring."""
IN_STEP = 0.7
"""The part of a ring that stands in the middle of rows or columns; the lines of a table seldom keep a grid's step."""
BESIDE_ARROW = 0.75
"""In cells, from middle to middle: how near a number stands to the little arrow that goes with it."""
DEEPEST = 2
"""Rings of clues around a grid; more numbers one behind the other are a table."""
LEAST_ARROW = 0.1
"""Font size in cells of a little arrow beside a grid; arrows are set smaller than their numbers."""
TIGHT_ON_EDGE = 0.3
"""As a part of the font size: the widest gap in a number that stands across the edge of two columns."""
SPLIT = 0.15
"""As a part of the font size: the gap between two numbers that stand side by side, each set by itself."""
STRAIGHT = 6.0
"""Degrees by which a turned character may be off a quarter or an eighth of a turn."""


WAYS = ("right", "down-right", "down", "down-left", "left", "up-left", "up", "up-right")
"""Clockwise, an eighth of a turn each."""
POINTERS = {
    character: way
    for way, characters in zip(WAYS, ("→➔➙➜🠖🡒", "↘➘⬊🡖", "↓⬇🡓", "↙⬋⬃🡗", "←⬅🡐", "↖⬉⬁🡔", "↑⬆🡑", "↗➚⬈⬀🡕"), strict=True)
    for character in characters
}
"""Arrows as characters."""
SIGNS = {"<": "left", ">": "right", "^": "up", "∧": "up", "Λ": "up", "∨": "down", "v": "down", "V": "down"}
"""Characters that look like two strokes which meet in a point, by where that point is."""


@dataclass(frozen=True, slots=True)
class _Mark:
    """A character, in cells."""

    glyph: VectorGlyph
    box: Box
    size: float
    guesses: tuple[Guess, ...] = ()
    """What it may be by its looks, where the file does not say it."""

    @property
    def middle(self) -> Point:
        return middle(self.box)


_Number = Sequence[_Mark]


@dataclass(frozen=True, slots=True)
class Text:
    """Numbers and signs of a grid, and characters that do not stand upright as shapes."""

    glyphs: tuple[Glyph, ...]
    shapes: tuple[Shape, ...]


def grid_text(
    page: Page, placement: Placement, others: Sequence[Box], arrows: Sequence[Box], reader: Reader | None = None
) -> Text:
    """The characters that belong to a grid. In cells: `others` are boxes of other grids and tables nearby, `arrows`
    boxes of small marks beside the grid, which make the numbers at them clues. `reader` reads characters that the file
    gives no meaning."""
    marks = [mark for mark in _marks(page, placement) if not any(holds(box, mark.middle) for box in others)]
    marks = _named(marks, page, placement, reader) if reader else marks
    pointers = _arrows([mark for mark in marks if not _in_grid(mark, placement)], page, placement)
    arrows = [*arrows, *(shape.box for shape in pointers)]
    marks = [mark for mark in marks if not (mark.glyph.text in POINTERS and mark.box in arrows)]
    inside = [mark for mark in marks if _in_grid(mark, placement)]
    around = [mark for mark in marks if mark.size >= LEAST_CLUE and not _in_grid(mark, placement)]
    numbers = _numbers([mark for mark in inside if _is_upright(mark, page)], placement.columns)
    loose = [mark for line in _lines(around) if not _is_running(line) for mark in line]
    beside = _numbers([mark for mark in loose if _is_upright(mark, page)], placement.columns)
    beside = [part for number in beside for part in _by_arrow(number, arrows)]
    clues = _clues(beside, placement, arrows)
    numbers += [clue for clue in clues if not _in_table(clue, around, loose, placement)]
    turned = [mark for mark in inside if not _is_upright(mark, page)]
    shapes = [*pointers, *(_turned_sign(mark, page) for mark in turned)]
    # Only pixels tell what a character is whose font has no mapping to Unicode.
    unknown = [number for number in numbers if not all(mark.glyph.text for mark in number)]
    shapes += [Shape("glyph-path", _box(number), number[0].glyph.colour, "vector") for number in unknown]
    return Text(tuple(_glyph(number) for number in numbers if number not in unknown), tuple(shapes))


def _marks(page: Page, placement: Placement) -> Iterable[_Mark]:
    reach = RING + 3
    for glyph in page.vectors.glyphs if page.vectors else ():
        if not glyph.visible:
            continue
        box = placement.box(glyph.box)
        x, y = middle(box)
        if -reach < x < placement.columns + reach and -reach < y < placement.rows + reach:
            yield _Mark(glyph, box, glyph.size / placement.cell)


def _named(marks: Sequence[_Mark], page: Page, placement: Placement, reader: Reader) -> list[_Mark]:
    """Marks, those without a meaning read by their looks as far as that is sure."""
    unnamed = [
        index
        for index, mark in enumerate(marks)
        if not mark.glyph.text
        and mark.glyph.picture is not None
        and _is_upright(mark, page)
        and (_in_grid(mark, placement) or mark.size >= LEAST_CLUE)
    ]
    crops = []
    for index in unnamed:
        picture = np.ascontiguousarray(np.rot90(np.asarray(marks[index].glyph.picture, np.uint8), -page.turned))
        height, width = picture.shape
        crops.append(window(picture, (FREE, FREE, width - FREE, height - FREE)))
    read = read_alone(crops, [marks[i].middle for i in unnamed], (placement.rows, placement.columns), reader)
    named = list(marks)
    for index, guesses in zip(unnamed, read, strict=True):
        if guesses and guesses[0].text and guesses[0].probability >= SURE:
            mark = marks[index]
            named[index] = replace(mark, glyph=replace(mark.glyph, text=guesses[0].text), guesses=guesses)
    return named


def _angle(mark: _Mark, page: Page) -> float:
    """Where its base line runs on the page turned to be read, in degrees clockwise, 0 to 360."""
    return (mark.glyph.angle + 90 * page.turned) % 360


def _is_upright(mark: _Mark, page: Page) -> bool:
    # Where the whole page was turned to be read, the text that reads upright is turned in the file's frame.
    angle = _angle(mark, page)
    mirrored = page.turned % 4 == 0 and not mark.glyph.upright
    return min(angle, 360 - angle) <= STRAIGHT and not mirrored


def _seen_way(way: str, angle: float) -> str:
    """Where something points that is turned clockwise by an angle; empty where that is no quarter or eighth."""
    eighths = round(angle / 45)
    return WAYS[(WAYS.index(way) + eighths) % 8] if abs(angle - 45 * eighths) <= STRAIGHT else ""


def _turned_sign(mark: _Mark, page: Page) -> Shape:
    """A character that does not stand upright: a sign where it looks like one."""
    way = SIGNS.get(mark.glyph.text)
    seen = _seen_way(way, _angle(mark, page)) if way else ""
    name = "sign" if "-" not in seen and seen else "mark"
    return Shape(name, mark.box, mark.glyph.colour, "vector", direction=seen if name == "sign" else "")


def _arrows(around: Sequence[_Mark], page: Page, placement: Placement) -> list[Shape]:
    """Arrows set as characters beside the grid, at any angle; those of running text are not."""
    upright = [line for line in _lines(mark for mark in around if _is_upright(mark, page)) if not _is_running(line)]
    turned = [mark for mark in around if not _is_upright(mark, page)]
    found = []
    for mark in (*(mark for line in upright for mark in line), *turned):
        x, y = mark.middle
        away = max(-x, -y, x - placement.columns, y - placement.rows)
        way = POINTERS.get(mark.glyph.text)
        seen = _seen_way(way, _angle(mark, page)) if way else ""
        if seen and away <= RING and mark.size >= LEAST_ARROW:
            found.append(Shape("arrow", mark.box, mark.glyph.colour, "vector", direction=seen))
    return found


def _in_grid(mark: _Mark, placement: Placement) -> bool:
    return holds((0.0, 0.0, float(placement.columns), float(placement.rows)), mark.middle)


def _chained(marks: Iterable[_Mark], follows: Callable[[_Mark, _Mark], bool]) -> list[list[_Mark]]:
    """Characters put together from left to right, each to the first chain one of whose last members it follows."""
    finished: list[list[_Mark]] = []
    open_ones: list[list[_Mark]] = []
    for mark in sorted(marks, key=lambda mark: mark.box[0]):
        best = next((chain for chain in open_ones if any(follows(one, mark) for one in chain[-3:])), None)
        if best is None:
            # Chains that end too far to the left for anything that still comes.
            finished += [chain for chain in open_ones if _is_behind(chain[-1], mark)]
            open_ones = [chain for chain in open_ones if not _is_behind(chain[-1], mark)]
            open_ones.append([mark])
        else:
            best.append(mark)
    return finished + open_ones


def _is_behind(last: _Mark, mark: _Mark) -> bool:
    return mark.box[0] - last.box[2] > 2 * LOOSE * max(last.size, mark.size)


def _lines(marks: Iterable[_Mark]) -> list[list[_Mark]]:
    """Characters as lines of text."""
    return _chained(marks, lambda one, other: _follows(one, other, LOOSE, SAME_LINE))


def _numbers(marks: Iterable[_Mark], columns: int) -> list[_Number]:
    """Characters that stand close together, within the width of a cell and in one font, as numbers or signs."""

    def follows(one: _Mark, other: _Mark) -> bool:
        x, other_x = one.middle[0], other.middle[0]
        # Beside the grid there are no columns that could keep two numbers apart.
        one_column = int(x // 1) == int(other_x // 1) or x < 0 or other_x > columns
        narrow = other.box[2] - one.box[0] <= 1.0 and one.glyph.font == other.glyph.font
        return narrow and _follows(one, other, TIGHT if one_column else TIGHT_ON_EDGE, ABREAST)

    return [number for chain in _chained(marks, follows) for number in _split(chain)]


def _split(chain: _Number) -> Iterator[_Number]:
    """Two numbers side by side, each written as one text of its own, that stand so close that they look like one."""
    texts = [mark.glyph.order for mark in chain]
    start = 0
    for place in range(1, len(chain)):
        one, other = chain[place - 1], chain[place]
        apart = other.box[0] - one.box[2] >= SPLIT * max(one.size, other.size)
        lengths = [texts.count(text) for text in texts[place - 1 : place + 1]]
        # Two texts of several characters each are two numbers, however near; a number may be set figure by figure.
        if texts[place] != texts[place - 1] and ((apart and max(lengths) > 1) or min(lengths) > 1):
            yield chain[start:place]
            start = place
    yield chain[start:]


def _by_arrow(number: _Number, arrows: Sequence[Box]) -> list[_Number]:
    """Two numbers that touch, each a text of its own beside a little arrow of its own."""
    texts = [list(part) for _, part in groupby(number, key=lambda mark: mark.glyph.order)]
    heads = [middle(box) for box in arrows]
    nearest = set()
    for part in texts:
        x, y = middle(_box(part))
        away = [float(np.hypot(x - hx, y - hy)) for hx, hy in heads]
        if not away or min(away) > BESIDE_ARROW:
            return [number]
        nearest.add(int(np.argmin(away)))
    several = len(texts) > 1 and len(nearest) == len(texts)
    return list(texts) if several else [number]


def _follows(one: _Mark, other: _Mark, gap: float, share: float) -> bool:
    """Whether `other` stands abreast of `one`, at most `gap` font sizes to the right of it."""
    size = max(one.size, other.size)
    shared = min(one.box[3], other.box[3]) - max(one.box[1], other.box[1])
    lower = min(one.box[3] - one.box[1], other.box[3] - other.box[1])
    near = -0.5 * size <= other.box[0] - one.box[2] <= gap * size
    return near and shared >= share * lower and min(one.size, other.size) >= 0.6 * size


def _is_running(line: Sequence[_Mark]) -> bool:
    """Whether a line holds a word: several letters close together."""
    run = 0
    for before, mark in zip((None, *line), line, strict=False):
        joined = before is not None and _follows(before, mark, TIGHT, SAME_LINE)
        # A character that nothing could read is a small letter, which grids do not hold.
        letter = mark.glyph.text.isalpha() or not mark.glyph.text
        run = (run + 1 if joined else 1) if letter else 0
        if run >= LETTERS:
            return True
    return False


def _clues(numbers: Sequence[_Number], placement: Placement, arrows: Sequence[Box]) -> list[_Number]:
    """The numbers beside a grid that are clues: in step with its rows or columns, or beside a little arrow."""
    near = [number for number in numbers if _may_be_clue(number, placement)]
    heads = [middle(box) for box in arrows]
    placed = [(number, _ring(number, placement)) for number in near]
    clues = []
    for number, ring in placed:
        x, y = middle(_box(number))
        pointed = any(np.hypot(x - hx, y - hy) <= BESIDE_ARROW for hx, hy in heads)
        peers = [other for _, other in placed if ring and other and _same_ring(ring, other)]
        in_step = ring is not None and ring[2] and sum(other[2] for other in peers) >= IN_STEP * len(peers)
        if pointed or in_step:
            clues.append(number)
    return clues


def _may_be_clue(number: _Number, placement: Placement) -> bool:
    x, y = middle(_box(number))
    in_reach = -RING <= x <= placement.columns + RING and -RING <= y <= placement.rows + RING
    # A character that the file gives no meaning is left to the pixels, but not dropped.
    figures = any(not mark.glyph.text or mark.glyph.text.isdigit() for mark in number)
    return in_reach and figures and max(mark.size for mark in number) >= LEAST_CLUE


def _in_table(clue: _Number, around: Sequence[_Mark], loose: Sequence[_Mark], placement: Placement) -> bool:
    """Whether a number stands in a table: behind others of its size, or in a row that a word of its font begins.
    Above and below a grid the figures of running text do not count: its lines lie across."""
    ring = _ring(clue, placement)
    if ring is None:
        return False
    across = ring[0] in ("top", "bottom")
    place = middle(_box(clue))[0 if across else 1]
    peers = [mark for mark in (loose if across else around) if mark.glyph.text.isdigit() and _same_size(clue[0], mark)]
    behind = 0
    for number in _numbers(peers, placement.columns):
        other = _ring(number, placement)
        at = middle(_box(number))[0 if across else 1]
        behind += bool(other and other[0] == ring[0] and abs(at - place) <= SAME_RING)
    return behind > DEEPEST or (not across and any(_words(clue[0], mark, ring[0]) for mark in around))


def _same_size(one: _Mark, other: _Mark) -> bool:
    return abs(one.size - other.size) <= 0.1 * one.size


def _words(first: _Mark, mark: _Mark, side: Side) -> bool:
    """Whether `mark` is a letter on the line of `first`, in its font and on the same side of the grid."""
    alike = mark.glyph.font == first.glyph.font and _same_size(first, mark)
    gap = first.box[0] - mark.box[2] if mark.box[2] <= first.box[0] else mark.box[0] - first.box[2]
    beyond = (mark.box[0] < 0) == (side == "left")
    shared = min(first.box[3], mark.box[3]) - max(first.box[1], mark.box[1])
    abreast = shared >= ABREAST * min(first.box[3] - first.box[1], mark.box[3] - mark.box[1])
    return alike and beyond and abreast and mark.glyph.text.isalpha() and mark.glyph.text.islower() and gap < RING


_Ring = tuple[Side, float, bool]
"""Side of the grid, distance from it in cells, and whether in the middle of a row or column."""


def _ring(number: _Number, placement: Placement) -> _Ring | None:
    x, y = middle(_box(number))
    across, down = 0 <= x <= placement.columns, 0 <= y <= placement.rows
    if across == down:
        return None
    along = x if across else y
    centred = abs(along % 1 - 0.5) <= CENTRED
    if across:
        return ("top", -y, centred) if y < 0 else ("bottom", y - placement.rows, centred)
    return ("left", -x, centred) if x < 0 else ("right", x - placement.columns, centred)


def _same_ring(one: _Ring, other: _Ring) -> bool:
    return one[0] == other[0] and abs(one[1] - other[1]) <= SAME_RING


def _text(number: _Number) -> str:
    return "".join(mark.glyph.text for mark in number)


def _box(number: _Number) -> Box:
    boxes = [mark.box for mark in number]
    return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)


def _glyph(number: _Number) -> Glyph:
    box, colour = _box(number), number[0].glyph.colour
    if not any(mark.guesses for mark in number):
        guess = Guess(_text(number), TEXT_LAYER ** len(number))
        return Glyph(box, (guess,), box[3] - box[1], colour, "vector")
    characters = [mark.guesses or (Guess(mark.glyph.text, TEXT_LAYER),) for mark in number]
    return Glyph(box, tuple(readings(characters)), box[3] - box[1], colour, "shape")
