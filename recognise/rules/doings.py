"""What digits do, in whole fields of verbs and turns put as the plain words that the lexicon has: how they add up, how
far apart they are, whether they may come again.

Works on a sentence after the turns of phrase that other tables know, so that it meets only what those have left.
"""

from __future__ import annotations

from recognise.rules.substitution import DIGITS, MARK, in_any_case, substituted

LOWER, HIGHER = r"(?:smaller|lower|lesser|littler)", r"(?:larger|greater|bigger|higher)"
"""Words for the one digit of two and for the other."""
_NUMBER = r"(?:numbers?|figures?|totals?|clues?|values?|sums?|digits?|results?|targets?)"
_ADD = r"(?:added|summed|totalled|counted)(?: up| together)?"
_NO_OTHER = (
    r"^(?![^.]*\b(?:operat|multipl|product|differen|divid|division|subtract|quotient|ratio|sign|read|hide|"
    r"palindrome))"
)

_RELATIONS = in_any_case(
    (
        (rf"\bcomes? to (?=(?:the|its|that|a|their|this) (?:\w+ ){{0,2}}{_NUMBER}\b|\d|ten\b|five\b)", "add up to "),
        (
            r"\b(?:(?:taken |put |all )?together (?:give|make|total|equal|come to|yield|amount to|produce)|"
            r"(?:make|come to)(?: up)?(?= (?:10|5|ten|five)\b(?! (?:times|cells|digits)))|"
            r"combine to (?:make|give|form)|"
            rf"(?:when|if|once) {_ADD},? (?:give|make|yield|equal|come to|reach|produce)|tally (?:up )?(?:to|"
            r"with)|amount to|have (?:a|the) sum(?: of)?(?= the)|"
            rf"are equal in sum to|equal in sum|make a sum of|produce a (?:sum|total) of|reach a (?:sum|total) of)\b",
            "add up to",
        ),
        (r"\btogether (they|the (?:two )?\w+) ((?:never|do not|don't|cannot|must not) )(?=add up)", r"\1 \2"),
        (
            rf"{_NO_OTHER}([^.:]*\b{DIGITS}[^.:]*?) (?:give|make|form|yield|produce) (?=(?:the|its|that) (?:small "
            rf"|little |printed |given |outside )?{_NUMBER}\b(?! of))",
            r"\1 add up to ",
        ),
        (
            r"\bnumbers? (?=of (?:an?|the|each|every|this|that|these|those) \w+ (?:\w+ )?(?:are|is|must|may|"
            r"cannot|form|rise|add)\b)",
            "digits ",
        ),
        (r"\b(you|one|we) comes? to\b", r"\1 meet"),
        # At a corner too, or at a side.
        (
            r",? ?\b(?:be it |whether |even if |if |either |just |merely |only |even )*(?:at|by|along|through|via|"
            r"with|in|on) (?:an? |the |their |its |one )?(?:side|edge|border)s?,? (?:or|nor|and)(?: even| only| "
            r"just| merely)? "
            r"(?:(?:at|by|along|through|with|in|on) )?(?:only |just |merely )?(?:an? |the |their |its |one "
            r")?(?:corner|vertex|vertices|corner point)s?(?: only| alone| either)?\b",
            " even at a corner ",
        ),
        (
            r",? ?\b(?:be it|even if|even when|if|whether|albeit|though|even though|not even when)(?: it is| it "
            r"be| they do so| they do)? ?(?:only |just |merely |simply |solely )*(?:at|by|in|with|through) (?:an? "
            r"|the |one |their )?(?:single )?(?:corner|vertex|point|tip)s?(?: only| alone)?\b(?=[,.; ])",
            " even at a corner ",
        ),
        (
            rf"^(?![^.]*\b(?:rows?|columns?)\b)([^.;]*\b)(?:an?|each|every|any|the same|one) {DIGITS} (?:(?:can|"
            r"may|must|should|is to|will) )?(?:be (?:used|placed|written|entered|put|found)|appears?|occurs?|"
            r"comes?|stands?) (?:only|at most|just|no more than|not more than) (?:once|one time)\b",
            r"\1no digit may repeat",
        ),
        # What stands at the start of a line that adds up to it.
        (
            rf"\b{_NUMBER} (?:(?:printed|given|written|standing|that stands|shown|placed) )?(?:(?:in|on) (?:the|"
            r"a) (?:small |little )?(?:disc|circle|label|frame|tag) )?(?:(?:at|in) (?:its|the line's?|that "
            r"line's?) (?:start|beginning|first (?:cell|square)|head|starting (?:cell|point|square)|opening cell)|"
            r"at the (?:start|beginning|starting (?:cell|point|square))(?! of\b))(?!\w)",
            "small number at its start",
        ),
        (
            rf"^\W*(?:the |an? |each )?(?:small |little |tiny |printed )?{_NUMBER} (?:at the (?:start|beginning|"
            r"head)|in the (?:first|starting|opening) (?:cell|square)|where you (?:begin|start)|in the corner of "
            r"the first (?:cell|square))(?: of)? (?=[^.;]*\b(?:sum|total)\b)",
            "the small number at the start of ",
        ),
        # Past the edge and in again.
        (
            r"\b(?:past|over|off|across|beyond|through|round) the (?:edge|border|end|rim|side|margin)(?: of the "
            r"grid)?,? "
            r"(?:and )?(?:(?:back|in|again|on|round|around|out|continue|continuing|re-?enter|come|coming) )*"
            r"(?:(?:at|from|on|to|by) )?the (?:other|opposite|far) (?:side|end|edge|border)\b",
            "past the edge",
        ),
        (
            r"\b(?:continuing|re-?entering|resuming|coming (?:back|in|round)|popping (?:back|up)|carrying on|"
            r"starting "
            r"again|wrapping|going on|entering(?: again)?)(?: (?:in|again|back|round))* (?:at|on|from|to) the "
            r"(?:opposite|other|far) (?:edge|side|end|border)\b",
            "past the edge",
        ),
        (r"\b(?:set|setting|sets) (?:out|off) (?=(?:at|from|with)\b)", "start "),
        # What one arrives at by adding.
        (
            rf"\b(you|one|we) (?:(?:must|will|should|then|can|have to|ought to) )*(?:reach|arrive at|hit|end up with|"
            rf"land on|get to|come out at) (?=(?:the|its|that) (?:\w+ )?{_NUMBER}\b)",
            r"\1 get ",
        ),
        (r",? (?:(?:the |other |usual )?(?:rows?|columns?|boxes|rules?|and|,) ?)+ permitting\b", ""),
        (r"\((?:[^()]*,)? ?(?:so|thus|hence)(?: that)? [^()]*\)", ""),
        # How what is told of a line's first cell goes on.
        (
            r"\b(number|figure|total|value) (?:in|at) the (?:first|starting|opening) (?:cell|square) (?=of (?:an?|"
            r"the|each|every) )",
            r"small \1 at the start ",
        ),
        (
            r"\b(?:tells?|says?|shows?|gives?|states?|is|means) what (?:all )?(?:the |its )?([^.;,]*?) (?:adds? "
            r"up to|adds? to|"
            r"sums? to|comes? to|totals?|makes?|amounts? to)\b",
            r"is the sum of the \1",
        ),
        (
            r",? (?:its |the )?first (?:cell|square|digit) (?:being )?(?:included|counted)\b|,? including (?:its|"
            r"the) first (?:cell|square|digit)\b",
            "",
        ),
        # Neighbours on either side, and numbers that are neighbours.
        (
            r"\b(?:its|their|the|both) (?:predecessors?|successors?|previous|next|preceding|following)(?: one| "
            r"digit)?,? (?:and|or|as well as) "
            r"(?:its |their |the )?(?:predecessors?|successors?|previous|next|preceding|following)(?: one| digit)?\b",
            "its neighbours",
        ),
        (
            rf"^(?=[^.;]*\b{MARK}\b)([^.;]*\b(?:{DIGITS}|they) (?:are|must be|have to be)) (?:neighbou?ring|"
            r"neighbours|"
            r"adjacent ones)(?: ones| numbers)?(?=\W*$)",
            r"\1 consecutive",
        ),
        (r"\bproportion(?= (?:of )?\d)", "ratio"),
        (
            r"\b(?:corresponds?|is equivalent|are equivalent|agrees?|is identical|match(?:es)?|tall(?:y|ies)|"
            r"coincides?)(?: exactly)? "
            rf"(?:to |with )?(?=(?:the|its|that) (?:\w+ )?{_NUMBER}\b)",
            "is ",
        ),
        (r"\b(?:have|has) together (?=(?:the sum )?(?:\d|ten\b|five\b))", "add up to "),
        (
            r"\bquotient of (?:2|two)\b",
            "one is double the other",
        ),
        (
            rf"\b((?:joined|linked|connected|separated|marked) (?:by|with) an? (?:\w+ )?{MARK}) (?:only|exactly|"
            r"precisely|just) (?:if|when)\b",
            r"\1 if",
        ),
        (
            r"\bit is (?:allowed|permitted|possible|fine|ok|okay) (?:that|for) (?:the same|an?|equal|identical) "
            rf"{DIGITS} (?:to )?"
            r"(?:occurs?|appears?|stands?|is|are|be|comes?|repeats?)([^.;]*?) (?:several times|more than once|"
            r"twice|again|repeatedly)\b",
            r"digits may repeat \1",
        ),
        (
            rf"\bthere (?:can|may|might|could) be (?:equal|identical|the same|repeated|like) {DIGITS}\b",
            "digits may repeat",
        ),
        (
            r"\b(?:(?:do|does) not need to|(?:is|are) not (?:required|obliged|bound|forced) to|(?:have|has) no "
            r"need to)\b",
            "need not",
        ),
        (r"\b(?:is|are) not (?:forbidden|prohibited|excluded|ruled out|barred|banned)\b", "are allowed"),
        (rf"\bquotient of (?:the |their |its )?(?:two )?{DIGITS} is (?=\w+\b)", "ratio is "),
        (
            rf"\bthe {DIGITS} on one side is (?:the )?(?:direct |next )?(?:successor|neighbour) of (?:the "
            rf")?(?:{DIGITS}|one|that) on the other(?: side)?\b",
            "the digits are consecutive",
        ),
        (r",? (?:and|but) (?:equals?|is equal to|are equal to|match(?:es)?) neither(?: of them)?\b", ""),
        (
            r",? (?:if|when|whenever|where) (?:the|an) (?:edge|border|end)(?: of the (?:grid|row|column))? is "
            r"(?:met|reached|hit|passed|crossed)\b",
            "",
        ),
        (r":? ?(?:\d (?:for|means|is|=) (?:double|treble|triple|twice|quadruple)[,;]? ?(?:and )?){2,}", " "),
        (
            r"^\W*(?:please )?(?:note|mind|remember|notice)(?: that)?,? (?=(?:today|here|this time|we|the|there|"
            r"all)\b)",
            "",
        ),
        (
            r"^\W*(?:today|here|this time|this week|this month),? (?=we (?:use|have|are using|play with|work "
            r"with)\b)",
            "",
        ),
        (r",? (?:such as|like|as in|for example|e\.g\.|say),? \d(?: \d){1,6}\b", ""),
        # The same from both ends, and in any order.
        (r"\bone and the same\b", "the same"),
        (
            r"\b(?:from|to) (?:the )?(?:left|right|front|back|top|bottom|one (?:end|side)) as (?:from|to) (?:the )?"
            r"(?:right|left|back|front|bottom|top|other(?: end| side)?)\b",
            "from both ends",
        ),
        (
            r"\b(?:the )?second half (?:repeats|mirrors|is|equals|reflects) (?:the )?first(?: half)?(?:,? (?:but "
            r")?(?:in reverse"
            r"(?: order)?|reversed|backwards|mirrored))\b",
            "digits form a palindrome",
        ),
        (
            r",? (?:whose|and their|and the|the|their) order (?:is|being) (?:up to you|your choice|left to you|"
            r"left open|open|free|"
            r"for you to find|unknown|not given|immaterial|unimportant|arbitrary|of no importance)\b",
            " in any order",
        ),
        (r"\b(any order) (?:that |which )?you (?:wish|like|please|want|choose|fancy)\b", r"\1"),
        # Where chess pieces go.
        (
            r"\b(?:that |which )?a (?:chess )?(knight|king) (?:can|could|may|might|would) (?:reach|get to|jump to|"
            r"move to|hop to|"
            r"step to|land on)(?: (?:in|with|by) (?:one|a single) (?:move|jump|hop|leap|step))?(?= (?:have|hold|"
            r"contain|must|may|"
            r"cannot|never|do)\b)",
            r"a \1's move apart",
        ),
        (
            r"^(?=[^.;]*\b(?:knight|king|corner)\b)(?![^.;]*\b(?:not|cannot|never|no|two|"
            r"three)\b)([^.;]*\b(?:have|hold|contain|take|get|carry)) (?:an)?other "
            rf"{DIGITS}\b",
            r"\1 different digits",
        ),
        (r",? (?:not )?even (?:at|by|in|on) (?:the|their) corners?\b", " even at a corner"),
        (r"\btogether (?=(?:\d\d?|ten|five)\b)", "sum of "),
        # Steps between neighbours.
        (
            r"\b(?:goes? up or (?:goes? )?down|rises? or falls?|increases? or decreases?|changes?|jumps?|alters?|"
            r"leaps?|shifts?|moves?|varies|vary) "
            r"(?=by (?:at least|no less than|not less than|a minimum|\w+ or more))",
            "differ ",
        ),
        (
            r"\bfrom (?:one |a |each |any )?(?:cell|square|field|digit|number|space|step|stop) to (?:the "
            r")?(?:next|following|another)(?: one| cell| square)?\b",
            "from cell to cell",
        ),
        (r"\bwith (?:every|each) step\b(?=[^.;]*\bdiffer)", "from cell to cell"),
        (
            rf"\bsuccessive (?={DIGITS} (?:can |may |must |are |do |should )?(?:never|not|cannot|"
            r"n't)[^.;]*\b(?:side|adjacent|neighbour\w*|next|beside|border|edge|touch\w*)\b)",
            "consecutive ",
        ),
        (
            r"\b(?:that|which) border on (?:each other|one another)\b|\bbordering (?:on )?(?:each other|one "
            r"another)\b",
            "that share a border",
        ),
        # One apart, and how many times as large.
        (
            r"\b(?:one|1)(?: of (?:them|these|those|the two)| digit| number| value)? (?:is|must be|will be) "
            rf"(?:just |exactly |only |always |precisely )*(?:one|1) (?:more|above|up|{HIGHER}|less|below|"
            rf"{LOWER})(?: than| from)?(?: the other(?: one| digit)?)?\b",
            "they are consecutive",
        ),
        (
            r"\b(?:next (?:to|door to) (?:each other|one another)|side by side|neighbours?|adjacent) (?:in|on|by|as "
            r"to) (?:the (?:number|counting) (?:row|line|sequence|series|order)|value|size|counting|number(?! line)|"
            r"order of size|the count)\b",
            "consecutive",
        ),
        (
            r"\b(?:come|follow|stand) (?:straight |directly |right |immediately |just )*after (?:each other|one "
            r"another)(?: in (?:counting|value|order|size))?\b",
            "are consecutive",
        ),
        (
            r"\b(?:is|are|must be) (?:exactly |just |always )?(?:a |one )?half(?: of| as (?:large|big|high|"
            r"great) as| the (?:size|value) of)? (?=(?:the )?other\b)",
            "is half the ",
        ),
        (
            rf"\bdividing (?:one|the {HIGHER}(?: one| digit)?) by (?:the )?(?:other|{LOWER}(?: one| digit)?) "
            r"(?:gives|makes|yields|results in) (?:2|two)\b",
            "one digit is double the other",
        ),
        (
            rf"^(?=[^.;]*\b{MARK}\b)([^.;]*\b(?:{DIGITS}|they)) (?:come|follow|are) (?:directly |straight |right "
            r")?one after "
            r"(?:the other|another)\b(?! (?:on|along|in the (?:row|column|grid)))",
            r"\1 are consecutive",
        ),
        (
            rf"^(?=[^.;]*\b{MARK}\b)([^.;]*\b(?:hold|holds|contain|contains|have|show|carry|take)) successive "
            rf"(?={DIGITS})",
            r"\1 consecutive ",
        ),
        (
            rf"\bratio (?:of|between) (?:the |their |its )?(?:two )?{DIGITS} (?:is|equals|must be) (?=\d|two\b|"
            r"three\b)",
            "ratio is ",
        ),
        # Never the same, and always the same.
        (rf"\blike (?={DIGITS}\b(?! (?:\d|these|those)))(?<!look like )", "equal "),
        (
            r"\bno (?:symbol|sign|character|entry) (?=(?:is|may be|can be|must be|is to be|appears|occurs|comes|"
            r"may|can|must)\b)",
            "no digit ",
        ),
        (
            rf"\b{DIGITS} (?:are allowed|are free|are permitted) to be (?:equal|the same|alike|identical)\b",
            "digits may repeat",
        ),
        (
            rf"\b(?:equal|identical|the same|like|repeated|recurring|duplicate) {DIGITS} (?:are|is) (?:permitted|"
            r"allowed|fine|ok|okay|possible|"
            r"admissible|acceptable)\b",
            "digits may repeat",
        ),
        (
            rf"\byou (?:may|can|could|are free to|are allowed to) use (?:an?|the same|any|one) {DIGITS} (?:more "
            r"than once|twice|several times|again)\b",
            "digits may repeat",
        ),
        (
            rf"\b(?:an?|the same) {DIGITS} (?:may|can|might|could) (?:occur|appear|come|stand|be (?:used|found|"
            r"placed)|turn up|crop up|show up) (?:several times|twice|more than once|again|repeatedly|any number "
            r"of times)\b",
            "digits may repeat",
        ),
        (
            r"\bmirror images? of (?:itself|themselves|one another)\b|\bits own mirror image\b|\bthe same in "
            r"(?:reverse|the mirror|a mirror)\b",
            "palindrome",
        ),
        (
            rf"^\W*(?:reverse|turn round|turn around|flip|invert|swap round) (?:the )?{DIGITS} (?=(?:on|along) "
            r")([^.;]*?),? and (?:nothing changes|you get the same(?: digits| sequence)?|they (?:stay|remain|are) "
            r"(?:the same|unchanged)|the sequence is unchanged|it reads the same|they do not change)\W*$",
            r"the digits \1 form a palindrome",
        ),
        (
            r"\bthe same (?:whether|no matter whether|whatever|if) (?:you )?(?:start|begin|read|set out)\w*(?: "
            r"it)?(?: at| from)? (?:one end|the left|either end|the front)[^.;]*",
            "the same from both ends",
        ),
        (
            r"\bdigits at equal distances? from (?:the ends|both ends|the middle|its middle) are (?:equal|the "
            r"same)\b",
            "digits are the same from both ends",
        ),
        (r"\bfalls? (?=(?:strictly |properly |always |somewhere )*between\b)", "lies "),
        (r"\b(between\b[^.;]*?) in (?:value|size|magnitude|height)\b", r"\1"),
        # Which end of a tube is low.
        (
            r"\b(?:the )?(?:closer|nearer)(?: to)?,? (?:\w+ ){0,4}?(?:to )?(?:the |its )"
            r"(?:\w+ )?(?:bulb|ball|knob|blob|circle|round(?:ed)? (?:end|part)|circular end|thick end|swollen end|"
            r"bulbous end)\b"
            r"[^,.;]*, the (?:smaller|lower)\b[^.;]*",
            "on a thermometer digits increase from the bulb",
        ),
        # Once each.
        (
            r",? (?:and )?(?:with )?(?:none|nothing|no (?:digit|number|one)) (?:is )?(?:missing|left out|omitted|"
            r"lacking)(?:,| and|, and) (?:none|nothing|no (?:digit|number)) (?:is )?(?:doubled|repeated|twice|"
            r"double)\b",
            " exactly once",
        ),
        (
            r"\b((?:rows?|columns?|box(?:es)?|blocks?|regions?|squares?)\b[^.;]*?\b(?:1 to 9|digits|numbers|1-9|"
            r"§range=\S+)[^.;,]*?),? in (?:some|any|whatever|whichever) order\b",
            r"\1",
        ),
    )
)


def with_doings_plain(sentence: str) -> str:
    """The sentence with what digits do put in plain words."""
    return substituted(sentence, _RELATIONS)
