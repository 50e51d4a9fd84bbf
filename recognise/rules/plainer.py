"""Turns of phrase of ordinary rules texts put in the plain words that the lexicon has, before they are looked up."""

from __future__ import annotations

from recognise.rules.substitution import in_any_case, substituted

_NOT_ALL = "; not all are given "
_DOT = r"(?:dots?|bars?|circles?|diamonds?|discs?|spots?|marks?|letters?|numbers?|signs?|lozenges?|blots?|ticks?|[XV])"
_HIGHER = r"(?:larger|greater|bigger|higher|smaller|lesser|lower)"
_SEVERAL = r"(?:more than once|more than one time|twice|several times|repeatedly|two or more times)"
_RING = r"(?:circle|ring|oval|round (?:shape|end|part)|bulb)"
_NUMBER = r"(?:number|figure)"

_PLAINER = in_any_case(
    (
        # What says nothing.
        (r"\bit is not (?:said|told|given|known|stated) (?:which|whether|where|how|what)\b[^.;]*", " "),
        (
            r"^(?:no (?:lines|dots|cages|arrows|bars|thermometers|circles|marks|tricks)"
            r"(?:, |,? and |,? or |[.!]?$)){2,}",
            " ",
        ),
        (
            r"^\W*(?:part|section|step|rule|worksheet|(?:\w+ )?puzzle) (?:[A-H]|\d{1,3})(?: [-–—] [A-Z]\w+)?\W*$",
            " ",
        ),
        (rf"\bbetween (?:a )?1 and (?:a )?2,? (?:either|any) {_DOT} may [^.;]*", " "),
        (
            r"^\W*(?:put|write|place|enter) (?:an?|one|1) (?:digit|number|figure) (?:in|into) (?:each|every) "
            r"(?:empty )?(?:square|cell)\W*$",
            " ",
        ),
        (r"\((?:\d-\d(?:, | and )?)+(?:,? ?etc\.?)?\)", " "),
        # How a sentence begins.
        (r"^\W*(?:what(?:'s| is) more|let (?:us|me) (?:repeat|recall|say)(?: it)?(?: again)?)\s*[,:]\s*", " "),
        (r"^\W*unlike (?:in |on )?[^,.;]{3,60}, ", " "),
        (r"\bonly (?=(?:the )?(?:normal|usual|standard|ordinary|classic|regular) (?:sudoku )?rules? apply)", " "),
        (r"\(?\b(?:as )?in chess\b\)?", " "),
        # A digit may come again, whatever other rules leave of that.
        (
            r"\b(?:(?:the )?same |an? |any |one )?(?:digit|number|figure)s? (?:may|can|could|might)"
            r"(?: well| also| even)? "
            r"(?:be (?:used|placed|found|written|entered|put)|occur|appear|stand|come|feature|be)"
            rf"(?: in it| there| here)? {_SEVERAL}\b",
            "digit may repeat",
        ),
        (
            r"\b(?:the )?same (?:digit|number|figure) (?:can't|cannot|can not|may not|must not) "
            rf"(?:be (?:used|placed|found|written|entered|put)|occur|appear|stand|come|feature) {_SEVERAL}\b",
            "no digit may repeat",
        ),
        (
            r",? (?:provided(?: that)?|as long as) (the (?:usual|normal|standard|regular|ordinary|classic))"
            r" (?:sudoku )?rules? (?:is|are)? ?(?:respected|obeyed|kept|followed|observed|hold)\b",
            r"; \1 sudoku rules apply",
        ),
        (
            r"(\bmay repeat\b(?:(?! only)[^.;,]){0,40}?),? "
            r"(?:as long as|so long as|if|unless|provided(?: that)?|where|when) "
            r"[^.;]*?\b(?:rules?|rows?|columns?|see each other|sudoku)\b[^.;]*",
            r"\1 ",
        ),
        (
            r",? (?:if|when|as long as|provided(?: that)?) (?:they|the cells|both) (?:are|stand|lie) "
            r"in different [^.;]*",
            " ",
        ),
        (r",? (?:with )?repeats? (?:being )?included\b", ", digits may repeat "),
        (
            r"\bno two (cells|squares|digits|numbers) in the same (?=row|column|line|box|block|region)",
            r"no two \1 in any ",
        ),
        # All of the marks, or not all of them.
        (
            r"\b(?:not (?:a single )?one of|none of|no single|not an?|no) (?:the |these |those |our )?"
            rf"((?:\w+ )?{_DOT}) (?:is|are|was|were|has been|have been|has|have) "
            r"(?:missing|left out|omitted|forgotten|withheld|gone missing)\b",
            r"; all possible \1 are given ",
        ),
        (
            rf"^(?:the )?(?:set of )?((?:\w+ )?{_DOT}) (?:is|are) (?:all )?complete\.?$",
            r"; all possible \1 are given ",
        ),
        (
            r",? ?\b(?:though |although |but |while |and )?(?:some|several|many) (?:such|of these|other) "
            rf"(?:pairs|neighbours) (?:have|carry|get|bear) no {_DOT}\b",
            _NOT_ALL,
        ),
        (rf"\(?\bthere (?:are|may be) more such (?:pairs|neighbours) than {_DOT}\)?", _NOT_ALL),
        (
            rf"\b(?:\w+ )?without (?:an? )?{_DOT} (?:promises?|says?|tells?|means?|proves?)(?: you| us)? nothing\b",
            _NOT_ALL,
        ),
        (
            r",? so (?:don't|do not|you (?:can't|cannot|shouldn't|should not))\b[^.;]*"
            r"\b(?:missing|absence|absent|lack)\b[^.;]*",
            " ",
        ),
        (r"\bare not all (?=given|shown|marked|drawn)", " not all are "),
        (
            r"(?<!not )\b(?:every|each) consecutive pair( of \w+)? (?:has|carries|gets|bears|receives) "
            rf"(?:(?:its|an?|such a) {_DOT}|one)\b",
            r"; all consecutive pairs\1 are marked ",
        ),
        (
            r"(?<!not )\b(?:every|each) (?:such |possible )pair(?: of \w+)? "
            rf"(?:has(?: got)?|carries|gets|bears|receives) (?:its|an?|one|such a) ({_DOT})\b",
            r"; all possible \1s are given ",
        ),
        (
            rf"\b(?:we|I)(?: have|'ve)? (?:put in|drawn|marked|shown|printed) every ({_DOT}) "
            r"(?:that )?(?:we|I) could\b",
            r"; all possible \1s are given ",
        ),
        (
            r"\b(?:we|I)(?: have|'ve)? (?:put in|drawn|marked|shown|printed|show|print|mark|give) "
            r"(?:all|each|every one) of them\b",
            "all of them are given ",
        ),
        (
            r"(?<!not )\b(?:all|each|every one) of them (?:is|are) "
            r"(?:there|present|in place|in the (?:grid|diagram))\b",
            "all of them are given",
        ),
        (
            r"\b(?:wherever|whenever) (?:two )?(?:neighbours|neighbouring cells|adjacent cells|cells|digits|they)"
            r"[^.;,]*?,? there is (?:always )?one\b",
            "all of them are given",
        ),
        (
            r"(?:\b(?:therefore|so|hence),? )?\b(?:(?:where|if|when|whenever) (?:there(?:'s| is| are)? )?none"
            r"(?: is| are)?(?: drawn| shown| given| printed| marked)?|without (?:it|one)),? (?:then )?"
            r"(?:they|there|it|the digits) (?:do not|don't|are not|aren't|is not|isn't|does not|doesn't)"
            r"(?=\s*(?:[.;!]|$))",
            "all of them are given",
        ),
        (rf"(?:[:;,]|^|\s-) ?no ({_DOT}), (?:no|not)(?: \w+){{1,2}}(?=\s*[.;!]|$)", r"; all possible \1s are given "),
        (rf"\b(?:you|we) (?:don't|do not|can't|cannot) see (?:an?|any) (?={_DOT}\b)", "there is no "),
        (r"\bno others? (?:are )?to be found\b", "no others"),
        (r"\ball possible (?:letters?|numbers?)s* are given", "all possible marks are given"),
        (r"\bare ordered as the signs? (?:shows?|indicates?|says?|tells?)\b", "obey the sign"),
        (
            rf"\b(?:where|if) there is no {_DOT},? (?:the|that|this) (?:relation|property|rule) "
            r"(?:fails|does not hold|is not met)\b",
            "all of them are given",
        ),
        # Signs between cells.
        (
            r"(\b(?:signs?|symbols?|wedges?|chevrons?)\b[^.;]{0,40}?) "
            r"(?:shows?|tells?|indicates?|says?)(?: you| us)? which "
            rf"(?:of the (?:two|2) )?(?:(?:numbers?|digits?|cells?|one) )?(?:is|has) (?:the )?{_HIGHER}"
            r"(?: one| digits?| numbers?)?\b",
            r"\1 point to the smaller digit",
        ),
        (r"(\b(?:smaller|lower) (?:number|digit|one)) of the two\b", r"\1"),
        (r"\b(?:little |small )?triangles?\b(?=[^.;]*\bbetween\b)", "sign"),
        # Places.
        (
            r"\b(box|block|region|area)(e?s)? with (?:an? )?(?:thick|heavy|bold) "
            r"(?:edges?|borders?|outlines?|lines?)\b",
            r"thick-edged \1\2",
        ),
        (r"\bknob(s?)\b", r"circle\1"),
        (
            r"^(?:an?|the|each|every|all|our) ((?:\w+ )?lines?) "
            r"(?:pass(?:es)?|runs?|goe?s?|visits?|cross(?:es)?)(?: through)? "
            r"(?:two or more|several|at least two|more than one) box(?:es)?\W*$",
            r"There is a \1.",
        ),
        (r"^look at (?:the|these) (?!first |numbers? |digits? )", "There are some "),
        (r"\bseparated by (?:a|one) (?:chess )?(knight|king)'s move\b", r"a \1's move apart"),
        (
            r"\b(?:running|going|that runs|which runs|that goes) (?:down|up)(?:wards?)?"
            r"(?: to the (?:right|left))? (?=from (?:the )?(?:top|bottom|upper|lower)\b)",
            " ",
        ),
        (r"\b(?:on|in|along|within) (?:the|any) same (line|thermometer|arrow|cage)\b", r"on a \1"),
        (r"\b(crossing|intersection)s? of (?:the |two )?grid lines\b", r"\1"),
        (r"\bacross the (border|edge|side) (?=of two|between)", r"on the \1 "),
        (r",? all the way to the (?:far|other|opposite) (?:side|edge|end)(?: of the grid)?\b", " "),
        (
            r"\bread (?:downwards?|down|rightwards?|across|to the right)"
            r"(?: (?:or|and) (?:to the right|downwards?|down|rightwards?|across))?\b",
            "read left to right",
        ),
        (
            r"\b(numbers?|clues?|arrows?|figures?|totals?|digits) (?:all )?(?:a?round) the (?:edge|outside|border)\b",
            r"\1 outside the grid",
        ),
        (r"\bcornerwise\b", "at a corner"),
        (r"\bno (?:digit|number|figure) (?:may|can|must) (?:ever )?touch itself\b", "equal digits may not touch"),
        (r"\bsolid (?=(?:\w+ )?lines?\b)", " "),
        (r"\bwith nothing between them\b", "without a mark between them"),
        (r"^\W*twins (?=(?:do not|don't|never|may not|can't|cannot|must not) )", "equal digits "),
        (
            r"\bcells (?:that (?:are|lie) )?side by side or (?:one )?(?:above|below|on top of) "
            r"(?:the other|each other|one another)\b",
            "adjacent cells",
        ),
        (
            r"\b(lines? (?:\w+ ){0,2}(?:between|with|joining) (?:two |an? )?)(?:discs?|disks?|spots?|bubbles?)\b",
            r"\1circles",
        ),
        (
            r"\b(between (?:the )?(?:(?:two )?(?:digits|numbers|values|ones) |two |those )?(?:in|on|of) "
            r"(?:the|its|these|those) (?:two )?)(?:discs|disks|spots|bubbles)\b",
            r"\1circles",
        ),
        (r"\b(purple|blue|green|red|pink|grey|orange|yellow|brown) marker\b", r"\1 line"),
        (r"\bthe stuff\b", "the digits"),
        (rf"\b(?:{_RING}|circles|bubble) (?:at|on) (?:each|either|every)(?: of its)? ends?\b", "circles at both ends"),
        (r"\bneighbours?,? across or down\b", "neighbours"),
        (r"\bfirst (digit|number|cell) (?:that )?(?:you|we|one) (?:come|get|go) to\b", r"first \1"),
        (r"\bwith (?:an? )?(?:small|little|tiny) (?=(?:\w+ )?squares?\b)", "with a "),
        (r"\b(grey|blue|green|red|pink|yellow|orange|purple) (lines?) without (?:any )?(?:circles|rings)\b", r"\1 \2"),
        (r"\b(?:the )?(?:two|both) heights\b", "two digits"),
        (r"\bregions are not (?:squares|square|rectangles|rectangular)\b", "regions are irregular"),
        # One number in a ring of several cells.
        (
            rf"\b{_RING}s? (?:that |which )?(?:stretches|spreads|extends|lies|runs|spans|covers|occupies|reaches)"
            r"(?: across| over)? two(?: or (?:three|more))? (?:cells|squares)\b",
            "pill",
        ),
        (rf"\b{_RING}s? (?:of|with|over) two(?: or (?:three|more))? (?:cells|squares)\b", "pill"),
        (rf"\b(?:one|a|a single) {_NUMBER} of two(?: or three)? digits\b", "a two-digit number"),
        (rf"\b(as|makes?|forms?|is) (?:one|a single) {_NUMBER}\b", r"\1 a two-digit number"),
        (r",? tens first,?(?: and)?(?: then)? (?:the )?units(?: second| last)?\b", " "),
        # Lines.
        (r"\bfrom (?:the )?one end (?:or|as|and) (?:from )?the other(?: end)?\b", "from either end"),
        (r"\bare (?:exactly )?the same when read\b", "read the same"),
        (
            r"\b(?:to|from|with) the (?:digit|one|number) before it and "
            r"(?:to |from |with )?the (?:digit|one|number) after it\b",
            "to its neighbours",
        ),
        (
            r"\bcan be (?:re)?arranged (?:so as )?(?:in)?to (?:make |form |give |be |become )?(?:an? )?"
            r"(?:row|run|set|sequence|chain|series) of\b",
            "are, in any order, a set of",
        ),
        (
            r"\b(?:may |can |must |is |has to )?(?:be )?(?:either )?(?:equal to|the same as) "
            r"(?:the (?:one|digit|number) before(?: it)?) or (?:higher|larger|greater|bigger)\b"
            r"(?:,? (?:but|and)(?: it's| it is| they are| is)? never (?:lower|smaller|less)\b)?",
            "never decreases",
        ),
        (r",? but not always: (?=[^.]*\bequal\b)", ", though "),
        (r"\ba digit may also be equal to the previous (?:one|digit|number)\b", "equal neighbours are allowed"),
        (r"\b(same|equal) (sum|total) [A-Z]\b", r"\1 \2"),
        (
            r"\(?\b(?:[A-Z]|th(?:is|e) (?:sum|total)|it) may (?:differ|vary|change) "
            r"(?:from line to line|between lines)\b\)?",
            " ",
        ),
        (r"\(or to (?:both|all)(?: the)? tips\)", " "),
        # Sums, quotients, parity.
        (r"\bis what you get (?:when|if|by) (?:you )?add(?:ing)?(?: up| together)?\b", "is the sum of"),
        (r"\bon its two sides\b", "beside it"),
        (r"\bin a (?:little|small|tiny) (?:\w+ )?box\b(?=[^.;]*\b(?:sum|add))", "between two cells"),
        (
            r"\b(?:the )?one (?:digit|number) divided by the other(?: (?:digit|number))?\b",
            "the quotient of the two digits",
        ),
        (r"\b(discs?|circles?|squares?) hides? (?=(?:an? )?(?:odd|even)\b)", r"\1 hold "),
        (
            r"\b(?:digits|numbers) (?:that|which) (?:directly )?follow (?:on )?(?:from )?each other\b",
            "consecutive digits",
        ),
        (r"\blozenges?\b(?=[^.;]*\b(?:joins?|between|connects?|separates?)\b)", "diamond"),
        (r"\bpointers?\b", "arrow"),
    )
)


def in_plain_words(sentence: str) -> str:
    """The sentence with each of these turns of phrase put plainly."""
    sentence = sentence.replace("’", "'")
    return substituted(sentence, _PLAINER)
