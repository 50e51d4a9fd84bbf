"""Whole fields of synonyms put as the one word of each that the lexicon has, where the words around tell what is meant.

A `ball` is a bulb at the start of a tube and a dot between cells, a `stretch` a line where digits stand on it, and
digits that `make` a number add up to it. Works on a sentence after the turns of phrase that other tables know, so that
it meets only what those have left; the marks that it puts are named as classes, not one by one.
"""

from __future__ import annotations

from recognise.rules.doings import HIGHER, LOWER, with_doings_plain
from recognise.rules.omitted import with_omissions_told
from recognise.rules.substitution import CELL, DIGITS, in_any_case, substituted

# ------------------------------------------------------------------------------------------------ classes of words

_COLOUR = (
    r"(?:(?:light|dark|pale|bright|deep|thin|thick|fine|bold|broad|wide|small|little|tiny|large|big|single|faint) )*"
    r"(?:(?:gr[ea]y|white|black|blue|green|red|purple|violet|pink|orange|yellow|gold|golden|brown|teal|cyan|"
    r"turquoise|"
    r"magenta|lilac|mauve|coral|peach|olive|lime|silver|beige|coloured|colored|tinted|shaded|solid|filled|open|"
    r"hollow|"
    r"marked|drawn) )?"
)
_OF = r"(?:an?|the|each|every|any|its|their|this|that|these|those|all|both|such an?|one and the same|the same|any one)"
_ANY_LINE = (
    r"(?:bars?|stretch(?:es)?|streaks?|strokes?|snakes?|bands?|strips?|traces?|tapes?|laces?|streamers?|belts?|"
    r"chains?|"
    r"runs?|tubes of colour|necklaces?|worms?|sashes|sash|scarf|scarves|whips?|vines?|wands?|rods?|rivers?|streams?|"
    r"canals?|pipes?|hoses?|cables?|leads?|noodles?|eels?|garlands?|zips?|rails?|twigs?|arcs?|loops?)"
)
"""What a line may be called that other marks are called too."""
_ROUND = r"(?:round(?:ed)?|circular|ring[- ]shaped|disc[- ]shaped)"
_SQUARE = r"(?:square|squarish|square[- ]shaped|rectangular)"
_SHAPE = (
    r"(?:shadows?|spots?|shapes?|patch(?:es)?|tints?|marks?|markers?|markings?|symbols?|signs?|backgrounds?|shades?|"
    r"frames?|outlines?|blots?|blobs?|areas?|tiles?|stamps?|figures?|highlights?|smudges?|stains?|dots?|dabs?|fills?|"
    r"shadings?|plates?|labels?|emblems?|icons?)"
)
_BROKEN = (
    r"(?:dashed|dotted|broken|stitched|dash-lined|dot-lined|dashed-line|dotted-line|broken-line|interrupted|"
    r"perforated|"
    r"hyphenated|pecked|sewn|tacked|speckled)"
)
_FENCED = (
    r"(?:ringed|framed|enclosed|bounded|surrounded|outlined|fenced(?: in| off)?|edged|bordered|marked(?: off| out)?|"
    r"delimited|encircled|circled|girdled|closed(?: in)?|cordoned off|hemmed in|penned in|drawn round|wrapped|lined|"
    r"delineated|set off|singled out|held together|grouped)"
)
_RIM = (
    rf"(?:(?:an? |the )?(?:row of |line of |ring of |frame of |border of )?(?:(?:small|little|short|fine|thin) )*"
    rf"(?:dashes|dots|stitches|hyphens|(?:{_BROKEN} (?:lines?|borders?|outlines?|edges?|frames?|rims?|boundary|"
    r"boundaries|contours?|rules?|perimeters?|rings?|strokes?|fences?)))(?: around (?:it|them))?)"
)
_PLACE = (
    r"(?:areas?|regions?|groups?|zones?|sets?|patch(?:es)?|blocks?|clusters?|bunch(?:es)?|shapes?|enclosures?|pens?|"
    r"frames?|fences?|loops?|outlines?|boxes|box|borders?|rings?|corrals?|compartments?|pockets?|plots?|fields?|"
    r"yards?|"
    r"paddocks?|rooms?|chambers?|parcels?|cells?|squares?|pairs?|figures?|contours?|boundary|boundaries|"
    r"perimeters?|islands?|bags?|sacks?|"
    r"pouch(?:es)?|"
    r"rectangles?|cages?|bundles?|batch(?:es)?|collections?|hutch(?:es)?|folds?)"
)
_BALL = r"(?:ball|blob|knob|bead|dot|disc|drop|bubble|globe|head|button|pearl|node|blot|foot|base|root)"
_TUBE = r"(?:thermometers?|thermos?|tubes?|mercury|glass|strips?|lines?)"
_RISES = r"(?:increas|ris|grow|climb|ascend|go(?:es)? up|larger|bigger|higher|greater|warm|never|not|at least|small)"
_END_MARK = r"(?:circles|rings|discs|disks|balls|bulbs|blobs|beads|dots|knobs|bubbles|spots|pearls|marbles|terminals)"
_STANDS = (
    r"(?:(?:that|which) )?(?:is |are )?(?:lying|lies|lie|placed|sitting|sits|sit|found|standing|stands|stand|written|"
    r"located|positioned|situated|threaded|strung|resting|printed|entered|covered|visited|touched|crossed|traversed|"
    r"passed|met|traced|swept|taken in|run over|hit)"
)

_LINE = (
    rf"(?:{_ANY_LINE}|lines?|paths?|tracks?|trails?|ribbons?|threads?|cords?|strings?|wires?|curves?|routes?|roads?|"
    r"ropes?|lanes?|stripes?)"
)
_TOKEN = (
    r"(?:stars?|triangles?|hearts?|flowers?|moons?|suns?|leaf|leaves|hexagons?|pentagons?|cross|crosses|asterisks?|"
    r"snowflakes?|clovers?|crowns?)"
)
_LABEL = (
    r"(?:labels?|tags?|tiles?|plates?|badges?|bubbles?|circles?|discs?|dots?|rings?|frames?|plaques?|tickets?|boxes|"
    r"box)"
)

# ------------------------------------------------------------------------------------------------ what marks are

_MARKS = in_any_case(
    (
        (rf"\b{_ROUND} ({_COLOUR}){_SHAPE}\b", r"\1circle"),
        (rf"\b{_SQUARE} ({_COLOUR}){_SHAPE}\b(?! of)", r"\1square"),
        (r"\bdouble (?=rings?\b|discs?\b|frames?\b|circles? (?:equals|is|gives)\b)", ""),
        # Dashed areas of any name.
        (rf"\b{_BROKEN} (?!{CELL}\b){_PLACE}(?: of {CELL})?\b", "dashed cage"),
        (
            rf"\b{_PLACE}(?: of {CELL})? (?:(?:that|which) (?:is|are) )?(?:{_FENCED} (?:by|with|in|within)|"
            r"with|in|"
            rf"inside|within|having) {_RIM}",
            "dashed cage",
        ),
        (
            rf"\b{_RIM} (?:surrounds?|encloses?|rings?|frames?|bounds?|fences?) (?:an? |each |some )?{_PLACE}\b",
            "dashed cage",
        ),
        (rf"\b{_PLACE}(?: of {CELL})? (is|are) {_FENCED} (?:by|with|in|within) {_RIM}", r"dashed cage \1 given"),
        (rf"\b{_PLACE} (?:made )?(?:up )?of (?:(?:small|little|short) )*(?:dashes|dots|stitches)\b", "dashed cage"),
        (r"\b(?:squares|boxes|blocks) of (?:three by three|3 by 3|§size=\S+|3x3)(?: cells| squares)?\b", "boxes"),
        (r"\bdivid(?:es?|ing) (?=(?:two|neighbouring|adjacent) (?:cells|squares|fields)\b)", "between "),
        # Lines of any name, where digits or neighbours are on them.
        (
            rf"\b(?:{_STANDS} by|(?:{_STANDS} )?(?:on|along|upon|under|beneath|underneath|over)) ({_OF} "
            rf"{_COLOUR}){_ANY_LINE}\b(?!-)",
            r"on \1line",
        ),
        (rf"(^|[:;.] )({_COLOUR})(?!bars?|strokes?){_ANY_LINE}(?=:)", r"\1\2line"),
        (rf"\b(?:{_STANDS} )(?:on|along|upon|by|under|beneath|underneath) (?={_OF} )", "on "),
        # The ball of a tube, and tubes told by it.
        (
            r"\b((?:from|at|of|away from|leav\w+|to|towards|with|start\w* (?:at|from)) (?:its|the|a|their) "
            rf"(?:\w+ )?){_BALL}\b"
            rf"(?=[^.;]*\b{_RISES})",
            r"\1bulb",
        ),
        (
            rf"\bbulb[- ]ended {_TUBE}|\b{_TUBE} (?:that (?:start|begin)s? )?(?:with|from) (?:a|its|one) "
            r"(?:round(?:ed)? )?bulb\b(?! (?:at|on) (?:each|both|either))",
            "thermometer",
        ),
        # Marks at both ends of a line.
        (
            rf"\b({_LINE}|it) (between|joining|connecting|linking|that (?:joins|connects|links|runs between)|"
            rf"with) (two|both|its) {_END_MARK}\b",
            r"\1 \2 \3 circles",
        ),
        (
            rf"\b{DIGITS} (?:in|on|of|at|inside) (?:the |its |these |those |both |two )*(?:{_END_MARK}|end discs|"
            r"end circles)\b",
            "digits in the circles",
        ),
        (
            rf"\b(between (?:the )?(?:two )?){DIGITS} (?:in them|at (?:its|the|both|either|each|their) "
            r"ends?)\b(?=[^.;]*\W*$)",
            r"\1digits in the circles at its ends",
        ),
        (
            rf"\bwith an? {_BALL[:-1]}|ring|circle|bulb) (?:on|at) (?:both ends|each end|either end)\b",
            "with circles at its ends",
        ),
        (
            r"\b(circles at its ends\b[^.;]*?\b(?:digits|numbers|cells)) (?:in the middle|in between|between)"
            r"(?: of (?:the|a|its) line)?\b(?! the)",
            r"\1 on it",
        ),
        # A mark that two cells share, and one with a number in it.
        (
            rf"\b({CELL}|neighbours) (?:share|have in common) (?=an? {_COLOUR}{_LABEL}\b)",
            r"\1 are joined by ",
        ),
        (
            rf"\b(?:numbered {_LABEL}|{_LABEL} (?:with|bearing|carrying|showing|containing|holding) (?:an?|its) "
            r"(?:number|figure|total|sum))\b(?=[^.;]*\b(?:sum|add|total|make)\b)",
            "numbered mark",
        ),
        # Tinted or not: whatever they look like.
        (
            r",? (?:whether )?(?:tinted|shaded|coloured|colored|marked|grey|white|dark|light|filled)(?: ones)? or "
            r"(?:plain|not|white|blank|uncoloured|untinted|unshaded|otherwise|unmarked|light|empty)\b(?=\W*$)",
            "",
        ),
        # No square boxes, but other regions.
        (
            r"^\W*(?:there are |we have )?no (?:§size=\S+|\dx\d|square|regular|ordinary|usual|normal|standard|"
            r"neat|proper) "
            r"(?:boxes|blocks|squares)(?: \w+){0,3}?\s*(?:[-–—:;,!]+|but|instead)\s*"
            r"(?=[^.]*\b(?:regions?|shapes?|pieces?|areas?|zones?)\b)",
            "",
        ),
        # More signs than figures.
        (
            r"\b(?:ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|\d\d) (?:symbols|signs|characters)"
            r"(?: (?:are|come) (?:in play|into play|in use|used|needed|at work))?\b",
            "digits",
        ),
        (
            r",? (?:(?:and|then|plus|followed by) )+([A-G])(?:(?:, | and |, and )[B-F])*(?:, | and |, and "
            r")([B-G]),? (?:(?:which|that|they|"
            r"these) )?(?:(?:are|is) worth|stands? for|means?|counts? as|count|have the values?|with the values?|"
            r"being) "
            r"(?:(?:the )?\d\d(?:, | and |, and | to |-)?)+",
            r" and the letters \1 to \2",
        ),
        (r"\b(?:read )?(?:from )?(?:the )?top (?:down|downwards)\b", "read from top to bottom"),
        (
            r",? (?:whichever|whatever|no matter (?:which|what)) (?:way|direction) (?:it|they|the \w+) "
            r"(?:lies?|points?|turns?|bends?|faces?|is drawn|are drawn|curls?|winds?)\b",
            "",
        ),
        # Balls that tubes rise from, told after what they do.
        (
            rf"\b({_RISES}\w*\b[^.;]*? (?:from|leaving|at) (?:the|its|their) (?:\w+ )?){_BALL}\b"
            r"(?= (?:to|towards|on|onwards|up|upwards|until)\b|\W*$)(?=[^.;]*\b(?:end|tip|top|tube|thermometer|on|"
            r"up)\b)",
            r"\1bulb",
        ),
        # Any small shape on a border is a mark; a cross is one anywhere between cells.
        (
            rf"\b{_COLOUR}{_TOKEN}\b(?= (?:\w+ ){{0,2}}(?:between|at (?:the|an?) (?:edge|border)|on (?:an?|the|"
            r"their|its) "
            rf"(?:\w+ )?(?:edge|side|border)|joins?|links?|connects?|separates?|parts)\b)",
            "symbol",
        ),
        (r"(?:^|(?<=[;:,.] ))cross(?:es)?(?=:| (?:mean|show|say|stand)s?\b)", "symbol"),
        (
            r"\b(at|by|with|have|has|bears?|no|an?|the|small|little|each|every) cross(?:es)?\b(?! (?:an?|the|over|"
            r"each|from)\b)",
            r"\1 symbol",
        ),
        (
            r"\b(?:the )?(?:opening|mouth|open (?:side|end)|wide (?:side|end)|jaws?) of (?:the|each|an?|every) "
            r"(?:sign|angle|wedge|chevron|arrow(?:head)?|symbol|beak|v)\b(?: (?:shows|points|looks|faces|is "
            r"turned|is))?"
            rf"(?= (?:to|towards|at|on the side of|next to|beside|near)(?: \w+){{0,4}} {HIGHER}\b)",
            "the sign opens",
        ),
        # Which way a diagonal runs, in whichever order its corners are told.
        (r"\b(?:left (?:below|bottom|down|lower)|(?:below|down) left)\b", "bottom left"),
        (r"\b(?:right (?:below|bottom|down|lower)|(?:below|down) right)\b", "bottom right"),
        (r"\b(?:left (?:above|top|upper|up)|(?:above|up) left)\b", "top left"),
        (r"\b(?:right (?:above|top|upper)|(?:above|up) right)\b", "top right"),
        # Units told with what they are like.
        (
            r"\b(regions?|areas?|boxes|blocks?|pieces?)((?: with[^,.;]*)?),? (?:which|that|whose shapes?|their "
            r"shapes?) "
            r"(?:are|is|have|being)(?: this time| today| here)? (?:not (?:quadratic|square|regular|the "
            r"usual)[^,.;]{0,30}?"
            r"(?:,|but) )?(?:but )?(?:this time |today )?(?:of )?(?:an? )?(?:irregular|jagged|odd|uneven|various|"
            r"strange|"
            r"unusual)(?: in shape| shapes?| forms?)?\b",
            r"irregular \1\2",
        ),
        (
            r"^\W*(?:apart from|besides|in addition to|aside from|as well as) ((?:the )?rows,? (?:and "
            r")?columns(?:,? and "
            r"\w+)?), which (?:you (?:must |have to )?fill|are (?:to be )?filled) (with [^,;.]*), ",
            r"fill \1 \2; ",
        ),
        (
            rf"\b(in|inside|within|on|along) (?:one and )?the same (?={_COLOUR}(?:dashed cage|cage|line|arrow|"
            r"thermometer)\b)",
            r"\1 any ",
        ),
        (
            rf",? (?:though|although|but|while|and) (?:the )?other (?:{CELL}|ones) (?:can|may|might|could)(?: also)? "
            r"(?:be|hold|contain|have)\b[^.;,]*?(?: too| as well| also)?(?=\W*$)",
            "",
        ),
        # A number at a corner of cells, in whatever it is printed.
        (
            rf"\b(?<!numbered ){_LABEL}(?= (?:\w+ ){{0,2}}(?:on|at) (?:an?|the|each|every) (?:crossing|corner|"
            r"intersection|vertex|"
            r"junction|meeting point)\b)",
            "circle",
        ),
        (
            r"\b(regions?|areas?|blocks?|boxes|shapes?|pieces?) (?:(?:that|which) )?(?:the )?(?:heavy|thick|bold|"
            r"dark|fat|heavier|"
            r"thicker|bolder) (?:lines?|borders?|outlines?) (?:mark out|mark off|mark|make|form|enclose|bound|"
            r"outline|cut out|"
            r"define|delimit|surround|draw)\b",
            r"outlined \1",
        ),
        (
            rf"\b(on|along) ({_OF} )(?:string|row|chain|necklace|line|garland) of ({_COLOUR})(?:beads|dots|pearls|"
            r"dashes|links|spots|"
            r"circles|discs)\b",
            r"\1 \2\3line",
        ),
        # A number beside the grid, or at the start of a line, in whatever it is printed.
        (
            rf"\b({DIGITS}|clues?|totals?) (?:printed |written |standing |given |shown )?(?:in|on|inside|within|"
            r"upon) (?:an?|the|each|"
            rf"its|their) {_COLOUR}(?:{_LABEL}|flags?|pads?|pennants?|banners?|shields?|balloons?|stamps?|cards?|"
            r"lozenges?|diamonds?|"
            r"squares?|ovals?|arrows?(?= outside)) (?=(?:(?:at|on|along|by|in|round|around) (?:the|each) (?:\w+ "
            r")?(?:edge|margin|border|"
            r"rim|outside|frame|perimeter)|outside|beside the (?:grid|diagram|row|column))\b)",
            r"\1 ",
        ),
        (
            r"^(?![^.;]*\barrow)([^.;]*)\b(?:number|figure|total|value|digit) (?:in|on|at|inside) (?:the|an?|"
            rf"its) (?:\w+ )?(?:{_LABEL}|flags?|pads?|pennants?|"
            r"banners?|balloons?|stamps?) (?:(?:with|at|from|in|on) which (?:it|the line|each|they) (?:begins?|"
            r"starts?|opens?|sets? out|"
            r"springs?)|where (?:it|the line) (?:begins|starts|opens))\b",
            r"\1number at its start",
        ),
        (
            r"\b(?:pads?|flags?|banners?|stamps?|cards?|shields?)(?= (?:\w+ )?(?:on|at) (?:an?|the|each|every) "
            r"(?:crossing|corner|"
            r"intersection|vertex|junction|meeting point)\b)",
            "circle",
        ),
        # Cages whose total is not told.
        (
            r"(\b(?:total|sum|number)s? (?:is|are) (?:printed|given|shown|written|told)[^.;,]*?),? (?:except|but "
            r"not|save)(?: in| for) "
            r"(?:one|two|three|some|a few)(?: of the)? cages?(?:,? (?:which|whose|that|where|of which)[^.;]*)?",
            r"\1",
        ),
        # Signs by another name.
        (
            r"\b(?:pointers?|angles?|beaks?|mouths?|jaws?|wedges?|triangles?)(?= [^.;]*\bbetween (?:two|"
            rf"neighbouring|adjacent) {CELL} [^.;]*\b(?:{LOWER}|{HIGHER})\b)",
            "chevron",
        ),
        (r"\b(?:narrows|tapers|narrowing|tapering|closes|is narrow)(?= (?:to|towards|at))", "points"),
        (r"\b(?:opens up|widens|gapes|broadens|opens wide|is open)(?= (?:to|towards|at))", "opens"),
        # A number on a border, in whatever it is printed.
        (
            r"\b(number|figure)s? (?:(?:printed |written |standing |given )?(?:in|on|inside|within|upon) (?:an?|"
            r"the|each|its|their) "
            rf"{_COLOUR}(?:circle|disc|bubble|label|frame|box|square|ring|tile|plate|tag|badge|oval|blob|ball|"
            r"plaque|ticket|capsule)|standing|printed|lying|sitting|placed)"
            r"(?= (?:\w+ )?(?:between|astride|straddling|joining|linking|touching|separating|on the (?:edge|"
            r"border|side|boundary|line)|where) (?:\w+ )*?(?:two|neighbouring|adjacent) )"
            r"(?=[^.;]*\b(?:sums?|totals?|add|adds|adding|added)\b)",
            r"small \1",
        ),
        (
            r"\b(?:(?:astride|straddling|touching|bridging|spanning|coupling) two (?:neighbouring |adjacent "
            rf")?{CELL}|where two (?:neighbouring )?{CELL} (?:meet|touch|adjoin))\b"
            r"(?= (?:is|are|means|gives|shows|says|tells|equals|\w+s)\b)",
            "between two cells",
        ),
    )
)


def by_their_fields(sentence: str) -> str:
    """The sentence with words put as the one of their field that the lexicon has."""
    return with_doings_plain(with_omissions_told(substituted(sentence, _MARKS)))
