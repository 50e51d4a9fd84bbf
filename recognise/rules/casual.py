"""How pages for people who have never seen such a puzzle say a rule: with a wink, a simile, a question before it."""

from __future__ import annotations

import re

from recognise.rules.lexicon import PHRASES
from recognise.rules.moot import without_moot
from recognise.rules.substitution import in_any_case, substituted

_N = r"(?:digits?|numbers?|figures?|values?|ones?)"
_MORE, _FEWER = r"(?:bigger|larger|greater|higher)", r"(?:smaller|lower|lesser)"
_MARK = (
    r"(?:dots?|bars?|diamonds?|discs?|circles?|rings?|squares?|signs?|lines?|arrows?|cages?|thermometers?|boxes|[XV]|"
    r"clues?|numbers?|letters?|diagonals?)"
)

_CASUAL = in_any_case(
    (
        # What winks at the reader and says nothing.
        (r"^\W*never mind (?:the |your |about )?[^,.;:]{2,30}[,:] ", " "),
        (r"\b(?:do not|don't|never) (?:seem to )?(?:get (?:along|on)|see eye to eye|mix)(?=\s*[:,-])", " "),
        (r"\b(?:keep|like to keep) (?:their|its) distance(?=\s*[:,-])", " "),
        (r",? please(?=\s*[!.,]|$)", " "),
        (
            r"\b(?:are|is|make|makes) (?:the|its|two|your) (?:slices? of )?(?:bread|crusts?|buns?)"
            r"(?=\s*[:;.,]|\s+and\b)",
            " ",
        ),
        (r"\b(?:fillings?|meat)\b(?= (?:between|in between|of the sandwich))", "digits"),
        # The usual rules.
        (
            r"^\W*(?:fill(?: in| up| out)?|complete|solve|do|play)(?: in)? (?:the|this|your|each|it)? ?"
            r"(?:whole )?(?:grid|sudoku|puzzle|diagram|board|squares|it)?(?: just)?,? "
            r"(?:as usual|as normal|as always|as you (?:always|usually|normally) (?:do|would)|normally|"
            r"(?:in )?the (?:usual|normal|ordinary) way|like (?:any|every|a normal|an ordinary)(?: other)? sudoku)\b",
            "normal sudoku rules apply",
        ),
        # Sums, differences, quotients.
        (
            r"\bis (?:simply |just |exactly )?what ((?:the|all|both|its|their|these|those)\b[^.;,]{0,60}?) "
            r"(?:adds? up to|add to|sum to|come to|make(?: up)?|total|give|make together|come to together|"
            r"add up to together)(?: together| altogether| in total)?(?=\s*(?:[.;,!]|$))",
            r"is the sum of \1",
        ),
        (r"\b(?:make|give|come to|reach|total) together\b", "together make"),
        (
            rf"\b(?:take|subtract|taking|subtracting)(?: away)? the {_FEWER}(?: {_N})? "
            rf"(?:away )?from the {_MORE}(?: {_N})?"
            r"(?:,? (?:and )?(?:you(?:'ll)? (?:get|have)|to (?:get|reach|find|make|give)|for|gives|makes))",
            "the difference of the two digits is",
        ),
        (
            rf"\b(?:divide|dividing) the {_MORE}(?: {_N})? by the {_FEWER}(?: {_N})?"
            r"(?:,? (?:and )?(?:you(?:'ll)? (?:get|have)|to (?:get|reach|find|make|give)|for|gives|makes))",
            "the quotient of the two digits is",
        ),
        (
            r"\b(sum|total) of (the |all |all the )squares (?=(?:on|in|along|it|that|which|under|inside)\b)",
            r"\1 of \2cells ",
        ),
        (
            r"\bthe two(?=\s*(?:[.;,!]|$)| (?:add|sum|make|give|differ|must|come)\b)",
            "the two digits",
        ),
        (
            r"\badd(?: up)? (?:each|every) (?:piece|part|bit|section|stretch)(?: separately)?[:,;-]? (?:and )?"
            r"(?:you always get the|all the|the) (?:same )?(?:answers?|totals?|sums?|results?)",
            "the sums of the segments",
        ),
        (
            r"\b(?:cut|chopped|sliced|split)(?: up)?(?: into (?:pieces|bits|parts|sections))? by "
            r"(?=(?:the )?(?:box|edges?|borders?|grid|3x3|bold|thick))",
            "divided by ",
        ),
        # Sandwiches and first digits.
        (
            r"\bthe answer (?=(?:stands|is|appears|goes) (?:written |shown |given |printed )?"
            r"(?:at|outside|beside|on|in|next|above)\b)",
            "the total ",
        ),
        (
            r"^\W*(?:the )?(\d{1,2}) and (?:the )?(\d{1,2})(?: (?:are|act|serve|make|play)[^:.;]{0,40})?\s*[:;,-]+ "
            r"([^.;]*\bbetween) (?:them|these(?: two)?|the two)\b",
            r"\3 the \1 and the \2",
        ),
        (
            rf"\badd(?: up| together)? (?:everything|all(?: the {_N})?|every {_N})"
            r"(?: (?:that )?you (?:meet|pass|see|find))?,? "
            r"(?:until you (?:get|come)|till you (?:get|come)|right|all the way|up|as far as) (?:up )?(?:to )?the ",
            "add all digits until you reach the ",
        ),
        (
            r"\blook at (the (?:very )?first [^.;:]{3,40})[:,.] (?:it|that|this)(?: one| number| digit)? "
            r"(?=(?:tells|says|shows))",
            r"\1 ",
        ),
        (r",? (?:counting|including) itself(?: too| as well)?\b", ", including that first one"),
        # Neighbours as numbers.
        (
            r"(\b(?:dots?|bars?|diamonds?|discs?|circles?|rings?|spots?)\b(?:(?!\bline)[^.;])*?) "
            r"(?:follow|follows) (?:on from )?(?:each other|one another)\b",
            r"\1 are consecutive",
        ),
        (
            rf"(\b(?:dots?|bars?|diamonds?|discs?|rings?|spots?)\b(?:(?!\bline)[^.;])*?(?:{_N}|they)) are "
            r"(?:direct |immediate |next-door |close )?neighbours(?=\s*(?:[.;,!]|$))",
            r"\1 are consecutive",
        ),
        (
            r"\b(?:come|go|follow|stand|are)s? (?:right|straight|directly|immediately|just) (?:after|behind) "
            r"(?:each other|one another)\b(?:,? (?:as|when|if) (?:you|we) count(?: up)?)?",
            "are consecutive",
        ),
        (
            r"\b(?:makes?|forms?|holds?|contains?|are|is) a straight(?=\s*(?:[.;,:!(]|$))",
            "form a sequence of consecutive digits",
        ),
        # Repeats.
        (
            r"\b((?:an? |the same |any |one )?(?:digit|number|figure)s? (?:may|can|could|might)(?: well| also| "
            r"even)?) "
            r"(?:come up|crop up|turn up|show up|pop up|appear|be there)(?: in it| there| here)? "
            r"(?=(?:more than once|twice|several times|again))",
            r"\1 occur ",
        ),
        (
            r"\b(?:the )?same (?:digit|number|figure) (may not|can't|cannot|can not|must not|never) "
            r"touch(?:es)? itself\b",
            r"equal digits \1 touch",
        ),
        # Marks that are not all there.
        (
            rf"\b(?:we|I) (?:have not|haven't|did not|didn't|do not|don't)(?: always)? "
            rf"(?:drawn?|shown?|marked?|printed?|put in|given?|added?|included?) "
            rf"(?:every|all|each)(?: of)?(?: the| possible)* {_MARK}"
            r"[^.;]*",
            "not all are given",
        ),
        # Places.
        (r"\b(not even|or|nor|and) (?:at|by|in|on) (?:the|their|its) corners\b", r"\1 at a corner"),
        (r"\b(?:top|upper|little) corners?\b(?= (?:of|and)|\s*[.;,!]|$)", "corner"),
        (
            r"\b(?:slant(?:ing|ed|y)?|sloping|diagonal|oblique) (?:line|row|string)s?(?: of (?:squares|cells))?\b",
            "diagonal",
        ),
        (
            r"\bline (?=(?:that (?:runs|goes) |running |going )?"
            r"from (?:the )?(?:top|bottom|upper|lower) (?:left|right))",
            "diagonal ",
        ),
        (r"\bodd shapes\b", "irregular"),
    )
)

_SIMILE = re.compile(
    r", (?:just |exactly |rather |a bit |much )?like (?:in )?(?:the word |the name |an? )?"
    r"(?P<what>[A-Z]{3,}|[a-z]+(?: [a-z]+){0,2})(?=\s*(?:[.,;:!)]|$))"
)
_ASKED = re.compile(
    r"\W*(?:(?:and|but|then|now|so|what of|what about|how about|and what of|and what about),? )?"
    r"(?:(?:can you )?(?:see|spot|spy|found|find|got|seen|spotted) )?(?:an?|any|two|the|those|these) [^?.!]{2,60}"
    r"\?[\"”’')]*\s*$",
    re.I,
)
_NONE_THERE = re.compile(r"\W*(?:and |but )?(?:no|without an?) [^?.!,]{2,40}\?[\"”’')]*\s*$", re.I)
_THEN_NOT = re.compile(
    r"\W*(?:then |so )?(?:they|it|the (?:two )?(?:digits|numbers|cells)|this|that|nothing|anything)\b[^.?!]{3,60}"
    r"[.!]?\s*$",
    re.I,
)
"""`No dot? Then they are not.`"""
_NO_ANSWER = re.compile(r"\W*(?:yes|no|not|never|sure|certainly|of course|by all means)\b", re.I)
_FIRST = re.compile(r"[^.?!]*\blook at the (?:very )?first (?:digit|number)\b[^.?!]*\.\s*$", re.I)
_FOUND = re.compile(
    r"(?:[^.?!]*: )?\W*(?:find|look for|locate|spot) (?:the )?\d{1,2} and (?:the )?\d{1,2}\b[^.?!]*\.\s*$", re.I
)
_WALKED = re.compile(
    r"\bgo (?:to|from) the \d{1,2}\b[^.]*(?:until|till) you (?:reach|get to|meet|come to) the \d{1,2}\.\s*$", re.I
)
_ADDED = re.compile(r"Add (?:up )?(?:everything|all)\b")
_BETWEEN = re.compile(r"[^.;]*\bbetween (?:them|these(?: two)?|those(?: two)?|the two)\b")
_RISING = re.compile(r"[^.?!]*\b(?:bulb|round end)\b[^.?!]*\.\s*$", re.I)
_TELLS = re.compile(r"(?:It|This|That)(?: one| number| digit)? (?:tells|says|shows)\b")
_STAYS = re.compile(r"They (?:can|may|might)(?: also| even)? (?:stay|remain|be) (?:the same|equal|level)\b")
_NOT_EVEN = re.compile(
    r"(?:No[,!]? )?(?:not|neither|nor)(?: even)? (?:at|by|along|on|in|over|diagonally|sideways)\b", re.I
)
_DENIED = re.compile(r"[^.?!]*\b(?:not?|never|cannot|n't)\b[^.?!]*\b(?:touch|next|adjacent|meet|neighbour)", re.I)
_PIECE = re.compile(
    r"\W*(?:(?:now|first|next|just|please) )*(?:think of|imagine|picture|remember|take|you know|recall) (?:how "
    r")?(?:the|an?) "
    r"(?:chess )?(?P<piece>knight|king)\b[^.?!,;]{0,40}\.\s*$",
    re.I,
)
_THE_PIECE = re.compile(
    r"^(?P<start>\W*(?:if|where|when|wherever|whenever|from where|cells|squares)?\W*)(?:he|she|it)\b"
    r"(?! (?:can|may|could|does|would|is)? ?(?:n.t|not|never)\b)",
    re.I,
)
_QUESTION = re.compile(r"^([^?.!:]*)\?[\"”’')]* +(?=\S)")


def begins(question: str, piece: str) -> bool:
    """Whether a piece of text goes on with the sentence before it: that is a question which only names marks (`A black
    dot? Then ...`), or it has just named what the piece calls `it` or `they`."""
    if _WALKED.search(question) and _ADDED.match(piece):
        return True
    if _FOUND.match(question) and _BETWEEN.match(piece):
        return True
    if (_FIRST.match(question) and _TELLS.match(piece)) or (_RISING.match(question) and _STAYS.match(piece)):
        return True
    if _PIECE.match(question) and _THE_PIECE.match(piece):
        return True
    if (_NONE_THERE.match(question) and _THEN_NOT.match(piece)) or (_DENIED.match(question) and _NOT_EVEN.match(piece)):
        return True
    names_marks = _ASKED.match(question) is not None and _NO_ANSWER.match(piece) is None
    return names_marks and bool(without_moot(piece).strip())


def said_plainly(sentence: str) -> str:
    """The sentence with each of these turns of phrase put plainly."""
    plain = _with_piece(sentence.replace("’", "'"))
    if _ASKED.match(plain[: plain.find("?") + 1]):
        plain = _QUESTION.sub(r"\1: ", plain)
    return substituted(_SIMILE.sub(_without_simile, plain), _CASUAL)


def _with_piece(sentence: str) -> str:
    """`Think of the knight. If he can jump from ...`: he is the knight."""
    first, stop, rest = sentence.partition(". ")
    piece = _PIECE.match(first + ".") if stop else None
    return sentence if piece is None else _THE_PIECE.sub(rf"\g<start>the {piece['piece']}", rest, count=1)


def _without_simile(found: re.Match[str]) -> str:
    """What a simile is put as: nothing, unless rules use one of its words."""
    told = found["what"].isupper() or not any(
        PHRASES.get((form,))
        for word in found["what"].lower().split()
        for form in (word, word.removesuffix("s"), word.removesuffix("es"))
    )
    return " " if told else found[0]
