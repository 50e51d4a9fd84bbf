"""Concepts that stand together become one: a small rewriting grammar over the concepts of a clause.

`no digit may be used twice` and `all digits are different` both become NOREPEAT; `differ by at least 5` and `are five
or more apart` both become GAP=5. What is left over keeps its own name, so that a pattern has to account for it.
"""

from __future__ import annotations

import re
from functools import lru_cache

from recognise.rules.substitution import Rule, substituted

_N = r"NUM=(\d+)"
_NOUN = (
    r"(?:(?:DIGIT|CELL|ROW|COLUMN|BOX|REGION|GRID|CAGE|LINE|ARROW|THERMO|PAIR|NEUTRALNOUN|SHADED|MAINDIAG|DIAGONAL|"
    r"COLOUR=\w+|STYLE=\w+|BOUNDED|IRREGULAR|HOLD|MAY|IT|ALL|ONE|OR|GIVEN|APPLY|ALONG|SHAFT|SQUARE|TOWARDS|RUN|"
    r"RANGE=\S+|"
    r"SIZE=\w+) )"
)
_ON = "(?:FROM|TOWARDS|HOLD|IT|ALL|ONE|END|LINE|ROW|COLUMN|OR|AND|FORWARD|EDGE|GRID|TIP|READ|START)"
_UNIT = r"(?:SIZE=\w+ |BOUNDED |IRREGULAR |STYLE=\w+ )?(?:ROW|COLUMN|BOX|REGION) "
_PLAIN = r"(?:(?:DIGIT|CELL|PAIR|NEUTRALNOUN|HOLD|MAY|IT|ALL|ONE|OR|APPLY|TOWARDS|NUM=2|ATLEASTONCE) )"

_PLACED = (
    r"(?:(?:DIGIT|CELL|ROW|COLUMN|BOX|REGION|GRID|CAGE|LINE|PAIR|NEUTRALNOUN|MAINDIAG|DIAGONAL|HOLD|MAY|IT|ALL|"
    r"ONE|OR|"
    r"AND|ALONG|TOWARDS|ADJACENT|EVENDIAGONALLY|SHARESIDE|KNIGHT|KING|MOVE|CHESS|APART|BY|GIVEN|EDGE|CORNER|FROM|TWO|"
    r"APPLY|JOIN|COLOUR=\w+|SHADED|EXACTLY) )"
)

_RULES = tuple(
    Rule(r"(?<!\S)" + pattern, replacement)
    for pattern, replacement in (
        (r"((?:CELL|SQUARE|GRID|SPACE) )COLOUR=black (?=DIGIT |RANGE|ALLDIGITS|LETTERS)", r"\1HOLD "),
        (
            r"IF SEE (?=(?:ONE |ALL )*(?:COLOUR|STYLE|DOT|BAR|CIRCLE|DIAMOND|SIGN|LETTER|MARK|SQUARE|LINE|ARROW|"
            r"CAGE))",
            "IF ",
        ),
        # How a small mark looks, before it is named; numbers that follow each other are no cells.
        (r"DOUBLE (?=(?:COLOUR=\w+ )+LINE )", "STYLE=double "),
        (r"(?:WRAP|DOUBLE|STANDARD) (?=(?:COLOUR=\w+ |STYLE=\w+ )*(?:DOT|CIRCLE) )", ""),
        (r"SEQUENCE (HOLD )?ADJACENT (?=DIGIT )", r"SEQUENCE \1CONSECUTIVE "),
        (r"PILL (?=(?:HOLD |ALONG |MARK |MEAN )*(?:EVEN|ODD) )", "DIAMOND "),
        (r"((?:SUM|TOTALWORD) (?:ALL )?)SQUARE (?=(?:HOLD )*BETWEEN )", r"\1CELL "),
        # `Between them, and never equal to them`: between all the same.
        (
            r"((?:BETWEEN|CIRCLE|END) (?:\S+ )*?)(?:NEG (?:MAY |HOLD )*EQUAL|NOREPEAT) TOWARDS (?:IT|ONE|ALL) $",
            r"\1EXCLUDED ",
        ),
        # Outlined blocks are cages, but among rows and columns boxes.
        (r"((?:ROW|COLUMN) (?:AND |ALL |OR |HOLD |NEG |ONCE )*)CAGE=block ", r"\1BOX "),
        (r"CAGE=block ((?:AND |ALL |OR |HOLD )*(?:ROW|COLUMN) )", r"BOX \1"),
        # The line between two cells is their border.
        (r"(?:ALONG )?LINE (?=BETWEEN (?:ALL |ADJACENT |TWO |NUM=2 )*(?:CELL|SQUARE) )", "EDGE "),
        (r"((?:DOT|BAR|CIRCLE|DIAMOND|LETTER=\w) (?:HOLD )?)(?:(?:ALONG )?LINE|WRAP) (?=BETWEEN IT )", r"\1EDGE "),
        (r"SHADED (?=LINE )", ""),
        (
            r"IF ((?:COLOUR=\w+ )?LINE HOLD )(?:SOME |DIFFER |MORETHAN ONE |ATLEAST NUM=2 |NUM=2 ATLEAST )BOX ",
            r"\1BOX ",
        ),
        (
            r"(?:MAY )?NEG ((?:HOLD |ADJACENT |DIGIT |CELL |TWO |NUM=2 |ALL |IT |ALONG |LINE |COLOUR=\w+ |"
            r"STYLE=\w+ )*)"
            r"(?:MAY )?(?:DIFFER|DIFFERENCE) (?:BY |HOLD )*"
            r"LESS THAN NUM=(\d+) ",
            r"\1GAP=\2 ",
        ),
        (rf"(?:DIFFERENCE|DIFFER) ((?:{_PLACED}|BETWEEN |BY )*)RANGE=(\d)-8 ", r"\1GAP=\2 "),
        # There are no other such pairs: what is marked is all there is.
        (r"NEG ONE POSSIBLE (?:PAIR|ADJACENT|NEUTRALNOUN|MARK) (?=$|ALL |AND ALL )", "EVERYMARK "),
        (r"ALL POSSIBLE PAIR (?:HOLD |ALL )*GIVEN (?=$)", "EVERYMARK "),
        (rf"(?:MAY )?NEG ((?:TWO |ADJACENT |NEXTONE |{_PLAIN})*)CLOSER (?:APART )?THAN NUM=(\d+) ", r"\1GAP=\2 "),
        (r"LINE (?=(?:MAINDIAG|DIAGONAL) )", ""),
        (r"ALL ONE (?:PAIR |ADJACENT |CELL )*NEG (?=CONSECUTIVE |DIFF=|TIMES=|SUM )", "UNMARKED NEG "),
        (r"(?:GIVEN|MEAN) NUM=2 (?=(?:GREATER|LESS) (?:DIGIT )?$)", "GIVEN TWO "),
        (r"BETWEEN BOTHWAYS (?=DIGIT )", "BETWEEN END "),
        (r"((?:ROW|COLUMN|BOX|REGION|CAGE) )INCLUDED (?=(?:ALL|ALLDIGITS|DIGIT|RANGE|LETTERS|ONE) )", r"\1HOLD "),
        (r"UNIQUE (?=DIGIT )", "DIFFER "),
        (r"SUM TOWARDS COUNT (?=(?:IT |ALL )*CIRCLE )", "SUM TOWARDS DIGIT "),
        (r"(LINE (?:\S+ )*?)OUTSIDE LINE ", r"\1END "),
        (r"NOTDECREASE THAN (?=NUM)", "ATLEAST "),
        # Two moves are not one.
        (r"(?:NUM=[2-9] (?:KNIGHT|KING) (?:MOVE|APART)|(?:KNIGHT|KING) NUM=[2-9] MOVE) ", "OTHER "),
        # Squares that are cells, diagonals that are regions.
        (r"(BETWEEN (?:TWO |NUM=2 |ADJACENT |ALL )*)SQUARE ", r"\1CELL "),
        (
            r"SQUARE (?=(?:CHESS |ONE |JOIN |BY |HOLD |APART |FROM |UNKNOWN )*(?:KNIGHT|KING|ADJACENT|SHARESIDE) )",
            "CELL ",
        ),
        (r"((?:KNIGHT|KING|ADJACENT|SHARESIDE) (?:APART )?)SQUARE ", r"\1CELL "),
        (r"((?:DIAGONAL|MAINDIAG) )(?:HOLD |ALL |COUNT |ADDITIONALLY |FURTHER )*REGION ", r"\1"),
        (r"(DIGIT (?:HOLD (?:ALL |IT )*(?:CAGE|REGION|BOX|ROW|COLUMN) )?)UNIQUE ", r"\1DIFFER "),
        (r"(GREATER|LESS|LOWEST|HIGHEST) (DIGIT )?NUM=2 (?!APART|DIGIT NUM)", r"\1 \2TWO "),
        # Round what: a bulb's shape, the grid's border, or past the edge and on from the other side.
        (r"(?:WRAP|CIRCLE) BULB ", "BULB "),
        (r"(CLUE|DIGIT|NUM) WRAP (?=(?:GRID |IT )*(?:GIVEN|SUM|HOLD|MEAN|COUNT|EQUAL|TOTALWORD))", r"\1 OUTSIDE "),
        # A ring round a number beside the grid is how that number looks.
        (r"CIRCLE (?:DIGIT|CLUE) (?:GIVEN |HOLD )*OUTSIDE ", "STYLE=circled DIGIT OUTSIDE "),
        (r"CIRCLE CLUE (?=(?:GIVEN |MEAN |HOLD |IT )*(?:SUM|TOTALWORD|COUNT) )", "STYLE=circled CLUE "),
        (r"OUTSIDE CIRCLE DIGIT ", "STYLE=circled DIGIT OUTSIDE "),
        (r"(?:DIGIT|CLUE) HOLD CIRCLE (?:GIVEN |HOLD )*OUTSIDE ", "STYLE=circled DIGIT OUTSIDE "),
        (r"OUTSIDE (?:DIGIT|CLUE) HOLD CIRCLE ", "STYLE=circled DIGIT OUTSIDE "),
        (r"((?:ROW|COLUMN) (?:AND |OR |HOLD |ALL |IF )*)CIRCLE ", r"\1WRAP "),
        (r"(LINE (?:AND |OR |IF )*)CIRCLE (?!END|BOTHWAYS|DIGIT)", r"\1WRAP "),
        (r"MORETHAN (?=ONE )", "GREATER THAN "),
        (rf"CONTINUE (?:{_ON} )*(?:OPPOSITE|OUTSIDE|EDGE|END|TIP|START|WRAP|FIRST|FROMTIP) ", "WRAP "),
        (rf"WRAP (?:{_ON} )*(?:OPPOSITE|EDGE|TIP|WRAP|START) ", "WRAP "),
        # Numbers that only count nouns, and `one` that is a number.
        (r"BY (EXACTLY )?ONE ", "BY NUM=1 "),
        (r"ONE (GREATER|LESS) ", r"NUM=1 \1 "),
        (r"ONE APART ", "NUM=1 APART "),
        (
            r"NUM=2 (?=(?:ADJACENT |CONSECUTIVE |SHARESIDE |COLOUR=\w+ |EQUAL )*"
            r"(?:CELL|DIGIT|END|CIRCLE|NEUTRALNOUN|DIAGONAL|MAINDIAG|PAIR|SHADED|ADJACENT|SQUARE|EDGE) )",
            "TWO ",
        ),
        (r"CAGE NUM=2 (?=$|GREATER |LESS |DIGIT |DIFFERENCE |QUOTIENT )", "CAGE TWO "),
        (r"IT NUM=2 (?=(?:HOLD )?SUM )", "TWO "),
        (
            r"(?:NUM=4 )(?=(?:ADJACENT |SHADED |COLOUR=\w+ |SIZE=\w+ |STYLE=\w+ )*(?:CELL|REGION|SQUARE|BOX|"
            r"SHADED) )",
            "FOUR ",
        ),
        (r"EACH ONE ", "ALL "),
        # Which way a diagonal runs.
        (r"CORNER=(?:tl (?:RUN |TOWARDS |FORWARD )*CORNER=br|br (?:RUN |TOWARDS )*CORNER=tl) ", "WAY=down "),
        (r"CORNER=(?:bl (?:RUN |TOWARDS )*CORNER=tr|tr (?:RUN |TOWARDS )*CORNER=bl) ", "WAY=up "),
        # Which way a tube runs.
        (r"ATMOST (?=(?:ONE )?(?:TIP|END) )", "TOWARDS "),
        (r"(?:TOWARDS|UNTIL) (?:ALL |ONE |IT )*BULB ", "TOBULB "),
        (r"(?:FROM|START) (?:HOLD |FROM )*(?:ALL |IT )*(?:TIP|END) ", "FROMTIP "),
        (r"((?:DIAGONAL|MAINDIAG) (?:\S+ )*?)(?:INCREASE|DECREASE) (?:FROM )?(?=WAY=)", r"\1"),
        # `If the sudoku permits`: as far as other rules go.
        (r"IF (?:ALL |ONE |IT |STANDARD )*(?:SUDOKU|RULE) (?:RULE )?(?:MAY )?ALLOWED (?:IT |SO )?", "REST ALLOWED "),
        (r"EQUAL DIGIT MAY (?:BE )?(?=ADJACENT )", "MAYREPEAT "),
        (r"(^(?:IT )?TWO (?:ADJACENT |NEXTONE )*CELL )MAY (?:HOLD )?EQUAL DIGIT (?!TWICE)", r"\1MAYREPEAT "),
        # The same from one end as from the other.
        (
            r"(?:READ |IT |ALL |DIGIT )*FROM ONE END "
            r"((?:GIVEN |MEAN |HOLD |DIGIT |SEQUENCE |NEUTRALNOUN |ORDER |ALL |LINE |COLOUR=\w+ |STYLE=\w+ )*)"
            r"EQUAL (?:DIGIT |SEQUENCE |NEUTRALNOUN |ORDER )*(?:READ |IT |ALL )*FROM ONE (?:END )?$",
            r"\1EQUAL BOTHWAYS ",
        ),
        # Never falling.
        (r"SAMEAS (?:OR )?(?:INCREASE|GREATER) ", "NOTDECREASE "),
        (r"(?:INCREASE|GREATER) (?:THAN )?OR (?:REMAIN )?(?:SAMEAS|EQUAL) (?:TOWARDS )?", "NOTDECREASE "),
        (r"(?:EQUAL|REPEAT) (?:TOWARDS |DIGIT )*OR (?:INCREASE|GREATER) ", "NOTDECREASE "),
        (r"(?:OR )?(?:HOLD )?NEG (?:DIGIT |MAY |EQUAL |ALL )*DECREASE ", "NOTDECREASE "),
        (r"NEG ((?:" + _PLAIN + r"|ALONG |SLOW |THERMO )*)LESS THAN OR EQUAL (?:TOWARDS )?", r"\1GREATER THAN "),
        (r"NEG ((?:" + _PLAIN + r"|ALONG |SLOW |THERMO )*)LESS (?=THAN )", r"\1NOTLESS "),
        (r"(?:NEEDNOT|NEG) (?:INCREASE|CONSECUTIVE)?(?:BY )(?:NUM=1|CONSECUTIVE|MOVE) ", "NOTBYONE "),
        (r"NEEDNOT CONSECUTIVE ", "NOTBYONE "),
        (r"ATLEAST ASLARGE ", "NOTDECREASE "),
        (r"ATLEAST (?=(?:DIGIT |ONE |CELL |IT )*PREVIOUS )", "NOTLESS "),
        (r"EQUAL (?:OR )?ATLEAST ", "NOTDECREASE "),
        # Repeats.
        (r"ATMOST ONCE ", "NOREPEAT "),
        (rf"NEG ({_UNIT})(?:AND |OR )?NEG (?={_UNIT})", r"NEG \1"),
        (rf"NEG ((?:{_UNIT})+)(?:AND |OR )?NEG (?={_UNIT})", r"NEG \1"),
        (r"NEG LIMIT ALONG REPEAT ", "MAYREPEAT "),
        (r"(?:NEEDNOT )" + _PLAIN + r"*DIFFER ", "MAYREPEAT "),
        (r"(?:MAY )(?:HOLD |APPLY |DIGIT |IT )*REPEAT (?:DIGIT )?", "MAYREPEAT "),
        (r"REPEAT (?:DIGIT )?(?:MAY )?(?:HOLD )?ALLOWED ", "MAYREPEAT "),
        (r"ALLOWED (?:TOWARDS )?REPEAT ", "MAYREPEAT "),
        (rf"(?<!NEG )ALLOWED ({_PLACED}*)(?:TWICE|REPEAT|EQUAL DIGIT) ", r"MAYREPEAT \1"),
        (r"EQUAL ADJACENT (?:MAY )?(?<!NEG )ALLOWED ", "MAYREPEAT ADJACENT "),
        (rf"(?:EQUAL (?:DIGIT )?|REPEAT )({_PLACED}*(?:KNIGHT|KING|ADJACENT) {_PLACED}*)FORBIDDEN ", r"NOREPEAT \1"),
        (rf"EQUAL (?:CONSECUTIVE |ADJACENT )DIGIT ({_PLACED}*)(?<!NEG )ALLOWED ", r"MAYREPEAT \1"),
        (
            r"MAY (?:HOLD |IT |ALL )*(?:GREATER|FURTHER) ((?:POSSIBLE |ADJACENT |PAIR |CELL |DIGIT |DOT |BAR |MARK |"
            r"CONSECUTIVE |COLOUR=\w+ |LETTER=\w |ONE )*)THAN (?:IT |ONE |ALL |HOLD )*GIVEN ",
            r"NOTALL \1GIVEN ",
        ),
        (
            r"NEG ((?:" + _NOUN + r")*)(?:EQUAL (?:DIGIT |NUMBER )?)?(?:REPEAT|TWICE) (?:DIGIT )?(?:ALLOWED )?",
            r"NOREPEAT \1",
        ),
        (r"REPEAT (?:DIGIT )?(?:MAY )?(?:NEG ALLOWED|FORBIDDEN) ", "NOREPEAT "),
        (r"REPEAT ((?:" + _NOUN + r")*)(?:MAY )?(?:NEG ALLOWED|FORBIDDEN) ", r"NOREPEAT \1"),
        (r"(GREATER|LESS) THAN LAST ", r"\1 THAN PREVIOUS "),
        (rf"NEG ((?:{_NOUN}|AND |NEG )*)MAYREPEAT ", r"NOREPEAT \1"),
        (r"MAY NEG (?:HOLD )*EQUAL DIGIT ", "NOREPEAT "),
        (r"NEG ((?:" + _PLAIN + r")*)EQUAL (?:DIGIT )", r"NOREPEAT \1"),
        (r"NEG (?:TWO )?((?:" + _PLAIN + r")*)EQUAL ", r"NOREPEAT \1"),
        (r"NEG (?:TWO )?((?:AND |" + _NOUN[3:] + r"*)EQUAL DIGIT ", r"NOREPEAT \1"),
        (
            rf"NEG (?:TWO )?((?:{_PLACED}|EQUAL )*?)EQUAL ((?:OR |AND |ALL |SIZE=\w+ |{_UNIT})+)"
            r"(?:MAYREPEAT |(?:MAY )?(?:HOLD )?EQUAL DIGIT )",
            r"NOREPEAT \1\2",
        ),
        (r"(?:NUM=2|TWO) FOURCELLS ", "TWO ADJACENT CELL "),
        (r"PAIR FOURCELLS ", "PAIR ADJACENT CELL "),
        # Numbers that stand between cells as other marks do.
        (r"ALL POSSIBLE (?:DIGIT|CLUE|TOTALWORD) (?:HOLD )?GIVEN ", "EVERYMARK "),
        (
            r"ALL POSSIBLE SOME (?=(?:COLOUR=\w+ |STYLE=\w+ )*(?:DOT|BAR|DIAMOND|SIGN|LETTER=\w|MARK|SQUARE) )",
            "ALL POSSIBLE ",
        ),
        (r"NEG DIGIT (?=BETWEEN IT )", "UNMARKED "),
        (r"CIRCLE OUTSIDE (?=(?:ALL |ONE |COLOUR=\w+ |STYLE=\w+ )*LINE )", "CIRCLE END "),
        (r"NEG UNTIL (?:ONE |CELL |DIGIT )*EQUAL (?:ONE |DIGIT )?", "NOREPEAT "),
        (r"MAYREPEAT (?:ATLEAST|OR INCREASE|OR GREATER) ", "NOTDECREASE "),
        (
            r"DIFFER FROM ((?:ALL |ONE |IT )*(?:NEXTONE|ADJACENT|PREVIOUS) )(?:DIGIT |ONE |CELL )*BY "
            r"(?:GE=|ATLEAST NUM=|NUM=)(\d+) (?:ATLEAST )?",
            r"\1GAP=\2 ",
        ),
        (rf"EQUAL (?:DIGIT )?((?:{_PLAIN}|APART )*)(?:MAY )?NEG (?=ADJACENT )", r"NOREPEAT \1"),
        (r"UNMARKED (?:MAY |PAIR |CELL |ONE |IT )*MAY (?:HOLD )?SO ", "NOTALL "),
        (r"(LINE (?:HOLD |RUN |IF )*)(?:MORETHAN ONE|SOME|GREATER THAN ONE) BOX ", r"\1BOX "),
        (r"EQUAL DIGIT HOLD ROW ", "EQUAL DIGIT "),
        (r"START SELF ", "INCLUDED "),
        (r"SEE FROM (?=(?:ALL |IT )?BULB )", "FROM "),
        (r"SEE (?=EQUAL BOTHWAYS )", ""),
        # None lacks a digit, none has it twice: what is denied twice is said of all.
        (
            rf"NEG ((?:OR |AND |ALL |ONE |{_UNIT})+)(?:MAY )?(?:UNMARKED|MISSING) ((?:ALL |ONE )?DIGIT "
            r"(?:RANGE=\S+ )?)"
            r"(?:OR (?:MAY )?(?:GIVEN|HOLD) (?:ONE|IT|DIGIT|ANY) TWICE )?",
            r"\1HOLD ALLDIGITS \2",
        ),
        (
            r"(?<!\S)(?:FLAVOUR )?HOLD (?:GIVEN )?(?:ALL )+"
            r"(?=(?:POSSIBLE |COLOUR=\w+ |STYLE=\w+ )*(?:DOT|BAR|DIAMOND|SIGN|LETTER=\w|MARK|SQUARE) $)",
            "EVERYMARK ",
        ),
        (r"(?:CELL|DIGIT) (?:WRAP|AFTER) (?:ALL )?CIRCLE ", "CELL "),
        # Denied alike, whatever place is named between: `no two digits on a main diagonal are alike`.
        (rf"NEG (?:TWO )?({_PLACED}*)EQUAL (?:DIGIT |EACH )?", r"NOREPEAT \1"),
        (rf"EQUAL (?:DIGIT )?({_PLAIN}*)(?:MAY )?NEG (?=ADJACENT |{_PLACED}*(?:KNIGHT|KING) )", r"NOREPEAT \1"),
        (rf"(?:NEG ALLOWED|FORBIDDEN) ({_PLACED}*)(?:REPEAT|TWICE|EQUAL DIGIT(?: TWICE)?) (?:DIGIT )?", r"NOREPEAT \1"),
        (
            rf"(?:DIFFERENCE|DIFFER) ((?:{_PLACED}|BETWEEN )*)NEG (?:HOLD |EQUAL )?(?:EXACTLY )?NUM=(\d+) ",
            r"\1NEG DIFF=\2 ",
        ),
        (r"NOGAP OR REPEAT ", "NOGAP NOREPEAT "),
        (r"DECREASE BETWEEN ", "BETWEEN "),
        (r"(LINE (?:NUM=2 |TWO )?)BULB ", r"\1CIRCLE END "),
        (r"(BETWEEN|JOIN) NUM=2 (?!AND |NUM|OR )", r"\1 TWO "),
        (r"TIMES NUM=(\d+) ", r"TIMES=\1 "),
        (r"NEG (?:DIGIT )?(?:MAY )?(?:HOLD )?ADJACENT (?:TOWARDS )?SELF ", "NOREPEAT ADJACENT "),
        # Cells side by side hold digits, and these are neighbours: as numbers, that is.
        (
            r"((?:ADJACENT|SHARESIDE) (?:CELL )?(?:MAY )?)NEG ((?:HOLD |MAY )*)DIGIT (?:HOLD )?ADJACENT ",
            r"\1NONCONSECUTIVE \2",
        ),
        (r"NEG ((?:MAY |HOLD |ONLY |DIGIT |ALL |ONE |IT )*)EVEN (?=(?:DIGIT|ONE) )", r"\1ODD "),
        (r"NEG ((?:MAY |HOLD |ONLY |DIGIT |ALL |ONE |IT )*)ODD (?=(?:DIGIT|ONE) )", r"\1EVEN "),
        (r"(?:DIFFER|DIFFERENCE) (?:BY |HOLD )*MORETHAN NUM=1 ", "GAP=2 "),
        (r"STYLE=plain DIGIT (?!OUTSIDE)", "STYLE=plain DIGIT OUTSIDE "),
        (r"NEG DIGIT (ADJACENT )(?:ONE )?EQUAL DIGIT ", r"NOREPEAT \1"),
        (r"(?:EQUAL )DIGIT ((?:MAY |HOLD )*)NEG ", r"NOREPEAT \1"),
        (rf"EQUAL (?:DIGIT )?((?:{_NOUN}|POSSIBLE )*)FORBIDDEN ", r"NOREPEAT \1"),
        (rf"(?:EQUAL DIGIT(?: TWICE)?|REPEAT) ((?:{_NOUN})*)ALLOWED ", r"MAYREPEAT \1"),
        (r"ALLOWED (?:TOWARDS |HOLD )*EQUAL DIGIT TWICE ", "MAYREPEAT "),
        (r"NEG (?:DIGIT |SEE |HOLD |EQUAL )+TWICE ", "NOREPEAT "),
        # A mark that divides two cells is no division.
        (r"QUOTIENT BY (?=(?:ONE |COLOUR=\w+ |STYLE=\w+ )*(?:DOT|DIAMOND|BAR|CIRCLE|LETTER=\w|MARK|SIGN) )", "JOIN "),
        # How far apart, how many times.
        (r"(TIMES|TIMES=\d+|DOUBLE|TRIPLE) ASLARGE ", r"\1 "),
        (r"RATIO (?:HOLD )?TIMES=", "TIMES="),
        (r"RATIO " + _N + r" (?:TOWARDS )?NUM=1 ", r"TIMES=\1 "),
        (r"RATIO NUM=1 (?:TOWARDS )?" + _N + " ", r"TIMES=\1 "),
        (_N + r" (?:TOWARDS )NUM=1 RATIO ", r"TIMES=\1 "),
        (r"RATIO (?:HOLD )*" + _N + " ", r"TIMES=\1 "),
        (r"TIMES=(\d+) RATIO ", r"TIMES=\1 "),
        (r"DOUBLE (?:GREATER )?", "TIMES=2 "),
        (r"TRIPLE (?:GREATER )?", "TIMES=3 "),
        (_N + r" TIMES (?:GREATER )?", r"TIMES=\1 "),
        (r"ATLEAST " + _N + " ", r"GE=\1 "),
        (_N + r" ATLEAST ", r"GE=\1 "),
        (r"NEG LESS THAN " + _N + " ", r"GE=\1 "),
        (r"NOTLESS THAN " + _N + " ", r"GE=\1 "),
        (r"(?:DIFFERENCE|DIFFER) (?:BY |HOLD |OF |BETWEEN |IT |MAY |ALONG )*GE=(\d+) ", r"GAP=\1 "),
        (r"ATLEAST DIFFERENCE " + _N + " ", r"GAP=\1 "),
        (r"GE=(\d+) APART ", r"GAP=\1 "),
        (r"(?:APART|DIFFERENCE|DIFFER) (?:BY |HOLD |ONE )*GE=(\d+) ", r"GAP=\1 "),
        (r"DIFFER (?:BY )?(?:EXACTLY )?" + _N + " ", r"DIFF=\1 "),
        (r"DIFFER BY (?=(?:EXACTLY |IT |ALL )*(?:DIGIT|SMALLNUM|CLUE|TOTALWORD) )", "DIFFERENCE "),
        (r"DIFFERENCE (?:HOLD |BY |BETWEEN |IT |DIGIT )*(?:EXACTLY )?" + _N + " ", r"DIFF=\1 "),
        (r"(?:EXACTLY )?" + _N + " (?:APART|GREATER|LESS) (?:THAN )?", r"DIFF=\1 "),
        (r"DIFFERENCE (?:HOLD |BY |EXACTLY )*ONE (?!DIGIT |CELL |GREATER |LESS |OR )", "DIFF=1 "),
        (r"NEXTONE (?:ONE )?DIGIT ", "NEXTONE DIGIT "),
        (r"FOURCELLS (?:WRAP|OUTSIDE) (?:(?:ALL |IT )*(?:CORNER|FOURMEET|CIRCLE)|IT) ", "FOURCELLS "),
        # Adjoining cells that are compared are any two, not the four around a corner.
        (r"FOURCELLS (?=(?:HOLD |MAY |DIGIT |NEG )*(?:GAP=|DIFF=|NONCONSECUTIVE |CONSECUTIVE ))", "ADJACENT CELL "),
        # A line that visits two boxes or more: which else would have two sums?
        (r"(LINE (?:HOLD |RUN |IF )*)GE=2 BOX (?=(?:AND )?(?:HOLD )*(?:EQUAL|SUM|TOTALWORD|QUOTIENT) )", r"\1BOX "),
        # Sandwiches.
        (r"BOUNDED BY (?=(?:IT |DIGIT )*NUM=)", "BETWEEN "),
        (r"BETWEEN BETWEEN ", "BETWEEN "),
        (
            r"(?:BETWEEN|BETWEENS) (?:DIGIT |ALL |IT )*NUM=(\d+) (?:AND )?(?:DIGIT |IT |NEXTONE )*NUM=(\d+) ",
            r"BETWEEN ENDS=\1,\2 ",
        ),
        (
            r"NEG (?:DIGIT )?NUM=(\d+) (?:AND |OR |NEG )+(?:DIGIT )?NUM=(\d+) (?:HOLD |IT )*(?:INCLUDED |COUNT )?",
            r"EXCLUDED NUM=\1 NUM=\2 ",
        ),
        (
            r"NUM=(\d+) (?:AND )?NUM=(\d+) (?:IT |HOLD |ALL )*"
            r"(?:NEG (?:COUNT|INCLUDED|SEGMENT|SUM)|EXCLUDED) ",
            r"EXCLUDED NUM=\1 NUM=\2 ",
        ),
        (r"THERMO (?:HOLD )*QUOTIENT ", "THERMO BRANCH "),
        (r"EXCLUDED (?:HOLD |IT |DIGIT |ALL )*NUM=2 (?!AND NUM|OR NUM|NUM)", "EXCLUDED "),
        (r"BETWEEN (?:DIGIT )?LOWEST (?:DIGIT )?(?:AND )?HIGHEST ", "BETWEEN ENDS=low,high "),
        (r"BETWEEN (?:DIGIT )?HIGHEST (?:DIGIT )?(?:AND )?LOWEST ", "BETWEEN ENDS=high,low "),
        (r"BETWEEN RANGE=(\d+)-(\d+) ", r"BETWEEN ENDS=\1,\2 "),
        (r"(?:NEG )(?:IT )?(?:COUNT|INCLUDED) ", "EXCLUDED "),
        # All or not all of the marks.
        (
            r"NEG (?:ONE |IT |POSSIBLE |MARK |DOT |BAR |CIRCLE |DIAMOND |SIGN |COLOUR=\w+ |LETTER=\w |HOLD )*"
            r"(?:MISSING|EXCLUDED) ",
            "EVERYMARK ",
        ),
        (
            r"(?:MAY|SOME) "
            r"((?:ONE |IT |MARK |DOT |BAR |CIRCLE |DIAMOND |SIGN |COLOUR=\w+ |LETTER=\w |HOLD |AND |CLUE )*)"
            r"(?:MISSING|UNMARKED|EXCLUDED|NEG GIVEN) ",
            r"NOTALL \1",
        ),
        (r"NEG (?:NECESSARILY )?(?:POSSIBLE )?ALL ", "NOTALL "),
        (
            r"ALL (?=(?:POSSIBLE |ONE )*(?:MARK |DOT |BAR |CIRCLE |DIAMOND |SQUARE |SIGN |COLOUR=\w+ |LETTER=\w |"
            r"AND )+"
            r"(?:HOLD |POSSIBLE |MAY )*GIVEN (?!(?:ALL |IT )*"
            r"(?:SUM|TOTALWORD|DIGIT|ALLDIGITS|COUNT|MANY|GREATER|LESS|LOWEST|HIGHEST) ))",
            "EVERYMARK ",
        ),
        (
            r"NEG (?=(?:COLOUR=\w+ )*(?:MARK|DOT|BAR|CIRCLE|DIAMOND|SIGN|LETTER=\w) |(?:COLOUR=\w+ )?SQUARE "
            r"BETWEEN )",
            "UNMARKED ",
        ),
        (r"NEG GIVEN ", "UNMARKED "),
    )
)


_MORE_THAN = re.compile(
    r"(?<!\S)((?:DIFFERENCE|DIFFER) (?:(?!SUM|TOTALWORD|GREATER|MORETHAN)\S+ )*?)(?:GREATER THAN|MORETHAN) NUM=(\d+) "
)
"""A difference `greater than 3` is one of at least 4."""


_SIGNED = re.compile(r"(?<!\S)SIGNED=(\w+) ")
_SIGN_ELSEWHERE = {
    "sum": "MARK ",
    "difference": "DIFFERENCE MARK ",
    "product": "PRODUCT ",
    "quotient": "QUOTIENT MARK ",
}
"""What an operation's sign is where no cage is spoken of: `a plus sign between two cells`."""


@lru_cache(maxsize=32768)
def reduced(concepts: tuple[str, ...]) -> tuple[str, ...]:
    """The concepts of one clause with phrases put together, first rule first, each applied to all places."""
    text = "".join(f"{c} " for c in concepts)
    if "SIGNED=" in text and "CAGE" not in text:
        text = _SIGNED.sub(lambda sign: _SIGN_ELSEWHERE[sign[1]], text)
    text = substituted(text, _RULES)
    if "DIFFER" in text:
        text = _MORE_THAN.sub(lambda told: f"{told[1]}GAP={int(told[2]) + 1} ", text)
    return tuple(text.split())
