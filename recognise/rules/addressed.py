"""What is said to the solver, and as if digits had a will, put as plain rules say it.

`Can you put ...?` asks for what it tells, `you will find each digit in every row` is where it stands, `digits that do
not like to touch` must not. Works on a sentence as printed, before the tables of turns.
"""

from __future__ import annotations

import re

from recognise.rules.storied import storied
from recognise.rules.substitution import CELL, DIGITS, in_any_case, substituted

_FILL = r"(?:put|place|fill|write|enter|complete|insert|set|pop|fit|get|find room for|arrange|distribute|pencil|add)"
_ASKED = r"(?:can|could|will|would|may we ask) you(?: please| manage to| help me| now| also)?"
_LIKES = r"(?:want|wish|like|care|love|agree|dare|choose|consent|bear|intend|long|try|ask|tend|expect|hope|need)"
_HATES = r"(?:hate|refuse|dislike|detest|fear|decline|object|are (?:afraid|unwilling|too proud|too shy|loath))"
_WHO = rf"(?:{DIGITS}|{CELL}|neighbours|they|it|twins|pairs|ones?)"
_AREA_MARK = r"(?:fences?|cages?|lines?|walls?|frames?|loops?|hedges?|ropes?|arrows?|thermometers?|ribbons?|outlines?)"
_FIRST = re.compile(rf"^\W*{_ASKED} (?={_FILL}\b)", re.I)

_ADDRESSED = in_any_case(
    (
        (r"\b(I|we|you|they)'ve\b", r"\1 have"),
        (r"\b(we|you|they)'re\b", r"\1 are"),
        (r"\b(you|they|it|that|there|one)'d\b", r"\1 would"),
        (r"\b(it|that|there|what|everything|nothing)'s (?=\w)", r"\1 is "),
        (_FIRST.pattern, ""),
        (
            r"^\W*(?:please |now |so |then |but |oh,? |and )*(?:remember|don't forget|do not forget|bear in mind|"
            r"mind you|"
            r"recall|note|notice|watch out|careful|beware|you should know)(?: too| also)?(?:,|:| that\b|(?= "
            r"(?:the|every|"
            r"each|all|no)\b))",
            " ",
        ),
        # What digits like and hate.
        (
            rf"\b(?:(?:do|does|will|would|can)(?:n't| not)|never|cannot|can't) (?:ever |really |even )?{_LIKES}s? to "
            r"(?=(?:be|touch|stand|sit|meet|share|lie|live|see|follow|repeat|appear)\b)",
            "must not ",
        ),
        (
            rf"\b({_WHO}) (?:always |strongly |simply )?{_HATES}s? (?:to (?:be|being)|being|to)(?: put| placed)? "
            r"(?=\w)",
            r"\1 must not be ",
        ),
        (
            rf"\b({_WHO}) (?:always |all |each )*{_LIKES}s? to (?=(?:be|touch|stand|rise|grow|climb|add|differ|"
            r"sum)\b)",
            r"\1 must ",
        ),
        # What solvers find there is there.
        (
            r"\bso (?:that )?you (?:can|could|will|'ll|may|should) (?:always )?(?:find|meet|discover|come "
            r"across) (each|"
            rf"every one|all|them all|every {DIGITS}|each {DIGITS}) (?=(?:exactly |just |only )?(?:once )?(?:in|"
            r"on)\b)",
            r"so that \1 stands ",
        ),
        (
            r"\b(?:sometimes|here and there|in (?:some|several|a few) places|now and then|occasionally|now and "
            r"again),? "
            r"(?=(?:you (?:will|may|can|might|'ll) |we )?(?:see|find|notice|meet|spot|come across) )",
            "",
        ),
        (
            r"\byou (?:will|'ll|can|may|might) (?:also )?(?:come across|stumble on|stumble upon|discover|encounter|"
            r"notice) (?=\w)",
            "there are ",
        ),
        # What is only said to be there.
        (
            rf"^\W*(?:an?|some|the|there (?:is|are)(?: an?| some)?) (?:[\w-]+ ){{0,3}}{_AREA_MARK} (?:that "
            r")?(?:goes?|"
            r"runs?|is drawn|are drawn|winds?|lies?|curls?|stretch(?:es)?) (?:a?round|through|across|along|over) "
            rf"(?:some|several|a few|many)(?: of)?(?: the)? {CELL}\W*$",
            " ",
        ),
        # Verbs of arithmetic as a child has them.
        (r"\b(you|to|and|then|we) times (?=(?:all|the|them|both|these|those|every|each|together)\b)", r"\1 multiply "),
        (r"\b(you|to|and|then|we) (?:plus|sum) (?=(?:all|them|both|these|those|every|each|together)\b)", r"\1 add "),
        (r"\b(you|to|and|then|we) take away (?=(?:the|them|one)\b)", r"\1 subtract "),
        # Said before rules, and nothing by itself.
        (
            r"^\W*(?:(?:it goes without saying|needless to say|it is understood|it should be clear|of course|"
            r"naturally|obviously|as you know|"
            r"as everyone knows|to begin with|first of all|by now you know)(?: that)?|(?:the )?same (?:old "
            r")?(?:story|drill|thing|deal|procedure|"
            r"tune|song|game)(?: as (?:ever|always|usual|before))?(?= ?[:,;-])|as (?:ever|always|usual|before)(?= "
            r"?,)),? ?[:;-]? ",
            "",
        ),
        (
            r"\b(?:you (?:have|need) to |your task is to |it is your task to |please |be so kind as to |let us |"
            r"do )?(?:see to it|make sure|"
            r"make certain|ensure|take care|be careful|arrange matters|contrive|bring (?:it )?about|"
            r"ascertain)(?:,? that| so that)? "
            r"(?=(?:no|each|every|all|the|none|any|in) )",
            "",
        ),
        (
            r",? (?:except|but|save|apart)(?: for| from)? (?:for )?(?:what (?:follows|comes next|is told below)|"
            r"the following|(?:the )?(?:rules?|extras?|"
            r"points?|items?|additions?) (?:below|that follows?|listed)|these extras|mind (?:the|these) "
            r"[^.;,]{3,30})(?=\W*$)",
            "",
        ),
        # Rows and columns by how they lie; what is said of one unit and of the next.
        (
            r"\b(?:line|lines|rank),? (?:across|horizontal(?:ly)?)(?:,? (?:or|and|nor) )(?:down|vertical(?:ly)?)\b",
            "row or column",
        ),
        (
            rf"\b((?:from |of )?(?:1|one)\b[^.;]*|{DIGITS}[^.;]*), (?:across|horizontally),? (?:and )?(?:down|"
            r"vertically)\b(?=[^.;]*\b(?:box|block|"
            r"region)s?(?:es)?\b)",
            r"\1 in rows, columns",
        ),
        (
            r"^\W*(?:across|horizontally),? (?:and )?(?:down|vertically)(?=[^.;]*\b(?:box|block|region)s?(?:es)?\b)",
            "in rows, columns",
        ),
        (
            r"\b(rows?|columns?)\b([^.;:]*?),? (?:and |but )?(?:the same (?:is true|goes|holds|is so|applies|is "
            r"the case)(?: also| too)? (?:of|for|in|"
            r"to|with)|let|so (?:do|does|are|is|must|will|has|have)|as (?:do|does|are|must)|likewise(?: for| "
            r"in)?) (?=(?:the|all|each|every|any|nine|"
            r"no)\b)",
            r"\1\2, ",
        ),
        (r",? (?:and )?no (box|block|region|column|row) (?:is|be|being|makes|forms) an exception\b", r", and every \1"),
        (r"\b(rows?|columns?)\b([^.;:]*?) (?:do|does) (?:so )?(?:likewise|the same|as much)\b", r"\1\2"),
        (r"\b(never|none|not|nor|or|no|twice) (?:is |are |may be |being |to be |it )?doubled\b", r"\1 repeated"),
        (
            r"\b(?:the )?(?:usual|customary|ordinary|normal|standard|classic|familiar|well-known|traditional|"
            r"regular) (?:restrictions?|constraints?|"
            r"conditions?|requirements?|laws?|regulations?|limits?|conventions?)\b",
            "normal rules",
        ),
        (
            rf"\b(?:every|each|one) {DIGITS}( (?:from )?\d (?:to|-) ?\d)? (?:occurs|appears|comes|is) (?:nine|six|"
            r"eight|9|8|6) times in the grid"
            r"(?: in all)?[:,] ",
            r"each digit\1 ",
        ),
        # The one of two cells and the other.
        (
            r"\b(twice|double|half|three times|four times|thrice|triple|treble)(?: of| as much as| as large as| "
            r"as big as|"
            r" the (?:size|value) of| that of)? (?:its|the|his|their)(?: own| direct)? (?:partner|neighbour|"
            r"companion|mate|"
            r"counterpart|fellow|pal|buddy|friend|opposite number|next-door neighbour)\b",
            r"\1 the other",
        ),
    )
)


def asks_for_it(sentence: str) -> bool:
    """Whether a question asks the solver to do what it tells: `Can you put 1 to 9 into every row?`."""
    return _FIRST.match(sentence) is not None


def plainly_addressed(sentence: str) -> str:
    """The sentence without a word of the solver, and with what digits like put as what they must do."""
    return storied(substituted(sentence.replace("’", "'"), _ADDRESSED))
