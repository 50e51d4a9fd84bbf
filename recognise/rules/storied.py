"""Marks and rules as short, friendly pages tell them, put as plain rules do: worms with a round head, hungry beaks,
cages by other names, a letter of its own for the first digit, and what is said of places without a mark.
"""

from __future__ import annotations

from recognise.rules.substitution import CELL, DIGITS, MARK, in_any_case, substituted

_LINE = r"(?:lines?|paths?|ribbons?|threads?|strings?|tracks?)"
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

_STORIED = in_any_case(
    (
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
        # The usual goes on as ever.
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


def storied(sentence: str) -> str:
    """The sentence with what it tells of marks put in plain words."""
    return substituted(sentence, _STORIED)
