"""Marks that a text calls by a name of its own: `a dotted tray` is a cage, and so is `the tray` after that."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from recognise.rules.lexicon import PHRASES, bag
from recognise.rules.repair import is_known
from recognise.rules.substitution import COLOUR

_DASHED = re.compile(r"\b(?:dotted|dashed) ([a-z]{3,}?)s?\b(?! (?:line|lines)\b)", re.I)
_OUTLINES = frozenset(("outline", "shape", "border", "frame"))
"""Words that rules have for much else; dashed ones are cages."""


_AREA = r"(?:area|block|zone|shape|region|group|patch|piece|field|space|outline)"
_EDGED = r"\b(?:dotted|dashed|bordered|framed|outlined|bold|thick|heavy)"
_TINTED = rf"\b(?:coloured|tinted|shaded|pastel|{COLOUR[3:-1]})"
_SUMMED = re.compile(
    rf"{_EDGED} (?P<edged>{_AREA})(?:e?s)?\b[^.;]*\b(?:sum|total|add|product|difference)|"
    rf"\b(?:sum|total|product|difference|multiply|add)\b[^.;]*{_EDGED} "
    rf"(?P<framed>{_AREA})(?:e?s)?\b|"
    rf"{_TINTED} (?P<tinted>{_AREA})(?:e?s)?\b[^.;]*\b(?:sum|total|add)[^.;]*\bcorner\b|"
    rf"\b(?:sum|total|product|difference) of (?:the |its |all )*(?:digits|numbers) (?:in|of|inside) "
    rf"(?:an?|each|every|one) (?P<whole>{_AREA})\b|"
    rf"\b(?:in|at) the (?:\w+ )?corner of (?:an?|each|every|the|its) (?P<cornered>{_AREA})\b[^.;]*"
    r"\b(?:sum|total|product|result|sign)s?\b",
    re.I,
)
"""An area whose digits are added up, multiplied or subtracted is a cage, whatever a text calls it."""


_COMPARED = re.compile(
    rf"\b(?:same|equal) (?:sum|total|product|difference)|\b(?:additional|extra|further|bonus)\b[^.;]{{0,20}}\b{_AREA}",
    re.I,
)
"""Areas that are compared with each other, or stand beside the boxes, are none of our cages."""


def _summed(text: str) -> Iterator[str]:
    """The words for areas that a text uses for its cages, and not for boxes beside rows and columns."""
    if _COMPARED.search(text):
        return
    for match in _SUMMED.finditer(text):
        name = next(found for found in match.group(*_SUMMED.groupindex) if found).lower()
        if (
            re.search(rf"\b(?:rows?|columns?)\b[^.;]{{0,30}}\b{name}|\b{name}s?\b[^.;]{{0,30}}\bcolumns?\b", text, re.I)
            is None
        ):
            yield name


_LOOKING = rf"(?:{COLOUR[3:-1]}|thick|bold|heavy|dark|small|little|dotted|dashed|outlined)"
_REPEATED = r"\b(?:repeat\w*|twice|more than once|again|differ\w*|distinct)\b"
_FILLED = re.compile(
    rf"{_REPEATED}[^.;]*\b(?:in|inside|within) (?:an?|one|each|every|the same|any)(?: {_LOOKING})? "
    r"(?P<after>[a-z]{3,}?)s?\b(?=\W|$)|"
    rf"\b(?:in|inside|within) (?:an?|one|each|every|any|the same)(?: {_LOOKING})? (?P<before>[a-z]{{3,}}?)s?\b"
    rf"[^.;]*{_REPEATED}",
    re.I,
)
_WORKED_OUT = r"(?:sums?|totals?|add\w*|results?|calculat\w+|operat\w+|product|multipl\w+|subtract\w*)"


_NO_PLACES = bag("order way direction case other turn sense manner fashion time place sequence step")
"""What things are said to be in that is no place: `in any order`."""


def _calculated(text: str) -> Iterator[str]:
    """What a text has digits repeat in, or not, and elsewhere something worked out in, where it speaks of no cages."""
    if re.search(r"\bcages?\b", text, re.I):
        return
    for match in _FILLED.finditer(text):
        name = (match["after"] or match["before"]).lower()
        elsewhere = text[: match.start()] + "." + text[match.end() :]
        told = rf"\b{name}s?\b[^.;]*\b{_WORKED_OUT}\b|\b{_WORKED_OUT}\b[^.;]*\b{name}s?\b"
        unused = name == "frame" or not PHRASES.get((name,))
        if unused and name not in _NO_PLACES and re.search(told, elsewhere, re.I):
            yield name


_ALONG = re.compile(
    rf"\balong (?:an?|the|each|every) {COLOUR} ([a-z]{{4,}}?)s?\b",
    re.I,
)
"""What has a colour and is gone along is a line: `along each orange bond`."""


_AT_ENDS = re.compile(
    r"\b(?:line|route|path|track|rope|string|road|cord)s? with an? (?:\w+ )?([a-z]{4,}) (?:at|on) "
    r"(?:each|either|both) ends?\b",
    re.I,
)
"""What stands at both ends of a line is a circle: `a route with a window at each end`."""


_LINES = r"(?:line|route|path|track|rope|string|road|cord)s?"
_ENDED = re.compile(
    rf"\b{_LINES} (?:with|have|has|bears?|carry|carries) an? (?:\w+ )?"
    r"(?P<at>diamond|lozenge|star)s? (?:at|on) (?:each|either|both)(?: of (?:its|their))? ends?\b|"
    rf"(?:^|[.;:!?]\s+)(?:on|along) (?:an?|each|every|the) (?:\w+ )?{_LINES} "
    r"(?:between|joining|linking|connecting) (?:two|the) (?P<joined>diamond|lozenge|star|square)s\b",
    re.I,
)
_OF_A_LINE = re.compile(r"\b(?:lines?|routes?|paths?|tracks?|ropes?|strings?|roads?|cords?|ends?)\b", re.I)


def _ended(text: str) -> Iterator[str]:
    """Marks of other kinds that a text has at the ends of its lines, and nowhere else: `a diamond at either end`."""
    for match in _ENDED.finditer(text):
        name = (match["at"] or match["joined"]).lower()
        spoken = (part for part in re.split(r"[.;]", text) if re.search(rf"\b{name}s?\b", part, re.I))
        if all(_OF_A_LINE.search(part) for part in spoken):
            yield name


_OUTSIDE = re.compile(
    r"\b(?:an?|the|each|every|any|all) ([a-z]{3,}?)s? "
    r"(?:outside|round|around|beside|at the (?:edge|rim|border|margin) of) "
    r"(?:the|our|your) (?:grid|diagram|puzzle|frame|board|square)\b",
    re.I,
)
"""What stands beside the grid is a number, whatever it is printed on: `a tag outside the grid`."""


_ENCLOSED = re.compile(
    r"\b(?:broken|dashed|dotted|stippled|pecked) (?:lines?|borders?|outlines?|strokes?) "
    r"(?:enclose|surround|bound|ring|mark off|frame|form|make|fence off|cut off) "
    r"(group|set|cluster|batch|lot|bunch|area|block|patch|zone|shape)(?:e?s)?\b",
    re.I,
)
"""What broken lines go round is a cage: `broken lines enclose groups of cells`."""


_CELL = re.compile(r"\b(?:cells?|fields?|box|boxes)\b", re.I)
_SQUARES_ARE_CELLS = re.compile(
    r"\b(?:two|four|neighbouring|adjacent|touching|blank|empty|these|those|both) squares\b|\bfrom square to square\b|"
    r"\b(?:one|every|each|the) square to (?:the next|another)\b|\bsquares (?:whose|side by side|apart|on the)\b",
    re.I,
)
_OTHER_SQUARES = re.compile(
    r"\b(?:\d ?[x×] ?\d|small|little|tiny|inner|bold|outlined|large|bigger|big|minor|heavy|latin|magic|nine|sub|"
    r"in|an?) "
    r"squares?\b(?! (?:that|which|of the grid))",
    re.I,
)
"""Squares that may be boxes, or marks in cells."""


def _squares(text: str) -> Mapping[str, str]:
    """The word for cells of a text that calls them squares and nothing else so."""
    boxed = _CELL.findall(text)
    cells = any(word.lower().startswith(("cell", "field")) for word in boxed)
    if cells or not boxed or _SQUARES_ARE_CELLS.search(text) is None or _OTHER_SQUARES.search(text) is not None:
        return {}
    return {"square": "cell"}


def _unused(name: str) -> bool:
    return not is_known(name) or PHRASES.get((name,)) == "REGION"


def nicknames(text: str) -> Mapping[str, str]:
    """What a text calls its marks, to the word that rules have for them; names that rules use otherwise are none."""
    names = {match[1].lower() for match in _DASHED.finditer(text)}
    cages = {name: "cage" for name in names if name in _OUTLINES or not is_known(name)}
    lines = {name: "line" for name in (match[1].lower() for match in _ALONG.finditer(text)) if not is_known(name)}
    rings = {name: "circle" for name in (match[1].lower() for match in _AT_ENDS.finditer(text)) if _unused(name)}
    rings |= dict.fromkeys(_ended(text), "circle")
    clues = {
        name: "number" for name in (match[1].lower() for match in _OUTSIDE.finditer(text)) if not PHRASES.get((name,))
    }
    enclosed = (match[1].lower() for match in _ENCLOSED.finditer(text))
    summed = dict.fromkeys((*_summed(text), *_calculated(text), *enclosed), "cage")
    return {**_squares(text), **rings, **lines, **clues, **cages, **summed}


def by_their_names(sentence: str, names: Mapping[str, str]) -> str:
    """The sentence with each nickname put as the word that rules have."""
    for name, word in names.items():
        sentence = re.sub(
            rf"\b(?:dotted |dashed |bordered |framed |outlined |bold |thick |heavy )?{name}(?:e?(s))?\b",
            rf"{word}\1",
            sentence,
            flags=re.I,
        )
    return sentence
