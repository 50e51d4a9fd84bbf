"""Sentences that state nothing: what announces rules, and what only follows from one that is told beside it.

`Two themes meet in this one`, `A zero means that the 1 and the 9 are side by side`, `The order does not matter`. Each
is left out as a whole, and only where all of it is of that sort.
"""

from __future__ import annotations

from recognise.rules.literals import folded
from recognise.rules.patterns import patterns_of
from recognise.rules.substitution import COLOUR, DIGIT, in_any_case

_MARK = r"(?:lines?|dots?|circles?|thermometers?|tubes?|cages?|arrows?|signs?|letters?|diamonds?|areas?|marks?|clues?)"
_COUNT = r"(?:one|two|three|four|some|several|a few|a couple of|many|no|only one|just one|just two)"
_THEME = r"(?:rules?|conditions?|themes?|twists?|ideas?|extras?|additions?|constraints?|surprises?|ingredients?)"
_THIS = (
    r"(?:this|our|the|today's|(?:this )?(?:week|month|year)'s|your)(?: (?:monthly|weekly|daily|usual|latest|first))?"
)
_NAMED = r"(?:killer|sandwich|thermo|jigsaw|puzzle|sudoku|grid|one|challenge|favourite|special)"
_ANY = r"(?:anything|any (?:digit|number|value|figure)|either(?: (?:kind|sort|parity))?|free|odd or even|even or odd)"

_TOTAL = r"(?:totals?|sums?|numbers?|values?)"
_BARE_CAGE = (
    r"(?:an?|the|those|all|any|every|each|some)? ?(?:cages?|fences?|pens?|frames?|groups?|outlines?) "
    r"(?:without|with no|that (?:has|have) no|lacking) (?:an? |any |its |their )?(?:number|total|sum|figure|clue)s?,?"
)
"""A cage of which no number is printed."""

_MOOT = in_any_case(
    (rf"\W*(?:{sort})\W*", " ")
    for sort in (
        # What announces.
        rf"(?:today |here |now |this (?:week|month|time) )?(?:there (?:are|is)|we have|you have|it has|come) "
        rf"(?:also )?{_COUNT} (?:more |new |extra |further |other |additional )*{_THEME}"
        r"(?: (?:today|here|this (?:week|month|time)|in (?:this|the) (?:one|puzzle|grid)|to (?:obey|follow|know)))*",
        rf"{_COUNT} (?:\w+ )?{_THEME} (?:meet|are combined|come together|apply|are (?:at work|mixed))(?: here| "
        r"today| "
        r"in (?:this|the|one|today's)(?: (?:one|puzzle|grid))?)*",
        rf"(?:this|here) is {_THIS} {_NAMED}(?: {_NAMED})?",
        rf"(?:this|here|it) (?:is|'s) an? (?:\w+ )?(?:{_NAMED} )?(?:puzzle|sudoku|grid|one) (?:to|for) "
        r"(?:practise|practice|begin|start|warm|beginners|everyone)[\w ]*",
        r"(?:it is|it's) (?:not )?(?:difficult|hard|easy|simple) to (?:remember|learn|follow|understand) the rules"
        r"(?: of [\w ]{3,20})?",
        rf"(?:next|now|then|first|finally|also|and|so)?,? ?(?:please )?(?:look (?:for|at|out for)|note|notice|mind|"
        rf"see|find|spot) (?:all )?(?:the|these|those) (?:\w+ )?{_MARK}",
        r"(?:now |next |then |also )?(?:please )?look at (?:the|these|those) shapes (?:that|which) "
        r"(?:resemble|look like) (?:an? )?thermometers?",
        r"(?:now |just |please )?(?:pretend|imagine|picture|suppose|think|let us pretend|let's pretend|make "
        r"believe)(?: that)? (?:your|"
        rf"the|these|all|each|every)(?: the)? {DIGIT} (?:are|is|were) (?:an? )?(?:tower )?(?:blocks?|towers?|"
        r"buildings?|houses?|"
        r"skyscrapers?)(?: of flats)?",
        r"what(?:'s| is) (?:new|different|special)(?: \w+){0,3} is (?:the|this|that|an?) (?:[\w-]+ ){1,3}"
        r"(?:with (?:an? )?(?:round|circular|bulbous) end)?",
        rf"there is (?:one|a) new {_MARK}(?: in (?:this|the|our) (?:puzzle|grid))?,? and it is an? [\w ]{{1,12}}",
        rf"(?:the |these |those )?(?:{DIGIT}|clues|{_MARK}) (?:\w+ ){{1,4}}(?:will )?(?:help|guide|assist) you",
        r"you(?: will|'ll)? (?:also )?(?:notice|see|find) (?:some |the )?lines in (?:two|three|several|different) "
        r"colours?",
        r"(?:just )?think of (?:the )?roman (?:numerals|numbers|figures)(?: and [^.;]{3,40})?",
        r"can you (?:see|tell|work out|find out|explain) why [^.;?]{3,80}\?",
        r"(?:we|i) (?:have )?left (?:plenty of|many|some|a lot of|most) (?:cells|squares) (?:outside|out of) "
        r"(?:the )?cages",
        rf"(?:the |these |those )?(?:{COLOUR} )?{_MARK} (?:are|is) (?:the|an?|our|my|today's|this (?:week|month)'s) "
        r"(?:\w+ )?(?:fun|good|best|hard|tricky|nice|new|clever|special|interesting|exciting|extra|main)?,? "
        r"?(?:bit|part|twist|star|"
        r"trick|novelty|attraction|highlight|spice|fun|surprise|point|key|secret|gimmick|hero|treat|catch)s?",
        r"(?:\()?(?:one|two|three|some|a few|several|another) (?:cages?|lines?|clues?|areas?) (?:has|have|got|"
        r"carr(?:y|ies)|shows?) "
        r"(?:been left without |lost |mislaid |dropped |no |without )+(?:its|their|an?|any)? ?(?:numbers?|totals?|"
        r"sums?|clues?|figures?)",
        r"(?:they|its digits|the digits|these)(?: are| must be)(?: all)? different (?:there|here|in (?:it|that "
        r"one|this one|those|them)) "
        r"(?:too|as well)",
        rf"{_BARE_CAGE} (?:has|have|keeps?|hides?) (?:no|an?|its|their|any) (?:known |given |fixed |printed |stated |"
        rf"unknown |secret |free )*{_TOTAL}(?: (?:secret|unknown|to (?:it|them)self|to themselves))?",
        rf"{_BARE_CAGE} (?:may|can|could|might) (?:have|make|add up to|sum to|come to|be of) any(?: {_TOTAL}|thing)?",
        rf"(?:the |an? )?{_TOTAL} of {_BARE_CAGE} (?:is|are) (?:not (?:known|given|told|stated|printed|fixed)|"
        r"unknown|free|a secret|secret|anything)",
        # What follows from what is told.
        rf"(?:if|when|where) (?:the |a )?(?:1|one|0|zero) and (?:the |a )?[89] (?:are|stand|sit|lie|touch)[^.;]*"
        rf"\b(?:nothing|0|zero|nought|no {DIGIT})\b[^.;]*",
        r"(?:an? )?(?:clue of |value of |number |sum of |clue )?(?:zero|[0o]|nought) (?:means|says|shows|"
        r"tells(?: you)?|indicates)(?: that)? (?:the |a )?(?:1|one|0|zero) and (?:the |a )?(?:\d|nine|eight) "
        r"(?:are|stand|lie|sit|must be) "
        r"(?:side by side|next to each other|adjacent|neighbours|together|beside each other|in adjacent cells)",
        r"(?:an? )?(?:clue of |value of |number |sum of |total of )?(?:zero|[0o]|nought|nil|nothing) (?:means|"
        r"says|shows|tells(?: "
        r"you)?|indicates|stands for)(?: that)? (?:the two(?: digits)?|they|both|these two|those two|these|the "
        r"bread) (?:are|stand|"
        r"lie|sit|touch)(?: \w+)? ?(?:side by side|next to each other|adjacent|neighbours|together|beside each "
        r"other|touching)?",
        r"(?:small|short|low|little|lower|shorter|smaller)(?:er)? (?:ones?|houses?|towers?|buildings?|digits?|"
        r"numbers?|blocks?) "
        r"(?:always )?(?:hide|vanish|disappear|are (?:hidden|lost|invisible|unseen|not seen)|cannot be seen|can't "
        r"be seen) behind "
        r"(?:the )?(?:big|tall|high|large|bigger|taller|higher|larger)(?: (?:ones?|houses?|towers?|buildings?|"
        r"digits?|numbers?|"
        r"blocks?))?",
        r"if an? (?:line|palindrome) has an odd number of (?:cells|squares|digits),? [^.;]*"
        r"\b(?:middle|central|centre)\b"
        rf"[^.;]*\b{_ANY}",
        rf"(?:the |all )?(?:other|remaining|unmarked|plain|empty|white|uncoloured|untinted) (?:cells|squares|ones) "
        rf"(?:can|may|might|could) (?:have|hold|be|contain|take|show)(?: of)? {_ANY}(?: too| as well)?",
        rf"(?:an?|any|every|the|each) (?:cell|square|field) (?:without|with no|that has no|that lacks|lacking) "
        rf"(?:one|such (?:an? )?\w+|(?:an? |any )?(?:\w+ )?{_MARK}) (?:can|may|might|could) (?:well |also |still )?"
        rf"(?:have|hold|be|contain|take|show)(?: of)? (?:{_ANY}|either)",
        r"(?:the |all )?(?:other |unmarked |remaining |plain )+(?:cells|squares) (?:are )?(?:not |un)"
        r"(?:restricted|limited|constrained|affected)",
        rf"(?:it )?(?:does not|doesn't) matter (?:which|at which|in which|on which|what) (?:[\w-]+ ){{1,4}}"
        rf"(?:has|have|holds?|is|are)(?: (?:the|at))? (?:\w+ )?"
        rf"(?:higher|larger|lower|smaller|bigger|greater)(?: {DIGIT}| one| end)?",
        r"(?:the|this|that) (?:sum|total|value|common (?:sum|total)) (?:may|can|might|could|need not|does not "
        r"have to) "
        r"(?:be (?:different|the same|unequal|equal)|differ|vary|change) "
        r"(?:for|on|between|from|in|with) (?:the |each |all )?(?:different |various |separate |several |other )?"
        r"lines?(?: to line)?",
        rf"(?:the )?order (?:of|in which) (?:the )?(?:{DIGIT}|they)[^.;]{{0,40}} (?:is|are|does|do) "
        r"(?:not |no |un|ir)?(?:relevant|matter|important|of importance|of no importance|significant|open|free)",
        r"an? (?:chess )?(?:king|knight) (?:can|may|could) (?:step|move|go|jump|leap) to (?:any|every|each) "
        r"(?:cell|square) "
        r"[^.;]*\b(?:touch|adjacent|next|around)\w*[^.;]*",
        r"(?:we|the setter) (?:do|does) not (?:use|need) the (?:ordinary|usual|other|strict|normal) kind",
        r"(?:the )?(?:ordinary|usual|other|strict|normal|fast) (?:kind|sort|ones?|version)(?:, [^.;,]*,)? "
        r"(?:is|are) not used (?:here|this time|today|in this puzzle)",
        r"the other (?:long |main )?diagonal (?:is|can|may|need|does|remains|stays)[^.;]*\b(?:free|anything|not "
        r"matter|"
        r"no (?:restriction|limit|rule)|ignored|repeats?|not restricted)",
        r"there (?:can|may|might|could) be (?:others?|more|other digits)(?: there)? (?:too|as well|besides)"
        r"(?:,? unless [^.;]{3,50})?",
        r"there are no cages of (?:\w+ or more|more than \w+) (?:cells|squares)",
        r"no clue is given (?:for|where) [^.;]*\b(?:may|can|might|could) (?:show|have|give|hold) any [^.;]*",
        r"(?:where|if|when|wherever|should) (?:an?|the) (?:tube|thermometer|line|path|arrow) "
        r"(?:forks?|branch(?:es)?|splits?|"
        r"divides?)(?: in two)?,? (?:this|it|the same|that|the rule) (?:is true|holds|applies|goes|counts|is "
        r"so)(?: good)? "
        r"(?:of|for|along|on|in) (?:each|every|all|both|either)(?: of)?(?: the)? "
        r"(?:branch(?:es)?|arms?|forks?|tips?|ends?|parts?)",
        r"(?:where|if|when|wherever|should) (?:two|three|several|some) (?:tubes|thermometers|lines|paths|arrows|arms) "
        r"(?:leave|share|have|meet in|start (?:from|at|in)|begin (?:at|in|with)|(?:grow|come) (?:from|out of)) "
        r"(?:the same|one|a (?:common|shared|single)) (?:bulb|ball|circle|start|end),? "
        r"(?:each|both|every one)(?: one)?(?: of (?:them|the two))? (?:\w+ ){1,3}?(?:on its own|by itself|separately|"
        r"independently|for itself|from it|away from it)",
        rf"(?:{_COUNT}|one or two|two or three) (?:{COLOUR} )?(?:thermometers|arrows|lines) (?:may|can|might|"
        r"could)? ?"
        r"(?:share|start (?:from|at)|have) (?:an?|the same|one) (?:bulb|circle|common bulb)",
        rf"(?:the |an? )?(?:absence|lack) of (?:an? )?{_MARK} is (?:thus |therefore |then |also |hence )*an? "
        r"(?:clue|hint|information)(?: too| as well| also)?",
    )
)


_BINDS_NOTHING = in_any_case((rf"\W*(?:\w{{1,2}}[.):]\W+)?(?:{sort})\W*", " ") for sort, _ in patterns_of("moot.txt"))


def without_moot(sentence: str) -> str:
    """An empty text for a sentence that states nothing of its own; any other as it is."""
    plain = " ".join(sentence.replace("’", "'").split())
    told = folded(plain)
    for rule in (*_MOOT, *_BINDS_NOTHING):
        if rule.may_match(told) and rule.compiled.fullmatch(plain):
            return rule.replacement
    return sentence
