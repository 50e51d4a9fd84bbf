"""Which words on a page belong to which grid: title, setter, rules text by place, size, weight and wording.

Wording decides first: rules are what reads as rules (running text beside a puzzle does not), a setter is named as one.
Place, size and weight decide what is left: the title is the boldest short line above a grid, in its stack of text.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import compress

from ingest.page import Box, Frame
from recognise.evidence import TextLine, Words
from recognise.text.blocks import Block, as_sentences, blocks
from recognise.text.paragraphs import rules_paragraphs, without_bullets
from recognise.text.pieces import whole_lines
from recognise.text.setter import NAME_WORDS, named_setter

_FURNITURE = 0.06
"""Part of the page's height at its top and foot where running heads and page numbers stand."""
_TITLE_WORDS = 10
"""Words that a title has at most."""
_INTO = 0.1
"""Part of the grid's height that a title beside its top may reach down."""
_TALL_BOX = 0.45
"""How far a title's box may reach into the line below, in its size: a box of letters askew is taller than they are."""
_BROAD, _CENTRAL = 0.6, 0.08
"""Parts of the width of all grids: rules above several side by side serve all of them where they are set as broad as
this, or where their middle lies as near as this to that of all grids."""
_LOOSE = 0.02
"""Part of a grid's side by which the box around it may be too large: photographed grids are no upright rectangles."""
_LAST_NUMBER = re.compile(r"\d{1,2}([:/–-]\d{1,2})?[.!?]")
_LIST = re.compile(r"\d{1,2}(, ?\d{1,2})+[,.]?")
_WORD = re.compile(r"[^\W\d_]{3}")
_SAME, _LEVEL = 0.15, 0.5
"""As parts of its size: how far a number in a line of its own differs in size from the sentence that it ends, and how
far left of it it stands."""
_PIECE = 3
"""Words of a piece of a line whose words stand far apart, at most."""
_LARGER = 1.08
"""How much larger than the rules a line that is not bold must be to be a title."""
_NOISE = 0.5
"""Confidence below which a line is no title: large type is read at 0.9, the grain of a table at 0.3 to 0.45."""
_WELL_ABOVE = 3.0
"""As a multiple of the letters: white from which on what is above stands apart from what is below, in all columns."""


def assign_words(lines: Sequence[TextLine], grid_boxes: Sequence[Box], frame: Frame) -> list[Words]:
    """For each grid its title, setter and rules text; boxes, lines and frame are in page units. Rules that stand apart
    from several grids serve all of them."""
    are_words = [_is_words(line, grid_boxes) for line in lines]
    words = list(compress(lines, are_words))
    lines = whole_lines(
        [line for line, known in zip(lines, are_words, strict=True) if known or _is_last_word(line, words)]
    )
    paragraphs = [b for b in blocks(lines) if b.lines]
    rules = rules_paragraphs(paragraphs)
    if not grid_boxes:
        return []
    owners = {i: _owners(paragraphs[i], grid_boxes) for i in rules}
    free = [
        b for i, b in enumerate(paragraphs) if i not in rules and (named_setter(b.text) or not _is_furniture(b, frame))
    ]
    found: list[Words] = []
    for at, grid in enumerate(grid_boxes):
        own = [paragraphs[i] for i in rules if at in owners[i]]
        own = _read_order(own)
        body = min((b.size for b in own), default=0.0)
        heads = [b for b in free if _nearest(b, grid_boxes) == at]
        setter, name = _setter(heads, grid)
        title = _title([b for b in heads if b is not setter], grid, body, setter)
        if title is not None and setter is None:
            setter, name = _name_below(title, heads)
        used = [line for block in (title, setter, *own) if block is not None for line in block.lines]
        found.append(
            Words(
                title=None if title is None else _cased(title.text),
                setter=name,
                rules_text=as_sentences([without_bullets(b.text) for b in own]) if own else None,
                lines=tuple(used),
                confidence=min((line.confidence for line in used), default=1.0),
                torn=_leaves_out(own, [b for b in free if b is not title and b is not setter]),
            )
        )
    return found


# ------------------------------------------------------------------------------------------------ what a block is


def _is_words(line: TextLine, grids: Sequence[Box]) -> bool:
    """Whether a line has words at all, beside lists of digits, and stands outside every grid; clues and givens do
    not."""
    text = _LIST.sub("", line.text)
    letters = sum(c.isalpha() for c in text)
    if letters < 2 or letters * 2 < sum(not c.isspace() for c in text):
        return False
    x, y = (line.box[0] + line.box[2]) / 2, (line.box[1] + line.box[3]) / 2
    inset = [_LOOSE * (g[2] - g[0]) for g in grids]
    return not any(g[0] + i <= x <= g[2] - i and g[1] + i <= y <= g[3] - i for g, i in zip(grids, inset, strict=True))


def _is_last_word(line: TextLine, words: Sequence[TextLine]) -> bool:
    """Whether a line is what the line above it left over: a number with a stop, the last word of a sentence, a list of
    digits, or a word with examples in figures."""
    if not (_LAST_NUMBER.fullmatch(line.text) or _LIST.fullmatch(line.text) or _WORD.search(line.text)):
        return False
    left, top, right, _ = line.box
    return any(
        not other.text.endswith((".", "!", "?", ":"))
        and abs(other.size - line.size) <= _SAME * line.size
        and abs(top - other.box[3]) <= line.size
        and other.box[0] - _LEVEL * line.size <= left <= right <= other.box[2] + line.size
        for other in words
    )


def _is_furniture(block: Block, frame: Frame) -> bool:
    """Running heads, footers and page numbers: at the page's edge, and with a page number or small."""
    top, foot = block.box[3] < _FURNITURE * frame.height, block.box[1] > (1 - _FURNITURE) * frame.height
    return ((top or foot) and bool(re.search(r"(^|\W)\d{1,4}(\W|$)", block.text))) or foot


def _owners(block: Block, grids: Sequence[Box]) -> set[int]:
    """The grids that a rules block serves: the one it stands by, or all below when it heads the page."""
    if len(grids) == 1:
        return {0}
    top = min(g[1] for g in grids)
    first = [i for i, g in enumerate(grids) if g[1] < top + (g[3] - g[1]) / 2]
    left, right = min(g[0] for g in grids), max(g[2] for g in grids)
    width = right - left
    broad = block.box[2] - block.box[0] > _BROAD * width
    central = abs(block.box[0] + block.box[2] - left - right) < 2 * _CENTRAL * width
    if block.box[3] <= top and len(first) > 1 and (broad or central):
        return set(range(len(grids)))
    return {_nearest(block, grids)}


def _nearest(block: Block, grids: Sequence[Box]) -> int:
    """The grid that a block belongs to: text heads what is below it rather than what is above."""
    return min(range(len(grids)), key=lambda i: _apart(block.box, grids[i]))


def _apart(block: Box, grid: Box) -> float:
    across = max(grid[0] - block[2], block[0] - grid[2], 0.0)
    above, below = grid[1] - block[3], block[1] - grid[3]
    if across > 0:
        # Half of what stands beside a grid stands no higher than it; else it heads another one.
        above = grid[1] - (block[1] + block[3]) / 2
    return across * 1.5 + max(above, below * 1.2, 0.0)


def _leaves_out(own: Sequence[Block], others: Sequence[Block]) -> bool:
    """Whether a line of one rules text is lost: between its lines stand a few words, with others beside them, that are
    no part of it. What has a row for itself is a paragraph that says something else."""
    lines = [line for block in own for line in block.lines]
    if not lines or any(line.how != "vector" for line in lines):  # of a picture, grain is read as words
        return False
    left, top, right, foot = (pick(line.box[i] for line in lines) for i, pick in enumerate((min, min, max, max)))
    pieces = [
        line
        for line in (*lines, *(line for block in others for line in block.lines))
        if len(line.text.split()) <= _PIECE and left <= line.box[0] and line.box[2] <= right
    ]
    lost = [line for line in pieces if line not in lines and top < _level(line) < foot]
    return any(
        other is not line and abs(_level(other) - _level(line)) <= _LEVEL * line.size
        for line in lost
        for other in pieces
    )


def _level(line: TextLine) -> float:
    """How high the middle of a line lies."""
    return (line.box[1] + line.box[3]) / 2


# ------------------------------------------------------------------------------------------------ title and setter


def _setter(heads: Sequence[Block], grid: Box) -> tuple[Block | None, str | None]:
    named = [(b, name) for b in heads if len(b.lines) == 1 and (name := named_setter(b.text))]
    if not named:  # under a grid or its rules initials need no `by`
        named = [(b, b.text.strip()) for b in heads if b.box[1] >= grid[3] and _INITIALS.fullmatch(b.text.strip())]
    return min(named, key=lambda item: _apart(item[0].box, grid), default=(None, None))


_INITIALS = re.compile(r"(?:[A-Z]\. ?){1,3}[A-Z][a-z]+(?:-[A-Z][a-z]+)?")


def _title(heads: Sequence[Block], grid: Box, body: float, setter: Block | None) -> Block | None:
    """The emphasised short line in the grid's own stack of text: right above the setter where there is one, otherwise
    the lowest above the grid, for what stands higher is the publication's name."""
    short = [b for b in heads if _is_short(b)]
    stack = [b for b in short if _is_set_off(b, body)]
    if setter is not None:
        over = [b for b in stack if _right_above(b, setter)]
        # Under a title stands who set it, however large the rules are.
        over = over or [b for b in short if _right_above(b, setter) and b.size > setter.size]
        if over:
            return max(over, key=lambda b: b.box[3])
    above = sorted((b for b in stack if b.box[3] <= grid[1] + _INTO * (grid[3] - grid[1])), key=lambda b: -b.box[3])
    if not above:
        return None
    if _name_below(above[0], heads)[0] is not None:
        return above[0]
    larger = [b for b in above[1:] if _right_above(b, above[0]) and b.size > above[0].size]
    return larger[0] if larger else above[0]


def _is_short(block: Block) -> bool:
    """Whether a block is surely text, and as short as a title is."""
    text = block.text
    if _RULES_HEAD.fullmatch(text.strip(" .:!")) or any(line.confidence < _NOISE for line in block.lines):
        return False
    return len(text.split()) <= _TITLE_WORDS and len(block.lines) <= 2 and not text.endswith((".", ",", ";", ":"))


def _is_set_off(block: Block, body: float) -> bool:
    """Whether a block is set off from the body text as a title is."""
    return block.bold or block.size >= _LARGER * body


_RULES_HEAD = re.compile(
    r"(?:the )?(?:special )?(?:rules?|instructions?|how to (?:solve|play)(?: (?:it|this puzzle))?|solving rules|"
    r"the puzzle|what to do)",
    re.I,
)
"""Headings of the rules, which are no puzzle's name."""


def _right_above(block: Block, setter: Block) -> bool:
    white = setter.box[1] - block.box[3]
    level = min(block.box[2], setter.box[2]) - max(block.box[0], setter.box[0])
    return -_TALL_BOX * block.size < white < 2.5 * block.size and level > -2 * block.size


def _name_below(title: Block, heads: Sequence[Block]) -> tuple[Block | None, str | None]:
    """A setter's name alone, right under the title and smaller than it."""
    for block in heads:
        words = block.text.split()
        smaller = block.size < title.size and len(block.lines) == 1 and len(words) <= NAME_WORDS
        if block is not title and smaller and _right_above(title, block) and _is_name(words):
            return block, block.text.strip(" .")
    return None, None


def _is_name(words: Sequence[str]) -> bool:
    small = {"of", "the", "and", "&", "de", "van", "von", "la", "le", "du"}
    return (
        not words[-1].endswith(":")
        and all(w[:1].isupper() or w.lower() in small for w in words)
        and words[0][:1].isupper()
    )


def _cased(title: str) -> str:
    """A title set in capitals is stored in ordinary ones; Roman numerals and initials keep theirs."""
    if not any(c.islower() for c in title) and any(len(w) > 3 for w in title.split()):
        return " ".join(w if re.fullmatch(r"[IVX]+|(?:\w\.)+", w) else w.capitalize() for w in title.split())
    return title


def _read_order(own: Sequence[Block]) -> list[Block]:
    """Blocks of one rules text in reading order: what stands well above all else first, then columns from the left,
    then from the top. Recursive X-Y cut (Nagy and Seth, 1984)."""
    if len(own) < 2:
        return list(own)
    for cut in (_cut(own, 1, _WELL_ABOVE * max(b.size for b in own)), _columns(own), _cut(own, 1)):
        if cut is not None:
            return [*_read_order(cut[0]), *_read_order(cut[1])]
    return sorted(own, key=lambda b: (b.box[1], b.box[0]))


def _columns(own: Sequence[Block]) -> tuple[list[Block], list[Block]] | None:
    """The first column and the others, where they stand side by side."""
    cut = _cut(own, 0)
    if cut is None:
        return None
    tops, bottoms = ([pick(b.box[side] for b in part) for part in cut] for side, pick in ((1, min), (3, max)))
    return cut if max(tops) < min(bottoms) else None


def _cut(own: Sequence[Block], axis: int, least: float = 0.0) -> tuple[list[Block], list[Block]] | None:
    """Blocks before and behind the first gap wider than `least`, across (`axis` 0) or down the page (1)."""
    ordered = sorted(own, key=lambda b: b.box[axis])
    end = ordered[0].box[axis + 2]
    for at, block in enumerate(ordered[1:], start=1):
        if block.box[axis] - end > least:
            return ordered[:at], ordered[at:]
        end = max(end, block.box[axis + 2])
    return None
