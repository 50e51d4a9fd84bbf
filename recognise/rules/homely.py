"""How chatty columns, bulletins and stiff translations say a rule, and what strangers call their marks, put plainly.

Works on a sentence as printed, before `casual.py` and `turns.py`, whose words it may use.
"""

from __future__ import annotations

import re

from recognise.rules.homely_marks import marks_put_plainly
from recognise.rules.lexicon import PHRASES
from recognise.rules.pattern import SUBJECTS, named
from recognise.rules.stiff import unstiffened
from recognise.rules.substitution import COLOUR, DIGIT, in_any_case, substituted

_SQUARES = r"(?:squares|cells|fields|tiles)"
_USUAL = r"(?:normal|usual|ordinary|regular|standard|classic|plain)"
_BREAD = r"(?P<low>\d{1,2}) and (?:the )?(?P<high>\d{1,2})"

_HOMELY = in_any_case(
    (
        # What says nothing.
        (r"^\W*(?:do|did|have) (?:you|we) (?:still )?(?:remember|know|recall|meet|met|seen) [^.?!]*\?\W*", " "),
        (
            r"^\W*(?:today|tonight|now|here|this (?:time|week|month)),? (?:there are|we have|you(?:'ll)? "
            r"(?:get|find|have)) "
            r"(?:also |some |a few )*(?=(?:\w+ )?(?:thermometers|arrows|lines|cages|dots|circles|signs|diagonals)\b)",
            "there are ",
        ),
        (r"^\W*\w+(?: sudoku| sums?)? with a (?:little |small )?(?:twist|difference|surprise)\W*$", " "),
        (r"^\W*(?:addition|subtraction|multiplication|division|sums?) for (?:a change|once|today)\W*$", " "),
        (
            r",? with (?:one|two|three|a few|some|a couple of|an?) (?:extras?|additions?|twists?|extra "
            r"rules?)(?=\s*[.:!]|$)",
            " ",
        ),
        (
            r"\bare (?:really )?the (?:stars?|heroes|main (?:act|thing|attraction)|highlights?)"
            r"(?: of)?(?: today| this (?:week|month|time)| here| the (?:day|show|puzzle|week))*(?=\s*[.;!]|$)",
            "are marked",
        ),
        (r"^\W*(?:also|plus|besides|in addition|oh,? and),? (?=no\b|two\b|each\b|every\b|all\b|both\b|the\b)", " "),
        (rf"\b(?!(?:dark|light|pale|non|{COLOUR[3:-1]})-)[a-z]{{3,}}-(?={COLOUR} )", ""),
        (r"^\W*(?:up and down|down and up|round and round|back and forth|high and low|big and small)\s*[:!] *", " "),
        (r"^\W*I promised (?:you )?(?:\w+ ){1,3}and here (?:they are|it is)\W*$", " "),
        (r"^\W*(?:year|form|grade|class) \d{1,2}(?: puzzle| sudoku)?: ", " "),
        (r"^\W*and yes,? ", " "),
        (r"^\W*(?:odd or even|even or odd|high or low|big or small|bigger or smaller|left or right)\s*\?\W*$", " "),
        (r"^\W*in an? [a-z]+ sudoku,? (?=(?:the|each|every|all)\b)", " "),
        (r",? just (?:like|as) (?:when|in|on|with) [^.;:,]{3,40}(?=\s*[.;!]|$)", ""),
        (r"\b(are|is) slow (?:today|this time|this week)\b", r"\1 slow"),
        (
            r"^\W*(?:two|three|four|some|a few) (?:lines|marks|dots|arrows|signs|rules) (?:again|today|this "
            r"(?:time|week))\W*$",
            " ",
        ),
        # The usual rules.
        (
            r"\b(?:work|behave|go|are)(?: just)? (?:the way|as|like) (?:they|it) (?:always|usually|normally) "
            r"(?:do|does|are|is|work)\b",
            "follow the usual sudoku rules",
        ),
        (
            r"\b(rules(?: of sudoku)?) (?:count|are true|are still true|still (?:count|hold|apply))(?: as well| too)?"
            r"(?=\s*[.;!]|$)",
            r"\1 apply",
        ),
        (
            rf"^\W*(?:fill in|fill|solve|play|do) the (?:sudoku|grid|puzzle) (?:in the|the) {_USUAL} way\b"
            r"(?:,? but (?:look|watch) out for [^.;:]{3,30}(?=[.;:!]|$))?",
            "normal sudoku rules apply",
        ),
        (
            rf"^\W*(?:apart|aside) from (?:the|this|that|these|those) [^.,;:]{{3,30}}?,? (?:it is|it's|this is) "
            r"(?:just )?an? "
            rf"{_USUAL} (?:1 ?(?:-|–|to) ?\d{{1,2}} )?sudoku\b",
            "otherwise normal sudoku rules apply",
        ),
        (
            r"^\W*(?:otherwise,? )?(?:it is|it's|this is) the sudoku (?:that )?(?:you|we)(?: all)? know(?: so well| "
            r"already| and love)?"
            r"(?:,? (?:plus|with|and)\b)?",
            "normal sudoku rules apply; there are ",
        ),
        (
            rf"\b(?:everything|all) else (?:is|works|stays|remains)(?: just| exactly)?(?: the same)? (?:as|like) "
            rf"(?:in|with) (?:an?|any|every|the) (?:{_USUAL} )?sudoku\b",
            "otherwise normal sudoku rules apply",
        ),
        (
            r"\b(?:do|go|carry on|proceed) as you (?:do|would|always do|would do) (?:in|with) (?:any|every|a)"
            r"(?: other| normal| usual)? sudoku\b",
            "normal sudoku rules apply",
        ),
        (
            r"\b(?:has|have|is|with) (?:only |just )?(?:one|a single) (special|extra|marked) diagonal(?=\s*[.;!]|$)",
            r"with a marked diagonal",
        ),
        (r"\bgroups? of (?:\d ?[x×] ?\d|nine|eight|six|four) (?=tiles\b)", "box of "),
        (r"\b(box|block) of (?:\d ?[x×] ?\d |nine |eight |six |four )?tiles\b", r"\1"),
        (r"\bgroup(s?) of tiles\b(?! (?:of|joined|with))", r"box\1"),
        (r"\btile(s?)\b", r"cell\1"),
        (
            r"^\W*for (?:the|all the) (?:remainder|rest),? (?:(?:it is|it's|we have|play) )?(?:an? "
            r")?(?=(?:normal|usual|plain) sudoku\b)",
            "otherwise ",
        ),
        (
            rf"^\W*((?:the )?(?:{COLOUR}|shaded|tinted|coloured) (?:squares|cells)): (?:the )?(?:{DIGIT} )?(1 "
            rf"?[-–] ?\d{{1,2}}|1 to \d{{1,2}})"
            r"(?:,? (?:once more|once each|again|once|as well|too))+\W*$",
            r"\1 contain each digit from \2 once",
        ),
        (
            r"\b(?:additional|extra|further) (?:framed|outlined|bordered|enclosed|thick|bold|heavy) "
            r"(?=(?:regions?|areas?|zones?)\b)",
            "additional ",
        ),
        (
            r"\b(?:the |those )?\w+ (?:shapes|pieces|patches|regions) with (?:the |an? )?(?:thick|heavy|bold|strong|"
            r"fat) "
            r"(?:outlines?|borders?|edges?|lines? around them)",
            "outlined regions",
        ),
        # Diagonals.
        (
            r"\bfrom (?:the )?((?:top|bottom|upper|lower) (?:left|right))(?: corner)? to (?:the )?"
            r"((?:top|bottom|upper|lower) (?:left|right))(?: corner)?,? (?:there )?(?:runs|goes|is|lies) an? "
            r"(?:line|row|string)"
            rf"(?: of {_SQUARES})?",
            r"on the diagonal from the \1 to the \2 ",
        ),
        (
            r"\bdiagonals? (?:that|which) (?:falls|descends|drops|sinks|comes down|runs down|goes down|slopes down) "
            r"(?:from|at|in) (?:the )?(?:top|upper) left(?: hand)?(?: corner| cell)?",
            "diagonal from top left to bottom right",
        ),
        (
            r"\bdiagonals? (?:that|which) (?:rises|ascends|climbs|goes up|runs up|slopes up) "
            r"(?:from|at|in) (?:the )?(?:bottom|lower) left(?: hand)?(?: corner| cell)?",
            "diagonal from bottom left to top right",
        ),
        (r",? (?:with )?diagonal (?:steps|moves) (?:included|as well|too)\b", " "),
        (r"\bdo (?:the|that) sum\b", "obey the operation sign"),
        # Repeats.
        (
            r"\b(an? (?:digit|number|figure) (?:may|can|might) (?:occur|appear|come|stand)) (?:on|in|along) "
            r"(?:that|this) "
            r"(?:line|row|diagonal|cage) (?=more than once|twice|several times)",
            r"\1 ",
        ),
        (
            rf"\bit (?:does not|doesn't) matter (?:if|when|whether) (?:the )?{DIGIT} (?:are repeated|repeat|"
            r"is repeated|(?:appears?|occurs?|comes?) (?:twice|more than once))\b",
            "digits may repeat",
        ),
        (
            rf"\byou (?:can|may|could|might) (?:have|use|put|place|find) (?:the same|an?) {DIGIT} (?:twice|more "
            rf"than once|again)"
            r"((?: in (?:an?|the|one) \w+)?),? (?:if|as long as|when) [^.;]*\b(?:rules?|rows?|sudoku)\b[^.;]*",
            r"digits may repeat\1",
        ),
        (
            r"\brepeats? (?:are|is) (?:fine|ok|okay|allowed) as long as [^.;]*\b(?:rows?|rules?)\b[^.;]*",
            "digits may repeat",
        ),
        (
            r"(\bnever (?:go down|decrease|fall|drop)\b[^.;]*?),? (?:but|and|though|although) (?:two|neighbours|"
            rf"{DIGIT})"
            r"(?: in a row| next to each other| side by side)? (?:can|may|might) be (?:equal|the same)\b",
            r"\1 ",
        ),
        # Cells that touch.
        (r"\bno (knight|king)(?:'s)?[- ]move repeats?\b", r"no digit repeats at a \1's move"),
        (r", not side by side (?:and|or) not (?:above|below|on top of) (?:one another|each other)\b", " "),
        (
            r"\btouch(?: each other| one another| themselves)?,? even (?:if|when|though) (?:they|it is|it's|that is) "
            r"(?:only |just )?(?:touch |meet )?(?:only |just )?(?:at|in|by|on) (?:an?|the|one|their) corners?\b,?",
            "touch at a side or a corner",
        ),
        (
            r"\btouch(?: each other| one another| themselves)?,? (?:also|even) (?:only "
            r")?(?:over|via|across|by|at|in|on) "
            r"(?:an?|the|one|their) corners?(?: only)?\b,?",
            "touch at a side or a corner",
        ),
        (
            rf"\b(neighbouring {_SQUARES}),? (?:either )?(?:across (?:or|and) down|side by side or one above the "
            rf"other),?",
            r"\1",
        ),
        # Clues.
        (r"\b(numbers|clues) outside are round trips: ", r"\1 outside: "),
        (
            r"\bgo (?:to|from) the (\d{1,2}) (?:of|in) (?:that|the|each) (?:row or column|line),? (?:and )?"
            r"(?:carry on |continue |go on |move )?rightwards,? \(?or downwards\)?,? "
            r"(?=[^.]*\b(?:edge|far side|other side|round)\b)([^.]*?)"
            r"(?:until|till) you (?:reach|get to|meet|come to) the (\d{1,2})[.,;:]? (?:and )?add up (?:everything|all)"
            r"(?: the (?:digits|numbers))? (?:that )?(?:you )?(?:pass(?:ed)?|meet|met)(?: in between)?\b",
            r"the number outside is the sum of the digits met going from the \1 rightwards or downwards to the \3, "
            r"round the edge and on from the other side",
        ),
        (r",? X itself (?:being )?(?:one of them|included|counted)(?: among them)?\b,?", " "),
        (r"^\W*bishops?: (?=(?:each|the|every|numbers|arrows)\b)", " "),
        (
            rf"\bthe bread (?:of (?:our|the|this|each) sandwich |here )?(?:is|are) (?:the )?{_BREAD}(?:,|;)? and "
            r"([^.;]*?)\bwhat the filling ((?:in|of) (?:that|the|each) (?:row or column|row|column|line) )?adds "
            r"up to\b",
            r"\3the sum of the digits between the \g<low> and the \g<high> \4",
        ),
        (
            r"\b(?:the )?(sum|total) of as many ((?:digits|numbers|cells)) as (?:the|its) first "
            r"(?:digit|number|one|cell)"
            r"(?: of them| in (?:that|the) (?:row or column|line|direction))? "
            r"(?:says|tells|shows|indicates|names|gives),? "
            r"(?:(?:beginning|starting) with|counting|including) (?:that|this|the first|it)(?: digit| number| "
            r"one| itself)?\b",
            r"the \1 of the first X digits, where X is the first digit",
        ),
        (
            rf"(\bbetween (?:the )?){_BREAD},? in (?:whichever|whatever|either|any) order "
            r"(?:they|these(?: two)?|those(?: two)?|the two)(?: happen to)? (?:come|stand|appear|occur|are|lie)\b",
            r"\1\g<low> and the \g<high>",
        ),
        (r"\b(?:an )?onlooker (?:at|from|on) (?:that|this) (?:spot|place|side) sees\b", "can be seen from there"),
        (
            r"\b(?:on (?:your|the) way )?(?:you|we) (?:may|can|might) (?:meet|find|see|pass|have|use) the same "
            r"(?:number|digit) "
            r"(?:again|twice|more than once)\b",
            "digits may repeat",
        ),
        (
            r"\b(?:and )?the (?:answer|result) is the (?:number|clue|figure) (?=outside|at the (?:edge|side)|beside)",
            "the total is the number ",
        ),
        (
            r"\bfollow (?:the|this|its|each) (?:little |small )?arrow (?:slantwise|slanting|diagonally|at a slant)"
            r"(?: (?:through|across|into) (?:the grid|it))?,? and add (?:up )?"
            r"(?:everything|all|all (?:the )?(?:digits|numbers|squares|cells))(?: (?:that )?you "
            r"(?:meet|pass|find|see))?"
            r"\s*[:,;-]? (?:and )?(?:that|this|it|which) (?:is|gives|makes) the (?:number|clue|total|answer)\b",
            "the number outside is the sum of the digits along the diagonal of the arrow",
        ),
        (
            r"\b(?:each|every|a|any) (digit|number) (?:has to be|must be|should be|is(?: always)?) at least (\d) "
            r"(?:more|"
            r"higher|larger|bigger|greater) or (?:at least )?(?:\2 )?(?:less|lower|smaller) than the (?:one|number|"
            r"digit) "
            r"(?:just |right )?(?:before|next to|ahead of|behind|after) it\b",
            r"neighbouring \1s differ by at least \2",
        ),
        (r"(\bpalindrome\b[^.;:]{0,20}): (?:if|when) it (?:starts|begins)(?: with)? \d[^.;]*", r"\1"),
        (
            rf"\b{DIGIT} (?:that|which) are one apart (?:can't|cannot|may not|must not|are never|can never) (?:be "
            r")?(?:direct |"
            r"next-door )?neighbours,? left (?:and|or) right,? (?:and|or) up (?:and|or) down\b",
            "consecutive digits are never orthogonally adjacent",
        ),
        (
            r"^\W*if you (?:jump|move|hop) like (?:the|a) (knight|king) (?:in|at) chess(?:,? from any (?:square|"
            r"cell))?,? you "
            r"(?:may not|cannot|can't|must not|(?:can |will )?never) (?:land on|reach|meet|arrive at) the same "
            rf"{DIGIT}\b",
            r"cells a \1's move apart hold different digits",
        ),
        (
            r"(\b(?:every|each|all) Vs? and Xs? (?:is|are) (?:shown|given|drawn|marked|there)),? so (?:all "
            r")?(?:other|the other) "
            r"(?:neighbours|pairs|cells)[^.;]{5,60}",
            r"\1",
        ),
        (
            r",? so (?:where|if|when|wherever) there(?: is|'s) (?:no|none) ?\w*,? (?:neither|none) of "
            r"(?:these|them|those|the (?:two|rules))(?: is (?:true|so|the case)| holds| applies)\b",
            "",
        ),
        (
            r"^\W*(?:you|we) (?:won't|will not|don't|do not) (?:find|see|get) an? (\w+) (?:everywhere|wherever|in "
            r"all places "
            r"where|in every place where) (?:it is|it's|one is|it would be|there could be one|they are)(?: "
            r"possible)?\b",
            r"Not all possible \1s are given",
        ),
        (
            r"^\W*there (?:can|may|might|could) be (?:other|more) (?:neighbours|pairs|cells|squares)(?: like (?:that|"
            r"this|these)| "
            r"of this (?:kind|sort))? without an? (\w+)(?=\s*[.;!]|$)",
            r"Not all \1s are given",
        ),
        (
            rf"\bthe two {DIGIT} (?:in|of) (?:an?|each|every|the) (?:dotted|dashed) (?:pair|couple|double)(?: of "
            r"(?:cells|"
            r"squares))? have an? (difference|sum|product|ratio|quotient) (?:equal to|of|like) the (?:small |little "
            r")?(number"
            r"|figure)(?: (?:in|at) (?:the|its) corner)?",
            r"in a dashed cage of two cells the \1 of the digits is the small number in the corner",
        ),
        (
            r"\ba (?:tall|taller|high|higher) (?:building|tower|house) (?:blocks|hides|takes away) (?:your |the |our "
            r")?view of "
            r"(?:the )?(?:lower|shorter|smaller) (?:ones|buildings|towers|houses)(?: behind it)?",
            "taller buildings hide lower ones behind them",
        ),
        (
            r"\b(?:and )?the (?:number|digit) in (?:each|every|a) (?:cell|square|field) (?:is|tells|shows|gives) "
            r"the height of "
            r"(?:its|the|a|that) (?:building|tower|house)\b",
            "digits are heights of buildings",
        ),
        (
            r"^\W*(?:if|where|when) (?:there is|there's|you see|it says) an? (?:0|zero|nought),? the (?:1|"
            r"lowest)\b[^.;]{0,24}"
            r"\b(?:9|highest)\b[^.;]{0,12} (?:are|stand|sit|lie) (?:right |directly )?(?:next to each other|side by "
            r"side|"
            r"neighbours|adjacent)\W*$",
            " ",
        ),
        (
            r"^\W*with an? \d and an? \d (?:in|on|at) (?:the|its) (?:circles|ends|rings),? [^.;]{3,50}\W*$",
            " ",
        ),
        (r"\b(lines?) with circles at (?:both )?their ends (?=are\b)", r"\1 with circles at both ends "),
    )
)

_LEAD_IN = re.compile(r"^\W*(?P<lead>[^.;:]{5,90}): +(?=\S)")
_OF_A_PERSON = re.compile(
    r"\b(?:I|I'm|I've|my|our|me|we|you|your|his|her|him|wife|husband|grandson|member|friend)\b", re.I
)
_OF_A_RULE = re.compile(
    r"\b(?:digits?|numbers?|figures?|cells?|squares?|lines?|dots?|rows?|columns?|box(?:es)?|blocks?|cages?|arrows?|"
    r"signs?|"
    r"marks?|grid|sum\w*|total\w*|clues?|diagonals?|circles?|thermo\w*|letters?|not|n't|no|never|none|except|"
    r"unless|only|if|when|where|every|each|all|some|most|equal|same|differ\w*|odd|even|knights?|kings?|bars?|tints?|"
    r"shaded|ones?|regions?|areas?|rings?|shapes?|tubes?|paths?|touch\w*|neighbou?rs?|see|seen|count\w*|outside|edge|"
    r"between)\b",
    re.I,
)


def homely(sentence: str) -> str:
    """The sentence without what it tells of persons before a colon, and with these turns of phrase put plainly."""
    sentence = unstiffened(sentence.replace("’", "'"))
    lead = _LEAD_IN.match(sentence)
    if (
        lead
        and _OF_A_PERSON.search(lead["lead"])
        and not _OF_A_RULE.search(lead["lead"])
        and not _names_a_mark(lead["lead"])
    ):
        sentence = sentence[lead.end() :]
    return marks_put_plainly(substituted(sentence, _HOMELY))


def _names_a_mark(words: str) -> bool:
    """Whether one of the words is of a mark or a colour: what stands before the colon is spoken of after it."""
    forms = (form for word in re.findall(r"[a-z]+", words.lower()) for form in (word, word.removesuffix("s")))
    return any(named(PHRASES.get((form,), "")) in _OF_MARKS for form in forms)


_OF_MARKS = SUBJECTS | {"COLOUR", "STYLE", "SHADED"}
