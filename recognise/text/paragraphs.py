"""Which paragraphs of a page are rules: by what they say, and by the rules that they stand with."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from recognise.rules.legible import is_illegible
from recognise.rules.reader import read_rules
from recognise.rules.rulelike import is_rule_like
from recognise.rules.sheet import RuleSheet
from recognise.rules.words import UNKNOWN, Sentence, known, sentences
from recognise.text.blocks import Block

_RULES_SHARE = 0.5
"""Part of a paragraph's sentences that must read as rules for it to be taken for rules."""
_LEAST_RULE = 5
"""Words that a rule has at least which is known by its neighbours only."""
_NAME, _STOPS = 5, (".", "!", ":", ";", ",")
"""Words that a puzzle's name has at most, and how no name ends."""
_WORD = re.compile(r"[^\W\d_]{2,}")
"""Not an initial, nor what OCR makes of a rule between two names."""
_STRANGE = 0.15
"""Part of the words of such a rule that no rules text has, at most; in an article it is a fifth."""
_SAME_SIZE, _SAME_SIZE_OCR = 0.03, 0.2
"""Relative difference of font sizes between paragraphs of one text, as printed and as OCR measures them."""
_ENDS = (".", "!", "?", ":")
_GUTTER, _LEVEL = 4.0, 1.5
"""White between two columns and how far their heads stand from one level, in font sizes, at most."""
_PARAGRAPHS_APART, _NEXT = 2.5, 1.75
"""White between two paragraphs of one text, in font sizes, at most; and where the next one follows at once."""


def rules_paragraphs(paragraphs: Sequence[Block]) -> set[int]:
    """The places of the paragraphs that state rules, and of those set in one column with them that speak as rules do:
    what a sentence says may hang on the paragraph before it, and one that is not understood has to be put to a
    person."""
    found, grown = {i for i, block in enumerate(paragraphs) if _reads_as_rules(block)}, True
    found -= _headings({i: paragraphs[i] for i in found})
    found |= {i for i, block in enumerate(paragraphs) if any(_goes_on_in(paragraphs[j], block) for j in found - {i})}
    while grown:
        more = {
            i
            for i, block in enumerate(paragraphs)
            if i not in found and _goes_with(block, [paragraphs[j] for j in found])
        }
        found, grown = found | more, bool(more)
    return found


def _headings(rules: Mapping[int, Block]) -> set[int]:
    """The places of those that are a puzzle's name, such as `Odd Squares`: they say in a few words what others state in
    sentences."""
    stated = {i: {s.kind for s in read_rules(block.text).statements} for i, block in rules.items()}
    names = {i for i, block in rules.items() if _may_be_name(block)}
    said = {kind for i, kinds in stated.items() if i not in names for kind in kinds}
    return {i for i in names if stated[i] <= said}


def _may_be_name(block: Block) -> bool:
    return len(block.lines) == 1 and len(block.text.split()) <= _NAME and not block.text.endswith(_STOPS)


def _reads_as_rules(block: Block) -> bool:
    found = _telling(block)
    if not found:
        return False
    like = [s for s in found if is_rule_like(s)]
    if not like or len(block.text.split()) < 2 or not _has_words(block):
        return False
    sheet = read_rules(block.text)
    understood = len(like) - len(sheet.not_understood)
    if sheet.statements and not _is_guessed(sheet, found):
        return understood >= _RULES_SHARE * len(found) or len(sheet.statements) >= 2
    return False


def _has_words(block: Block) -> bool:
    """Whether OCR read a word of rules at all: of grain it makes pairs of signs too."""
    return block.lines[0].how != "ocr" or any(known(word) for word in _WORD.findall(block.text))


def _telling(block: Block) -> list[Sentence]:
    """The sentences of a paragraph without those that bind nothing, of which nothing is left."""
    return [sentence for sentence in sentences(block.text) if sentence.concepts]


def _is_guessed(sheet: RuleSheet, found: Sequence[Sentence]) -> bool:
    """Whether all that a paragraph states is guessed, and its words are rather those of an article."""
    words = sum(len(s.text.split()) for s in found)
    strange = sum(s.concepts.count(UNKNOWN) for s in found)
    return all(s.sentence in sheet.unsure for s in sheet.statements) and strange > _STRANGE * words


def _speaks_as_rules(block: Block) -> bool:
    found, words = _telling(block), len(_WORD.findall(block.text))
    like, strange = sum(map(is_rule_like, found)), sum(s.concepts.count(UNKNOWN) for s in found)
    return words >= _LEAST_RULE and strange <= _STRANGE * words and like > 0 and like >= _RULES_SHARE * len(found)


def _may_state_rules(block: Block) -> bool:
    """Whether a paragraph may state rules in words that most rules have not: right below one that does, it is never
    passed over."""
    found = _telling(block)
    like, words = sum(map(is_rule_like, found)), len(_WORD.findall(block.text))
    return words >= _LEAST_RULE and 0 < like >= _RULES_SHARE * len(found) and bool(read_rules(block.text).statements)


def _tells_digits(block: Block) -> bool:
    """Whether a paragraph says which digits there are; it may say nothing else."""
    return len(block.text.split()) >= _LEAST_RULE and read_rules(block.text).digits is not None


def _cannot_be_read(block: Block) -> bool:
    """Whether OCR made nothing of a paragraph: beside rules it may have been one."""
    return block.lines[0].how != "vector" and len(block.text.split()) >= _LEAST_RULE and is_illegible(block.text)


def _goes_with(block: Block, rules: Sequence[Block]) -> bool:
    """Whether a paragraph is set in one column with rules and speaks as they do; right below one, it may do so in
    words of its own."""
    if not any(_in_one_column(rule, block, _PARAGRAPHS_APART) for rule in rules):
        return False
    if _speaks_as_rules(block) or _cannot_be_read(block) or _tells_digits(block):
        return True
    above = [rule for rule in rules if rule.box[1] < block.box[1]]
    return any(_in_one_column(rule, block, _NEXT) for rule in above) and _may_state_rules(block)


def _in_one_column(a: Block, b: Block, most: float) -> bool:
    """Whether two blocks are paragraphs of one text: same type, one right below the other, starting level, with so much
    white between them at most."""
    tolerance = _SAME_SIZE if a.lines[0].how == b.lines[0].how == "vector" else _SAME_SIZE_OCR
    if a.bold != b.bold or abs(a.size - b.size) > tolerance * max(a.size, b.size):
        return False
    white = max(a.box[1], b.box[1]) - min(a.box[3], b.box[3])
    level = abs(a.box[0] - b.box[0]) <= 2 * a.size or abs(a.box[0] + a.box[2] - b.box[0] - b.box[2]) <= 4 * a.size
    return level and -0.5 * a.size < white < most * a.size


def _goes_on_in(a: Block, b: Block) -> bool:
    """Whether a sentence that breaks off at the foot of one column goes on at the head of the next."""
    if a.text.endswith(_ENDS) or a.bold != b.bold or abs(a.size - b.size) > _SAME_SIZE_OCR * max(a.size, b.size):
        return False
    gutter, level = b.box[0] - a.box[2], abs(a.box[1] - b.box[1])
    return 0 < gutter < _GUTTER * a.size and level <= _LEVEL * a.size and len(a.lines) > 1


_BULLET = re.compile(
    r"(^|(?<=[.!?])\s)(?:[\u2022\u25cf\u25aa\u25a0\u25c6\u00bb\u25cb\u25ba\u00b7*+\u2013-]|"
    r"[\u00a2\u00a9\u00ae\u00ab\u00b0\u00a4>~](?=\s+[A-Z])|[eo](?=\s+[A-Z]))\s+(?=\w)"
)
"""Bullets, and what OCR takes them for."""


def without_bullets(text: str) -> str:
    """A paragraph without the bullets of its list, where a full stop parts the items as well."""
    return _BULLET.sub(r"\1", text)
