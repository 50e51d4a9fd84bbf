"""How chatty columns, bulletins and stiff translations, and strangers' pages, speak of marks, put plainly."""

from __future__ import annotations

from recognise.rules.substitution import COLOUR, DIGIT, in_any_case, substituted

_MARK = r"(?:dots?|spots?|bars?|diamonds?|discs?|circles?|rings?|signs?|letters?|marks?)"
_LOWER, _HIGHER = r"(?:smaller|lower|lesser)", r"(?:bigger|larger|greater|higher)"
_ONE_BOX = r"(?:one|an?) (?:big |large )?(?:box|block|square|region) (?:in)?to (?:the next|another|a new one)(?: one)?"

_MARKS = in_any_case(
    (
        # Sums and the like.
        (
            rf"\b((?:{_MARK}|joined|linked|[VX])\b[^.;]{{0,40}}?) (?:always )?(?:make|give|reach)s? "
            rf"(\d{{1,2}}|five|ten) together\b",
            r"\1 add up to \2",
        ),
        (r"\b((?:sum|product|difference|quotient)\b[^.;,]{0,40}?) amounts? to\b", r"\1 is"),
        (
            r"\bpairs? of squares with an? (?:thick|heavy|bold|dotted|dashed) (?:border|outline|edge)s?\b",
            "cages of two cells",
        ),
        (
            r"\b((?:squares|cells|digits|numbers) (?:with|joined|linked|sharing)\b[^.;,]{3,40}?) (?:always )?make "
            r"(\d{1,2}|five|ten)\b",
            r"\1 add up to \2",
        ),
        (
            r"(?:,|;| and) two with an? ([VX])(?: between them)? make (\d{1,2}|five|ten)\b",
            r"; two cells with \1 between them add up to \2",
        ),
        (
            r"\bpairs? of (?:squares|cells) (?:in|inside|within|with) an? (?:frame|outline|border)\b",
            "cages of two cells",
        ),
        (
            rf"(\bcages?\b[^.;]*), (?:using|with) (?:each|every) {DIGIT} (?:only|at most|just) once(?: (?:per|in "
            rf"(?:an?|each)) \w+)?",
            r"\1, without repeats",
        ),
        (
            r"\bis at least (\d) (?:more|bigger|higher|larger|greater) or (?:at least )?(?:\1 "
            r")?(?:less|smaller|lower) than\b",
            r"differs by at least \1 from",
        ),
        (r"\bamounts to the double of\b", "is double"),
        (
            r"^\W*(?:one|two|three|some|a few|several) (?:cages?|enclosures?|boxes with a dotted edge) "
            r"(?:comes?|is|are|goe?s?) without (?:its|their|a|any) (?:figure|total|number|sum|clue)s?\W*$",
            "Some cages have no total.",
        ),
        (
            r"\btwo (?:squares|cells) on (?:either|each) side of a number: add (?:them|the two)(?: up| together)? "
            r"(?:and you get|to get) (?:it|that number|the number)\b",
            "the number between two cells is the sum of their digits",
        ),
        (
            rf"\ban? (?:{COLOUR} |small |little )*(?:label|tag|badge|sticker) between two (?:cells|squares) "
            r"(?:states|gives|shows|tells|is) their (?:total|sum)\b",
            "the number between two cells is the sum of their digits",
        ),
        (rf"\b({DIGIT} in an?) dark (?=(?:dot|disc|spot)\b)", r"\1 "),
        (r"\bone of (?:its|the) two neighbours is than the other\b", "one digit is than the other"),
        # Marks that are all there, or not.
        (rf"\b(?:do not|don't) read (?:anything|too much) into an? (?:missing|absent) {_MARK}", "not all are given"),
        (
            r"\b(?:I|we)(?: have|'ve)? put in every [VX] and [VX] (?:that )?(?:I|we) could\b[^.]*",
            "all possible letters are given",
        ),
        (
            rf"\b(?:we|I)(?: have|'ve)? (?:drew|drawn|put in|printed|marked|shown?|given?) all (?:of )?the ({_MARK}) "
            r"(?:that )?(?:there are|we could|I could|fit)\b",
            r"all possible \1 are given",
        ),
        (
            r"^\W*(?:but )?not (?:every|all)(?: such)? pairs?(?: (?:that|which|of)\b[^.;,]{3,40}?)?,? "
            rf"(?:has|have|gets?|carry|carries|bears?) (?:an? )?({_MARK})(?:,? (?:though|however))?(?=\s*[.;!]|$)",
            r"not all possible \1s are given",
        ),
        (
            rf"^\W*(?:if|where|when) (?:they|two (?:cells|squares|numbers)|there) "
            rf"(?:(?:do not|don't) have(?: an?| any)?|have no|(?:is|are) no|(?:isn't|aren't)(?: an?| any)?) {_MARK}"
            rf"(?: between them)?,? (?:then )?(?:they|it|the (?:two )?{DIGIT}) "
            r"(?:are not|aren't|do not|don't|is not|isn't)\W*$",
            "all of them are given",
        ),
        (
            r"\bthere (?:may|might|could|can) be (?:other|more)(?: such)? pairs?(?: "
            r"(?:that|which|of)\b[^.;,]{3,40}?)??,? "
            r"(?:(?:but|and|that|which) )+(?:have|has|are|carry|(?:we|I) (?:have )?left) (?:no|without|not)\b[^.;]*",
            "not all are given",
        ),
        (
            r"^\W*(?:some|a few|many|several) (?:(?:pairs |neighbours |of those )?(?:that|which) "
            r"(?:qualify|fit|would do)|"
            r"(?:such )?pairs) (?:are|were|have been) (?:left )?(?:unmarked|without (?:one|a dot)|not marked)\W*$",
            "not all are given",
        ),
        (
            rf"^\W*(?:some|a few|many|several) (?:possible |such |of the )({_MARK}) are "
            r"(?:left out|missing|omitted|not (?:shown|drawn|marked|given))\W*$",
            r"not all \1 are given",
        ),
        # Signs.
        (r"\b(signs?|opening|arrow ?heads?) shows? (?:to|towards) the\b", r"\1 points to the"),
        (r"\bopening of the (?:inequality )?sign points to\b", "sign opens towards"),
        (r"\b(?:crocodile|alligator)(?:'s)?(?: (?:mouth|jaw|beak)(s?))?\b", r"inequality sign\1"),
        (
            r"^\W*look at the ((?:inequality )?signs?|arrow ?heads?|wedges?)((?: between [^:;,.]{3,30})?)[:,] they\b",
            r"the \1\2 ",
        ),
        (
            r"\b(?:beaks?|mouths?|jaws?) (?:always |which )*(?:bites?|eats?|swallows?|wants?|gobbles?|opens?)(?: up)? "
            rf"(?:at |to |towards )?(?=the {_HIGHER})",
            "inequality sign opens towards ",
        ),
        (
            rf"\bthe {DIGIT} (?:in the (?:square|cell) )?(?:at|on|by) the (?:point|tip|sharp end|pointed end) of "
            r"(?:an?|the|each|every) (arrow ?head|sign|wedge|chevron) is "
            rf"{_LOWER}(?: than the {DIGIT} (?:on|at) (?:its|the) other side)?",
            r"the \1 points to the smaller digit",
        ),
        (r"\b(arrow ?heads?|wedges?|chevrons?) on (?:the )?(?:grid )?lines? (?=points?\b)", r"\1 between cells "),
        # Pairs.
        (
            r"\b(?:that |which )?(?:come|follow|go)s? (?:one after (?:the other|another)|after (?:one "
            r"another|each other))"
            r"(?:,? (?:when|as|if) (?:you|we|one) counts?(?: up)?|,? in counting)\b",
            "are consecutive",
        ),
        (r"\b(?:circled|ringed) [2-4] (?=between\b)", "circle "),
        (
            rf"(\b{_MARK} (?:separate|join|link|connect|stand between|sit between) )(?:two )?(?:numbers|digits) "
            rf"(?:that|which) are "
            r"(?:direct |next-door )?neighbours\b",
            r"\1consecutive digits",
        ),
        (
            rf"\bthe \w+ (?:up)?on (?:one|an?|the same) ((?:{COLOUR} )?(?:line|path|route)) carry "
            rf"(?=(?:successive|consecutive) )",
            r"the digits on a \1 are ",
        ),
        (
            rf"\b(successive|consecutive) ({DIGIT})(,[^.;]*?)?,? (?:though|but|and|which) (?:they |these |the {DIGIT} "
            r")?"
            r"need not (?:\w+ ){1,2}in order\b",
            r"consecutive \2\3, in any order",
        ),
        (
            rf"\b{DIGIT} (?:that|which) (?:come|stand|are|follow) (?:one after the other|(?:directly |right )?after "
            rf"each other|"
            r"next to each other) (?:on|along) it\b",
            "adjacent digits on it",
        ),
        (rf"^\W*follow (?:the|an?|each|any) ((?:{COLOUR} )?lines?): ", r"on the \1, "),
        (
            r"^\W*(?:an?|the|each|every) (?:\w+ )?(?:line|rope|string|path|cord) (?:is|are) "
            r"(?:made fast|tied|attached|fastened|fixed|joined) (?:to|between) (?:an? |two "
            r")?(?:rings?|circles?|bubbles?) "
            r"(?:at|on) (?:either|each|both|its) ends?\W*$",
            "There is a line with circles at both ends.",
        ),
        # Lines.
        (r"\b(?:flies|travels|sails|drives|swims|rolls) through\b", "passes through"),
        (
            rf"\b((?:[a-z]+ )?lines?) (?:splits?|breaks?|divides?|(?:is|are) (?:split|broken|divided|cut))(?: "
            rf"up)? into "
            rf"(?:pieces|parts|sections|bits) (?:where|when|wherever|whenever|each time) (?:it|they) "
            rf"(?:goes|go|crosses|cross|passes|pass|moves|move) from {_ONE_BOX}",
            r"\1 is divided into parts by box borders",
        ),
        (
            rf"\bwork out the (?:sum|total) of its (?:cells|squares|{DIGIT}) (?:box by box|in each box),? and "
            rf"you(?:'ll| will)? "
            r"(?:always )?get the same (?:result|total|answer|sum)(?: each time| every time)?",
            "the digits on the line have the same sum in each box",
        ),
        (r"\b(lines?\b[^.;:]{0,30}) acts? (?:like|as) an? \w+:", r"\1:"),
        (
            r"^\W*(?:one|two|three|some|a few) (?:lines|marks|things|rules|signs|dots) to "
            r"(?:learn|know|remember|watch(?: for)?): ",
            " ",
        ),
        (
            rf"\b(?:wherever|whenever|where|when|each time|every time) an? ((?:{COLOUR} )?(?:line|ribbon|path)) "
            rf"(?:crosses|passes|goes|runs|moves) from {_ONE_BOX},? it (?:takes its (?:sum|total) along|"
            rf"starts an? new (?:sum|total))\s*(?:[:;,-]|,? and) (?:there are )?(?:equal (?:totals|sums) in each box|"
            r"all (?:the )?(?:totals|sums)(?: (?:on|of|along) (?:one|a|each|the) \w+)? are (?:equal|the same))",
            r"the digits on a \1 have the same sum in each box",
        ),
        (
            r"\b(?:every|each) time it (?:goes|comes|gets|runs|passes|crosses) (?:in)?to an? "
            r"(?:different|new|other) box,? "
            r"the (?:numbers|digits) on it in that box\b",
            "the digits on the line in each box ",
        ),
        (
            r"\bthe number (at the (?:start|end|beginning) of (?:an?|the|each|every) (?:[a-z]+ )?line is the "
            r"(?:sum|total) of "
            r"(?:all )?(?:the )?digits (?:on|along) (?:it|the line|that line))\b",
            r"the small number \1",
        ),
        # Circles at crossings.
        (
            r",? (?:and )?as (?:often|many times) as (?:(?:it is|they are|it's) "
            r")?(?:listed|given|printed|shown|written)\b",
            " ",
        ),
        (
            r"^\W*(?:a|any|the) (?:clue|circle) (?:with|that has|showing|which has) the same (?:number|digit) twice "
            r"(?:needs|means|wants|asks for) (?:that|this|the) (?:number|digit) twice\b",
            "digits given twice occur twice",
        ),
        (
            r"\b((?:an?|each|every|the) (?:\w+ )?(?:bubble|circle|ring|dot|disc)) touches (?:the )?four "
            r"(?:squares|cells),? and "
            r"the (?:numbers|digits) in (?:the (?:bubble|circle|ring|dot|disc)|it) (?:go|belong|stand|fit) (?:in|into) "
            r"(?:those|these)(?: four)? (?:squares|cells)\b",
            r"the digits in \1 stand in the four cells around it",
        ),
        # Thermometers.
        (r"\bup or (?:level|flat|equal),? (?:but )?never down\b", "the digits never decrease"),
        (
            r"\bgo up\b([^.;]*)\.? They (?:can|may|might)(?: also| even)? (?:stay|remain|be) (?:the same|equal|level)"
            r"[^.;,]*(?:,? but (?:they )?(?:never|must not|mustn't|can't|cannot|may not|do not|don't) "
            r"(?:go down|fall|drop|decrease|get smaller|sink))?",
            r"never decrease\1",
        ),
    )
)


def marks_put_plainly(sentence: str) -> str:
    """The sentence with each of these turns of phrase put plainly."""
    return substituted(sentence, _MARKS)
