"""Dots with a number or letter in them, where one rule speaks of dots and another of numbers or letters: two marks on
one edge, or one."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from recognise.interpret.mark import Mark
from recognise.interpret.meaning import Meaning
from schema.marks import Seen

HABIT = 3
"""So many numbers, each in a dot and none bare, are how the page prints its numbers and no chance."""

Explain = Callable[[Seen], Meaning]


def as_printed(marks: Sequence[Mark], explain: Explain) -> Iterator[Mark]:
    """The marks of a page; those on one edge that several rules may speak of taken apart into a dot and a text where
    both stand alone as well, and taken for the text where no text on the page stands without a dot."""
    both = [mark for mark in marks if _is_both(mark, explain)]
    on_edges = [mark.seen for mark in marks if mark.seen.family == "edge"]
    bare_texts = any(seen.text and seen.shape in ("number", "letter") for seen in on_edges)
    bare_dots = any(not seen.text and seen.shape == "dot" for seen in on_edges)
    bare_frames = {seen.shape for seen in on_edges if not seen.text}
    for mark in marks:
        if _is_framed(mark, explain) and mark.seen.shape not in bare_frames:
            yield _text(mark)
        elif not any(mark is one for one in both):
            yield mark
        elif bare_texts and bare_dots:
            yield replace(mark, seen=replace(mark.seen, text=""), texts=())
            yield _text(mark)
        elif not bare_texts and len(both) >= HABIT:
            yield _text(mark)
        else:
            yield mark


def _is_both(mark: Mark, explain: Explain) -> bool:
    seen = mark.seen
    if seen.family != "edge" or seen.shape != "dot" or not seen.text or len(explain(seen).others) < 2:
        return False
    dot, text = replace(seen, text=""), _text(mark).seen
    return bool(explain(dot).constraints and explain(text).constraints)


def _is_framed(mark: Mark, explain: Explain) -> bool:
    """Whether a text stands in a square or the like of which no rule speaks, and one speaks of such texts: it is how
    the page prints them."""
    seen = mark.seen
    if seen.family != "edge" or not seen.text or seen.shape in ("dot", "number", "letter", "sign"):
        return False
    return not explain(seen).constraints and bool(explain(_text(mark).seen).constraints)


def _text(mark: Mark) -> Mark:
    """The text of a mark without its dot."""
    shape = "number" if mark.seen.text.isdecimal() else "letter"
    return replace(mark, seen=replace(mark.seen, shape=shape, colour=""), paint=None, rim=None)
