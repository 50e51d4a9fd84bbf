"""Whether all marks are there or some are left out, in whole fields of words, put as the two sentences that say so.

Works on a sentence after the turns of phrase that `complete.py` knows.
"""

from __future__ import annotations

from recognise.rules.substitution import DIGITS, MARK, in_any_case, substituted

_SHOWN = r"(?:given|shown|drawn|placed|printed|marked|put|put in|present|there|indicated|provided|supplied|set|added)"
_PAIRS = (
    r"(?:pairs?|neighbours|neighbou?ring (?:cells|squares|pairs|digits)|adjacent (?:cells|squares|pairs|digits)|"
    r"cells|"
    r"squares|places|spots|positions|digits)"
)
_NOT_ALL = "; not all are given "
_ALL_OR_NOT = in_any_case(
    (
        (
            r"^\W*(?:but )?(?:not (?:a single|even) one|not one|none|no|not an?) (?:single )?(?:of (?:the|these|"
            r"those|all) )?"
            rf"(?:such |possible )?(?:{MARK}|{_PAIRS})(?: (?:with|of|having|that|which|making)\b[^.;]{{3,40}}?)? "
            r"(?:is|are|was|were|"
            r"has been|have been|goes|stays|remains)(?: ever)? (?:missing|left out|omitted|unmarked|absent|"
            r"lacking|forgotten|"
            r"skipped|without (?:an?|its|their) \w+)\W*$",
            "all possible marks are given.",
        ),
        (
            r"\b(?:some|more|other|further|several|many|a few|additional)(?: such| of (?:the|these|them))* "
            rf"(?:{MARK}|{_PAIRS})?"
            r" ?(?:may|might|can|could) (?:also |well |still )*(?:go|be|remain|stay|be left|have been left|be going) "
            r"(?:unmarked|unshown|undrawn|unprinted|without (?:an?|any|their|its|being) \w+|not (?:marked|shown|"
            r"drawn|given))"
            r"\W*$",
            _NOT_ALL,
        ),
        # Not all of the marks are there.
        (
            rf"^\W*(?:but |however,? |note that )?(?:the |these |our )?(?:\w+ )?{MARK} (?:are|is|were)(?: not|"
            r"n't| never| by no means| far from) "
            rf"(?:necessarily |always |all |being )*(?:complete|exhaustive|a complete set|{_SHOWN} (?:everywhere|"
            r"in every (?:place|case|spot)|"
            r"at every (?:place|border|edge)|in all (?:places|cases)|wherever[^.;]*))[^.;]*\W*$",
            _NOT_ALL,
        ),
        (
            rf"\b(?:the )?(?:absence|lack|want) of (?:an?|any|such an?|the) (?:\w+ )?{MARK} (?:\w+ )?(?:says?|"
            r"means?|proves?|tells?(?: you| us)?|implies|"
            r"indicates|has|have|signifies|carries|is)(?: absolutely)? (?:nothing|no (?:meaning|significance|"
            r"information|clue|hint|consequence)|without (?:meaning|significance))\b",
            _NOT_ALL,
        ),
        (
            rf"\b(?:other|further|more|additional|unmarked|undotted) (?:such )?{_PAIRS} (?:may|might|can|could) "
            r"(?:also |well |easily |still )*"
            r"(?:exist|occur|be (?:\w+ )?(?:consecutive|there|found|present|so)|have|hold|contain|add|differ|do|"
            r"show|obey|satisfy|share)\b[^.;]*?"
            r"\b(?:too|also|as well|without (?:an?|any|its|their|being|having) \w+|not \w+|unmarked|likewise)(?: "
            r"\w+){0,3}\W*$",
            _NOT_ALL,
        ),
        (
            r"\b(?:some|several|a few|many|certain|any number) of (?:the |these )?(?:possible |potential |valid "
            rf")?(?:\w+ )?{MARK} "
            r"(?:have|has|had|are|were|may|might)(?: been| be| well be)? (?:left out|omitted|missing|withheld|"
            r"skipped|suppressed|not drawn|not shown)\b[^.;]*",
            _NOT_ALL,
        ),
        (
            rf"^\W*(?:the )?{_PAIRS} without (?:an?|any|such an?) (?:\w+ )?{MARK} (?:can|may|might|could) "
            r"(?:also |well |still )*"
            r"(?:have|be|share|show|obey|hold|do|contain)\b[^.;]*\b(?:too|as well|also|likewise)\W*$",
            _NOT_ALL,
        ),
        # All of them are.
        (
            r"^\W*(?:every|each) (?:place|spot|border|edge|position|pair) (?:where|on which|at which|for which) "
            r"(?:an?|the|such an?) "
            rf"{MARK} (?:is|would be|could be|can be|is to be) (?:possible|due|placed|drawn|needed|expected) "
            r"(?:has|carries|gets|"
            r"bears|received) (?:one|it|its \w+)\W*$",
            "all possible marks are given.",
        ),
        (
            rf"^(?=[^.;]*\b(?:this|these|such|those|condition\w*|propert\w*|totals?|sums?|relation\w*|possible)\b)"
            r"\W*(?:but |also |and )?(?:all|every one of|each of) (?:(?:of|the|such|possible|these|those) "
            rf")*(?:{MARK}|{_PAIRS})"
            r"(?: (?:of|with|fulfilling|satisfying|meeting|having|that|which|whose)[^.;,]{3,60}?)? "
            rf"(?:(?:are|is|have been|has been|were|will be) (?:always )?(?:{_SHOWN}|labelled|joined|dotted|"
            r"flagged|so marked)|"
            rf"(?:have|has|carry|bear|get|show|receive) (?:an?|the|their|its) (?:\w+ )?{MARK})\W*$",
            "all possible marks are given.",
        ),
        (
            rf"^\W*(?:if|where|when|wherever) (?:there is|you (?:see|find)) no {MARK},? (?:then )?(?:the |their |"
            r"these |both |two )*"
            rf"(?:{DIGITS}|cells|they|sum|difference|ratio) (?:are|is|do|does|can|may|have|must|will)(?: not|n't| "
            r"never|not)\b[^.;]*\W*$",
            "all possible marks are given.",
        ),
        (
            rf"^\W*(?:(?:all |the )*other {_PAIRS} (?:(?:are|may|must|can|do|have|will)(?: not|n't| never)|never|"
            r"cannot)|"
            rf"no other {_PAIRS} (?:are|may|must|can|do|have|add|hold|contain|differ)) [^.;]*\W*$",
            "all possible marks are given.",
        ),
        (
            rf"^\W*(?:the |these )?((?:\w+ )?{MARK}) (?:are|have been|were) (?:all )?(?<!not ){_SHOWN} "
            r"(?:wherever|everywhere|at every place|in every place|in every case|without exception|in all cases|"
            r"in all places|in each place)(?: that)?(?: (?:it is |they (?:are|can be|could be|apply|fit|belong) ?|"
            r"it applies|one (?:is|can be|could be) )?(?:possible|due|applicable|true|right|needed|placed|"
            r"drawn)?)?\W*$",
            r"all possible \1 are given.",
        ),
    )
)


def with_omissions_told(sentence: str) -> str:
    """The sentence with what it says of marks that are left out, or of all of them, put plainly."""
    return substituted(sentence, _ALL_OR_NOT)
