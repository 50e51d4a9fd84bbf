"""Whether marks stand wherever they could, in the words of ordinary pages, put as the two sentences that say so."""

from __future__ import annotations

from recognise.rules.substitution import DIGIT, in_any_case, substituted

_MARK = r"(?:dots?|bars?|circles?|rings?|diamonds?|discs?|spots?|marks?|letters?|signs?|lozenges?|crosses|cross|[XV]s?)"
_ALL = "; all possible marks are given "
_NOT_ALL = "; not all are given "
_SOME = r"(?:some|more|other|further|several|many|a few|plenty of|certain)"
_PAIRS = r"(?:pairs|neighbours|neighbou?ring (?:cells|squares|pairs)|adjacent (?:cells|squares|pairs)|cells|squares)"
_WHO = (
    r"(?:the (?:setter|author|composer|constructor|editor|maker)(?: of (?:this|the) (?:puzzle|grid|sudoku))?|"
    r"we|I|he|she)"
)
_DRAWN = (
    r"(?:put(?: in)?|drawn?|drew|gives?|given|gave|marks?|marked|shows?|shown|showed|prints?|printed|placed?|joined?|"
    r"adds?|added|includes?|included|indicates?|indicated)"
)
_DONE = rf"(?:are|is|were|was|have been|has been|will be) (?:always |all )?{_DRAWN}"
_THERE = r"(?:there|present|in place|shown|given|drawn|marked|printed|in the (?:grid|diagram))"
_FIT = r"(?:applicable|relevant|eligible|qualifying|matching|suitable|possible|such|fitting|correct|potential)"
_LACK = (
    r"(?:(?:have|has|had) (?:been )?(?:left )?(?:without|no|not any|unmarked)|(?:are|is|were|was|stay|remain|go|goes)"
    r"(?: been)?(?: left)? (?:without|unmarked|not (?:marked|shown|drawn|joined|given)|missing)|have been left "
    r"(?:without|"
    r"unmarked|out)|carry no|carries no|bear no|show no|lacks?|get no|(?:do not|don't) (?:have|carry|bear|show|get))"
)

_SO_NONE = (
    r"(?:[,;:]? (?:so|thus|hence|therefore|which means)\b[^.;]*\b(?:where|if|without|nothing|none|no|missing|"
    r"neither)\b[^.;]*)?"
)
"""What follows from it for places without a mark."""

_COMPLETE = in_any_case(
    (
        # Not all of them.
        (
            rf"\b(?:no|without (?:an?)?) ?{_MARK}(?: between them)?[,:;] (?:then |there is |we make )?no (?:promise|"
            r"guarantee|claim|conclusion|information|statement|inference|commitment|comment|restriction|"
            r"condition)s?\b",
            _NOT_ALL,
        ),
        (
            r"\bnothing (?:can|may|could|should|is to) be (?:inferred|concluded|deduced|read|learnt|learned|"
            r"derived) from "
            rf"(?:an?|the|any) (?:missing|absent|lacking|absence of an?|lack of an?) {_MARK}",
            _NOT_ALL,
        ),
        (
            r"\b(?:the )?(?:marking|set|selection|collection)s?(?: of \w+)? (?:need not be|is not(?: "
            r"necessarily)?|may not be) "
            r"(?:exhaustive|complete)\b",
            _NOT_ALL,
        ),
        (
            rf"^\W*(?:(?:careful|note|beware|mind)\W+)?(?:but |however,? )?{_SOME} (?:such |of the |of these |other "
            rf"|possible )*{_PAIRS}(?: (?:that|which|of|with|whose|making)\b[^.;]{{3,50}}?)? {_LACK}(?: "
            rf"[^.;]{{0,30}})?\W*$",
            _NOT_ALL,
        ),
        (
            rf"\b(?:but |however,? |though )?there (?:can|may|might|could) be {_SOME}(?: such)? {_PAIRS}"
            rf"(?: (?:with|of|having)[^.;]{{3,40}}?)? (?:that|which) (?:{_LACK}|(?:we|I) (?:did|have|do) not|"
            r"(?:we|I) (?:left|leave))\b[^.;]*",
            _NOT_ALL,
        ),
        (
            rf"\b{_WHO} (?:did not|didn't|have not|haven't|has not|hasn't|do not|don't|does not|doesn't) {_DRAWN} "
            rf"(?:in )?(?:every|all|each|all of)(?: (?:the|of the|possible|such))* {_MARK}\b[^.;]*",
            _NOT_ALL,
        ),
        (
            rf"\b{_WHO} (?:have|has|did) not {_DRAWN} (?:the )?{_MARK} (?:everywhere|in every place|"
            r"wherever)\b[^.;]*",
            _NOT_ALL,
        ),
        (rf"\b{_WHO} {_DRAWN} (?:neither|none)(?: of them| kind| sort)? in full\b", _NOT_ALL),
        (
            rf"\b{_MARK} (?:are|is|were|need) not (?:necessarily |always |be )+{_DRAWN} "
            r"(?:everywhere|in every (?:place|case)|wherever [^.;]{3,30})",
            _NOT_ALL,
        ),
        (rf"^\W*not all (?:the |of the |possible |such )*(?:sums|tens|fives|ratios|doubles) {_DONE}\W*$", _NOT_ALL),
        (
            rf"^\W*(?:if|where|when) there is no {_MARK},? (?:then )?you (?:cannot|can't|can not|may not|should not) "
            r"(?:conclude|deduce|infer|assume|tell|say|know) (?:anything|a thing|more)\W*$",
            _NOT_ALL,
        ),
        # All of them.
        (
            rf"\b{_WHO} (?:have |has |did )?(?<!not ){_DRAWN} (?:in )?(?:every|each|all)(?: of)?(?: last| "
            r"single)*(?: one)?"
            rf"(?: of)? (?:them|these|those)\b{_SO_NONE}",
            _ALL,
        ),
        (
            rf"\b{_WHO} (?:have |has |did )?(?<!not ){_DRAWN} (?:in )?(?:every|each|all)(?: the)?(?: last| single|"
            r" possible)+ "
            rf"({_MARK}(?:,? (?:and|or) (?:every |each |all )?(?:possible )?{_MARK})*)\b{_SO_NONE}",
            r"; all possible \1 are given ",
        ),
        (
            rf"^\W*(?:[^.;:,]{{3,50}}: )?all (?:the )?{_MARK} and all (?:the )?{_MARK} are {_THERE}\W*$",
            _ALL,
        ),
        (rf"(?<!not )\b(?:every|each) {_FIT} ({_MARK}) (?:is|was|has been) {_THERE}\b", _ALL),
        (rf"(?<!not )\ball {_FIT} ({_MARK}) (?:are|were|have been) {_THERE}\b", _ALL),
        (
            rf"\b{_WHO} (?:have |has |did )?(?<!not ){_DRAWN} (?:every|all(?: the)?|each) ((?:\w+ )?{_MARK}) "
            r"(?:that|which) (?:is|are|was|were) possible\b(?:,? so [^.;]*\b(?:where|if|without|no|none)\b[^.;]*)?",
            r"; all possible \1 are given ",
        ),
        (
            rf",?(?: and)? (?<!not )(?:every|each) such pair(?: (?:in|of) the (?:grid|puzzle))? (?:has|carries|"
            rf"gets|bears) "
            rf"(?:its|an?|one|such an?) ({_MARK})\b",
            r"; all possible \1s are given ",
        ),
        (
            rf"^\W*(?<!not )all such pairs of (?:neighbours|cells|squares|{DIGIT}) (?:have|carry|bear|get) an? "
            rf"({_MARK})"
            r"(?:,? so [^.;]*\b(?:without|no)\b[^.;]*)?\W*$",
            r"all possible \1s are given.",
        ),
        (
            rf"^\W*(?<!not )all (?:the )?(?:tens|fives|sums|doubles|such sums) (?:formed|made|found|given) by "
            rf"(?:two )?{_PAIRS} {_DONE}(?: (?:in this way|like this|so|with an? {_MARK}))?\W*$",
            "All possible marks are given.",
        ),
    )
)


def told_whether_complete(sentence: str) -> str:
    """The sentence with what it says of all marks, or of those that are left out, put plainly."""
    return substituted(sentence.replace("’", "'"), _COMPLETE)
