"""Words that mean what stands around them lets them mean, each put in the plain word for it: `come back` of digits is
to repeat, `neighbours when you count` are consecutive, `seen when all before it are lower` is what towers do."""

from __future__ import annotations

from recognise.rules.substitution import COLOUR, DIGIT, DIGITS, MARK, in_any_case, substituted

_LOOK = r"(?:small |little |tiny |short |black |white |grey )?(?:wedge|arrow|pointer|triangle|chevron|arrowhead|tick)"
_EDGE = r"(?:edge|end|side|border|margin|rim)"
_GROW = r"(?:lower|smaller|shorter|less)"
_AREA = r"(?:cage|patch|pen|area|region|zone|block|blanket|room|field|enclosure|group|outline|shape)"
_SIDES = (
    rf"(?: sign)? (?:means|indicates|says|shows|tells(?: you)?|states)(?: that)? the {DIGIT} (?:on|to|at) "
    rf"(?:its|the) left "
    r"(?:is|must be) "
)
_CLUE = r"(?:numbers?|figures?|totals?|sums?|clues?)"
_STANDS = r"(?:stands?|is|are|appears?|sits?|has been|have been)(?: (?:given|printed|written|shown|put|set))?"


_FOR = r" ?(?:for|means?|is|gives?|stands for|shows|calls for|=) (?:the |their |its |a )?"
_OTHERS_SIGN = "|".join(
    rf"(?<!\w){sign}{_FOR}(?:{told})\b"
    for sign, told in (
        (r"\+", "product|multiplication|difference|subtraction|quotient|division"),
        ("[×*]", "sum|addition|difference|subtraction|quotient|division"),
        ("[-−–]", "sum|addition|product|multiplication|quotient|division"),
        ("[÷/]", "sum|addition|product|multiplication|difference|subtraction"),
    )
)
"""A sign in a cage that stands for what another one means; an X may well stand for a sum."""


def _counted(times: int, words: str) -> tuple[str, str]:
    """A mark that carries the number by which the sentence multiplies."""
    return (
        rf"\b({MARK}) (?:with|bearing|containing|holding|that (?:has|holds|bears)|marked|showing) (?:an? |the )?"
        rf"(?:figure |number |digit |small |little )*{times}(?: (?:in|on|inside|within) (?:it|them))?"
        rf"(?=[^.;]*\b(?:{words})\b)",
        r"\1",
    )


_USAGE = in_any_case(
    (
        # Digits.
        (
            r"\b(?:neighbours|next to (?:each other|one another)|side by side|next door)(?: to each other)? "
            r"(?:when (?:you|we|one) counts?|in counting(?: order)?|in the (?:order of counting|counting "
            r"row|number row)|"
            r"on the number line|as you count)\b(?! (?:by|in|from)\b)",
            "consecutive",
        ),
        (
            r"\bfollow (?:each other|one another|on)(?: directly| at once)? (?:when (?:you|we|one) counts?|in counting"
            r"(?: order)?|as you count)\b(?! (?:by|in|from)\b)",
            "are consecutive",
        ),
        (
            r"\b(?:are|stand|is|stay|come) following (?=(?:numbers|digits|figures)\b(?! (?:are|must|that|to|of)\b))",
            "are consecutive ",
        ),
        (
            r"\b(may|can|could|might|must not|may not|cannot|can't|do not|never) (?:come "
            r"back|return|reappear|come again|turn up "
            r"again|crop up again|occur again|appear again|come up again)\b",
            r"\1 repeat",
        ),
        (r"\buneven\b", "odd"),
        (r"\bmore (?:big|large|great)\b", "greater"),
        (r"\bmore (?:small|little)\b", "smaller"),
        (r"\bmore (?:far|distant)\b", "further"),
        (
            r"\b(have|has) (?:this|that|the|its) (?:number|figure) as (?:its |their |the |a )?(?:sum|total)\b",
            "add up to this number",
        ),
        (r"\b(?:corresponds?|is equivalent) to\b", "equals"),
        (
            r"\b(?:is|are|stays?|remains?) the same (?:when|if) (?:(?:you|we|one|it is|they are) )?reads? (?:it "
            r"|them )?",
            "reads the same ",
        ),
        (r"\bhalf[- ](?:year|hour|term|time|price|day|moon|century|board|pint|dozen|holiday)s?(?:ly)?\b", " "),
        (
            r"\bit is (?:forbidden|prohibited|not (?:allowed|permitted)) for ([^.;,]{3,60}?) to "
            r"(?=contain|hold|be|have|share|show)",
            r"\1 must not ",
        ),
        (r"\b(?:is|are) (?:restricted|limited|confined|reserved) (?:to|for) (?=(?:odd|even)\b)", "hold only "),
        (r"\b(is|are|must be) inferior to\b", r"\1 less than"),
        (r"\b(is|are|must be) superior to\b", r"\1 greater than"),
        (
            rf"(?:<{_SIDES}less|>{_SIDES}(?:greater|larger|more)) than (?:the|that) (?:{DIGIT} )?(?:on|to|at) "
            rf"(?:its|the) right\b",
            "points towards the smaller digit",
        ),
        (r"\bjoins? (?:in )?(?:the )?(?:fun|party|game|act)(?: with| by (?:having|holding))\b", "hold"),
        # Lines.
        (
            r"\bfrom (head|top|left|front|start) to (tail|bottom|right|back|end)(?: to tail)? (?:as|and|like|as "
            r"well as) "
            r"from \2 to \1\b",
            "in both directions",
        ),
        (
            r"\b(climb|rise|grow|increase|go up|get larger|get bigger)(s?) without (?:an? |any "
            r")?(?:pause|break|stop|rest|interruption|"
            r"let-?up)\b",
            r"\1\2",
        ),
        (
            r"\b(lines?|paths?|threads?|tracks?) (has|have|with|bears?|carr(?:y|ies)) (?:an? )?(?:\w+ "
            r")?diamonds? (?:at|on) "
            r"(?:both|each|either) (?:of its |of their )?ends?\b",
            r"\1 \2 a circle at both ends",
        ),
        (r"\b(?:diamond|diamonded) (?=(?:digits?|numbers?|values?|figures?)\b)", "circled "),
        (r"\b(filled|starts?|begins?|count(?:ed)?|read) (from|at) the round side\b", r"\1 \2 the round end"),
        (
            rf"\b({COLOUR}) (?:snake|worm|eel|serpent|caterpillar)(s?)\b(?=[^.;]*\b(?:reads?|mirror|palindrom\w*)\b)",
            r"\1 line\2",
        ),
        (r"\bextremit(?:y|ies)\b", "ends"),
        # Marks.
        (rf"\b({COLOUR}) point(s?)\b", r"\1 dot\2"),
        (r"\blooking[- ]glass(?:es)?\b", "mirror"),
        (r"\bbeaded (?=(?:\w+ ){0,2}(?:lines?|paths?|threads?|strings?)\b)", ""),
        (r"\b(?:dash(?:es)?[- ]and[- ]dot(?:s|ted)?|dot[- ]and[- ]dash(?:ed)?|dash[- ]dot(?:ted)?)\b", "dashed"),
        _counted(2, "two times|twice|doubles?|half"),
        _counted(3, "three times|thrice|triple|treble|a third"),
        _counted(4, "four times|quadruple|a quarter"),
        (
            rf"\b((?:pastel|coloured|colored|tinted|shaded|{COLOUR}) (?:patch(?:es)?|areas?|regions?|zones?)) "
            rf"with (?:an? )?"
            r"(?:dotted|dashed|thin|broken) (?:rim|edge|border|outline)s?\b",
            r"\1",
        ),
        (
            r"(?<=patches), each in its own colour,|(?<=areas), each in its own colour,|(?<=regions), each in "
            r"its own colour,",
            " ",
        ),
        # What is summed where a number stands.
        (
            rf"\b(?:where|if|when|wherever) (?:an?|the|any) (?:small |little |tiny "
            rf")?(?:figure|number|total|sum|clue) {_STANDS} "
            rf"(?:in|at) (?:its|the|their|a) (?:\w+ )?corner,? (?:then )?((?:they|the {DIGIT}|its "
            rf"{DIGIT}|these|all of them)\b"
            r"[^.;,]*?) to (?:it|that|this)(?: (?:number|figure|total|sum))?\b",
            r"\1 to the number in the corner",
        ),
        (
            rf"\b{_AREA}(?:es|s)? (?:with no|without(?: an?| any)?) {_CLUE} (?=(?:\w+ "
            rf"){{0,2}}(?:may|can|might|could)\b)",
            "cage §other=x ",
        ),
        (
            rf"\b((?:an?|any|every|each|the|those) (?:\w+ )?{_AREA}(?:es|s)?) (?:with no|without(?: an?| "
            rf"any)?|that (?:has|have) no|"
            rf"lacking an?) {_CLUE} (?:(?:still|also|just|merely|only|simply) "
            rf")*(?=(?:has|have|holds?|contains?) (?:no repeat|(?:all |only )?different)|(?:do|does|may|must) "
            rf"not repeat|cannot repeat|never repeat)",
            r"\1 ",
        ),
        (
            r",? (?:but|and|so|though) (?:you (?:must|have to|need to|will have to|should)|it(?: is|'s) up to "
            r"you to|you'll have to) "
            r"(?:find|work out|discover|figure out|calculate|guess) (?:its|the|their|that) (?:total|sum|number|value)s?"
            r"(?: (?:out )?(?:for )?yourself)?",
            "",
        ),
        (_OTHERS_SIGN, " §other=x "),
        (rf"(?<!\w)[x*](?={_FOR}product\b)", "×"),
        (
            rf"(?<=\W)([-−–]{_FOR})(?:larger|greater|higher|bigger)(?: \w+)? (?:less|minus) (?:the "
            rf")?(?:smaller|lesser|lower)(?: one)?\b",
            r"\1difference",
        ),
        (
            r",? (?:where|if|when|as far as|so far as|insofar as|provided|as long as|wherever) (?:the "
            r")?(?:rules (?:for|of) )?"
            r"(?:rows?(?:,| and)? columns?(?:,? (?:and |or "
            r")?(?:box(?:es)?|blocks?|regions?))?|(?:other|usual|normal) rules) "
            r"(?:permit|allow)s?(?: (?:it|this|them|that|so))?(?=\s*(?:[.;,]|$))",
            "",
        ),
        (
            rf"(\barrows?\b[^.;]*?\b{DIGIT} in (?:its|the|a) circle) (?:at|in) (?:its|the) "
            rf"(?:start|beginning|foot|base|tail)\b",
            r"\1",
        ),
        (
            r"\b((?:lines?|paths?|tracks?|threads?)\b)(?: with| (?:bearing|carrying|with)) (?:an? |the "
            r")?(?:small |little )?number "
            r"([^.;]*?\bto) this number\b",
            r"\1 \2 the number at its start",
        ),
        # Numbers beside the grid, and what is seen from them.
        (
            rf"(?<=numbers|figures), each with an? {_LOOK},|(?<=clues), each with an? {_LOOK},|(?<=totals), "
            rf"each with an? {_LOOK},",
            " ",
        ),
        (rf"\bfrom (?:that|the|its|this) {_LOOK}\b(?=[^.;]*\b(?:row|column|line|rank|file)\b)", "from there"),
        (
            rf"\b(?:an?|any|each|every) (?:{DIGITS}|tower|house|building) (?:is|can be) "
            rf"(?:seen|visible|counted) (?:when|if|only if|where|"
            rf"only when) (?:every|each|all|any) (?:{DIGITS}|towers?|houses?|buildings?|ones?)(?: (?:that "
            rf")?(?:stands?|lies?|comes?|is|"
            rf"are))? (?:in front of|before) it (?:is|are) {_GROW}",
            "higher towers hide lower ones",
        ),
        (
            rf"\b(?:an?|any|each|every) (?:{DIGITS}|tower|house|building) (?:is|can be) "
            rf"(?:seen|visible|counted) (?:when|if|only if|where|"
            rf"only when|unless|as long as) no (?:higher|taller|larger|bigger|greater) "
            rf"(?:{DIGITS}|tower|house|building|one) (?:stands|"
            r"lies|comes|is) (?:in front of|before) it",
            "higher towers hide lower ones",
        ),
        (
            r"\b(?:seen|visible|counted) (?:when|if|only if|where|only when|as long as) [^.;,]{3,30}(?:in front "
            r"of|before) it (?:is|are) "
            r"(?:higher|taller|larger|bigger|greater)\b",
            " §other=x ",
        ),
        (
            rf"\b(?:framed|boxed|ringed|bold|circled|coloured|{COLOUR})? ?({_CLUE}) "
            rf"((?:above|beside|below|outside|around|round|left of|"
            r"right of|next to|under|at the (?:edges?|sides?|margins?) of|and|or|to the left of|on top of) ?){1,4}"
            r"the (?:big |great |whole )?square\b",
            r"\1 outside the grid",
        ),
        # A way that goes on beyond the edge.
        (
            rf",? (?:jump|hop|leap|skip|step|spring|travel|go|carry|pass|"
            r"return|com|wander|walk|mov|wrapp)(?:e|ing|es|s)?(?: on)?(?: back)? "
            rf"from (?:the|one) (?:far |last |other )?{_EDGE}(?: of the \w+)?(?: back)? to (?:the "
            rf")?(?:near|other|opposite|first|starting)"
            rf"(?: one| {_EDGE})?(?: (?:if|when(?:ever)?|where|should)\b[^.;,]{{2,40}})?",
            ", past the edge and round to the start",
        ),
    )
)  # fmt: skip


def by_usage(sentence: str) -> str:
    """The sentence with these words put as what they mean there."""
    return substituted(sentence.replace("’", "'"), _USAGE)
