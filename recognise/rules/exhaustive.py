"""Whether every pair of a sort is marked: sentences that say so, or deny it, put as the two that the patterns know.

Such a sentence has few parts: how many (`all`, `not every`, `only a few`), of what (`white dots`, `them`, `such
pairs`), and whether these are there (`are shown`) or not (`left out`). The parts may be any words of their sort; a
clause with anything beside them is left as it is. Marks that are only called `them` are those of the sentence before.
"""

from __future__ import annotations

import re

from recognise.rules.literals import folded
from recognise.rules.substitution import CELL, COLOUR, DIGIT, MARK, in_any_case

_SHADE = rf"(?:{COLOUR}|open|filled|hollow|solid|small|little|tiny|coloured)"
_NOUN = (
    rf"(?P<look>(?:{_SHADE},? (?:and |or )?)*{MARK}(?: of (?:both|any|every|each|either) (?:kind|sort|colour|type)s?)?)"
)
_THEM = r"(?:them|those|these|they|such ones|the ones|ones|others)"
_LIKE = r"(?:consecutive|in sequence|in succession)"
_PAIR = (
    r"(?:(?:neighbour|cell) pairs?|(?:pairs? of )?consecutive "
    r"(?:neighbours|pairs?|digits|numbers|cells|squares)|pairs?|neighbours|neighbou?ring "
    r"(?:cells|squares|pairs)|adjacent (?:cells|squares|pairs)|borders?|edges?|places?|"
    r"cases?)"
)
_SUCH = r"(?:(?:of )?(?:the |these |those |such |possible |potential |actual |other |further |more )*)"
_OF_WHAT = (
    r"(?: of (?:neighbours|(?:neighbou?ring |adjacent )?(?:cells|squares)|this (?:kind|sort))| with "
    r"(?:this|that|these|those|"
    r"such an?) (?:property|relation|relationship|sums?|totals?|ratios?|difference|totals?))?"
)
_WHICH = (
    r"(?: (?:that|which) (?:are possible|is possible|exist|exists|there (?:are|is)|apply|applies|could (?:be )?\w+|can "
    r"(?:be )?\w+|might (?:be )?\w+))?"
)
_THING = rf"{_SUCH}(?:{_NOUN}|{_THEM}|{_PAIR}{_OF_WHAT}){_WHICH}"
"""What there may be all of, or not all."""
_OF_IT = rf"(?: {_THING})?"

_DONE = (
    r"(?:given|shown|marked|drawn(?: in)?|printed|indicated|present|there|placed|put "
    r"in|included|displayed|noted|entered|"
    r"pictured|in place|pointed out|provided|set|added|inserted|plotted)"
)
_GONE = (
    r"(?:missing|left out|omitted|lacking|absent|unmarked|forgotten|withheld|not "
    r"(?:given|shown|marked|drawn|printed|there)|lost|skipped)"
)
_BE = r"(?:is|are|was|were|has been|have been|will be|being|got|go|goes|stay|remain|have gone|has gone)"
_WILL = r"(?:may|might|can|could)"
_EVER = r"(?:necessarily |always |actually |also |in fact |really |all |each |deliberately |already |perhaps |here )*"
_WHERE_POSSIBLE = (
    r"(?: (?:wherever|everywhere|whenever|where) (?:possible|they (?:can|could|may|might) "
    r"(?:be|go|stand|appear)|(?:they|it) "
    r"appl(?:y|ies)|one (?:can|could) (?:be|go|stand))| in (?:all|every|each)(?: the)? (?:possible )?(?:places?|cases?|"
    r"positions?|spots?)(?: possible)?| in full| without exception| completely)"
)
_EVERY = (
    r"(?:all(?: of)?|every|each|every (?:single|last)(?: one(?: of)?)?|each and every|every one of|each (?:one "
    r")?of|both|"
    r"both (?:kinds|sorts|types|colours) of)"
)
_SOME = (
    r"(?:(?:only|just|merely) (?:some|a few|a selection|part|a part|a handful|certain|a number|several)(?: of)?|"
    r"not (?:all|every|each|necessarily all|necessarily every|quite all)(?: of| one of)?|by no means all(?: of)?)"
)
_FEW = r"(?:some|a few|a number|many|several|most|certain|a couple|plenty|lots|quite a few)(?: of)?"
_NONE = r"(?:no|none(?: of)?|not one(?: of)?|not a single(?: one of)?|not any(?: of)?)"
_HAS = (
    rf"(?:has|have|carry|carries|bear|bears|get|gets|show|shows)(?: been given)? (?:its|their|an?|one|such "
    rf"an?)(?: {_NOUN.replace('look', 'its')})?"
)
_ABSENT = (
    rf"(?:(?:the |any )?(?:absence|lack) of (?:an?|any|the|such an?) |(?:an?|any|the|every|each) (?:missing|absent) "
    rf"|no )"
    rf"(?:{_NOUN})(?: between (?:two (?:cells|squares)|them))?"
)
_NO_MARK = (
    rf"(?:(?:if|where|when|wherever|whenever) (?:there is|there's|there are|you see|you find|they have|it has|two "
    rf"(?:cells|squares) "
    rf"have) no|without (?:an?|any)|no) (?:{_NOUN})(?: (?:between (?:two (?:cells|squares)|them)|there|at all))?[,:?]?"
)
_TELLS_NOTHING = (
    r"(?:(?:means|says|tells|proves|implies|shows|indicates|gives|signifies)(?: you| us)? (?:nothing|no "
    r"information|nothing at all|"
    r"little)|(?:carries|has|gives|provides|conveys|bears) no (?:information|meaning|significance|message|clue)|is "
    r"(?:no|not an?) "
    r"(?:clue|information|hint|help)|(?:is|are) (?:meaningless|without meaning|not significant|insignificant|of no "
    r"(?:significance|importance|meaning))|(?:does|do) not (?:mean|say|tell|imply|prove|show|matter|exclude|rule out)"
    r"(?: (?:you|us))?(?: (?:anything|a thing|much|the relation|it|this))?)"
)
_NOTHING_KNOWN = (
    r"(?:then )?(?:nothing (?:is|can be|may be|follows|has been|should be)(?: \w+){0,3}|anything (?:goes|is "
    r"possible|may happen|can "
    r"happen)|no (?:conclusion|inference)s? (?:can|may|should) be drawn|(?:we|you|i) "
    r"(?:know|learn|promise|claim|say) nothing)"
)
_PRONOUN = rf"(?:they|it|you|the (?:two |two other )?(?:{DIGIT}|{CELL})|the pair|this|that|these|those)"
_NOT = (
    r"(?:do not|don't|does not|doesn't|are not|aren't|is not|isn't|cannot|can't|will not|won't|must "
    r"not|mustn't|are never|never do|may not)"
)
_SAME_THING = r"(?: (?:so|that|this|it|do so|do that|do this|be so|the case|true))?"

_LEAD = (
    r"(?:(?:but|and|however|though|although|note|please note|nb|remember|beware|also|here|mind|careful|so|then|of "
    r"course|be "
    r"warned|warning|caution|take care|in this (?:puzzle|grid|one|case)|for this (?:puzzle|grid))[,:!]? (?:that )?)*"
)
_TAIL = (
    r"(?:,? (?:(?:in|on|for|by) (?:the|this|our) "
    r"(?:grid|puzzle|diagram|one|board|picture|setter|author|way)|here|like this|so|by "
    r"(?:me|us)|this time|today|for you|though|however|too|as well|either|in this way|thus))*"
)

_BUT = r"(?:other than|besides|except(?: for)?|apart from|than|but)"
_THESE = (
    r" (?:those|these|the ones|the(?: \w+)? pairs?|the marked ones)(?: (?:that|which) are)?(?: marked| given| "
    r"shown)?"
)
_THAN = rf"(?: {_BUT}{_THESE})"

_ALL, _PART = "All possible {} are given", "Not all {}are given"
_OF_LIKE = "Unmarked pairs are not consecutive"
_LIKE_SAID = {_ALL: _OF_LIKE, _OF_LIKE: _OF_LIKE, _PART: "Consecutive digits need not be marked"}
"""What is said of pairs that are named by their relation."""
_GRAMMAR: tuple[tuple[str, str], ...] = (
    (rf"{_EVERY}{_OF_IT} {_BE} {_EVER}{_DONE}{_WHERE_POSSIBLE}?", _ALL),
    (rf"{_THING} {_BE} (?:all|each|every one) {_EVER}{_DONE}", _ALL),
    (rf"{_THING} {_BE} {_EVER}{_DONE}{_WHERE_POSSIBLE}", _ALL),
    (rf"(?:the )?(?:set|collection|list|selection) of {_THING} (?:is|are) (?:complete|exhaustive)", _ALL),
    (rf"{_NONE}{_OF_IT} {_BE} {_EVER}{_GONE}", _ALL),
    (rf"nothing {_BE} {_EVER}{_GONE}", _ALL),
    (rf"{_EVERY} {_SUCH}{_PAIR}{_OF_WHAT} {_HAS}", _ALL),
    (
        rf"{_EVERY} {_PAIR} where (?:an?|such an?) {_NOUN} (?:could|can|may|might) (?:go|be|stand|be \w+) "
        rf"(?:has|gets|holds) one",
        _ALL,
    ),
    (
        rf"(?:whenever|wherever|where|if|each time|every time) (?:this (?:happens|is so|applies|is true|is the "
        rf"case|holds)|"
        rf"it (?:applies|holds|happens)|possible|that is so),? (?:an?|the|such an?) {_NOUN} (?:is|has been|was|will "
        rf"be) {_DONE}",
        _ALL,
    ),
    (
        rf"(?:whenever|wherever|where|each time|every time) (?:this|it|that) (?:happens|is so|applies|is true|is "
        rf"the case|holds),? "
        rf"(?:it|this) (?:is|has been|was|will be) {_DONE}",
        _ALL,
    ),
    (rf"there (?:are|is) no (?:other|further|more) (?:such )?{_PAIR}{_OF_WHAT}(?: like this)?{_THAN}?", _ALL),
    (rf"there (?:are|is) no {_PAIR} {_BUT}{_THESE}", _ALL),
    (rf"no (?:other|further|more) {_PAIR}(?: of neighbours)? (?:is|are) {_LIKE}", _OF_LIKE),
    (rf"only (?:the )?(?:marked|dotted) {_PAIR} (?:is|are) {_LIKE}", _OF_LIKE),
    (rf"{_NO_MARK} (?:then )?{_PRONOUN} {_NOT}{_SAME_THING}", _ALL),
    (rf"{_SOME} {_SUCH}{_PAIR}{_OF_WHAT} {_HAS}", _PART),
    (rf"{_SOME}{_OF_IT} {_BE} {_EVER}{_DONE}", _PART),
    (rf"{_FEW}{_OF_IT} (?:{_BE}|{_WILL} be|{_WILL} have been) {_EVER}{_GONE}", _PART),
    (rf"most(?: of)?{_OF_IT} {_BE} {_EVER}{_DONE}", _PART),
    (rf"{_THING} {_WILL} (?:{_EVER}(?:be|have been|go|remain|stay)) {_EVER}{_GONE}", _PART),
    (rf"{_THING} {_BE} {_EVER}{_GONE}", _PART),
    (rf"{_THING} (?:are|is|were|have|has) (?:not|never) {_EVER}(?:been )?{_DONE}{_WHERE_POSSIBLE}", _PART),
    (rf"{_THING} (?:are|is|were|have|has) not (?:been )?(?:necessarily|always|all|everywhere) {_EVER}(?:been "
     rf")?{_DONE}", _PART),
    (rf"{_THING} (?:need not|needn't|do not have to|don't have to|do not need to) {_EVER}be {_EVER}{_DONE}", _PART),
    (rf"{_THING} (?:are|is) (?:not complete|incomplete|not exhaustive|(?:only )?(?:some|a few|a selection) of "
     rf"(?:those|the) possible)", _PART),
    (
        rf"{_SUCH}(?:consecutive )?{_PAIR} (?:need not|do not (?:always|necessarily|all)|don't "
        rf"(?:always|necessarily|all)|may not "
        rf"(?:always|all)|do not have to) (?:have|carry|show|bear|get) (?:an?|one|their) {_NOUN}",
        _PART,
    ),
    (rf"{_ABSENT} {_TELLS_NOTHING}", _PART),
    (rf"nothing (?:follows|can be concluded|is implied|may be inferred|is said) (?:from|by) {_ABSENT}", _PART),
    (rf"{_NO_MARK} {_NOTHING_KNOWN}", _PART),
    (
        rf"(?:two |adjacent |neighbou?ring )*(?:cells|squares|neighbours|pairs) without (?:an?|any) {_NOUN} "
        rf"(?:may|might|can|could)"
        r"(?: (?:well|still|also|or may not|or might not|or need not|just as well|nevertheless))* "
        r"(?:be|have|hold|differ|stand|add|sum)\b(?:(?!\b(?:only|unless|if|not|never|no|except)\b)[^.;,]){0,40}",
        _PART,
    ),
)  # fmt: skip
_CLAUSES = in_any_case((rf"{_LEAD}(?:{sort}){_TAIL}", told) for sort, told in _GRAMMAR)
_MEANS = re.compile(
    rf"(?P<lead>{_LEAD}){_ABSENT} (?:always |thus |therefore |also )*(?:means|says|shows|indicates|tells "
    rf"(?:you|us)|implies|signifies)"
    rf"(?: that)? (?=(?:{_PRONOUN}|two|its)\b)",
    re.I,
)
"""`The absence of a dot means that the digits ...`."""
_ENDS = re.compile(r"([.;:!]+\s*|,\s+(?=(?:but|and|not|though|so|however|although|yet|while)\b)|\?(?=\s*$))")
_NAMES_THEM = re.compile(rf"\b((?:{_SHADE} )*)({MARK})\b", re.I)


def told_of_all(sentence: str, before: str) -> str:
    """A sentence that says whether all marks are there, or clauses of it that do, put plainly; any other as it is.
    `before` is the sentence before it."""
    plain = " ".join(sentence.replace("’", "'").split())
    parts = _ENDS.split(plain)
    whole = len(parts[0]) >= len(plain) - 1
    clauses = [_told(part, before, whole) if at % 2 == 0 and part else part for at, part in enumerate(parts)]
    return "".join(clauses) if clauses != parts else sentence


def _told(clause: str, before: str, whole: bool) -> str:
    plain = folded(clause)
    for rule in _CLAUSES:
        if any(word in plain for word in rule.words) and (found := rule.compiled.fullmatch(clause)):
            look = found["look"] if "look" in rule.compiled.groupindex else None
            if "consecutive" in plain and not look:
                return _LIKE_SAID[rule.replacement] if whole else clause
            marks = _plural(look) if look else _named(before)
            if rule.replacement == _PART:
                return _PART.format(f"{marks} " if marks else "")
            return rule.replacement.format(marks or "marks")
    return _MEANS.sub(lambda absent: f"{absent['lead']}if there is no {absent['look']}, ", clause)


def _plural(marks: str) -> str:
    """Marks as printed, in the plural and in words that the lexicon has, of whichever kind they are."""
    marks = re.sub(r"\bpoint", "dot", re.sub(r" of .*", "", marks), flags=re.I)
    marks = re.sub(r"\blozenge", "diamond", marks, flags=re.I)
    return marks if re.search(r"s$|^[XV]$", marks) else f"{marks}s"


def _named(before: str) -> str:
    """The marks that the sentence before speaks of where they are of one sort; empty where they are not."""
    marks = {(look.lower(), noun.removesuffix("s")) for look, noun in _NAMES_THEM.findall(before)}
    if len(marks) != 1:
        return ""
    ((look, noun),) = marks
    return _plural(f"{look}{noun}")
