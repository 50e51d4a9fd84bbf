"""What stands beside the rules in a rules text: examples in brackets, questions that are answered, names, headings.

Works on words as printed, before they are looked up: an example in figures is left out (`(1 and 6 is fine, 3 and 7 is
not)`), and a question with its answer is put as a statement (`Can digits repeat in a cage? No.`).
"""

from __future__ import annotations

import re

from recognise.rules.lexicon import PHRASES, bag

_SPELLED = "one|two|three|four|five|six|seven|eight|nine|ten"
_BRACKET = re.compile(r"\s*[(\[]([^()\[\]]*)[)\]]")
_FIGURE = re.compile(rf"(?<![\w=])(?:\d{{1,2}}|{_SPELLED})(?![\w=])", re.I)
_RULE_IN_BRACKET = re.compile(
    r"\b(?:not? (?:count|includ|repeat)\w*|exclu\w+|inclu\w+|without|repeat\w*|may|can|must|shall|cannot|between|both|"
    r"once|always|never|each|every|all|only|digits?|numbers? (?:from|1)|least|most|more|values?|scor\w+)\b",
    re.I,
)
"""A bracket with one of these states something, whatever figures stand in it."""
_LETTER = re.compile(r"(?<![\w'])[A-Z](?![\w'])")
"""A letter that stands for something: `(V is 5, X is 10)`."""
_LETTERED = re.compile(r"\s*[A-P] ?(?:=|is) ?1\d\b[^.]*\b(?:even|odd)\b", re.I)
"""What a letter that stands for a number is: `(A = 10 is even, B = 11 is odd)`."""
_FEWEST_FIGURES, _FIGURES_OF_A_CASE = 2, 4
_CASE = re.compile(r"\W*(?:in|if|when|with|here|so if)\b", re.I)
"""How an example begins that tells a case: `(in 2 1 4 3 5, three can be seen)`."""
_ONE_RANGE = re.compile(r"\W*(?:from )?\d{1,2}\s*(?:[-–—~]|to|through|and|or)\s*\d{1,2}\W*", re.I)

_CHAIN = re.compile(
    r",?\s*(?:\b(?:such as|for example|for instance|e\.? ?g\.?|say|like)[,:]?\s+)"
    r"(?:\d{1,2}(?:\s*[-–—+]\s*\d{1,2})+(?:\s*=\s*\d{1,2})?(?![\d:])|"
    r"\d{1,2}(?:, \d{1,2})*,? and \d{1,2}(?=\s*(?:[.;)]|$)))"
)
"""An example in figures that no bracket holds: `such as 3-4-5-6`, `e.g. 3+2=5`."""
_NO_THIS_BY_THAT = re.compile(
    r"\s*[:;,]\s*(?:so )?no \d (?:next to|beside|by|touching) (?:a|an|another) \d\b"
    r"(?:\s*(?:,|and|or)\s*(?:no )?\d (?:next to|beside|by|touching) (?:a|an|another) \d\b)*",
    re.I,
)
_BY_THIS_NO_THAT = re.compile(
    r"\s*[:;,]\s*(?:so |thus )?(?:next to|beside|by|touching) (?:a|an|any) \d,? (?:there )?"
    r"(?:is|are|stands?|comes?|(?:may|can|will|must) (?:not )?(?:be|stand|come))?(?: found)? ?"
    r"(?:neither|no|never|not) (?:an? )?\d(?: (?:n?or|and) (?:an? )?\d)?(?=\s*[.;!]|\s*$)",
    re.I,
)
"""`: beside a 4 there is neither a 3 nor a 5`."""
_SAY = re.compile(r",?\s*\b(?:say|for example|for instance)\s*$", re.I)

_YES_NO = re.compile(
    r"\b(?P<verb>Can|May|Could|Must|Do|Does|Are|Is|Will|Have|Has)\s+(?P<what>[^.?!]{6,120})\?['\"”’)]*\s*"
    r"(?:A[:.]\s*)?(?P<answer>Yes|No|Not all|Not necessarily|Never|Sure|Certainly|Of course|By all means|"
    r"(?:It|They|You|One) (?:may|can|could|might)(?=[.!]|,? (?:as|so) long as|,? provided|,? if\b|,? where\b))\b"
    r"(?:,? (?:of course|not necessarily|not all|they can(?:'t|not)?|they may(?: not)?|they are(?: not|n't)?|"
    r"it (?:is|can|may)(?: not|n't)?|all of them|never|always|indeed|certainly not))*"
    r"(?P<rest>[^.!?]*)[.!]?",
    re.I,
)
_DENIES = re.compile(r"n[o']|never", re.I)
_VERDICT = re.compile(
    r"(?P<what>[^.?!]{6,80})\?['\"”’)]*\s+(?:perfectly |quite |always )?(?P<verdict>allowed|permitted|fine|forbidden|"
    r"not allowed|no problem)\b[.!]?",
    re.I,
)
"""`The same digit twice? Allowed.`"""


_MONTH = (
    r"(?:January|February|March|April|May|June|July|August|September|October|November|December|"
    r"(?:Jan|Feb|Mar|Apr|Jun|Jul|Aug|Sept?|Oct|Nov|Dec)\.?)"
)
_DATE = re.compile(
    rf"\b\d{{1,2}}(?:st|nd|rd|th)?(?: of)? {_MONTH}(?:,? (?:1[5-9]|20)\d\d)?(?!\w)|"
    rf"\b{_MONTH} \d{{1,2}}(?:st|nd|rd|th)?(?:,? (?:1[5-9]|20)\d\d)?(?!\w)|"
    rf"\b(?:in|of|since|until|from|by|before|after) (?:{_MONTH} )?(?:1[5-9]|20)\d\d\b"
)
"""Days and years, whose numbers are none of the puzzle's."""


def without_dates(text: str) -> str:
    """The text without days and years."""
    return _DATE.sub(" ", text)


def without_examples(text: str) -> str:
    """The text without examples in figures; brackets that state something stay."""
    text = _BRACKET.sub(lambda found: " " if _is_example(found[1]) else found[0], text)
    return _BY_THIS_NO_THAT.sub("", _NO_THIS_BY_THAT.sub("", _CHAIN.sub(" ", text)))


def _is_example(inside: str) -> bool:
    if _LETTER.search(inside) and not _LETTERED.match(inside):
        return False
    figures = len(_FIGURE.findall(_SAY.sub("", inside)))
    if _CASE.match(inside) and figures >= _FIGURES_OF_A_CASE:
        return True
    return figures >= _FEWEST_FIGURES and not _ONE_RANGE.fullmatch(inside) and not _RULE_IN_BRACKET.search(inside)


def denied_together(text: str) -> str:
    """The text with what `neither ... nor ...` denies put as alternatives of one denial."""
    return _NEITHER.sub(lambda found: "not" + re.sub(r"\bnor\b", "or", found[1], flags=re.I), text)


_NEITHER = re.compile(r"\bneither\b((?:[^.;]{1,60}?\bnor\b)+)", re.I)


_AS_MANY = re.compile(r"\b(?:first|nearest|next|opening) ([A-Za-z])(?= (?:digits|numbers|figures|cells|squares)\b)")
_LET_IT_BE = re.compile(
    r"\bLet ([A-Za-z]) (?:be|stand for|denote) ([^.;:]{5,60})[.;:,]\s+(?:then|and|now)?,?\s*"
    r"([^.;:]*\b(?:first|nearest|next|opening) \1 (?:digits|numbers|figures|cells|squares)\b[^.;:]*)",
    re.I,
)


_BEING = re.compile(
    r"\b(?:first|nearest|next|opening) (?P<n>[A-Za-z]) (?P<what>digits|numbers|figures|cells|squares)\b"
    r"(?P<told>[^.;:]*?,) (?:where |with )?(?P=n) (?=being |is )"
)


def with_letters_told(text: str) -> str:
    """The text with a letter that it lets stand for a number told where it counts by it, and called X: `Let n be the
    first digit; then the first n cells ...`, `the first n cells, n being the first digit`."""
    return _BEING.sub(r"first X \g<what>\g<told> X ", _LET_IT_BE.sub(r"\3, \1 being \2", text))


def counted_by_letter(text: str) -> str:
    """The text with the letter that says how many digits are meant put as X: `the first n digits, n the first`."""
    letters = set(_AS_MANY.findall(text))
    if len(letters) != 1:
        return text
    counting = _AS_MANY.sub(r"first \1", text)
    return re.sub(rf"(?<![\w'-]){letters.pop()}(?![\w'-])", "X", counting)


_SPEAKER = re.compile(r"(?:^|(?<=[.?!;:,])\s+)([A-Z][A-Z'’-]{3,}(?: [A-Z'’-]{3,})?)[.:]\s+(?=[“\"'‘]?[A-Z])")
"""A name in capitals before what somebody says."""
_FEWEST_SPEAKERS = 2
_NO_SPEAKERS = bag(
    "THERMO BULB CAGE ARROW SHAFT DOT BAR DIAMOND SIGN CIRCLE LETTER DIAGONAL LINE SQUARE SHADED BOX ROW COLUMN "
    "OUTSIDE SANDWICHNAME XSUMNAME LITTLEKILLER TOWER PALINDROME WRAP KNIGHT KING"
)
"""What heads the rule after it, as often as one is told."""


def without_speakers(text: str) -> str:
    """The text of a dialogue without the names of those who speak, each of whom speaks more than once."""
    names = [found[1] for found in _SPEAKER.finditer(text)]
    several = {name for name in names if names.count(name) > 1 and not _is_headed(name)}
    if len(several) < _FEWEST_SPEAKERS:
        return text
    return _SPEAKER.sub(lambda found: " " if found[1] in several else found[0], text)


def _is_headed(name: str) -> bool:
    """Whether a name is one of marks or places, and what follows their rule."""
    words = name.lower().split()
    return any(PHRASES.get((form,)) in _NO_SPEAKERS for word in words for form in (word, word.removesuffix("s")))


def answers(question: str, piece: str) -> bool:
    """Whether a piece of text answers the question before it by yes or no, or by what is allowed."""
    if not question.rstrip("'\"”’) ").endswith("?"):
        return False
    both = f"{question} {piece}"
    return _YES_NO.search(both) is not None or _VERDICT.fullmatch(both.strip()) is not None


def with_answers(text: str) -> str:
    """The text with each question that is answered by yes or no, or by what is allowed, put as a statement."""
    return _VERDICT.sub(r"\g<what> is \g<verdict>.", _YES_NO.sub(_as_statement, text))


def _as_statement(found: re.Match[str]) -> str:
    allowed = found["verb"].lower() in ("can", "may", "could")
    what, rest = found["what"].strip(), found["rest"].rstrip()
    if _DENIES.match(found["answer"]):
        return f"Not {what}{rest}."
    return f"{found['verb'].lower() + ' ' if allowed else ''}{what}{rest}."


# ------------------------------------------------------------------------------------------ sentences that are no rules

_NAME = r"(?:[A-Z]\.\s?)*(?:[A-Z][a-zà-ÿ'’-]+|[A-Z]\.)(?:\s+(?:de |von |van |der |den )*[A-Z][a-zà-ÿ'’-]+){0,3}"
_BYLINE = re.compile(
    r"\W*(?i:(?:(?:a|this) )?(?:(?:puzzle|sudoku|grid) )?(?:(?:set|composed|constructed|created|written|designed|"
    r"devised|made|drawn|compiled|invented|contributed) )?by|author|setter|constructor|composer|compiler)\b[:\s]+"
    rf"(?:the )?{_NAME}(?:\s*,\s*[A-Z][\w ]*)?\W*"
)
_HEADED = re.compile(
    r"\W*(?:(?:problem|puzzle|no\.?|nr\.?|number|grid)\s*\d{1,4}\b[^.]*\b(?:by|posed|set|composed)\b.*|"
    rf"(?:posted|posed|set|composed|shared|sent in) by\b.*|for {_NAME}, who\b.*|"
    r"my (?:first|second|third|last|latest|next) (?:try|go|attempt|puzzle|sudoku)\b.*)"
)
"""A puzzle's number and who set it, whom it is for, what its setter says of it."""
_INITIALS = re.compile(r"\W*(?:[A-Z]\.\s?)+[A-Z][a-zà-ÿ'’-]+\W*")
_NOTE = re.compile(
    r"\W*(?:(?:hint|tip|solution|answer|difficulty|level|rating|score|par|name|date|time)s?\s*(?:[:.=–-]|$)|"
    r"(?:as (?:always|ever|usual), )?(?:the )?"
    r"(?:solution|answer)s? (?:on|in|at|to|is|are|will|can|overleaf|see|next|upside down|below)\b|"
    r"(?:\d{1,2}\. )?(?:approximate |estimated |average |expected )?(?:solving )?time\b|number \d+ of \d+\W*$|"
    r"(?:page|puzzle|no\.?|nr\.?|number|difficulty|level)\s*\d+\W*$|(?:©|\(c\)|copyright)|"
    r"(?:easy|medium|hard|tricky|gentle|moderate)(?:\s*\d+)?\s*(?:$|[,/–-]|\s(?:medium|hard)))",
    re.I,
)


_CONTEST = re.compile(
    r"\b(?:competition|contest|prizes?|prize[- ]draw|winners?|closing date|postcards?|household|employees|entrants?|"
    r"cash alternative|calls? costs?|judges?'s? decision|out of (?:a|the) hat|entry (?:form|fee|coupon)s?|"
    r"to enter(?=,)|entries (?:by|to|must|should|close|are drawn))\b",
    re.I,
)
"""Words of a draw among those who send in the solution: what it asks for is no rule."""
_CLUB = re.compile(
    r"\b(?:subscriptions?|back (?:numbers|issues|copies)|librarian|committee|treasurer|secretary|raffle|parish|"
    r"village hall|refreshments|newsletter|club (?:night|evening|room)|"
    r"(?:the|our|next|annual|monthly|weekly) (?:club |june |general )?meeting(?! (?:of|point|place)\b))\b",
    re.I,
)
"""What a club or a parish tells its people beside a puzzle: of its own life, and of no cell."""
_BEGINNING = r"(?:begin|start)"
_WHERE_TO_BEGIN = re.compile(
    rf"\W*(?:stuck\W+)?(?:(?:where|how) to {_BEGINNING}\b|(?:a )?(?:good )?(?:way in|place to {_BEGINNING})\b|"
    rf"(?:(?:then|first|now|best) )?(?:look|try|{_BEGINNING})(?: \w+)?(?: at| with| in| by| from)? [^.:;]{{3,60}}? "
    rf"(?:first\b(?! (?:[nx]|digits?|numbers?|cells?|squares?|ones?)\b)|to {_BEGINNING} with\b|"
    r"(?:box|row|column) \d))",
    re.I,
)


def is_byline(sentence: str) -> bool:
    """Whether a sentence does nothing but name who set the puzzle."""
    return bool(_BYLINE.fullmatch(sentence) or _headed(sentence) or _INITIALS.fullmatch(sentence))


_TELLS = re.compile(r"\b(?:not|never|no|without|must|may|cannot|each|every|sum\w*|differ\w*|digits|cells)\b", re.I)


def _headed(sentence: str) -> bool:
    plain = sentence[:1].lower() + sentence[1:]
    return _HEADED.fullmatch(plain) is not None and _TELLS.search(sentence) is None


def is_note(sentence: str) -> bool:
    """Whether a sentence is a hint, a page number, a word on the solution, on how hard it is, or on a prize."""
    plain = sentence.replace("’", "'")
    if _NOTE.match(plain) or _WHERE_TO_BEGIN.match(plain):
        return True
    return _CONTEST.search(plain) is not None or _CLUB.search(plain) is not None


_ONE_AND_TWO = re.compile(
    r"\W*(?:(?:a|any|the|each) )?(?:(?:pair|digits?|numbers?|neighbours?|cells?) )?(?:of |with |between )?"
    r"(?:a |the )?(?:1|one) "
    r"and (?:a |the )?(?:2|two),?[^.;]*\b(?:may|can|could|might)\b[^.;]*"
    r"\b(?:either|both|any|black or (?:an? )?white|white or (?:an? )?black)\b[^.;]*[.;]?\W*",
    re.I,
)


def is_about_one_and_two(sentence: str) -> bool:
    """Whether a sentence only says that 1 and 2 are consecutive and in ratio 2, so that either dot may stand there."""
    return _ONE_AND_TWO.fullmatch(sentence) is not None


_SMALL = frozenset(["a", "an", "and", "at", "by", "for", "from", "in", "of", "on", "or", "the", "to", "with"])
_LONGEST_HEADING, _SHORTEST_HEADING = 7, 2
_NUMBERED = re.compile(r"^\W*(?:(?:puzzle|no\.?|nr\.?|number)\s*)?\d{1,3}\s*[.):–-]\s*", re.I)
_AFTER_A_NAME = re.compile(r"\s*(?:\([^()]*\)|\b\d{1,3}|\b\d{1,2}\s*[x×]\s*\d{1,2})?\s*[.:!]?\s*$")
"""What stands round a puzzle's name: its number before; after it another, its size, or how much it is worth."""
_SET_BY = re.compile(rf",? (?:an? )?(?:(?:puzzle|sudoku|grid) )?by {_NAME}\W*$")


def is_heading(sentence: str) -> bool:
    """Whether a sentence is set as a name: a few words, each with a capital (`Knightly Lunch.`, `Hot Cages by Ann`,
    `7. Low Tide (20 points)`)."""
    name, by = _SET_BY.subn("", sentence)
    name = _AFTER_A_NAME.sub("", _NUMBERED.sub("", name))
    words = re.findall(r"[^\W\d_][\w'’-]*", name)
    told = [w for w in words if w.lower() not in _SMALL or (len(w) > 1 and w.isupper())]
    if len(told) + by < _SHORTEST_HEADING or len(words) > _LONGEST_HEADING or re.search(r"[\d:;=?]", name):
        return False
    return all(w[0].isupper() for w in told)


def with_heading_apart(text: str) -> str:
    """The text with a blank line after its first line where that is set as a name and a sentence begins after it."""
    first, _, rest = text.strip().partition("\n")
    return f"{first}\n\n{rest}" if re.match(r"\s*[A-Z\d(]", rest) and is_heading(first) else text


_HEADLINE = re.compile(r"\W*[A-Z][A-Z'’-]+(?: [A-Z'’-]+){0,5}:")


def is_headline(sentence: str) -> bool:
    """Whether a sentence is a few words in capitals that head the rule after them (`SHY NEIGHBOURS:`)."""
    return _HEADLINE.fullmatch(sentence.strip()) is not None
