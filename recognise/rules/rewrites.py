"""What is written anew in a rules text before its words are looked up: numbers that belong together, signs, ratios,
ranges, phrases that stand for one thing."""

from __future__ import annotations

import re

from recognise.rules.lexicon import NUMBERS
from recognise.rules.substitution import Rule, Table, substituted

_NUMBER = r"(?:\d{1,2}|" + "|".join(sorted(NUMBERS, key=len, reverse=True)) + ")"
_LINK = r"(?:\s*(?:,|-|;|/|and|or|then)\s*)+"
_TO = r"\s*(?:-|~|to|through|thru|until|till|up to|\.{2,3}|,\s*\.{3}\s*,?)\s*"

_OPERATION = (
    r"(?:plus|add(?:ition|ing)?|sum|minus|subtract(?:ion|ing)?|difference|times|multipl(?:y|ication|ying)|product|"
    r"divid(?:e|ing)|division|quotient)"
)

_LEGEND = (
    r"[A-UWYZ] (?:is|stands for|means|=|(?:counts? )?(?:as|for)) "
    r"(?:\d+|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen)"
)
"""What a letter stands for; V and X are sums of two cells."""

_PARITY = r"[A-G](?:(?:, and |, | and )[A-G])*(?:,? too,?)? (?:is|are|counts?(?: as)?) (?:odd|even)"
"""Whether the numbers that letters stand for are odd or even."""

_SIDE, _CORNER = (rf"(?:(?:an?|the|any|one) )?(?:{what})" for what in ("sides?|edges?|borders?", "corners?|vertex"))

_AT = "(?:(?:at|by|in|along|even) )*"

_DOTS = r"\.\.\."
_THEN = r"(?:,? ?and |, ?)"
_LAST = 16
"""The largest number that grids hold."""


def _counted(first: int) -> str:
    """A pattern of `first` and at least two numbers that count on from it: `1, 2, 3 and 4`."""
    more = ""
    for number in range(_LAST, first + 2, -1):
        more = f"(?:{_THEN}{number}{more})?"
    return f"{first}{_THEN}{first + 1}{_THEN}{first + 2}{more}"


def _spelled_on(letters: str) -> str:
    """A pattern of at least two letters in the order of the alphabet: `A, B and C`."""
    more = ""
    for letter in reversed(letters[2:]):
        more = f"(?:{_THEN}{letter}{more})?"
    return f"{letters[0]}{_THEN}{letters[1]}{more}"


_ABC = rf"{_spelled_on('ABCDEFG')}(?!{_THEN}[A-Z]\b)(?!\w)"
"""The letters that stand for the numbers from 10 to 16."""

_COUNTS_ON = rf"(?:{'|'.join(map(_counted, range(10)))})\b(?!{_THEN}\d|,? or \d)"
"""A list that names each number once, with none between: what counts back or names one twice (`1, 2, 3, 4, 3`, of which
OCR misread the last) says nothing of the numbers between its first and its last."""

_REWRITES: Table = tuple(
    Rule(pattern, replacement, flags)
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
            r"\((?:for (?:instance|example)|e\.? ?g\.?|such as|like|as in|as|say|so|thus|i\.? "
            r"?e\.?)\b[^()]*\d[^()]*\)",
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
        (r"^\s*[QA][:.]\s", 0, " "),
        (
            r",? (?:(?:even )?though|although|but|except that|while|and) between (?:a )?(?:1|one) and (?:a )?(?:2|"
            r"two)"
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
            r"(?<![\w'=-])([vx])(?=\s*(?:/|,|and|or|is|means|makes|=|:|between)\s*(?:[vx]\b|5\b|10\b|five|ten|two|"
            r"cells))",
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
        (r"\b(\d)(?: (?:through|to|up to) | ?[-–] ?)([A-P])\b", 0, r" §range=\1_9 §letters=A_\2 "),
        (
            r"\+ (?:for|means|is) (?:the )?(?:sum|addition)\b[^.;]{0,90}÷ (?:for|means|is) (?:the )?"
            r"(?:quotient|division)(?: of the (?:two )?digits)?",
            re.I,
            " operation sign ",
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
            r"^\s*again\b,?|\b(?:again|once more) (?=(?:show|mark|mean|give|tell|indicate|stand|sum|add|are|"
            r"is)\w*\b)",
            re.I,
            " ",
        ),
        # What the two signs mean; the wrong way round they are another rule's.
        (
            r"< (?:means|is|says|stands for|=) *\"? *(?:is )?(?:less|smaller|lower)(?: than)? *\"?,? *(?:and|or)? "
            r"*> (?:means|is|says|"
            r"stands for|=) *\"? *(?:is )?(?:more|greater|larger|bigger|higher)(?: than)?",
            re.I,
            " inequality sign opens towards the greater digit ",
        ),
        # Operation signs in a list, before commas cut it.
        (r"\(?\s*\+\s*(?:,|/|or|and)\s[^.;)]{0,24}[/÷:]\s*\)?", 0, " operation sign "),
        (
            r"\b(?:greater|less|smaller|larger|bigger)[- ]than(?:\s*(?:and|or|/|,)\s*(?:greater|less|"
            r"smaller)[- ]than)?"
            r" (?:marks?|signs?|symbols?)\b",
            re.I,
            " inequality sign ",
        ),
        (r"[<>]\s*(?:(?:,|or|and|/)\s*[<>])?", 0, " inequality sign "),
        (rf"\b(?!one\b)({_NUMBER})\s*(?:x|×|-?by-?)\s*({_NUMBER})\b", re.I, r" §size=\1x\2 "),
        # No digit is twelve times another: the colon was not read.
        (r"\b(in (?:the|a) ratio(?: of)?) 1[.,]? ?([2-9])\b", re.I, r"\1 1:\2"),
        (r"\b(\d{1,2})\s*:\s*(\d{1,2})\b", 0, r" §ratio=\1:\2 "),
        (rf"\bratio (?:of )?({_NUMBER}) (?:to|:) ({_NUMBER})\b", re.I, r" §ratio=\1:\2 "),
        (rf"\bratio (?:of )?({_NUMBER})-to-({_NUMBER})\b", re.I, r" §ratio=\1:\2 "),
        (r"\b2, ?4(?:, ?6)?,? (?:or|and) [68]\b", 0, " even "),
        (r"\b1, ?3(?:, ?5)?(?:, ?7)?,? (?:or|and) [579]\b", 0, " odd "),
        (rf"\b(\d)(?:, ?\d)+(?:, ?{_DOTS},?(?: ?and)?|,? ?and ?{_DOTS},?) ?(\d{{1,2}})\b", 0, r" §list=\1_\2 "),
        # `Write 1, 2, 3 or 4 in each square`: the last one is of the list.
        (
            rf"\b((?:write|put|place|enter|use)(?: (?:an?|one|the|either|digits?|numbers?|figures?))* "
            rf"[01](?:{_THEN}\d)+),? or (?:an? )?(?=\d)",
            re.I,
            r"\1, ",
        ),
        (rf"(?<!\d, )(?<!\d,)\b(?={_COUNTS_ON})(\d)(?:{_THEN}\d)+{_THEN}(\d{{1,2}})\b", 0, r" §list=\1_\2 "),
        (
            rf"\b(digits?|numbers?|figures?|symbols?|place|use|enter|write|with|holds?|contains?|has|have|takes?) "
            rf"(?!{_COUNTS_ON})\d(?:{_THEN}\d{{1,2}}){{3,}}\b",
            re.I,
            r"\1 §other=list ",
        ),
        (rf"\b(?:from )?({_NUMBER}){_TO}({_NUMBER})\b(?! another)", re.I, r" §range=\1_\2 "),
        (
            rf"\b((?:a|any|one)(?: single| whole)? (?:number|digit|figure)) between ({_NUMBER}) and ({_NUMBER})\b",
            re.I,
            r"\1 §range=\2_\3 ",
        ),
        (
            rf"(?<=_9 )(?:,? *(?:and then|followed by|then|and|plus|with))?,? *(?:the )?(?:letters? )?(?={_ABC})"
            rf"A(?:{_THEN}[B-F])*{_THEN}([B-G])\b",
            0,
            r" §letters=A_\1 ",
        ),
        (
            r"(?<=_9 )(?:,? *(?:and then|followed by|then|and|plus|with)) (?:the letter )?A(?= ?[.,;:)(]| (?:for|in|"
            r"once|standing|is|=)\b|\s*$)",
            0,
            r" §letters=A_A ",
        ),
        (
            rf"\b(?={_ABC},? (?:stand|mean|are|represent)\w*(?: for)? (?:10|ten)\b)A(?:{_THEN}[B-F])*{_THEN}([B-G])\b",
            0,
            r" §letters=A_\1 ",
        ),
        # What ends at the highest digit, where that is a letter: `between 1 and C`, `until you come to the C`.
        *(
            (
                rf"\b(between (?:the )?[01] and (?:the )?|(?:to|at|reach|and) the ){letter}(?![\w'-])",
                0,
                rf"\g<1>{number}",
            )
            for number, letter in enumerate("ABCDEFG", 10)
        ),
        # `(A is 10, G is 16)` after the letters: said already.
        (
            rf"\(?\b{_LEGEND}(?:[,.]? (?:and )?{_LEGEND})*\)?",
            0,
            " ",
        ),
        # `(B is odd, A and C are even)`: follows from that.
        (
            rf"\((?:so |thus |that is,? |hence )?{_PARITY}(?:[,;]? (?:and |but |while )?{_PARITY})*\)",
            0,
            " ",
        ),
        (r"\b([A-Z])(?:\s*-\s*| to | through )([A-Z])\b", 0, r" §letters=\1_\2 "),
        (r"(?<![\w'=-])'?([B-HJ-Z])'?s?(?![\w'-])", 0, r" §letter=\1 "),
        (r"(?<!=[A-Z])(?<=[A-Za-z])-(?=[A-Za-z])", 0, " "),
        (r"(?<!=)\b(?:x)(?= (?:digits|numbers|figures|cells))", 0, " §letter=X "),
    )
)


def rewritten(sentence: str) -> str:
    """The sentence with every rewriting applied, first one first, to all places."""
    return substituted(sentence, _REWRITES)
