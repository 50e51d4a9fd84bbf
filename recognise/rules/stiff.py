"""The stiff English of translations and school sheets, put plainly.

Works on a sentence as printed, before the other turns of phrase of `homely.py`.
"""

from __future__ import annotations

from recognise.rules.substitution import COLOUR, DIGIT, in_any_case, substituted

_MARK = r"(?:lines?|dots?|bars?|circles?|rings?|diamonds?|crosses|cross|squares?|cells?|arrows?)"
_BORDER = (
    r"(?:on|at) the (?:border|edge|line|side) (?:of|between|shared by) two (?:neighbouring |adjacent )?(?:cells|"
    r"squares)"
)

_STIFF = in_any_case(
    (
        # What says nothing.
        (r"\bit is true that ", ""),
        (r",? and there is (?:still )?more(?=\s*[.;!:]|$)", ""),
        (r"^\W*for this (?:sheet|puzzle|page|exercise|sudoku) (?:you|we) need (?=the (?:digits|numbers) \d)", "use "),
        # Colours after what they colour.
        (rf"\b({_MARK}) (?:of (?:the )?({COLOUR}) colou?r|with the colou?r ({COLOUR}))\b", r"\2\3 \1"),
        # Pairs.
        (
            rf"^(\W*(?:exercise: )?)(?:if|when|where) there is (an? (?:{COLOUR} )?\w+) {_BORDER},? (?:then )?",
            r"\1\2 between two cells means that ",
        ),
        (
            rf"^(\W*(?:exercise: )?)(?:if|when|where) two (?:neighbouring |adjacent )?cells (?:have|share|carry) "
            rf"(an? (?:{COLOUR} (?:dot|bar|circle|diamond)|dot|bar|V|X|cross|diamond)),? (?:then )?",
            r"\1\2 between two cells means that ",
        ),
        (
            rf"\bone {DIGIT} divided by the other is (?:equal to )?(\d|two|three|four|five)\b",
            r"one digit is \1 times the other",
        ),
        (
            rf"\b(?:different )?{DIGIT} (?:that|which) follow (?:each other|one another) in value\b",
            "consecutive digits",
        ),
        (
            rf"^\W*the order of (?:these|the) {DIGIT} (?:on|in) the (\w+) is free\b",
            r"the digits on the \1 are in any order",
        ),
        (
            r"^\W*all (?:such|these|of these) (?:pairs|neighbours|cells)(?: of (?:cells|neighbours))? have an? "
            r"(\w+)\W*$",
            r"All \1s are given.",
        ),
        (
            r"^\W*there are no other (?:pairs|neighbours|cells)(?: of (?:cells|neighbours))? (?:where|for which|with "
            r"which) "
            r"(?:this|that|it) is (?:so|true|the case)\W*$",
            "All such pairs are marked.",
        ),
        (rf"\bthe sum of the (?:two )?({DIGIT}) is (\d{{1,2}})\b", r"the \1 add up to \2"),
        # Cages.
        (
            rf"\btake the smaller(?: one)?(?: of the two)?(?: {DIGIT})? (?:away )?from the larger(?: one)?(?=\s*[.;!]|"
            r"$)",
            "the number in the corner is the difference of the two digits",
        ),
        (
            r"^\W*(?:the|this) result is the (?:small |little )?(?:number|figure) (?:that is )?(?:printed |written )?"
            r"(?:in|at|of) the (?:cage|corner|corner of the cage)\W*$",
            " ",
        ),
        (
            rf"\bthe same ({DIGIT}) (?:is|are) not allowed (?:twice|two times|again) (in|on|along)\b",
            r"no \1 appears twice \2",
        ),
        (
            rf"\b(?:you|we) need all (?:the )?(?:\d{{1,2}}|four|six|eight|nine) ({DIGIT}) (?=in (?:each|every)\b)",
            r"all \1 appear once ",
        ),
        # Corners and ends.
        (
            r"\b(?:neighbouring |adjacent )?(cells|squares) (?:that|which) touch (?:only|just) (?:by|with|at|in) "
            r"(?:an?|their|the) "
            r"corners?\b",
            r"diagonally adjacent \1",
        ),
        (
            rf"^\W*(?:the|both|the two) ends of (?:an?|each|every|the) (?:{COLOUR} )?(?:line|path) are (?:circles|"
            r"rings|round)"
            r"\W*$",
            "There is a line with circles at both ends.",
        ),
    )
)


def unstiffened(sentence: str) -> str:
    """The sentence with these turns of phrase put plainly."""
    return substituted(sentence, _STIFF)
