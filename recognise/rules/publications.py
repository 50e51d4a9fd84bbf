"""How magazines, beginners' books and competition booklets say what other pages say in fewer words.

Shapes that take the place of the boxes, digits that may come again, and lines, tubes and signs by how they look. Works
on a sentence as printed, before the other tables.
"""

from __future__ import annotations

from recognise.rules.substitution import COLOUR, DIGIT, in_any_case, substituted

_AREA = r"(?:regions?|areas?|pieces?|shapes?|zones?|parts?|boxes)"
_THICK = r"(?:thick|heavy|bold|fat|strong|heavier|thicker|bolder)"
_ODD = r"(?:irregular|odd|jigsaw|strange|crooked|oddly shaped|odd-shaped|irregularly shaped|irregular-shaped|curious)"
_OUTLINE = r"(?:lines?|borders?|outlines?|edges?|boundar(?:y|ies))"
_USUAL = r"(?:usual|normal|regular|ordinary|standard|square|classic|rectangular|traditional|3 ?[x×] ?3)"
_TWICE = r"(?:twice|more than once|again|several times|repeatedly|as often as you like|two times)"
_ON = r"(?:on|in|inside|within|along|under)"
_WHERE = (
    rf"{_ON} (?:an?|the|each|every|any|one|these|those|such|this|that|the same) (?:\w+ )?(?:lines?|cages?|"
    rf"arrows?|shafts?|areas?)"
)
_HIGHER, _LOWER = r"(?:larger|greater|bigger|higher)", r"(?:smaller|lesser|lower)"
_BALL = r"(?:blob|ball|bulge|knob|bubble|round blob|round ball|round knob|swelling|bobble|circle|disc|dot)"
_RISING = (
    r"(?:thermometer|increas|ris(?:e|ing)|climb|grow|go(?:es|ing)? up|ascend|get(?:s|ting)? (?:larger|bigger|higher))"
)

_PUBLISHED = in_any_case(
    (
        # Shapes in the place of boxes.
        (
            rf"\b(?:the )?{_ODD} {_AREA} (?:(?:with|bounded by|enclosed by|inside|within|marked by|outlined by) )"
            rf"(?:an? |the |their )?{_THICK} {_OUTLINE}",
            "irregular regions",
        ),
        (
            rf"\b(?:the )?(?:jigsaw) ({_AREA})\b(?! sudoku)",
            r"irregular regions",
        ),
        (
            rf"\b(?:the )?(?:{_AREA}) (?:with|bounded by|enclosed by|marked by) (?:the )?{_THICK} {_OUTLINE}"
            r"(?:,? (?:which|that) (?:have|come in|are of) (?:all (?:sorts|kinds) of|various|different|odd|many) "
            r"(?:shapes|forms))",
            "irregular regions",
        ),
        (
            rf"^\W*(?:these|those|the|such) (?:shapes|regions|areas|pieces) (?:replace|take the place of|stand in for|"
            rf"are used instead of) (?:the )?(?:{_USUAL} )?boxes\W*$",
            "The regions are irregular.",
        ),
        (
            rf"^\W*(?:the first thing to notice is that )?(?:(?:the|this|our) grid has|there are) no {_USUAL} boxes"
            r"(?: (?:this (?:week|month|time)|today|here|in this (?:grid|puzzle|one)))?\W*$",
            " ",
        ),
        (
            rf"^\W*instead,? (?:of boxes,? )?{_THICK} {_OUTLINE} (?:divide|split|cut|part) (?:it|the grid) "
            rf"(?:up )?into (?:nine |eight |six |\d )?{_ODD} {_AREA}\W*$",
            "The regions are irregular.",
        ),
        (
            rf"\b(?:the )?boxes are (?:not (?:regular|square|rectangular|rectangles|the usual ones)|irregular)"
            rf"(?: (?:today|here|this (?:time|week|month)))?: (?:look at the {_THICK} {_OUTLINE},? )?"
            rf"(?:each|every) (?:piece|region|area|shape) (?=(?:holds?|contains?|has)\b)",
            "each irregular region ",
        ),
        (
            r"\bchaos-free jigsaw: ",
            "",
        ),
        # Digits that may come again.
        (
            rf"\b(?:an?|the|each|every|any|these|those) ((?:\w+ )?(?:line|cage|arrow|shaft|thermometer)s?) "
            rf"(?:may|can|could|"
            rf"might|is allowed to) "
            rf"(?:contain|hold|have|show|include) the same {DIGIT} {_TWICE}",
            r"digits may repeat on a \1",
        ),
        (
            rf"\b(?:the setter allows|we allow|you may (?:use|put|write|place|have)|you can (?:use|put|write|"
            rf"place|have)|"
            rf"(?:you|we) are allowed to (?:use|put|write|place|have|repeat)|it is (?:allowed|fine|permitted) to "
            rf"(?:use|put|write|place|have)) the same {DIGIT} {_TWICE} ({_WHERE})",
            r"digits may repeat \1",
        ),
        (
            rf"\b(?:the same|an?) {DIGIT} (?:can|may|could|might) (?:be|stand|come|appear) ({_WHERE}) {_TWICE}",
            r"digits may repeat \1",
        ),
        (
            rf"\b({_WHERE}),? an? {DIGIT} (?:may|can|could|might) (?:come|appear|be|stand|be used|occur) {_TWICE}",
            r"digits may repeat \1",
        ),
        (
            rf",? (?:and )?it does(?: not|n't) matter if an? {DIGIT} (?:comes|appears|is used|occurs|is met) {_TWICE}"
            r"(?: on (?:the|its|your) way| there| here)?",
            ", digits may repeat",
        ),
        (
            rf",? (?:without any promise|with no promise|but we do not promise|with no guarantee) that (?:the |"
            rf"its )?{DIGIT} "
            rf"{_ON} (?:an?|the|each) (cage|line|area) are (?:all )?different",
            r", digits may repeat in a \1",
        ),
        (
            r"(\bmay (?:be repeated|repeat)\b(?:(?! only)[^.;,]){0,40}?),? (?:if|as long as|provided(?: that)?|where) "
            r"(?:the )?(?:rows?|columns?|boxes|box|sudoku|cells|rules)\b[^.;]*",
            r"\1 ",
        ),
        # Tubes and arrows by how they look.
        (
            rf"\b(?:an?|the|each|every) (?:{COLOUR} )?line with an? {_BALL} at (?:one end|its (?:start|foot|"
            rf"base|end)|the "
            rf"(?:start|bottom)) is (?:an?|the) thermometer\b([^.;]*?)\b{_BALL}\b",
            r"thermometer\1bulb",
        ),
        (
            rf"\b((?:an?|the|each|every) (?:{COLOUR} )?)line with an? {_BALL} at one end asks for increasing digits"
            rf"(?:,? (?:with )?the {_BALL} (?:having|holding|with|has) the (?:lowest|smallest)(?: {DIGIT}| one)?)?",
            r"digits on \1thermometer increase from the bulb",
        ),
        (
            rf"^(\W*where an? (?:{COLOUR} )?line has an? )(?:{_BALL}) at (?:one|its) end,? {DIGIT} (?:must |have to )?"
            rf"(?:climb|rise|increase|grow|go up) as (?:you|they|we) (?:leave|move away from|go away from) the {_BALL}",
            "digits on a thermometer increase from the bulb",
        ),
        (
            r"\bfrom (?:square to square|cell to cell|one (?:square|cell) to the next),? "
            r"(?:starting|beginning) (?:at|from|with|in) (?:the|its) (?:round )?bulb",
            "from the bulb",
        ),
        (
            rf"\b(?:the )?{DIGIT} become,? from the (?:round|bulb) end to the other end,? (?:always|ever|"
            rf"steadily) {_HIGHER}",
            "the digits increase from the bulb to the tip",
        ),
        (
            rf"\b(?:the )?{DIGIT} become from the (?:round|bulb) end to the other end (?:always|ever|steadily) "
            rf"{_HIGHER}",
            "the digits increase from the bulb to the tip",
        ),
        (rf"\b(?:an?|the|each) (?:{COLOUR} |thin |thick )?lines? with (?:an? )?arrow ?heads?", "an arrow"),
        # Lines.
        (
            r"\b(lines?) without (?:an? |any )?(?:circles?|rings?|bulbs?|arrow ?heads?)(?: at (?:its|their|the) "
            r"ends?)?\b",
            r"\1",
        ),
        (r"^\W*(?:double-ended|two-ended|five-apart|\w+-apart|same-sum|equal-sum) lines: ", ""),
        (
            r"\bline with an? (?:diamond|square|dot|ball|disc) at (?:each|either) end\b",
            "line with a circle at each end",
        ),
        (
            rf"\b((?:lie|lies|are|is|falls?)(?: in value)? between (?:those|the {DIGIT}|the ones|the values) "
            rf"(?:in|on|of) "
            r"(?:the|its|these|those)(?: two)?) (?:diamonds|squares|dots|balls|discs)\b",
            r"\1 circles",
        ),
        (
            rf"\b(away from|from|than) (?:the )?(?:(?:{DIGIT}|ones?) )?(?:just )?(?:before (?:it )?and (?:the one )?"
            r"(?:just )?after it|before and after(?: it)?|before and the one after(?: it)?)",
            r"\1 its neighbours",
        ),
        (
            r"\btake any two (?:cells|squares|neighbours) (?:that|which) follow (?:one another|each other|on)\b",
            "look at adjacent cells",
        ),
        (
            r"\bbetween (?:cells|squares) (?:that|which) follow (?:one another|each other) on it\b",
            "between adjacent cells on it",
        ),
        (
            r"^\W*(?:but )?they (?:do not|don't|need not|may not|don't need to) (?:have to |need to )?(?:be|"
            r"stand|come|appear|"
            r"follow) (?:in (?:the )?(?:right |proper |numerical |that |any particular )?order)(?: on the line)?"
            r"(?:: (?:\d,? ?(?:and )?)+ (?:would be|is|are) (?:fine|allowed|possible|right|good)(?: as well| too)?)?",
            "they are in any order",
        ),
        # Signs.
        (r"\b(?:pointed|angle|angled|sharp) brackets?(?= (?:between|on)\b)", "inequality sign"),
        (r"(?<=[<>] )compare two (?:squares|cells) and(?: always)? (?=point)", "between cells "),
        (
            rf"\b(?:{COLOUR} |small |little )*triangles? (?=points? to (?:the )?{_LOWER}\b)",
            "inequality sign ",
        ),
        (rf"\b(points? to (?:the )?)({_LOWER}|{_HIGHER}) of (?:the )?two (?:cells|squares|{DIGIT})\b", r"\1\2 digit"),
        # Pairs.
        (r"\bletter ([VX]) is for (?=an? sum)", r"two cells with \1 between them have "),
        (r"\bin the ratio (\d) to (\d)\b", r"in the ratio \1:\2"),
        (
            r"\bfields? (?:which|that) lie in the distance of an? (?:chess )?(knight|king)'s (?:jump|move|step)",
            r"cells a \1's move apart",
        ),
        (
            r"^\W*anti-(knight|king): nor can cells separated by",
            r"anti-\1: no equal digits in cells separated by",
        ),
        (
            r"\bno two cells within an? (chess )?king's move of each other\b",
            "no two cells a king's move apart",
        ),
        (r"\btouches? diagonally or otherwise\b", "touches at a side or a corner"),
        (r"\bthe setter adds an? (?:\w+ )?(?:condition|rule)(?: this time| today)?: ", ""),
        # Clues outside.
        (
            rf"\b(?:the )?{DIGIT} (?:before|in front of) an? rows? (?:or|and) (?:over|above) an? columns?\b",
            "number outside the grid",
        ),
        (
            r"^\W*a digit (?:is|counts as) (?:visible|seen) (?:when|if) (?:everything in front of it is "
            r"(?:lower|smaller)|"
            r"no (?:greater|larger|higher|bigger|taller) (?:digit|one) (?:precedes|comes before|stands before) it)\W*$",
            "Taller digits hide lower ones.",
        ),
    )
)


def published(sentence: str) -> str:
    """The sentence with these turns of phrase put plainly."""
    return substituted(sentence.replace("’", "'"), _PUBLISHED)
