"""What the network of senses makes of a text beside what the patterns make of it: rules that they do not account for,
talk that they take for rules, and rules that it takes for something else.

Of the network's certainty alone one statement in twenty is wrong on voices that it never heard: most of these are
rules with an exception. The lexicon knows the words of exceptions, and so nothing is stated without a question that
either of the two doubts.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from functools import cached_property

from recognise.rules.agreed import BASE, OTHERWISE, keeps_to_its_kind, known_of, may_be_an_exception
from recognise.rules.allmarked import PAIR_KINDS
from recognise.rules.asides import is_heading, is_headline
from recognise.rules.conclude import clash
from recognise.rules.exceptions import may_fall_short
from recognise.rules.heard import statements_heard
from recognise.rules.lexicon import bag
from recognise.rules.lost import Found
from recognise.rules.opined import VARIANT_FIELDS, answers_of
from recognise.rules.opinion import RULE_OF_NO_KIND
from recognise.rules.pattern import NEUTRAL, named
from recognise.rules.phrases import reduced
from recognise.rules.rulelike import may_hide_a_rule
from recognise.rules.second import looked_at_again
from recognise.rules.sense import senses
from recognise.rules.sheet import Statement
from recognise.rules.stating import OUTSIDE_KINDS, hedged, in_part
from recognise.rules.words import UNKNOWN, Sentence

HALF, DIGITS = "half", "digits"
LIKELY, CERTAIN = 0.6, 0.95
"""The chance from which an answer is stated, and from which it need not be put to a person."""
SURE, NOTHING_ELSE = 0.985, 0.05
"""The chance from which, and that of anything else below which, relations may be named beside a rule, and the usual
rules be told in words that the patterns know."""
_STRANGE_WORDS = bag("OTHER")
"""Words that may stand for a number that nobody knows; of clues beside the grid a number of another sort is soon told
(`the sum of the squares`)."""
_BESIDE_SURE = bag(
    "INCREASE DECREASE SUM PRODUCT DIFFERENCE DIFF TIMES RATIO EVEN ODD WRAP TOWER HIDE FORBIDDEN UNMARKED"
)
"""Relations that may be told beside a rule that is surely heard: no measures, which turn a number that the network does
not hear, no alternatives and no words of exceptions."""
_BESIDE_READ = _BESIDE_SURE | bag("REPEAT TWICE ONCE")
"""The same of what words tell as well."""
_BESIDE_BASE = _BESIDE_SURE | bag("NEG")
"""The same of rows, columns and boxes: they are mostly told by a denial, which of other kinds the network does not hear
surely enough."""
_TURNING = bag("NEG NEEDNOT TWICE REPEAT MAYREPEAT")
ELSE = 0.1
"""The chance of anything else from which a statement is put to a person."""
ANOTHER = 0.5
"""The chance of another variant of a kind from which a statement is put to a person."""
NOTHING = 0.03
"""The chance of every answer below which a sentence is talk."""
DENIED = 0.02
"""The chance below which a statement of the patterns is put to a person where another answer is likely."""
STRANGE = 0.9
"""The chance of a rule of no kind from which all that a sentence states is put to a person."""
_OF_BASE = bag("ROW COLUMN BOX REGION SUDOKU STANDARD RULE RANGE ALLDIGITS SIZE")
"""Words of which a sentence has to have one to state the usual rules: `as always` may speak of anything."""
_EASILY_TURNED = frozenset({"greater"})
"""Kinds of which one word tells which way they go: the network does not hear that."""
_NEVER = bag("EXCEPT SECOND LIMIT")
_IN_ROWS = 12
"""So many words, most of them letters, are a word grid: more than a legend of letters has."""
_TELLS = re.compile(r"[A-Za-z]{3}|\d")
"""What any rule has: a word, or the number of a letter."""
_NO_RULES = frozenset({HALF, DIGITS})
_HEARD_ANYWHERE = BASE | _NO_RULES | {"all-marked", RULE_OF_NO_KIND}


class Senses:
    """What the network says of the sentences of a text."""

    def __init__(self, parts: Sequence[Sentence]) -> None:
        self._parts = parts

    @cached_property
    def _said(self) -> Sequence[Mapping[str, float]]:
        return senses(tuple(part.text for part in self._parts))

    def found_in(self, silent: Collection[int], told: Sequence[Statement]) -> list[Found]:
        """What sentences state that state nothing yet; `silent` are their places, `told` what the others state."""
        known = list(told)
        found: list[Found] = []
        for at in sorted(silent) if self._said else ():
            if not self._parts[at].asks and not _is_no_sentence(self._parts[at].text):
                new = [s for s in self._stated(at) if not any(clash(s, other) for other in known)]
                known += new
                if new:
                    found.append(Found(tuple(new), [self._parts[at]]))
        return found

    def is_talk(self, sentence: Sentence) -> bool:
        """Whether a sentence states nothing at all. One that speaks of what no mark shows is never passed over, nor one
        that has been seen to make another rule, nor one of which the patterns know every word."""
        return (
            not may_hide_a_rule(sentence)
            and OTHERWISE.isdisjoint(sentence.concepts)
            and has_strange_words(sentence)
            and all(c < NOTHING for answer, c in self._of([sentence]).items() if answer != DIGITS)
        )

    def chances(self, sentence: Sentence) -> Mapping[str, float]:
        """The chance of each answer in one sentence of the text; empty where nothing was heard."""
        return self._of([sentence])

    def lost(self, sentence: Sentence, stated: Collection[str]) -> bool:
        """Whether a kind is surely heard in a sentence, and nothing else, that the text states nowhere: a pattern took
        it in with its neighbours. Rows, columns and boxes are heard in anything short."""
        sure = {_kind(answer) for answer, chance in self._of([sentence]).items() if chance >= SURE}
        return len(sure) == 1 and not sentence.asks and not sure & (_HEARD_ANYWHERE | set(stated))

    def agrees(
        self,
        statements: Sequence[Statement],
        sentences: Sequence[Sentence],
        told: Collection[str] = (),
        read: bool = False,
    ) -> bool:
        """Whether sentences state this and nothing else; `told` are the answers of what the text states elsewhere,
        `read` says that words tell it as well: two readers that know nothing of each other."""
        said = self._of(sentences)
        answers = {a for s in statements for a in answers_of(s.kind, s.fields, s.negated)}
        least = min((said.get(answer, 0.0) for answer in answers), default=0.0)
        kinds = {_kind(answer) for answer in (*answers, *told)}
        others = (c for answer, c in said.items() if answer not in _NO_RULES and _kind(answer) not in kinds)
        most = max(others, default=0.0)
        if least < CERTAIN or most >= ELSE or any(s.kind in _EASILY_TURNED for s in statements):
            return False
        if not _varies_so(statements, said) or any(may_fall_short(s.text) for s in sentences):
            return False
        surely = least >= SURE and most < NOTHING_ELSE
        usual = surely and read and {s.kind for s in statements} <= BASE and not _may_be_turned(sentences)
        plain = surely and read and keeps_to_its_kind(statements, sentences)
        if not usual and not plain and not any(map(has_strange_words, sentences)):
            return False
        return not may_be_an_exception(statements, sentences, _beside(statements, read) if surely else frozenset())

    def hears(self, statement: Statement, sentences: Sequence[Sentence]) -> bool:
        """Whether sentences may state something at all."""
        said = self._of(sentences)
        answers = answers_of(statement.kind, statement.fields, statement.negated)
        return not said or not answers or any(said.get(answer, 1.0) >= DENIED for answer in answers)

    def denies(self, statements: Iterable[Statement], sentences: Sequence[Sentence]) -> bool:
        """Whether sentences state something else. What keeps to words of the lexicon the patterns know better."""
        if not any(map(has_strange_words, sentences)):
            return False
        said = self._of(sentences)
        answers = {a for s in statements for a in answers_of(s.kind, s.fields, s.negated)}
        if said.get(RULE_OF_NO_KIND, 0.0) > STRANGE:
            return True
        unlikely = any(said.get(answer, 0.0) < DENIED for answer in answers)
        return unlikely and any(c > CERTAIN for answer, c in said.items() if answer not in answers | _NO_RULES)

    def _of(self, sentences: Sequence[Sentence]) -> Mapping[str, float]:
        """The chance of each answer in any of some sentences."""
        texts = {s.text for s in sentences}
        said = [self._said[at] for at, part in enumerate(self._parts) if part.text in texts]
        return {answer: max(one[answer] for one in said) for answer in said[0]} if said else {}

    def _stated(self, at: int) -> list[Statement]:
        answers = {answer for answer, chance in self._said[at].items() if chance >= LIKELY} - _NO_RULES
        if not answers or RULE_OF_NO_KIND in answers:
            return []
        concepts = [c for near in self._with_halves(at) for c in _concepts(self._parts[near].text)]
        if (
            _NEVER.intersection(map(named, concepts))
            or in_part(concepts)
            or hedged([c for c in concepts if c != UNKNOWN])
        ):
            return []
        if len({c for c in concepts if c.startswith("COLOUR")}) <= 1:
            answers -= _outdone(self._said[at])
        names = {named(c) for c in concepts} - NEUTRAL
        if not all(names & (_OF_BASE if kind in BASE else known_of({kind})) for kind in map(_kind, answers)):
            return []
        return _made(answers, concepts)

    def _with_halves(self, at: int) -> list[int]:
        """A sentence and those beside it that are halves of what it states."""
        beside = (near for near in (at - 1, at, at + 1) if 0 <= near < len(self._parts))
        return [near for near in beside if near == at or self._said[near][HALF] >= LIKELY]


def _outdone(said: Mapping[str, float]) -> set[str]:
    """Relations of two cells that are heard less surely than another one is: marks of one colour have one meaning."""
    pairs = {kind: said.get(kind, 0.0) for kind in PAIR_KINDS}
    return {kind for kind, chance in pairs.items() if chance < CERTAIN} if max(pairs.values()) >= SURE else set()


def _varies_so(statements: Sequence[Statement], said: Mapping[str, float]) -> bool:
    """Whether what tells the variants of a kind apart is heard as it is stated."""
    variants = {f"{_answer(s)} {v}" for s in statements for v in _variants(s)}
    kinds = {_answer(s) for s in statements if s.kind != "all-marked" or "of" in s.fields}
    if any(said.get(_answer(s, not s.negated), 0.0) >= ELSE for s in statements):
        return False
    heard = {a: chance for a, chance in said.items() if a.partition(" ")[0] in kinds and " " in a}
    return all(chance >= CERTAIN if a in variants else chance < ANOTHER for a, chance in heard.items())


def _answer(statement: Statement, negated: bool | None = None) -> str:
    return f"{'!' if (statement.negated if negated is None else negated) else ''}{statement.kind}"


def _variants(statement: Statement) -> set[str]:
    told = {v for v, (key, value) in VARIANT_FIELDS.items() if statement.fields.get(key) == value}
    return told | {str(statement.fields[key]) for key in ("of", "operation") if key in statement.fields}


def _may_be_turned(sentences: Sequence[Sentence]) -> bool:
    """Whether the usual rules may be turned round in words that the patterns know, and refused for that: `each row has
    one digit twice`, `no row has all the digits`."""
    return any(named(c) in _TURNING for s in sentences for concept in s.concepts for c in concept.split())


def _beside(statements: Sequence[Statement], read: bool) -> frozenset[str]:
    """The concepts that may stand beside what sentences surely state."""
    kinds = {s.kind for s in statements}
    if "all-marked" in kinds:
        return frozenset()
    if read and kinds <= BASE:
        return _BESIDE_BASE
    strange = _STRANGE_WORDS if OUTSIDE_KINDS.isdisjoint(kinds) else frozenset()
    return strange | (_BESIDE_READ if read else _BESIDE_SURE)


def _kind(answer: str) -> str:
    return answer.lstrip("!").partition(" ")[0]


def _is_no_sentence(text: str) -> bool:
    """Whether a text is a heading, the letters of a word grid, or what the reader of characters made of a drawing: a
    puzzle's name is heard as a rule too readily, and single letters as those between cells."""
    words = text.split()
    letters = sum(len(word) == 1 for word in words)
    is_rubbish = _TELLS.search(text) is None or (len(words) >= _IN_ROWS and letters > len(words) / 2)
    return is_rubbish or is_heading(text) or is_headline(text)


def has_strange_words(sentence: Sentence) -> bool:
    """Whether a sentence has words that the lexicon does not have."""
    return any(clause.foreign for clause in looked_at_again(sentence.text))


def _concepts(sentence: str) -> list[str]:
    return [c for clause in looked_at_again(sentence) for c in reduced(clause.concepts)]


def _made(answers: Collection[str], concepts: Sequence[str]) -> list[Statement]:
    """The statements of likely answers of one sentence; none where one of them lacks what its kind needs."""
    variants: dict[str, set[str]] = {}
    for answer in answers:
        kind, _, variant = answer.partition(" ")
        variants.setdefault(kind, set()).update({variant} - {""})
    kinds = variants.keys() - BASE
    if len(kinds) > 1 and not set(map(_kind, kinds)) <= {"all-marked", *PAIR_KINDS}:
        concepts = [c for c in concepts if not c.startswith("COLOUR")]  # whose colour is whose is not known
    made: list[Statement] = []
    for kind in sorted(variants):
        new = statements_heard(kind, variants[kind], concepts)
        if not new:
            return []
        made += new
    return made
