"""Title, setter and rules text of the proof against the source. What the source does not state is not compared."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from clueprint.compare.proof import ProofGrid
from clueprint.compare.result import Finding, Polygon
from clueprint.compare.source import is_drawn
from clueprint.compare.texts import TextChange, holds_words, same_words, text_changes, words_of
from ingest.page import Box
from recognise.concluding import sheet_of
from recognise.draft import box_polygon
from recognise.evidence import TextLine
from recognise.rules import RuleSheet
from recognise.text.page import has_words, page_lines
from schema.files import constraint_document
from schema.kinds import STRUCTURE, kind_named
from schema.pointers import constraint_pointer
from schema.puzzle import Puzzle

_SHOWN = 160
"""Characters of a sentence that are quoted."""


@dataclass(frozen=True, slots=True)
class PrintedWords:
    """The words that the proof prints for one grid. `exact` says that they are those of a PDF's text; OCR may misread a
    word or lose one, so that what differs there is for a person. `others` are all lines of the page where they are
    exact."""

    grid: ProofGrid
    sheet: RuleSheet | None
    exact: bool
    others: tuple[TextLine, ...] = ()

    @property
    def stated(self) -> frozenset[str]:
        """The kinds that the printed rules speak of."""
        return frozenset(s.kind for s in self.sheet.statements if not s.negated) if self.sheet else frozenset()

    def where(self, text: str) -> Polygon | None:
        """Where words stand on the page; None where no line of the puzzle's own holds any of them."""
        wanted = {word.plain for word in words_of(text)}
        lines = [line.box for line in self.grid.words.lines if wanted & {w.plain for w in words_of(line.text)}]
        held = [line.box for line in self.grid.words.lines if _held(line.text, text)]
        return _around(held or lines)


def printed_words(grid: ProofGrid) -> PrintedWords:
    """The words of one grid, with what they say of its marks."""
    exact = grid.page.vectors is not None and has_words(grid.page)
    lines = tuple(page_lines(grid.page)) if exact else ()
    return PrintedWords(grid, sheet_of(grid.looked, grid.words), exact, lines)


def _held(line: str, text: str) -> bool:
    return holds_words(text, line) or holds_words(line, text)


def _around(boxes: Iterable[Box]) -> Polygon | None:
    boxes = list(boxes)
    if not boxes:
        return None
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return box_polygon((min(x0), min(y0), max(x1), max(y1)))


def word_findings(source: Puzzle, words: PrintedWords) -> list[Finding]:
    """What the words of the proof have otherwise than the source."""
    found = [*_heading("title", source.title, words), *_heading("setter", source.setter, words)]
    return [*found, *(_rules(source, words) if source.rules_text else _stated(source, words))]


def _heading(name: str, ours: str | None, words: PrintedWords) -> Iterator[Finding]:
    theirs: str | None = getattr(words.grid.words, name)
    page = words.grid.page.number
    if ours is None or (theirs is not None and same_words(ours, theirs)):
        return
    if any(holds_words(text, ours) for text in _texts(words)):
        return
    if theirs is None:
        why = f"the {name} “{ours}” was not found on the proof"
        yield Finding(why, f"/{name}", "missing", ours, None, page, None, sure=words.exact)
        return
    why = f"the {name} is “{theirs}” on the proof, “{ours}” in the source" + _ocr(words)
    yield Finding(why, f"/{name}", "changed", ours, theirs, page, words.where(theirs), sure=words.exact)


def _texts(words: PrintedWords) -> list[str]:
    """All texts of the page, each line and all of them in a row."""
    lines = [line.text for line in (*words.grid.words.lines, *words.others)]
    return [*lines, " ".join(lines)]


def _ocr(words: PrintedWords) -> str:
    return "" if words.exact else " (read off a picture: a letter may be misread)"


def _rules(source: Puzzle, words: PrintedWords) -> Iterator[Finding]:
    """Sentence by sentence."""
    assert source.rules_text is not None
    theirs, page = words.grid.words.rules_text, words.grid.page.number
    if not theirs:
        why = "the rules text of the source was not found on the proof"
        yield Finding(why, "/rules_text", "missing", source.rules_text, None, page, None, sure=words.exact)
        return
    elsewhere = " ".join(line.text for line in words.others)
    for change in text_changes(source.rules_text, theirs):
        why, where, sure = _told(change, words), words.where(change.found or theirs), words.exact
        if change.found is None and holds_words(elsewhere, change.expected or ""):
            why, sure = f"{why}; it stands elsewhere on the page", False
        if change.expected is None:
            yield Finding(why, None, "extra", None, change.found, page, where, sure=sure)
        else:
            sort = "missing" if change.found is None else "changed"
            yield Finding(why, "/rules_text", sort, change.expected, change.found, page, where, sure=sure)  # type: ignore[arg-type]


def _told(change: TextChange, words: PrintedWords) -> str:
    if change.found is None:
        return f"a sentence of the source's rules is not on the proof: “{_cut(change.expected)}”" + _ocr(words)
    if change.expected is None:
        return f"a sentence of the proof's rules is not in the source: “{_cut(change.found)}”" + _ocr(words)
    ours, theirs = change.expected_words or "nothing", change.found_words or "nothing"
    return f"the rules say “{theirs}” on the proof, “{ours}” in the source: “{_cut(change.found)}”" + _ocr(words)


def _cut(text: str | None) -> str:
    text = " ".join((text or "").split())
    return text if len(text) <= _SHOWN else f"{text[:_SHOWN]}…"


def _stated(source: Puzzle, words: PrintedWords) -> Iterator[Finding]:
    """What the printed rules state, against the kinds of a source that has no rules text."""
    page, sheet, text = words.grid.page.number, words.sheet, words.grid.words.rules_text
    where = words.where(text) if text else None
    unclear = sheet is not None and bool(sheet.not_understood or sheet.unsure)
    sure = words.exact and not unclear
    for number, constraint in enumerate(source.constraints):
        if is_drawn(constraint) or constraint.kind in (*STRUCTURE, *words.stated) or not constraint.understood:
            continue
        why = f"the rule “{constraint.name}” has no mark, and the proof does not state it in words"
        yield Finding(
            why, constraint_pointer(number), "missing", constraint_document(constraint), None, page, where, sure=sure
        )
    if sheet is None:
        return
    yield from _fields(source, words, sheet, where)
    yield from _silent(source, words, sheet, where)
    yield from _unspoken(source, words, where)
    for sentence in (*sheet.not_understood, *sheet.unsure):
        why = f"the source has no rules text, and this sentence of the proof is not understood: “{_cut(sentence)}”"
        yield Finding(why, page=page, where=words.where(sentence), found=sentence, sure=False)


def _fields(source: Puzzle, words: PrintedWords, sheet: RuleSheet, where: Polygon | None) -> Iterator[Finding]:
    """Kinds that the rules state and the source has not, or has with other fields."""
    page = words.grid.page.number
    for statement in sheet.statements:
        kind = kind_named(statement.kind)
        having = [(n, c) for n, c in enumerate(source.constraints) if c.kind == statement.kind]
        where = words.where(statement.sentence) or where
        if statement.negated or (statement.kind in STRUCTURE and having):
            continue
        if not having:
            alone = kind.marks[:1] == ("rule",)
            why = f"the printed rules state “{kind.name}”, which the source does not have: “{_cut(statement.sentence)}”"
            yield Finding(why, None, "extra", None, statement.sentence, page, where, sure=words.exact and alone)
            continue
        for name, said in statement.fields.items():
            wrong = [(n, c) for n, c in having if name in kind.model_fields and getattr(c, name) != said]
            if len(wrong) < len(having) or said == "printed" or name == "value":
                continue
            pointers = tuple(constraint_pointer(n) for n, _ in wrong)
            ours = getattr(wrong[0][1], name)
            why = f"by the printed rules the {name} of the {kind.name} is {said}, in the source {ours}"
            yield Finding(why, pointers[0], "changed", ours, said, page, where, pointers, sure=words.exact)


def _silent(source: Puzzle, words: PrintedWords, sheet: RuleSheet, where: Polygon | None) -> Iterator[Finding]:
    """What a kind of the source has otherwise than usual (digits of a cage may repeat, a sandwich goes round the edge),
    and the sentences that state the kind do not say."""
    for kind_name in words.stated:
        kind = kind_named(kind_name)
        said = {name for s in sheet.statements if s.kind == kind_name for name in s.fields}
        having = [(n, c) for n, c in enumerate(source.constraints) if c.kind == kind_name]
        for name, field in kind.model_fields.items():
            unusual = [n for n, c in having if getattr(c, name) != field.default]
            if field.annotation is not bool or name in said or not unusual:
                continue
            why = f"{name} of the {kind.name} is {not field.default} in the source, and the printed rules do not say it"
            pointers = tuple(map(constraint_pointer, unusual))
            page = words.grid.page.number
            yield Finding(why, pointers[0], page=page, where=where, items=pointers, sure=False)


def _unspoken(source: Puzzle, words: PrintedWords, where: Polygon | None) -> Iterator[Finding]:
    """Drawn kinds of the source of which the printed rules do not speak."""
    drawn: dict[str, list[int]] = {}
    for number, constraint in enumerate(source.constraints):
        if is_drawn(constraint) and constraint.understood and constraint.kind not in words.stated:
            drawn.setdefault(constraint.kind, []).append(number)
    for kind, numbers in drawn.items():
        pointers = tuple(map(constraint_pointer, numbers))
        why = f"the printed rules do not say what the {kind_named(kind).name} means"
        yield Finding(why, pointers[0], page=words.grid.page.number, where=where, items=pointers, sure=False)
