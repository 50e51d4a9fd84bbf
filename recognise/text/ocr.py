"""Lines of text from the page image: only blocks that can be a title, a setter or rules are read.

Reading is what costs time, so a long block is first read by its opening lines alone: running text shows there that it
is no rules text, and the rest of it is left.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box, Page
from recognise.evidence import TextLine
from recognise.geometry import overlap, shared
from recognise.rules.rulelike import is_rule_like
from recognise.rules.words import sentences
from recognise.text.askew import level_blocks
from recognise.text.beside import regions_beside
from recognise.text.cut import Cut, cut, grown
from recognise.text.dark_panels import dark_panels, light_on_paper
from recognise.text.engine import Engine, Grey, OcrLine, engine
from recognise.text.left_out import with_left_out
from recognise.text.regions import OPENING, Region, lines_of, tangles, text_regions, text_slope
from recognise.text.worn import LEGIBLE, is_well_read, surely, with_worn

_NEAR = 0.9
"""How far from a grid a block may stand, in lengths of the grid's longer side."""
_LONG = 7
"""Lines from which a block is first read in part."""
_LEVEL, _LARGEST_TURN = 0.4, 8.0
"""Degrees: Tesseract reads lines that are less askew as they are; what is more askew is a photo, not a scan."""
_BAR = re.compile(r"(?<!\S)\|(?!\S)")
"""A bar that stands alone is a 1 without serifs: rules texts have no bars."""
_STOP = re.compile(r"[.!?:][\"'”’)\s]*$")
_MOST = 0.8
"""Part of a block's area that another has in common with it, to be the same."""
_SURE = 0.35
"""Confidence below which a line is noise rather than text."""
_GOOD = 0.85
"""Confidence from which on a block is well read: text without an error has 0.9 and more."""
_LIGHT = 0.7
"""How surely light text is read at least: words are at 0.9 and more, newsprint's grain was at 0.5."""
_WIDE = 12.0
"""Letters' heights that a block is wide, to be worth another look: stains and grain are mostly narrower."""
_LINE = 1.2
"""Letters' heights that a block goes on below, for another line of it to stand there."""
_SPACED = 3.0
"""Letters' heights from one line of a text to the next, at most; white cells of a word grid stand farther apart."""
_GRAINY = 8
"""So many blocks in which nothing is read are grain."""


def ocr_lines(page: Page, grids: Sequence[Box] = (), with_engine: Engine | None = None) -> list[TextLine]:
    """The lines of text near the grids (boxes in frame units), or all of them where there is no grid. Places come in
    frame units. Raises engine.NoEngine where no OCR engine is installed."""
    return read_near(page, grids, with_engine).lines


@dataclass(frozen=True, slots=True)
class Near:
    """The lines of text near the grids, in frame units, and the blocks there in which nothing was read that is sure to
    be text; `light` are those of light type in a dark box, beside rules that were read."""

    lines: list[TextLine]
    unread: list[Region]
    light: list[Region]


def read_near(page: Page, grids: Sequence[Box] = (), with_engine: Engine | None = None) -> Near:
    """The same, and what could not be read."""
    reader = with_engine or engine()
    boxes = [_scaled(box, page.scale) for box in grids]
    grey = np.asarray(cv2.cvtColor(page.image, cv2.COLOR_RGB2GRAY), dtype=np.uint8)
    # Where there is a grid, the page was made level by it: lines that are askew to it are none.
    turn = _Turn.by(0.0 if boxes else text_slope(grey, boxes), grey)
    grey, boxes = turn.image(grey), [turn.box(box) for box in boxes]
    sight = _Sight(reader, grey, boxes)
    blocks = _blocks(sight)
    light: list[Region] = []
    if boxes and not any(block.rules for block in blocks):
        blocks = _or_light(sight, blocks)
    elif boxes:
        blocks, light = _with_panels(sight, blocks)
    lines: list[TextLine] = []
    for block in without_others(blocks):
        # Lines of one block keep their places to each other: a short last line stands under the start of a long one.
        back = turn.back(block.region.box)
        x, y = back[0] - block.region.box[0], back[1] - block.region.box[1]
        lines += [_line(line, _moved(line.box, 1.0, x, y), page.scale) for line in block.found]
    return Near(lines, [block.region for block in blocks if not block.is_legible], light)


def _blocks(sight: _Sight) -> list[OcrBlock]:
    """The blocks of dark text near the grids, or all where there are none, and what is read in them."""
    grey, grids = sight.grey, sight.grids
    seen = lines_of(grey, grids)
    near = [r for r in text_regions(grey, grids, seen) if not grids or any(_stands_near(r.box, g) for g in grids)]
    blocks = [OcrBlock(region, tuple(_read(sight, region))) for region in near]
    if not grids:
        return blocks
    tangled = [box for box in tangles(grey, seen) if any(_stands_near(box, grid) for grid in grids)]
    blocks = _going_on(sight, _with_askew(sight, tangled, blocks))
    return blocks if _end_with_stops(blocks) else _looked_beside(sight, blocks)


def _or_light(sight: _Sight, blocks: list[OcrBlock]) -> list[OcrBlock]:
    """Blocks that tell no rules, with those of light text on dark paper where these do: read in the negative, which
    makes dark text on light paper of them. The grain of paper has rubbish in its negative too."""
    negative = _blocks(replace(sight, grey=cv2.bitwise_not(sight.grey)))
    light = [block for block in negative if surely(block.found) >= _LIGHT]
    if not any(block.rules for block in light):
        return blocks
    return _besides(blocks, light)


def _with_panels(sight: _Sight, blocks: list[OcrBlock]) -> tuple[list[OcrBlock], list[Region]]:
    """Blocks that tell rules, with those of light text in dark boxes that do so too; and the places of several lines of
    light text that are not surely read."""
    panels = [box for box in dark_panels(sight.grey, sight.grids) if any(_stands_near(box, g) for g in sight.grids)]
    if not panels:
        return blocks, []
    found = _blocks(replace(sight, grey=light_on_paper(sight.grey, panels)))
    unread = [block.region for block in found if surely(block.found) < _LIGHT and _is_set_as_rules(block.region)]
    return _besides(blocks, [block for block in found if surely(block.found) >= _LIGHT and block.rules]), unread


def _is_set_as_rules(region: Region) -> bool:
    """Whether a block has several lines as close as those of a text, and as wide."""
    spaced = (region.box[3] - region.box[1]) / region.lines
    return region.lines > 1 and _is_wide(region) and spaced <= _SPACED * region.letter


def _besides(blocks: Sequence[OcrBlock], light: Sequence[OcrBlock]) -> list[OcrBlock]:
    """Blocks of light text, and those others that share no place with them."""
    own = [block for block in blocks if not any(overlap(block.region.box, other.region.box) for other in light)]
    return sorted([*own, *light], key=lambda block: (block.region.box[1], block.region.box[0]))


@dataclass(frozen=True, slots=True)
class _Sight:
    """What is read with which engine: a level picture, in which the grids stand in `grids`."""

    reader: Engine
    grey: Grey
    grids: Sequence[Box] = ()


@dataclass(frozen=True, slots=True)
class OcrBlock:
    """A block of text, and what was read in it."""

    region: Region
    read: tuple[OcrLine, ...]

    @property
    def found(self) -> list[OcrLine]:
        """The lines that are no noise."""
        return [line for line in self.read if line.confidence >= _SURE]

    @property
    def rules(self) -> list[str]:
        """The sentences that speak as rules do."""
        return [s.text for s in sentences(" ".join(line.text for line in self.found)) if is_rule_like(s)]

    @property
    def is_legible(self) -> bool:
        """Whether there is text in it at all."""
        return surely(self.found) >= LEGIBLE

    def settles(self, region: Region) -> bool:
        """Whether another block need not be read: all of it has been read here, or it is this one, and holds no
        text."""
        common = shared(self.region.box, region.box)
        if not self.is_legible:
            return common > _MOST * max(_area(self.region.box), _area(region.box))
        whole = self.region.lines >= region.lines and common > _MOST * _area(region.box)
        return whole and surely(self.found) >= _GOOD


def without_others(blocks: Sequence[OcrBlock]) -> list[OcrBlock]:
    """The blocks without the lines of others, into which a block grew that was not surely read: the rows of a table
    stand as close as lines do."""
    regions = [block.region for block in blocks]
    return [
        replace(block, read=tuple(line for line in block.read if _is_own(line, block.region, regions)))
        for block in blocks
    ]


def _is_own(line: OcrLine, own: Region, regions: Sequence[Region]) -> bool:
    return not any(_lies_in(line.box, region.box) for region in regions if region is not own) or _lies_in(
        line.box, own.box
    )


def _lies_in(line: Box, box: Box) -> bool:
    x, y = (line[0] + line[2]) / 2, (line[1] + line[3]) / 2
    return box[0] <= x <= box[2] and box[1] <= y <= box[3]


def _stands_near(box: Box, grid: Box) -> bool:
    return _apart(box, grid) < _NEAR * _side(grid)


def _end_with_stops(blocks: Sequence[OcrBlock]) -> bool:
    """Whether there are rules, and each block of them ends with its sentence."""
    ends = [_STOP.search(rules[-1]) is not None for block in blocks if block.is_legible and (rules := block.rules)]
    return bool(ends) and all(ends)


def _going_on(sight: _Sight, blocks: Sequence[OcrBlock]) -> list[OcrBlock]:
    """The blocks, those of rules that break off with the lines below them of which nobody saw that they belong to
    them."""
    return [
        _gone_on(sight, block, blocks)
        if block.is_legible and block.rules and not _STOP.search(block.found[-1].text)
        else block
        for block in blocks
    ]


def _gone_on(sight: _Sight, block: OcrBlock, blocks: Sequence[OcrBlock]) -> OcrBlock:
    """A block with what is read right below it and belongs to no other."""
    region = block.region
    box = grown(sight.grey, region, sight.grids)
    if box[3] - region.box[3] <= _LINE * region.letter:
        return block
    others = [other.region.box for other in blocks if other is not block]
    below = [
        line
        for line in _read_box(sight, region, box, region.lines + 1)
        if line.box[1] + line.box[3] > 2 * region.box[3] and not any(overlap(line.box, other) for other in others)
    ]
    return OcrBlock(replace(region, box=box), (*block.read, *below)) if below else block


def _looked_beside(sight: _Sight, blocks: Sequence[OcrBlock]) -> list[OcrBlock]:
    """The blocks with those of rules that show when the paper on each side of the grids is looked at by itself; of
    blocks that share a place those count in which more is read."""
    kept = list(blocks)
    for region in regions_beside(sight.grey, sight.grids, _NEAR):
        if not _is_wide(region) or any(block.settles(region) for block in kept):
            continue
        kept = _instead(kept, OcrBlock(region, tuple(_read(sight, region))))
    return sorted(kept, key=lambda block: (block.region.box[1], block.region.box[0]))


def _with_askew(sight: _Sight, tangled: Sequence[Box], blocks: Sequence[OcrBlock]) -> list[OcrBlock]:
    """The blocks with those of rules that show where what hangs together is made level by itself."""
    kept = list(blocks)
    for sheared, regions in level_blocks(sight.grey, tangled):
        for region in filter(_is_wide, regions):
            lines = _read(_Sight(sight.reader, sheared.picture), region)
            there = replace(region, box=sheared.back(region.box))
            kept = _instead(kept, OcrBlock(there, tuple(replace(line, box=sheared.back(line.box)) for line in lines)))
    return sorted(kept, key=lambda block: (block.region.box[1], block.region.box[0]))


def _instead(blocks: list[OcrBlock], seen: OcrBlock) -> list[OcrBlock]:
    """The blocks, with another that tells rules instead of those that share its place where more is read in it."""
    same = [block for block in blocks if overlap(block.region.box, seen.region.box)]
    if seen.rules and _read_in_all(seen.found) > sum(_read_in_all(block.found) for block in same):
        return [block for block in blocks if block not in same] + [seen]
    return blocks


def hides_text(unread: Sequence[Region]) -> bool:
    """Whether blocks in which nothing was read may be rules, or are so many that they are grain in which rules drown:
    of a picture in which type can be read only stains and pictures are left, and these are few."""
    return len(unread) >= _GRAINY or any(map(_is_wide, unread))


@dataclass(frozen=True, slots=True)
class _Turn:
    """A small turn of the page about its middle that brings its lines level."""

    matrix: npt.NDArray[np.float64] | None

    @classmethod
    def by(cls, degrees: float, grey: Grey) -> _Turn:
        if not _LEVEL < abs(degrees) < _LARGEST_TURN:
            return cls(None)
        return cls(cv2.getRotationMatrix2D((grey.shape[1] / 2, grey.shape[0] / 2), degrees, 1.0))

    def image(self, grey: Grey) -> Grey:
        if self.matrix is None:
            return grey
        size = (grey.shape[1], grey.shape[0])
        turned = cv2.warpAffine(grey, self.matrix, size, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
        return np.asarray(turned, dtype=np.uint8)

    def box(self, box: Box) -> Box:
        return box if self.matrix is None else _mapped(box, self.matrix)

    def back(self, box: Box) -> Box:
        return box if self.matrix is None else _mapped(box, cv2.invertAffineTransform(self.matrix))


def _mapped(box: Box, matrix: npt.NDArray[np.float64]) -> Box:
    """Where the middles of a box's sides come to lie: small turns leave the box its size."""
    x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    to_x, to_y = matrix @ np.array([x, y, 1.0])
    return _moved(box, 1.0, float(to_x - x), float(to_y - y))


def _read(sight: _Sight, region: Region) -> list[OcrLine]:
    if region.lines < _LONG:
        return _read_box(sight, region, region.box, region.lines)
    left, top, right, _ = region.box
    found = _read_box(sight, region, (left, top, right, region.opening), OPENING)
    if not OcrBlock(region, tuple(found)).is_legible:
        return found
    if not any(is_rule_like(s) for s in sentences(" ".join(line.text for line in found))):
        return found
    return _read_box(sight, region, region.box, region.lines)


def _read_box(sight: _Sight, region: Region, box: Box, lines: int) -> list[OcrLine]:
    """Read one box, in which so many `lines` were seen; lines come back in pixels of the page. What Tesseract is not
    sure of in a block as wide as rules is read by the network of worn type, with what stands around it."""
    own = cut(sight.grey, region, box)
    if own is None:
        return []
    found = _tesseract(sight.reader, own, region, lines)
    told = [own.on_page(line) for line in found]
    if not _is_wide(region) or is_well_read(found):
        return told
    wider = cut(sight.grey, region, grown(sight.grey, region, sight.grids) if box == region.box else box) or own
    again = with_worn([wider.here(line) for line in told], wider.picture, wider.zoom * region.letter)
    return [wider.on_page(line) for line in again]


def _tesseract(reader: Engine, own: Cut, region: Region, lines: int) -> list[OcrLine]:
    """The lines of a block as it is cut out, of which so many were seen. Where fewer are read, other looks are tried:
    Tesseract now and then makes nothing of a line that it is told to be one, and leaves out one of many."""
    single = lines == 1
    found = reader.read(own.picture, single_line=single)
    if single and (not found or (_is_wide(region) and surely(found) < _GOOD)):
        found = max(found, reader.read(own.picture), key=_read_in_all)
    return with_left_out(reader, own.picture, found, own.zoom * region.letter) if len(found) < lines else found


def _is_wide(region: Region) -> bool:
    return region.box[2] - region.box[0] >= _WIDE * region.letter


def _read_in_all(found: Sequence[OcrLine]) -> float:
    """How much is read, in letters, by how surely."""
    return sum(len(line.text) * (line.confidence - _SURE) for line in found)


def _line(found: OcrLine, box: Box, scale: float) -> TextLine:
    return TextLine(_BAR.sub("1", found.text), _scaled(box, 1 / scale), found.height / scale, found.confidence, "ocr")


def _moved(box: Box, by: float, x: float, y: float) -> Box:
    return box[0] * by + x, box[1] * by + y, box[2] * by + x, box[3] * by + y


def _scaled(box: Box, by: float) -> Box:
    return _moved(box, by, 0.0, 0.0)


def _area(box: Box) -> float:
    return (box[2] - box[0]) * (box[3] - box[1])


def _side(box: Box) -> float:
    return max(box[2] - box[0], box[3] - box[1])


def _apart(a: Box, b: Box) -> float:
    """The distance between two boxes; 0 where they meet."""
    return max(a[0] - b[2], b[0] - a[2], 0.0) + max(a[1] - b[3], b[1] - a[3], 0.0)
