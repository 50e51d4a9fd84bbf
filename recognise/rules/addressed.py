"""What is said to the solver, and as if digits had a will, put as plain rules say it.

`Can you put ...?` asks for what it tells, `you will find each digit in every row` is where it stands, `digits that do
not like to touch` must not. Works on a sentence as printed, before the tables of turns.
"""

from __future__ import annotations

import re

from recognise.rules.substitution import CELL, DIGITS, MARK, in_any_case, substituted

_FILL = r"(?:put|place|fill|write|enter|complete|insert|set|pop|fit|get|find room for|arrange|distribute|pencil|add)"
_ASKED = r"(?:can|could|will|would|may we ask) you(?: please| manage to| help me| now| also)?"
_LIKES = r"(?:want|wish|like|care|love|agree|dare|choose|consent|bear|intend|long|try|ask|tend|expect|hope|need)"
_HATES = r"(?:hate|refuse|dislike|detest|fear|decline|object|are (?:afraid|unwilling|too proud|too shy|loath))"
_WHO = rf"(?:{DIGITS}|{CELL}|neighbours|they|it|twins|pairs|ones?)"
_LINE = r"(?:lines?|paths?|ribbons?|threads?|strings?|tracks?)"
_AREA_MARK = r"(?:fences?|cages?|lines?|walls?|frames?|loops?|hedges?|ropes?|arrows?|thermometers?|ribbons?|outlines?)"
_LONG = (
    r"worms?|snakes?|caterpillars?|eels?|slugs?|tadpoles?|serpents?|dragons?|lizards?|tubes?|noodles?|ribbons?|"
    r"lines?|paths?|trails?|"
    r"strips?|bands?|strands?"
)
_GROWS = (
    r"(?:get(?:s|ting)? (?:bigger|larger|higher|greater)|increas\w+|ris(?:es?|ing)|grow\w*|climb\w*|go(?:es)? up|"
    r"swell\w*)"
)
_ROUND_END = (
    r"(?:round|thick|fat|big|blunt|swollen|bulbous|circular|ball-shaped) (?:head|end|foot|part|bit|blob|ball|side|"
    r"tail|face|base)"
)
_FIRST = re.compile(rf"^\W*{_ASKED} (?={_FILL}\b)", re.I)

_ADDRESSED = in_any_case(
    (
        (r"\b(I|we|you|they)'ve\b", r"\1 have"),
        (r"\b(we|you|they)'re\b", r"\1 are"),
        (r"\b(you|they|it|that|there|one)'d\b", r"\1 would"),
        (r"\b(it|that|there|what|everything|nothing)'s (?=\w)", r"\1 is "),
        (_FIRST.pattern, ""),
        (
            r"^\W*(?:please |now |so |then |but |oh,? |and )*(?:remember|don't forget|do not forget|bear in mind|"
            r"mind you|"
            r"recall|note|notice|watch out|careful|beware|you should know)(?: too| also)?(?:,|:| that\b|(?= "
            r"(?:the|every|"
            r"each|all|no)\b))",
            " ",
        ),
        # What digits like and hate.
        (
            rf"\b(?:(?:do|does|will|would|can)(?:n't| not)|never|cannot|can't) (?:ever |really |even )?{_LIKES}s? to "
            r"(?=(?:be|touch|stand|sit|meet|share|lie|live|see|follow|repeat|appear)\b)",
            "must not ",
        ),
        (
            rf"\b({_WHO}) (?:always |strongly |simply )?{_HATES}s? (?:to (?:be|being)|being|to)(?: put| placed)? "
            r"(?=\w)",
            r"\1 must not be ",
        ),
        (
            rf"\b({_WHO}) (?:always |all |each )*{_LIKES}s? to (?=(?:be|touch|stand|rise|grow|climb|add|differ|"
            r"sum)\b)",
            r"\1 must ",
        ),
        # What solvers find there is there.
        (
            r"\bso (?:that )?you (?:can|could|will|'ll|may|should) (?:always )?(?:find|meet|discover|come "
            r"across) (each|"
            rf"every one|all|them all|every {DIGITS}|each {DIGITS}) (?=(?:exactly |just |only )?(?:once )?(?:in|"
            r"on)\b)",
            r"so that \1 stands ",
        ),
        (
            r"\b(?:sometimes|here and there|in (?:some|several|a few) places|now and then|occasionally|now and "
            r"again),? "
            r"(?=(?:you (?:will|may|can|might|'ll) |we )?(?:see|find|notice|meet|spot|come across) )",
            "",
        ),
        (
            r"\byou (?:will|'ll|can|may|might) (?:also )?(?:come across|stumble on|stumble upon|discover|encounter|"
            r"notice) (?=\w)",
            "there are ",
        ),
        # What is only said to be there.
        (
            rf"^\W*(?:an?|some|the|there (?:is|are)(?: an?| some)?) (?:[\w-]+ ){{0,3}}{_AREA_MARK} (?:that "
            r")?(?:goes?|"
            r"runs?|is drawn|are drawn|winds?|lies?|curls?|stretch(?:es)?) (?:a?round|through|across|along|over) "
            rf"(?:some|several|a few|many)(?: of)?(?: the)? {CELL}\W*$",
            " ",
        ),
        # Verbs of arithmetic as a child has them.
        (r"\b(you|to|and|then|we) times (?=(?:all|the|them|both|these|those|every|each|together)\b)", r"\1 multiply "),
        (r"\b(you|to|and|then|we) (?:plus|sum) (?=(?:all|them|both|these|those|every|each|together)\b)", r"\1 add "),
        (r"\b(you|to|and|then|we) take away (?=(?:the|them|one)\b)", r"\1 subtract "),
        # Said before rules, and nothing by itself.
        (
            r"^\W*(?:(?:it goes without saying|needless to say|it is understood|it should be clear|of course|"
            r"naturally|obviously|as you know|"
            r"as everyone knows|to begin with|first of all|by now you know)(?: that)?|(?:the )?same (?:old "
            r")?(?:story|drill|thing|deal|procedure|"
            r"tune|song|game)(?: as (?:ever|always|usual|before))?(?= ?[:,;-])|as (?:ever|always|usual|before)(?= "
            r"?,)),? ?[:;-]? ",
            "",
        ),
        (
            r"\b(?:you (?:have|need) to |your task is to |it is your task to |please |be so kind as to |let us |"
            r"do )?(?:see to it|make sure|"
            r"make certain|ensure|take care|be careful|arrange matters|contrive|bring (?:it )?about|"
            r"ascertain)(?:,? that| so that)? "
            r"(?=(?:no|each|every|all|the|none|any|in) )",
            "",
        ),
        (
            r",? (?:except|but|save|apart)(?: for| from)? (?:for )?(?:what (?:follows|comes next|is told below)|"
            r"the following|(?:the )?(?:rules?|extras?|"
            r"points?|items?|additions?) (?:below|that follows?|listed)|these extras|mind (?:the|these) "
            r"[^.;,]{3,30})(?=\W*$)",
            "",
        ),
        # Rows and columns by how they lie; what is said of one unit and of the next.
        (
            r"\b(?:line|lines|rank),? (?:across|horizontal(?:ly)?)(?:,? (?:or|and|nor) )(?:down|vertical(?:ly)?)\b",
            "row or column",
        ),
        (
            rf"\b((?:from |of )?(?:1|one)\b[^.;]*|{DIGITS}[^.;]*), (?:across|horizontally),? (?:and )?(?:down|"
            r"vertically)\b(?=[^.;]*\b(?:box|block|"
            r"region)s?(?:es)?\b)",
            r"\1 in rows, columns",
        ),
        (
            r"^\W*(?:across|horizontally),? (?:and )?(?:down|vertically)(?=[^.;]*\b(?:box|block|region)s?(?:es)?\b)",
            "in rows, columns",
        ),
        (
            r"\b(rows?|columns?)\b([^.;:]*?),? (?:and |but )?(?:the same (?:is true|goes|holds|is so|applies|is "
            r"the case)(?: also| too)? (?:of|for|in|"
            r"to|with)|let|so (?:do|does|are|is|must|will|has|have)|as (?:do|does|are|must)|likewise(?: for| "
            r"in)?) (?=(?:the|all|each|every|any|nine|"
            r"no)\b)",
            r"\1\2, ",
        ),
        (r",? (?:and )?no (box|block|region|column|row) (?:is|be|being|makes|forms) an exception\b", r", and every \1"),
        (r"\b(rows?|columns?)\b([^.;:]*?) (?:do|does) (?:so )?(?:likewise|the same|as much)\b", r"\1\2"),
        (r"\b(never|none|not|nor|or|no|twice) (?:is |are |may be |being |to be |it )?doubled\b", r"\1 repeated"),
        (
            r"\b(?:the )?(?:usual|customary|ordinary|normal|standard|classic|familiar|well-known|traditional|"
            r"regular) (?:restrictions?|constraints?|"
            r"conditions?|requirements?|laws?|regulations?|limits?|conventions?)\b",
            "normal rules",
        ),
        (
            rf"\b(?:every|each|one) {DIGITS}( (?:from )?\d (?:to|-) ?\d)? (?:occurs|appears|comes|is) (?:nine|six|"
            r"eight|9|8|6) times in the grid"
            r"(?: in all)?[:,] ",
            r"each digit\1 ",
        ),
        # The one of two cells and the other.
        (
            r"\b(twice|double|half|three times|four times|thrice|triple|treble)(?: of| as much as| as large as| "
            r"as big as|"
            r" the (?:size|value) of| that of)? (?:its|the|his|their)(?: own| direct)? (?:partner|neighbour|"
            r"companion|mate|"
            r"counterpart|fellow|pal|buddy|friend|opposite number|next-door neighbour)\b",
            r"\1 the other",
        ),
        # What one may do wherever no mark stands.
        (
            r"^\W*(?:off|outside|away from|beside|apart from|except on|everywhere but on|elsewhere|in (?:all "
            r")?other "
            rf"places|everywhere else|where there (?:is|are) no)(?: (?:the|these|any|all|coloured|{_LINE}|{MARK}|"
            r"cages?|"
            r"arrows?))*,? (?:anything|everything|all) (?:goes|is (?:possible|allowed|free|fine|fair game))\W*$",
            " ",
        ),
        # What holds an even or odd digit, and which these are.
        (
            r"\b(?:hides?|conceals?|covers?|shelters?|guards?|harbours?)(?= (?:only |always )?(?:an? )?(?:even|"
            rf"odd) {DIGITS}\b)",
            "holds",
        ),
        (
            rf"\b((even|odd) {DIGITS})\W+(?:(?:that is|i\.?e\.?|namely|meaning|so),? )?(?:an? )?\d(?:, "
            r"?\d){1,4},? (?:or|and) \d\b",
            r"\1",
        ),
        (
            r"^\W*not (?:even )?(?:at|by|along|on|over) (?:the|an?|their) (?:sides?|edges?|borders?),? (?:and|or|"
            r"nor)(?: not)?(?: even)? (?:at|"
            r"by|on|over) (?:the|an?|their) (?:corners?)\b",
            "even at a corner",
        ),
        (
            r"[.,]? not (?:even )?(?:at|by|along|on|over) (?:the|an?|their) (?:sides?|edges?|borders?),? (?:and|"
            r"or|nor)(?: not)?(?: even)? (?:at|"
            r"by|on|over) (?:the|an?|their) (?:corners?)\b",
            " even at a corner",
        ),
        (
            r",? (?:if you (?:must|have to|need to|like|wish)|if (?:need be|necessary|needed)|where (?:necessary|"
            r"needed)|as (?:needed|necessary)|"
            r"should (?:it|that) be (?:necessary|needed)|(?:if|when) you run out of (?:cells|squares|grid|room))\b",
            "",
        ),
        # What puzzle it is, before the first rule.
        (
            rf"^\W*(?:an?|another|today's|this|here is an?|here's an?|this week's) (?![^:]*\b(?:{DIGITS}|{CELL}|"
            rf"{MARK}|rows?|columns?|"
            r"box(?:es)?|lines?|cages?|no|not|without|regions?|areas?|diagonals?|arrows?|"
            r"thermometers?)\b)(?:[\w'-]+ ){0,4}(?:grid|puzzle|"
            r"challenge|board|diagram|one|sudoku)(?: (?:for|to|on|of|from|with) [^:.;]{2,40})?: ",
            "",
        ),
        (
            r",? (?:(?:but |though )?only )?(?:if|when|where|as far as|provided|so long as|as long as|unless)(?: "
            r"that)? (?:(?:the|other|usual|normal|"
            r"basic|any|of|and|or|row|column|col|box|block|sudoku)[/,]? ?)+ (?:rules?|constraints?|conditions?)? "
            r"?(?:permits?|allows?|lets?|"
            r"forbids?)(?: (?:it|this|them|that))?(?= ?[.;,)])",
            "",
        ),
        (
            (
                r"(\bking\b[^.;]*?), (?:an? |the )?diagonal (?:steps?|moves?|ones?|contacts?) (?:is |are |being "
                r")?(?:included|too|counted),?"
            ),
            r"\1",
        ),
        # A letter of its own for the first digit.
        (
            rf"^\W*(?:suppose|let|say|assume|imagine|if|call)(?: that)? (?:the )?(?:{CELL}|{DIGITS}) (?:nearest|"
            r"next|closest|first)(?: to (?:it|the "
            r"(?:clue|number|margin|edge)))?(?: (?:holds|contains|is|be|shows|has|reads))? (?:the (?:digit|"
            r"number) )?[NKMX]\b\W*$",
            "X is the first digit.",
        ),
        (rf"\bthe first [NKM] (?:{CELL}|{DIGITS})\b", "the first X digits"),
        (
            r",? (?:(?:when )?counted|counting|starting|reckoned|measured|beginning) (?:from|at) (?:the "
            r")?(?:margin|edge|clue|number|outside)(?:,? "
            r"(?:and|with) the (?:nearest|first)(?: one| square| cell)? (?:being )?(?:included|counted))?",
            "",
        ),
        # A worm with a round head is a tube, whatever it is called.
        (
            r"\b((?:along|on|in) (?:an?|the|each|every|all|any) (?:[\w-]+ "
            rf")?)(?:{_LONG})(?=[^.;]*\b{_GROWS}[^.;]*\b(?:from|at|with|by) "
            rf"(?:its|the|their) {_ROUND_END})",
            r"\1thermometer",
        ),
        (rf"\b({_GROWS}[^.;]*\b(?:from|at|with|by) (?:its|the|their)) {_ROUND_END}", r"\1 bulb"),
        # Long bulbs, and numbers in a muddle.
        (
            r"^\W*(?:if|where|when) (?:the|an?) (\w+) (?:is|covers|spans|takes(?: up)?|fills|has|takes in) "
            rf"(?:two|three) {CELL}(?: long| wide)?,? "
            r"(?:you |one |it |we )?(?:read|reads|holds?|is|must read|contains?|shows?|makes?) (?:as )?(?:an? "
            r")?(two|three)-(?:digit|figure) "
            r"(?:number|value)\b",
            r"the \1 holds a \2-digit number",
        ),
        (
            r"\bcan (?:always |all )?be (?:put|arranged|sorted|placed|rearranged|written|laid|brought)(?: in| "
            r"into| to give| to form)?(?: an?| the| "
            r"some| one)?(?: right| unbroken| proper)? (?:order|row|sequence|series|run) without (?:an?y? "
            r")?(?:gaps?|holes?|breaks?)\b",
            "are consecutive in any order",
        ),
        (
            r",? ?(?:- ?|–|—)?(?:but |though |and |yet |only )*(?:they |these |the numbers |the digits )(?:may|"
            r"can|might|could|need not)(?: also| well)? "
            r"(?:be|lie|stand|come)(?: lying| standing| scattered)?(?: about| around)? ?(?:in (?:an?|any) "
            r"(?:muddle|mess|jumble|order|disorder)|muddled"
            r"(?: up)?|jumbled(?: up)?|mixed(?: up)?|shuffled|out of order|in order)(?=\W*$)",
            ", in any order",
        ),
        (
            rf"\b((?:twice|repeat\w*|again|more than once) (?:on|along|in) )one (?=(?:[\w-]+ )?(?:{_LONG}|cages?|"
            r"areas?|regions?|arrows?)\b)",
            r"\1any ",
        ),
        (
            r"\b((?:twice|repeat\w*|again|more than once) (?:on|along) (?:any|an?|the|the same|each|every) "
            rf"(?:[\w-]+ )?)(?:{_LONG})\b",
            r"\1line",
        ),
        # A cage without a number, where cages and their numbers are told.
        (
            r"\b(?:an? |the |any )?(cages?|areas?|regions?|blankets?|fences?) (?:without|with no|that has no|that "
            r"have no) (?:an? |any )?(?:number|total|"
            r"sum|clue|figure)s? (?:just |only |simply |merely |still )*(?=(?:has|have|holds?|contains?|needs?)\b)",
            r"each \1 ",
        ),
        # Beaks that are hungry.
        (
            (
                r"\b(?:hungry|greedy|wide|open|sharp|little|tiny) (?=(?:beaks?|mouths?|jaws?|crocodiles?|wedges?|"
                r"arrowheads?)\b)"
            ),
            "",
        ),
        (
            r"\b(?:beaks?|mouths?|jaws?|crocodiles?)(?: mouths?)? (?=between (?:the|some|these|two) (?:squares|"
            r"cells|numbers|digits)\b[^.;]*\b(?:open|point|turn))",
            "inequality signs ",
        ),
        # The rest stays as it is.
        (
            r",? (?:but|and|yet|though|still|however),? (?:the |your |our )?(?:job|task|aim|goal|idea|rest|game|"
            r"principle|mission|drill)(?:'s|s| is| "
            r"remains| stays) (?:still )?(?:the same|unchanged|as ever|as before|as always|as usual)(?= ?[:;,.])",
            "",
        ),
        # Tubes with a ball at one end rise away from it.
        (
            r"\b(tubes?|thermometers?|pipes?|columns of mercury) with an? (?:\w+ )?(?:blob|ball|knob|bulge|bead|"
            r"dot|disc|bubble) (?:at|on) (?:one|"
            r"its|the|an?) (?:end|bottom|foot|tip)(?=[^.;]*?\b(?:from|away from|leave|leaving) (?:the|this|that) "
            r"(?:blob|ball|knob|bulge|bead|dot|disc|"
            r"bubble)\b)",
            r"\1",
        ),
        (
            r"\b((?:tubes?|thermometers?|pipes?)\b[^.;]*?\b(?:from|away from|leave|leaving) (?:the|this|that|its|"
            r"their)) (?:blob|ball|knob|bulge|bead|"
            r"dot|disc|bubble)s?\b",
            r"\1 bulb",
        ),
        # How a sign tells what is to be done.
        (
            r"\b(?:put together|combined|joined|worked|treated|connected|taken together|reckoned|calculated|"
            r"processed|brought together)"
            r"(?: (?:by|with|using|according to|as told by|following|under|through))(?: the help of| means of)? "
            r"the (?:sign|operation|symbol|operator)"
            r"(?: (?:shown|printed|given))?(?: (?:in|at) (?:its|the|their|that) corner)?",
            "combined by the operation sign",
        ),
        # Lines told from others by what is not at their ends.
        (
            rf"\b({_LINE}) (?:without|with no|that have no|that lack|lacking)(?: any)?(?: round)? (?:ends?|"
            r"circles?|rings?|bulbs?|blobs?|discs?)"
            r"(?: at (?:the|their) ends?)?",
            r"\1",
        ),
        # Shapes with heavy edges.
        (
            r"\b(?:bold|thick|heavy|heavily|boldly|thickly|dark|fat|strong|strongly)[- ](?:edged|bordered|lined|"
            r"rimmed|"
            r"framed|walled|ruled|bounded|fenced)[- ](?=(?:shape|region|area|piece|zone|block|box|patch|part|"
            r"group)s?(?:es)?"
            r"\b)",
            "outlined ",
        ),
        # Like a word that reads the same both ways.
        (
            rf"^\W*(?:each |every |the |an? |all )?(?:[\w-]+ )?{_LINE} (?:is|are|works?|reads?|behaves?)(?: just| "
            r"exactly| "
            r"a bit)? like the (?:words?|names?) [A-Z]{3,}\b(?:,? (?:and|or) [A-Z]{3,})*\W*$",
            " ",
        ),
    )
)


def asks_for_it(sentence: str) -> bool:
    """Whether a question asks the solver to do what it tells: `Can you put 1 to 9 into every row?`."""
    return _FIRST.match(sentence) is not None


def plainly_addressed(sentence: str) -> str:
    """The sentence without a word of the solver, and with what digits like put as what they must do."""
    return substituted(sentence.replace("’", "'"), _ADDRESSED)
