"""Rules texts to concepts: sentences, their words in plain form, OCR's errors undone, phrases looked up."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import product

from recognise.rules.addressed import asks_for_it, plainly_addressed
from recognise.rules.anaphora import area_named, ones_named, they_named
from recognise.rules.asides import (
    answers,
    counted_by_letter,
    denied_together,
    is_heading,
    with_answers,
    with_heading_apart,
    with_letters_told,
    without_dates,
    without_examples,
    without_speakers,
)
from recognise.rules.broken import goes_on, joined
from recognise.rules.cases import without_cases
from recognise.rules.casual import begins, said_plainly
from recognise.rules.complete import told_whether_complete
from recognise.rules.courtesy import without_courtesy
from recognise.rules.exhaustive import told_of_all
from recognise.rules.fields import by_their_fields
from recognise.rules.glyphs import with_glyphs_named
from recognise.rules.homely import homely
from recognise.rules.lexicon import LONGEST, NUMBERS, PHRASES, VOCABULARY, bag
from recognise.rules.moot import without_moot
from recognise.rules.nicknames import by_their_names, nicknames
from recognise.rules.otherwise import with_others_named
from recognise.rules.plainer import in_plain_words
from recognise.rules.publications import published
from recognise.rules.repair import figured, mended
from recognise.rules.rewrites import rewritten
from recognise.rules.same import said_again
from recognise.rules.signs import with_signs_told
from recognise.rules.turns import turned
from recognise.rules.usage import by_usage

UNKNOWN = "UNKNOWN"
"""The concept of a word that the lexicon does not have."""

VARIABLE = "OTHER"
"""The concept of a letter that stands for a number: formulas are not read."""

SOMETHING_ELSE = "OTHER=noun"
"""The concept of a word that the lexicon does not have and that says what marks are."""

CUT = "|"
"""Where a clause may end: a comma, a colon, a bracket, a dash, or a word such as `and`."""

_SENTENCE_END = re.compile(
    r"(?<=[.!?])(?:(?<!\.\.\.)|(?=['\")]*\s+[A-Z]))['\")]*\s+(?=\S)|(?<=[A-Z]{2}[.!:])\s+(?=[A-Z][a-z])|"
    r"(?<=[a-z]{3}[.!?])(?=[A-Z][a-z])|\s*[•●▪■◆»○►✓]\s*|\n\s*(?:[*–—-]|\(?[a-z0-9]{1,3}[.)])\s+(?=\S)|(?:(?<=\s)|"
    r"^)\*\s+|\n\s*\n|(?<=;)\s+"
)
_COMMA_FOR_STOP = re.compile(
    r"(?<=[a-z]{3}),(?= (?:The|Each|Every|All|No|If|Where|When|Two|In|On|An?|Along|Any|Digits|Numbers|Cells) "
    r"(?!(?:and|or|is|to|stands|means|counts) )[a-z])"
)
"""A comma before a word that only the start of a sentence writes so: OCR took it for a stop."""
_SECTION = re.compile(r"§\s?\d+(?:\.\d+)*[.):]?\s+(?=[A-Z])")
"""The number of a paragraph, which is no number of what it says."""
_ABBREVIATION = re.compile(
    r"(?:\b(?:e\.g|i\.e|vs|etc|incl|resp)\.|^\s*\(?[0-9a-z]{1,2}[.)]|(?:^|:|\bby) ?[A-Z]\.)$", re.I
)
_NUMBER_OF = re.compile(r"\bno\.$", re.I)
"""An abbreviation before a figure, and an answer before anything else."""
_TOKEN = re.compile(r"§\w+=[\w:-]+|[a-zA-Z]+[015][a-zA-Z]+|[a-zA-Z]+|\d+|[,:;()]|\s-\s|[^\sa-zA-Z0-9]")
_CUT_MARKS = frozenset(",:;()") | {" - ", "-", "/"}


@dataclass(frozen=True, slots=True)
class Sentence:
    """One sentence as printed, and its concepts in order; `CUT` stands where a clause may end."""

    text: str
    concepts: tuple[str, ...]

    @property
    def asks(self) -> bool:
        """Whether it is a question, and no request."""
        return self.text.rstrip("\"'”’) ").endswith("?") and not asks_for_it(self.text)


def sentences(text: str) -> list[Sentence]:
    """Split a rules text into sentences and look up their words."""
    return list(_sentences(text))


@lru_cache(maxsize=256)
def _sentences(text: str) -> tuple[Sentence, ...]:
    # The texts of a page are looked at several times: whether they are rules, whether they go on, what they state.
    parted = _SECTION.sub("\n\n", with_glyphs_named(unicodedata.normalize("NFKC", text))).replace("§", " ")
    plain = _COMMA_FOR_STOP.sub(".", figured(with_letters_told(without_speakers(parted))))
    tidy = _with_name_apart(with_heading_apart(plain))
    found: list[str] = []
    for piece, listed in _pieces(tidy):
        if found and (_is_cut_short(found[-1], piece) or answers(found[-1], piece) or begins(found[-1], piece)):
            found[-1] = f"{found[-1]} {piece}"
        elif found and goes_on(found[-1], piece, listed):
            found[-1] = joined(found[-1], piece)
        else:
            found.append(piece)
    names = nicknames(tidy)
    told = [told_of_all(_naming(s, before), before) for before, s in zip(["", *found], found, strict=False)]
    return tuple(
        Sentence(" ".join(s.split()), tuple(concepts_of(by_their_names(plain, names))))
        for s, plain in zip(found, told, strict=True)
    )


def _is_cut_short(before: str, piece: str) -> bool:
    """Whether the stop of a piece of text is that of an abbreviation."""
    is_number = piece[:1].isdigit() and _NUMBER_OF.search(before) is not None
    return is_number or _ABBREVIATION.search(before) is not None


def _naming(sentence: str, before: str) -> str:
    """The sentence with what it only points at in the one `before` it called by its name."""
    return area_named(they_named(ones_named(said_again(sentence, before), before), before), before)


def _pieces(text: str) -> Iterator[tuple[str, bool]]:
    """The pieces that a text falls into, and whether a mark of a list stands before each."""
    start, listed = 0, False
    for end in (*_SENTENCE_END.finditer(text), None):
        piece = text[start : end.start() if end else len(text)]
        if piece.strip():
            yield piece, listed
        if end:
            start, listed = end.end(), bool(end[0].strip())


_IN_CAPITALS = re.compile(r"\s*([A-Z][A-Z'’-]+(?: [A-Z'’-]+){1,5})\s+([A-Z][a-z]+ )")
"""`COLD SNAP The digits on ...`: a name in capitals, and the rules after it."""
_OF_NAMES = bag(f"{UNKNOWN} FLAVOUR DOUBLE TRIPLE AND OR {CUT}")


def _with_name_apart(text: str) -> str:
    """The text with a puzzle's name before a colon put as a sentence of its own: `Secret Garden: digits rise from ...`.
    A word that rules use is no part of such a name."""
    in_capitals = _IN_CAPITALS.match(text)
    if in_capitals:
        return f"{in_capitals[1]}.\n\n{in_capitals[2]}{text[in_capitals.end() :]}"
    name, colon, rest = text.partition(":")
    if not colon or not is_heading(name):
        return text
    concepts = set(concepts_of(name))
    sized = any(c.startswith("SIZE=") for c in concepts)
    return f"{name}.\n\n{rest}" if sized or (UNKNOWN in concepts and concepts <= _OF_NAMES) else text


def concepts_of(sentence: str) -> list[str]:
    """The concepts of a sentence in order; words that the lexicon does not have are `UNKNOWN`, filler is left out."""
    words = list(tokens(sentence))
    found: list[str] = []
    at = 0
    while at < len(words):
        length, concept = longest_phrase(words, at)
        if concept == UNKNOWN and _is_what_marks_are(words, at):
            concept = SOMETHING_ELSE
        if concept:
            if concept in ("AND", "IF", "IFF") or (concept == "OR" and found[-1:] == [CUT]):
                found.append(CUT)
            found.append(concept)
        at += length
    return found


_MAY_BE = bag("LINE DOT CAGE THERMO ARROW CIRCLE SQUARE ONE REST SIGN MARK BAR CLUE REGION DIAMOND TIP BULB END")
_BEFORE_A_NOUN = frozenset({"also", "all", "then", "instead"})
_CLAUSE_ENDS = frozenset({".", ";", "!", ")", "and", "but", "while"})
_OF_OTHERS = frozenset({"other", "others", "rest"})


def _is_what_marks_are(words: list[str], at: int) -> bool:
    """Whether a word that the lexicon does not have says, as a noun that ends its clause, what marks are, as in `the
    other lines are zippers` or `(other lines: zippers)`: a rule that we do not have. After a colon or a comma it is
    told what the noun means."""
    verb = at - 1
    while verb >= 0 and words[verb] in _BEFORE_A_NOUN:
        verb -= 1
    is_said = words[verb] == "are" or (words[verb] == ":" and not _OF_OTHERS.isdisjoint(words[max(0, verb - 2) : verb]))
    if verb < 1 or not is_said or longest_phrase(words, verb - 1)[1] not in _MAY_BE:
        return False
    after, is_plural = at + 1, words[at].endswith("s")
    if after < len(words) and longest_phrase(words, after)[1] in _MAY_BE:
        after += longest_phrase(words, after)[0]
        is_plural = True
    return is_plural and (after == len(words) or words[after] in _CLAUSE_ENDS)


def tokens(sentence: str) -> Iterator[str]:
    """The words of a sentence, examples left out and OCR's errors undone; numbers that belong together as one."""
    sentence = mended(
        with_answers(denied_together(counted_by_letter(turned(said_plainly(homely(_as_printed(sentence)))))))
    )
    told = with_others_named(in_plain_words(sentence))
    # What makes another rule may be told in words that are put plainly only now.
    named = with_others_named(by_their_fields(told))
    for match in _TOKEN.finditer(_still_other(told + named, rewritten(named))):
        yield match[0] if match[0].startswith("§") else match[0].lower()


def _still_other(named: str, told: str) -> str:
    """A sentence put plainly, with what makes another rule of it where a turn of phrase has taken that in."""
    return f"{told} §other=turned" if "§other" in named and "§other" not in told else told


_NUMBERED = re.compile(r"^\s*\(?\d{1,2}[.)]\s+(?=[A-Z][a-z]|An? )")
"""The number of a rule, which would keep what is looked for at the start of a sentence from being found."""


def _as_printed(sentence: str) -> str:
    """What a sentence states in the words of its page: without examples and without what states nothing."""
    sentence = _NUMBERED.sub("", sentence)
    told = told_whether_complete(
        without_moot(
            plainly_addressed(by_usage(without_courtesy(without_moot(without_examples(without_dates(sentence))))))
        )
    )
    return published(with_signs_told(without_cases(told)))


_MAY_BE_NOT = bag("nt nof nol nct noi nat nit nox nop uot mot rot")
"""What OCR makes of `not`: a sentence with one of these is never sure of what it says."""


def longest_phrase(words: list[str], at: int) -> tuple[int, str]:
    """How many words from a place on are one phrase, and its concept: empty for filler."""
    word = words[at]
    if word in _CUT_MARKS:
        return 1, CUT
    if word.startswith("§"):
        return 1, _special(word)
    forms = [_forms(w) for w in words[at : at + LONGEST]]
    for length in range(len(forms), 0, -1):
        for phrase in product(*forms[:length]):
            if phrase in PHRASES:
                return length, PHRASES[phrase]
    if word.isdigit() or word in NUMBERS:
        return 1, f"NUM={_number(word)}"
    if (len(word) == 1 and word.isalpha()) or word in _MAY_BE_NOT:
        return 1, VARIABLE
    return 1, UNKNOWN if word.isalpha() else ""


def _special(token: str) -> str:
    name, _, value = token[1:].partition("=")
    if name in ("range", "list"):
        low, high = (_number(v) for v in value.split("_"))
        return f"RANGE={low}-{high}" if high - low >= 2 else f"NUM={low} NUM={high}"
    if name == "ratio":
        low, high = sorted(_number(v) for v in value.split(":"))
        return f"TIMES={high // low}" if low and high % low == 0 else UNKNOWN
    if name == "size":
        return f"SIZE={value}"
    if name == "letter":
        return f"LETTER={value.upper()}"
    return f"{name.upper()}={value.replace('_', '-')}"


def _number(word: str) -> int:
    return int(word) if word.isdigit() else NUMBERS[word.lower()]


# ------------------------------------------------------------------------------------------------ plain forms

_IRREGULAR = {
    "found": "find",
    "written": "write",
    "taken": "take",
    "gone": "go",
    "seen": "see",
    "stood": "stand",
    "held": "hold",
    "met": "meet",
    "rose": "rise",
    "grew": "grow",
    "given": "given",
    "shown": "shown",
    "told": "tell",
    "drawn": "draw",
    "meant": "mean",
    "came": "come",
    "went": "go",
    "began": "begin",
    "begun": "begin",
    "laid": "lay",
    "ran": "run",
    "kept": "keep",
    "fell": "fall",
}


_ADVERB_FROM = 7
"""Letters from which -ly may be cut off; `only` and `early` are words of their own."""


@lru_cache(maxsize=4096)
def _forms(word: str) -> tuple[str, ...]:
    """The plain forms of a word that the lexicon has, the word itself first."""
    return tuple(t for t in plain_forms(word) if t in VOCABULARY)


@lru_cache(maxsize=8192)
def plain_forms(word: str) -> tuple[str, ...]:
    """What a word may be in plain form, the word itself first."""
    tries = [word, _IRREGULAR.get(word, word), word.removesuffix("s"), word.removesuffix("es")]
    if word.endswith("ies"):
        tries.append(word[:-3] + "y")
    if word.endswith("ly") and len(word) > _ADVERB_FROM:
        tries += [word[:-2], word[:-2] + "al", word[:-4]]
    for ending in ("ed", "ing"):
        if word.endswith(ending):
            stem = word.removesuffix(ending)
            tries += [stem, stem + "e"]
            if len(stem) > 2 and stem[-1] == stem[-2]:
                tries.append(stem[:-1])
            if stem.endswith("i"):
                tries.append(stem[:-1] + "y")
    return tuple(dict.fromkeys(tries))


def known(word: str) -> bool:
    """Whether a word, in any form, is one that rules texts use."""
    return bool(_forms(word.lower())) or word.lower() in NUMBERS
