"""Turns of phrase of printed rules for units, marks between cells, cages and clues, put plainly."""

from __future__ import annotations

from recognise.rules.substitution import in_any_case, substituted

_COUNT = r"(?:four|five|six|eight|nine|ten|twelve|sixteen|4|5|6|8|9|10|12|16)"
_COLOUR = r"(?:gr[ea]y|white|pale|tinted|shaded|coloured|blue|green|yellow|pink|red|orange|purple|dark|light)"
_MARK = r"(?:dots?|rings?|bars?|circles?|diamonds?|marks?|letters?|signs?|discs?|spots?)"
_ONE_AND_NINE = r"(?:the )?(?P<low>\d{1,2}) and (?:the )?(?P<high>\d{1,2})"
_A_LINE = r"(?:an?|the|that|this|each|every|any|its)"

_TURNS = in_any_case(
    (
        # What says nothing.
        (r"^\W*no givens?\b(?: (?:digits?|numbers?))?(?: at all)?(?:(?: this time| here| today)?,[^.;]*)?\W*$", " "),
        (r"^\W*use (?:each|every) (?:digit|number|figure) (?:just |only |exactly )?once\W*$", " "),
        (
            r"\bfor [-−–—]\s*(?:and|or)?\s*[÷/:],? (?:the (?:smaller|lower|lesser)(?: digit| number| one)? is "
            r"(?:taken|subtracted) from,? (?:and|or) divides,? "
            r"the (?:larger|bigger|greater|higher)(?: digit| number| one)?|"
            r"(?:start|begin|go) (?:from|with) the (?:large|bigge|greate)(?:r|st)(?: digit| number| one)?)\b",
            " ",
        ),
        (r"\(tens first[^()]*\)", " "),
        (r",? as if (?:every|each|any) (?:digit|number|one) were an? (?:chess )?king\b", " "),
        (r",? as if (?:every|each|any) (?:digit|number|one) were an? (?:chess )?knight\b", " "),
        (
            r"(?<=[a-z])[:;,] (?:so )?(?:next to|beside|by|alongside) an? \d,? (?:you(?:'ll| will)? )?"
            r"(?:(?:can |may |must |will )?(?:never|not) (?:find|see|put|have)?|"
            r"there is never|there cannot be)[^.;a-z]*"
            r"(?:an? )?\d(?: (?:or|nor|and) (?:an? )?\d)*(?=\s*[.;!]|$)",
            " ",
        ),
        (r"^\W*(?:and )?(?:just )?(?:one|a) (?:more|last|final|further) (?:thing|rule|point|word|twist)\s*[:,-]", " "),
        # Rows, columns, boxes.
        (r"\bdiagonals count,? (?:too|as well|also)\s*[:;,]", "diagonals "),
        (
            rf"\b(?:tinted or plain |plain or tinted )?(box|block|area)(e?s)? of {_COUNT}\b(?! (?:different|distinct))",
            r"\1\2",
        ),
        (
            rf"\bnone of the (?:(?:{_COUNT} (?:(?:big|large|bold|thick|outer|main|heavy) )?|"
            r"(?:big|large|bold|thick|outer|main|heavy) )squares|(?:\w+ )?(?:boxes|blocks))\b",
            "no box",
        ),
        (
            r"\bbox(es)? with (?:an? )?double (?:line|edge|border|outline)s?(?: (?:a?round|about) (?:it|them))?\b",
            r"thick-edged box\1",
        ),
        (
            r"\bput (?:an?|one) (?:digit|number) (from 1 to \d{1,2}) in(?:to)? (?:every|each) (?:square|cell)",
            r"use the digits \1",
        ),
        (
            r",? so that all (?:of )?(?:the )?\W?(?:greater than|less than|inequality|<)[^.;]{0,12} signs? (?:is|are) "
            r"(?:true|right|correct|obeyed|satisfied)\b",
            "; obey the inequality signs",
        ),
        (
            rf"\b(?:group|set|cluster|patch|block)(s?) of (?:{_COUNT} )?(?:joined |linked |connected )?({_COLOUR}) "
            r"(?:squares|cells)\b",
            r"\2 region\1",
        ),
        (
            r"\b(?:work|act|behave|count|serve)s? (?:like|as) (?:further|extra|additional|more) "
            r"(?:houses|units|boxes)\b",
            "are extra regions",
        ),
        (
            r"^\W*(?:it's |this is |here is )?your (?:usual|normal|ordinary) sudoku, (?:plus|with|and)\b",
            "normal sudoku rules apply; there are",
        ),
        (
            r"\btouch(?: each other| one another)?,? even (?:only )?(?:at|in|by|on) (?:an?|the|one|their) corners?"
            r"(?: only)?\b,?",
            "touch at a side or a corner",
        ),
        (
            r"^\W*(?:if|when|where|wherever) (?:you|we) (?:can|could|may) (?:jump|move|hop|go|get|ride) "
            r"(?:like a (?:chess )?knight from one (?:square|cell) to another|"
            r"from one (?:square|cell) to another (?:like|as) a (?:chess )?knight)\b",
            "if two cells are a knight's move apart",
        ),
        (
            r"^\W*(?:they|these) (?:are|were|have been) all (?:given|shown|marked|drawn|there|printed|present)\W*$",
            "all of them are given",
        ),
        (
            r"^[^:.]*\bX[^:.]*\bV[^:.]*: (?:the )?(?:two )?(?:digits|numbers) (?:sum|add up|add|come) to 10 \(X\)"
            r",? (?:or|and) (?:to )?5 \(V\)",
            "X means that two digits add up to 10, V means that two digits add up to 5",
        ),
        (
            rf"\ball (?:the )?(?:places|pairs|neighbours|spots) where (?:this|that|it) "
            r"(?:happens|is so|is the case|is true|holds) "
            rf"(?:have|has|get|gets|carry|bear) an? {_MARK}\b[^.;]*",
            "all of them are given",
        ),
        (
            r"\b(?:we|I) (?:have not|haven't|did not|didn't) (?:marked?|shown?|drawn?|printed|given?) "
            r"(?:all|every one|each) of (?:them|these)\b[^.;]*",
            "not all are given",
        ),
        (
            r"\b(?:it is|it's) (?:fine|ok|okay|all right|allowed)(?: if| that| for)? (?:an?|the same|one) "
            r"(?:digit|number|figure) (?:to )?(?:comes?|appears?|occurs?|stands?|is used|repeats?) "
            r"(?:more than once|twice|several times)\b",
            "digits may repeat",
        ),
        (r"\b(?:pale|faint|light|dim)(?:r|er)? (?=(?:cells|squares|regions?|areas?|patch(?:es)?)\b)", "shaded "),
        (
            r"^\W*(?:start|begin) with an? (?:ordinary|normal|usual|regular|standard|classic) sudoku\b"
            r"(?:,? then (?:look at|see|turn to|add|mind) (?:the|these|those|some|our) [a-z]+(?=\s*[.!;]))?",
            "normal sudoku rules apply",
        ),
        # Marks between cells.
        (
            r"(?:next to|beside|after) (?:each other|one another) "
            r"(?:(?:when you|as you|when we|as we) count|when counting|as one counts)\b",
            "consecutive",
        ),
        (
            r"\b(?:an?|one) (?:cell|digit|number|square) is (?:equal to )?the other (?:plus|minus) (?:one|1)\b|"
            r"\bone is the other (?:plus|minus) (?:one|1)\b",
            "the digits differ by 1",
        ),
        (
            rf"\(?\bthere (?:are|may be|can be|might be) (?:other|more|further) such (?:pairs|neighbours|places)"
            rf"(?: (?:without|with no) (?:an? |any )?{_MARK})?",
            "; not all are given ",
        ),
        (
            r"^\W*where there is neither(?: of (?:them|the two))?,? the (?:two )?(?:digits|numbers|cells) "
            r"(?:add up|sum|come) to neither (?:5|five|10|ten) nor (?:5|five|10|ten)\b",
            "all of them are given",
        ),
        (r"\blozenges?\b(?=[^.;]*\b(?:either side|both sides|beside it|neighbours)\b)", "diamond"),
        (r"\b(?:an? )?(?:price )?tags? (?=between (?:two|neighbouring|adjacent) (?:squares|cells))", "a small number "),
        (r"\b(?:can't|cannot|can not|is not|are not|isn't|not) (?:be )?(?:divided|divisible) by (?:two|2)\b", "is odd"),
        (r"\bcan be divided by (?:two|2)\b", "is even"),
        # Cages.
        (
            r"\+\s*(?:for|is|means) (?:the )?sum, \S{1,2} (?:for|is|means) (?:the )?product, "
            r"\S{1,2} (?:for|is|means) (?:the )?"
            r"difference,? (?:and )?\S{1,2} (?:for|is|means) (?:the )?quotient(?: of the (?:two )?(?:digits|numbers))?",
            " operation sign ",
        ),
        (
            r"\b(?:add(?:ed)?|sum)(?: them| up)* (?:for|if|where|with)(?: an?)? \+,? (?:and )?"
            r"(?:multipl(?:y|ied)|times)(?: them)? "
            r"(?:for|if|where|with)(?: an?)? [×x*][^.;]*",
            "as the operation sign tells",
        ),
        (r"\bmakes? the (?:answer|result) (?=(?:in|at|shown|given|printed)\b)", "give the total "),
        (r"\b(?:two|2)-(?:square|cell) cage(s?)\b", r"cage\1 of two cells"),
        (
            r"\b(?:the )?same (?:digit|number|figure) can be used again(?: in| within| inside)?(?: the| a)?(?: cage)?",
            "digits may repeat",
        ),
        (
            r"\b(?:framed|outlined|bordered) (area|region|shape)(s?)\b(?=[^.;]*\b(?:sums? to|adds? up to|adds? to)\b)",
            r"cage\2",
        ),
        (
            r"\b(?:each|every|a) cage (?:is|holds) an? (?:little |small |tiny )?(?:calculation|problem|exercise) "
            r"\(\+[^()]*\),? (?:whose|its) (?:answer|result|total) (?:stands|is|is given)\b",
            "the operation sign of each cage gives the total",
        ),
        (r"\boutlined pair(s?) of (?:squares|cells)\b", r"cage\1 of two cells"),
        # Lines.
        (r",? but not (?:necessarily |always )?in (?:numerical |any |the right )?order\b", ", in any order"),
        (
            r"(?:\btwo )?(?:numbers|digits) in a row (?=(?:on|along) (?:an?|the|each|every|any) (?:\w+ )?line)",
            "adjacent digits ",
        ),
        (
            r"(\b(?:on|along) (?:an?|the|each|every|any) (?:\w+ )?lines?\b[^.;]{0,4})two "
            r"(?:numbers|digits) in a row\b",
            r"\1 adjacent digits",
        ),
        (r"\bthe stuff (?=on|along|in)", "the digits "),
        (r"\bmay repeat (?:digits|numbers|figures)\b", "may hold equal digits"),
        (
            r"\badd up the squares (?=(?:on|along|under|in) (?:an?|the|its|each|every) (?:arrow|line|shaft))",
            "add up the cells ",
        ),
        (r"\b(cells|digits|numbers) under (an?|the|its|each|every) (?=arrow|shaft|line)", r"\1 on \2 "),
        (
            r"\b(?:an? |each )?(?:digit|number|figure|building|tower)s? (?:is|are|can be|counts as) "
            r"(?:visible|seen)(?: only)? "
            r"(?:if|when) no (?:larger|bigger|higher|taller|greater)(?: one| digit| number| building)? "
            r"(?:stands|is|lies|comes) (?:before|in front of|ahead of) (?:it|them)\b",
            "larger digits hide smaller ones behind them",
        ),
        (
            r"^\W*look (?:in |along |inwards? )?from (?:the )?(?:figures|numbers|clues)"
            r"(?: (?:along|at|on|round|around) (?:the )?(?:top|left|right|bottom|edges?|sides?)"
            r"(?:(?:,| and| or) (?:the )?"
            r"(?:top|left|right|bottom))*)?\W*$",
            "There are numbers outside the grid.",
        ),
        # Corners.
        (
            r"\b(?:small|little|tiny) (?:box|tag|label|disc)(e?s)? at (?:the |an? )?"
            r"(?:intersection|crossing|corner)s?\b",
            "circles at crossings",
        ),
        # Clues.
        (r"\bthemselves (?=(?:are|do|is) not\b|aren't|don't)", " "),
        (
            rf"\b(?:find|look for|locate|spot|seek) {_ONE_AND_NINE}(?: (?:in|of) (?:{_A_LINE} )?(?:row|column|line)"
            rf"(?: (?:or|and) (?:{_A_LINE} )?(?:row|column))?(?: (?:with|that has) a clue)?)?\s*(?:,|:|;| "
            rf"and|\.)? (?:then )?([^.;]*?)\b"
            r"(?:in )?between "
            r"(?:them|these(?: two)?|the two|those(?: two)?)\b",
            r"\3 between the \g<low> and the \g<high> ",
        ),
    )
)


def turned(sentence: str) -> str:
    """The sentence with each of these turns of phrase put plainly."""
    return substituted(sentence, _TURNS)
