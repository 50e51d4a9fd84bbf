"""Rules texts to concepts: sentences, their words in plain form, OCR's errors undone, phrases looked up."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import product

from recognise.rules.asides import (
    answers,
    counted_by_letter,
    denied_together,
    is_heading,
    with_answers,
    with_heading_apart,
    without_examples,
)
from recognise.rules.lexicon import LONGEST, NUMBERS, PHRASES, VOCABULARY, bag
from recognise.rules.repair import mended

UNKNOWN = "UNKNOWN"
"""The concept of a word that the lexicon does not have."""

VARIABLE = "OTHER"
"""The concept of a letter that stands for a number: formulas are not read."""

CUT = "|"
"""Where a clause may end: a comma, a colon, a bracket, a dash, or a word such as `and`."""

_NUMBER = r"(?:\d{1,2}|" + "|".join(sorted(NUMBERS, key=len, reverse=True)) + ")"
_LINK = r"(?:\s*(?:,|-|;|/|and|or|then)\s*)+"
_TO = r"\s*(?:-|~|to|through|thru|until|till|up to|\.{2,3}|,\s*\.{3}\s*,?)\s*"

_OPERATION = (
    r"(?:plus|add(?:ition|ing)?|sum|minus|subtract(?:ion|ing)?|difference|times|multipl(?:y|ication|ying)|product|"
    r"divid(?:e|ing)|division|quotient)"
)

_LEGEND = r"[A-UWYZ] (?:is|stands for|means|for|=) (?:\d+|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen)"
"""What a letter stands for; V and X are sums of two cells."""

_SIDE, _CORNER = (rf"(?:(?:an?|the|any|one) )?(?:{what})" for what in ("sides?|edges?|borders?", "corners?|vertex"))

_IN = "(?:in|on|for|of|see|from)"
_AT = "(?:(?:at|by|in|along|even) )*"

_REWRITES: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(pattern, flags), replacement)
    for pattern, flags, replacement in (
        (r"[‐-―−]", 0, "-"),
        (r"[‘’ʼ`´]", 0, "'"),
        (r"[“”„\"]", 0, " "),
        (r"\bcan't\b", re.I, "can not"),
        (r"n't\b", 0, " not"),
        (r"\b[Xx]-[Ss]ums?\b|\bX [Ss]ums\b|\bX[Ss]ums?\b", 0, " xsum "),
        (r"(?<=\w)'s?\b", 0, " "),
        (r"\b(?:two|three|multi|2|3)-digit\b|\btwo- or three-digit\b", re.I, " twodigit "),
        # Examples in figures, and the letters of questions and answers.
        (
            r"\((?:for (?:instance|example)|e\.? ?g\.?|such as|like|as in|as|say|so|thus|i\.? ?e\.?)\b[^()]*\d[^()]*\)",
            re.I,
            " ",
        ),
        (
            r",?\s*\b(?:for (?:instance|example),?|e\.? ?g\.?,?|such as|like|as in|as|say)\s+"
            rf"{_NUMBER}(?:{_LINK}{_NUMBER})+\b(?!\s*(?:digits|cells|times))",
            re.I,
            " ",
        ),
        (r"(?<!\w)±\s*1\b", 0, " consecutive "),
        (r"(?<!\w)(?<!\d )[×x]\s*2\b(?=\s*(?:[.;,)]|$))", 0, " double "),
        (
            r"\b(?:touch|meet|adjoin|shar|abut)\w*(?: each other| one another)?(?: at| by| in| along| with)?"
            rf"(?: {_SIDE} or {_AT}{_CORNER}| {_CORNER} or {_AT}{_SIDE})\b",
            re.I,
            " diagonally adjacent ",
        ),
        (r"^\s*[Ff]urther,\s", 0, "additionally, "),
        # `One of the dots`, `most of the lines`: not all of them, whatever is said of them.
        (
            r"(?<!\beach )(?<!\bevery )(?<!\bany )\b"
            r"(?:(?:exactly |only |at least |at most )?(?:one|two|three|four|five|six)|some|most|many|several|a few)"
            r" of (?:the |these |those )?"
            r"(?=(?:\w+ ){0,2}(?:dots|lines|thermometers|arrows|cages|bars|diagonals|signs|marks)\b)",
            re.I,
            " some ",
        ),
        (r"\b(?:most|many|several|some of the|some) (?=(?:\w+ ){0,2}(?:squares|circles)\b)", re.I, " some "),
        (r"^\s*[QA][:.]\s", 0, " "),
        (
            r",? (?:(?:even )?though|although|but|except that|while|and) between (?:a )?(?:1|one) and (?:a )?(?:2|two)"
            r"\b[^.;]*\b(?:either|both|any|only one|just one|one) (?:of )?(?:the |these |two )*"
            r"(?:dots?|colou?rs?|kinds?|sorts?|them)\b[^.;]*(?=[.;]|$)",
            re.I,
            " ",
        ),
        # Rules that are numbered, and rules with a headline in capitals.
        (r"^\s*\(?(?:[ivx]{1,4}|[a-h])\)\s+(?=[A-Z])", 0, " "),
        (r"^\s*(?:first|second|third|fourth|fifth|lastly|finally)(?:ly)?\s*[:,]\s+", re.I, " "),
        (r"^\s*(?:HOW TO (?:PLAY|SOLVE)|(?:THE )?RULES?|INSTRUCTIONS)\b[:.]?\s+(?=[A-Z])", 0, " "),
        (r"(?<=\w) n (?=(?:rows?|cols?|columns?|box(?:es)?)\b)", 0, " and "),
        # `Page 2`, `for round 3`: a number that is a name; `like the rows, it holds ...`: rows do what is said next.
        (
            r"\b(?:(?:in|on|for|of|see|from) )?(?:page|puzzle|issue|section|question|level|no\.|nr\.) \d{1,3}\b",
            re.I,
            " ",
        ),
        (r"\bplus one more\s*(?=[:,])", re.I, " "),
        (r"\b(?:in|for|of) (?:the )?(?:round|part|heat|set) \d{1,2}\b", re.I, " "),
        (r"^\s*(?:just )?(?:like|as with|as do) (?=(?:the|all|any|every|each) (?:rows?|columns?)\b)", re.I, " "),
        # What a diagonal or an area shares with rows: all the digits.
        (
            r",?\s*(?<!well )(?<!such )\b(?:(?:just|exactly|much|treated|filled|behaves?|works?) )*"
            r"(?:as|like)(?: in| with| for)?"
            r"(?: an?| any| every| each| the| all)*(?: other| extra| further| normal| usual)?"
            r" (?:rows?|columns?|box(?:es)?)"
            r"(?: (?:and|or) (?:rows?|columns?|box(?:es)?))?(?: (?:is|are|do|does))?\b(?=\s*(?:[.,;:!)]|$))",
            re.I,
            " hold all digits ",
        ),
        (r"\b(bulb|next|previous)\s*<\s*(?=\w)", re.I, r"\1 less than "),
        (r"^\s*\(?\d{1,2}[.)]\s+(?=[A-Z])", 0, " "),
        (r"\s\|\s", 0, ": "),
        (r"[≥⩾]|>=|=>", 0, " at least "),
        (
            r"\b(dots?|bars?|circles?|diamonds?|discs?|signs?|letters?|[VX]) marks? (?=(?:every|each|all|any|two|an?|"
            r"the|pairs?|consecutive|neighbou?r\w*|cells)\b)",
            0,
            r"\1 shown at ",
        ),
        (r"\+\s?/\s?-\s*1\b", 0, " consecutive "),
        (r"(?<![\w'-])([vx])'s\b", 0, r" §letter=\1 "),
        (r"\b(?:small|little|tiny) ([vx])\b", 0, r" §letter=\1 "),
        (
            r"(?<![\w'-])([vx])(?=\s*(?:/|,|and|or|is|means|makes|=|:|between)\s*(?:[vx]\b|5\b|10\b|five|ten|two|cells))",
            0,
            r" §letter=\1 ",
        ),
        (r"[→↔⇒]", 0, " : "),
        (r"[×·]\s*(?=(?:the )?other)", 0, " times "),
        (r"&", 0, " and "),
        (r"\s=\s", 0, " is "),
        (r"(?<=[A-Za-z]{3})\s+\+\s+(?=[A-Za-z])", 0, ", "),
        (r"…", 0, "..."),
        (r"\bfollow(?:s|ing)? the (?=\d)", re.I, "after the "),
        (r"\b(?:symbol|character)s (?=\d)", re.I, "digits "),
        (r"(?<=\w)-\s*\n\s*(?=[a-z])", 0, ""),
        (r"twenty[- ]five", re.I, "25"),
        (r"\bif,? (?:and|but) only if,?", re.I, " iff "),
        (
            r"\bfrom (?:the )?(?:small|low|smaller|lower)(?: digits?| numbers?| values?)?(?: \([^)]*\))?"
            r" to (?:the )?(?:large|high|big|larger|higher|bigger)(?: ones?| digits?| numbers?)?\b",
            re.I,
            " increasing ",
        ),
        (
            r"\bfrom one (?:end|side),? (?:and )?then from the other(?: end| side)?\b",
            re.I,
            " in both directions ",
        ),
        (r"\b(?:within|inside) one\b(?=\s*(?:[,.;]|$))", re.I, " within it "),
        (r"\bdrawn (?=lines?\b)", re.I, "marked "),
        (r",? which(?:ever)? (?:of (?:the two|them|these) )?comes first\b", re.I, " "),
        (r"\b(\d) (?:through|to|up to|-|–) ([A-P])\b", 0, r" §range=\1_9 §letters=A_\2 "),
        (
            r"\+ (?:for|means|is) (?:the )?(?:sum|addition)\b[^.;]{0,90}÷ (?:for|means|is) (?:the )?"
            r"(?:quotient|division)(?: of the (?:two )?digits)?",
            re.I,
            " operation sign ",
        ),
        # What makes another rule of a sentence, wherever it stands: not all, not always, not true, and one more.
        (
            r"\ball but (?:one|two|three|\d)\b|\b(?:in|for) (?:most|some|many|several|certain) (?:cases?|places?)\b|"
            r"\bmostly\b|\bmost of the time\b|\bit (?:is|'s) (?:not (?:the case|true|so)|false|wrong|untrue) that\b|"
            r"\b(?:its|their|of the) (?:outer|inner|middle|central|outermost|innermost|last) (?:two |three )?"
            r"(?:digits|numbers|cells)\b|\bfirst (?:two|three|four|five|[2-9]) (?:digits|numbers|figures|cells)\b",
            re.I,
            " §other=x ",
        ),
        (
            r"\b((?:sum|total|add|product|clue|number)s?\b[^.;:]*?) "
            r"(?:plus|minus) (?:one|two|three|\d{1,2})(?=\s*(?:[.;,]|$))",
            re.I,
            r"\1 §other=x ",
        ),
        # What operations do beside, and three of them or more in a list.
        (rf"\((?:for|in|with|on) {_OPERATION}s?\b[^()]*\)", re.I, " "),
        (
            rf"\b(?:either )?{_OPERATION}(?:\s*(?:,|/|\bor\b|\band\b)\s*)+{_OPERATION}"
            rf"(?:(?:\s*(?:,|/|\bor\b|\band\b)\s*)+{_OPERATION})+\b",
            re.I,
            " operation sign ",
        ),
        # `Dots again mean ...`: as said before.
        (
            r"^\s*again\b,?|\b(?:again|once more) (?=(?:show|mark|mean|give|tell|indicate|stand|sum|add|are|is)\w*\b)",
            re.I,
            " ",
        ),
        # Operation signs in a list, before commas cut it.
        (r"\(?\s*\+\s*(?:,|/|or|and)\s[^.;)]{0,24}[/÷:]\s*\)?", 0, " operation sign "),
        (
            r"\b(?:greater|less|smaller|larger|bigger)[- ]than(?:\s*(?:and|or|/|,)\s*(?:greater|less|smaller)[- ]than)?"
            r" (?:marks?|signs?|symbols?)\b",
            re.I,
            " inequality sign ",
        ),
        (r"[<>]\s*(?:(?:,|or|and|/)\s*[<>])?", 0, " inequality sign "),
        (rf"\b(?!one\b)({_NUMBER})\s*(?:x|×|-?by-?)\s*({_NUMBER})\b", re.I, r" §size=\1x\2 "),
        (r"\b(\d{1,2})\s*:\s*(\d{1,2})\b", 0, r" §ratio=\1:\2 "),
        (rf"\bratio (?:of )?({_NUMBER}) (?:to|:) ({_NUMBER})\b", re.I, r" §ratio=\1:\2 "),
        (rf"\bratio (?:of )?({_NUMBER})-to-({_NUMBER})\b", re.I, r" §ratio=\1:\2 "),
        (r"\b2, ?4(?:, ?6)?,? (?:or|and) [68]\b", 0, " even "),
        (r"\b1, ?3(?:, ?5)?(?:, ?7)?,? (?:or|and) [579]\b", 0, " odd "),
        (r"\b(\d)(?:, ?\d)+(?:, ?\.\.\.)?,?(?: ?and|,|, ?\.\.\.,?) ?(\d{1,2})\b", 0, r" §list=\1_\2 "),
        (rf"\b(?:from )?({_NUMBER}){_TO}({_NUMBER})\b", re.I, r" §range=\1_\2 "),
        (
            rf"\b((?:a|any|one)(?: single| whole)? (?:number|digit|figure)) between ({_NUMBER}) and ({_NUMBER})\b",
            re.I,
            r"\1 §range=\2_\3 ",
        ),
        # `(A is 10, G is 16)` after the letters: said already.
        (
            rf"\(?\b{_LEGEND}(?:[,.]? (?:and )?{_LEGEND})*\)?",
            0,
            " ",
        ),
        (r"\b([A-Z])(?:\s*-\s*| to | through )([A-Z])\b", 0, r" §letters=\1_\2 "),
        (r"(?<![\w'=-])'?([B-HJ-Z])'?s?(?![\w'-])", 0, r" §letter=\1 "),
        (r"(?<!=[A-Z])(?<=[A-Za-z])-(?=[A-Za-z])", 0, " "),
        (r"\b(?:x)(?= (?:digits|numbers|figures|cells))", 0, " §letter=X "),
    )
)

_SENTENCE_END = re.compile(
    r"(?<=[.!?])(?:(?<!\.\.\.)|(?=['\")]*\s+[A-Z]))['\")]*\s+(?=\S)|(?<=[A-Z]{2}[.!:])\s+(?=[A-Z][a-z])|"
    r"(?<=[a-z]{3}[.!?])(?=[A-Z][a-z])|\s*[•●▪■◆»○►✓]\s*|\n\s*(?:[*–—-]|\(?[a-z0-9]{1,3}[.)])\s+(?=\S)|(?:(?<=\s)|^)\*\s+|\n\s*\n|(?<=;)\s+"
)
_ABBREVIATION = re.compile(
    r"(?:\b(?:e\.g|i\.e|vs|no|etc|incl|resp)\.|^\s*\(?[0-9a-z]{1,2}[.)]|(?:^|:|\bby) ?[A-Z]\.)$", re.I
)
_TOKEN = re.compile(r"§\w+=[\w:-]+|[a-zA-Z]+[015][a-zA-Z]+|[a-zA-Z]+|\d+|[,:;()]|\s-\s|[^\sa-zA-Z0-9]")
_CUT_MARKS = frozenset(",:;()") | {" - ", "-", "/"}


@dataclass(frozen=True, slots=True)
class Sentence:
    """One sentence as printed, and its concepts in order; `CUT` stands where a clause may end."""

    text: str
    concepts: tuple[str, ...]

    @property
    def asks(self) -> bool:
        """Whether it is a question."""
        return self.text.rstrip("\"'”’) ").endswith("?")


def sentences(text: str) -> list[Sentence]:
    """Split a rules text into sentences and look up their words."""
    tidy = _with_name_apart(with_heading_apart(unicodedata.normalize("NFKC", text).replace("§", " ")))
    found: list[str] = []
    for piece in _SENTENCE_END.split(tidy):
        if not piece or not piece.strip():
            continue
        if found and (_ABBREVIATION.search(found[-1]) or answers(found[-1], piece)):
            found[-1] = f"{found[-1]} {piece}"
        else:
            found.append(piece)
    return [Sentence(" ".join(s.split()), tuple(concepts_of(s))) for s in found]


_OF_NAMES = bag(f"{UNKNOWN} FLAVOUR DOUBLE TRIPLE AND OR {CUT}")


def _with_name_apart(text: str) -> str:
    """The text with a puzzle's name before a colon put as a sentence of its own: `Secret Garden: digits rise from ...`.
    A word that rules use is no part of such a name."""
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
        if concept:
            if concept in ("AND", "IF", "IFF") or (concept == "OR" and found[-1:] == [CUT]):
                found.append(CUT)
            found.append(concept)
        at += length
    return found


def tokens(sentence: str) -> Iterator[str]:
    """The words of a sentence, examples left out and OCR's errors undone; numbers that belong together as one."""
    sentence = mended(with_answers(denied_together(counted_by_letter(without_examples(sentence)))))
    for pattern, replacement in _REWRITES:
        sentence = pattern.sub(replacement, sentence)
    for match in _TOKEN.finditer(sentence):
        yield match[0] if match[0].startswith("§") else match[0].lower()


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
