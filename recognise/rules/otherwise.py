"""What makes another rule of a sentence, wherever it stands: not all, not always, not true, some of them, or else.

The reader takes a clause for a bag of concepts, and plain words such as `one`, `some`, `of` or `but` change nothing in
most of them. Here they do: what follows is named `§other`, which no pattern accounts for, or `some`, which says that
not all marks of a sort are meant.
"""

from __future__ import annotations

from recognise.rules.patterns import patterns_of
from recognise.rules.substitution import in_any_case, substituted

_COUNT = r"(?:one|two|three|four|five|six|seven|eight)"
_PART = rf"(?:(?:exactly |only |just |at least |at most )?{_COUNT}|some|most|several|many|half|a few)"
_MARK = r"(?:dots|lines|thermometers|arrows|cages|bars|diagonals|signs|marks)"
_ONE_MARK = r"(?:dot|line|thermometer|arrow|cage|bar|diagonal)"
_DIGITS = r"(?:digits|numbers|figures|values)"
_COMPARED = (
    r"(?![^.;]*\b(?:others?|doubles?|twice|half|thrice|triple|times|greater|larger|higher|bigger|lower|smaller|less)\b)"
)
"""Where `one of the digits` is told apart from another one."""
_RANGE = r"(?! ?(?:from |between )?(?:\d|one\b))"
_THE = r"(?:the |its |their |these |those )"

_HIGH, _LOW = r"(?:larger|greater|bigger|higher)", r"(?:smaller|lesser|lower)"
_POINTED = r"(?:points?|pointing|pointed|sharp|narrow|closed|tips?)"
_OPEN = r"(?:opens?|opening|wide|wider|broad|big)"
_SIGN = r"(?:signs?|symbols?|wedges?|chevrons?|inequality|inequalities|arrow ?heads?|[<>])"
_AT = r"(?:to|towards?|at|on|by|faces?|facing|beside|next to)"


def _backwards(end: str, other: str, digit: str, wrong: str) -> str:
    """A sign whose end of one sort is at the wrong digit of two."""
    between = rf"(?:(?!{other}|{digit})[^.;,]){{0,40}}?"
    return rf"^(?=[^.;]*(?<!\w){_SIGN}(?!\w))([^.;]*?\b{end}\b{between} {_AT} (?:the |a )?){wrong}\b"


_OTHERS = in_any_case(
    (
        # Not always, not true.
        (
            r"\b(?:in|for) (?:most|some|many|several|certain) (?:cases?|places?)\b|\bmostly\b|\bmost of the time\b|"
            rf"\b(?:in|at) (?:exactly |only |just )?{_COUNT} (?:place|case|spot)s?\b|"
            r"\b(?:sometimes|occasionally)\b(?! (?:called|known|named|said|referred|described))|"
            r"\bit (?:is|'s) (?:not (?:the case|true|so)|false|wrong|untrue) that\b|"
            r",? but (?:not|only) (?:in|for|on|at|when|where|if)\b(?! (?:the same |any |an? |one )*"
            r"(?:row|column|box|line|region|cage|thermometer|arrow|diagonal)s?\b)|\bor else\b|"
            r"\b(?:is|are) called \w+ (?:if|when)\b",
            " §other=x ",
        ),
        # In one part of the grid only.
        (
            r"\b(?:in|on|within) (?:the )?(?:(?:top|bottom|left|right|upper|lower|outer|inner)(?: hand)? "
            r"(?:half|part|third)"
            r"|(?:odd|even)(?:-numbered| numbered)? (?:rows?|columns?|boxes))\b",
            " §other=x ",
        ),
        # `One of the dots`, `most of the lines`, `exactly one cage`: not all of them, whatever is said of them.
        (
            rf"(?<!\beach )(?<!\bevery )(?<!\bany )\b(?!half){_PART} of {_THE}?(?=(?:\w+ ){{0,2}}{_MARK}\b)",
            " some ",
        ),
        (rf"\b(?:half|a third|a quarter) of {_THE}?(?=(?:\w+ ){{0,2}}{_MARK}\b)", " §other=x "),
        (
            rf"\b(?:exactly|only|just) {_COUNT} (?=(?:\w+ ){{0,2}}(?:{_MARK}|{_ONE_MARK})\b)",
            " some ",
        ),
        (r"\b(?:most|many|several|some of the|some) (?=(?:\w+ ){0,2}(?:squares|circles)\b)", " some "),
        # Some of the digits, and not all of them.
        (rf"\b{_PART} of {_THE}(?=(?:\w+ )?{_DIGITS}\b{_RANGE}){_COMPARED}", " §other=x "),
        (
            rf"(?<!how )(?<!as )(?!(?<=the )\w+ \w+ (?:on|in) (?:each|every|both|either) (?:\w+ )?diagonals?\b)"
            rf"\b(?:some|most|several|many|a few|three|five|six|seven|eight) (?={_DIGITS} "
            r"(?:(?:that|which) (?:are|lie|stand) (?:\w+ )?)?(?:on|along|"
            r"in(?! (?:the |this |each )?(?:grid|diagram|puzzle))|inside|within|joined|separated|with|next|"
            r"connected)\b)",
            " §other=x ",
        ),
        (
            rf"\b(?:all (?:(?:the |of the )?(?:\w+ )?{_MARK} )?(?:but|except(?: for)?|save|bar) (?:for )?"
            rf"(?:{_COUNT}|\d)|"
            r"(?:its|their|of the) (?:inner|middle|central|innermost|last) (?:two |three )?"
            r"(?:digits|numbers|cells)|(?:outer|outermost) (?:two |three )?(?:digits|cells)|"
            r"(?:its|their|of the) (?:outer|outermost) (?:two |three )?numbers|"
            r"first (?:two|three|four|five|[2-9]) (?:digits|numbers|figures|cells))\b",
            " §other=x ",
        ),
        # The wrong way round.
        (_backwards(_POINTED, _OPEN, _LOW, _HIGH), r"\1 §other=x "),
        (_backwards(_OPEN, _POINTED, _HIGH, _LOW), r"\1 §other=x "),
        (
            r"\b(?:lower|smaller|shorter|low|short|small)(?: \w+){0,2} "
            r"(?:(?:hides?|obscures?|conceals?|covers?)\b(?! behind)|"
            r"blocks? (?:the |any |all |every )?(?:view|sight|taller|higher))",
            " §other=x ",
        ),
        (
            r"\b(?:hides?|blocks?|obscures?|conceals?|covers?) (?:all |any |every |each |the )*"
            r"(?:larger|taller|bigger|higher|greater)\b",
            " §other=x ",
        ),
        (r"\b(?:may|might|can|could) (?:well )?(?:all )?be (?:all )?(?:different|distinct|unequal)\b", " §other=x "),
        (
            r"^(?![^.;]*\b(?:no|not|never|only|cannot)\b)([^.;,]*\b(?:odd|even) (?:digits|numbers) (?:may|might))\b",
            r"\1 §other=x ",
        ),
        # `Some row`: one of them, and not each.
        (
            r"\bsome (?=(?:[\w-]+ )?(?:row|column|box|block|cage|line|pair|region|area|dot|bar|sign|circle|clue|digit|"
            r"number|piece|thermometer|arrow|diagonal)\b(?! of))",
            " §other=x ",
        ),
        # One more than that, and another line than this.
        (
            r"(?<!,) (?:plus|minus) (?:one|two|three|\d{1,2})(?=\s*(?:[.;,]|$))",
            " §other=x ",
        ),
        (r"\b(?:in|of|on) the (?:next|other|opposite|neighbouring) (?:row|column|box|cage|line|arrow)\b", " §other=x "),
    )
)
_PLAIN = in_any_case(patterns_of("otherwise.txt"))


def with_others_named(sentence: str) -> str:
    """The sentence with what makes another rule of it put as `§other`, and `some` before marks that are not all."""
    return substituted(substituted(sentence, _OTHERS), _PLAIN)
