"""Two readers: sure where they agree, doubtful where they do not."""

import pytest

from recognise.evidence import Shape
from recognise.merge import merge
from tests.recognise.evidence_maker import evidence, given, glyph, trace


def _glyphs(*glyphs):
    return evidence(glyphs=glyphs)


def test_a_page_without_vectors_is_read_by_the_pixels_alone() -> None:
    seen = _glyphs(given("r1c1", "5"))
    assert merge(seen, None) == (seen, ())


def test_agreement_makes_sure() -> None:
    merged, doubts = merge(_glyphs(given("r1c1", "5", 0.98)), _glyphs(given("r1c1", "5", 0.99, how="vector")))
    assert doubts == ()
    assert merged.glyphs[0].text == "5"
    assert merged.glyphs[0].confidence > 0.9999


@pytest.mark.parametrize(("seen", "taken"), [(0.999, "6"), (0.7, "5")])
def test_a_text_layer_that_says_otherwise_is_a_doubt(seen: float, taken: str) -> None:
    merged, doubts = merge(_glyphs(given("r1c1", "6", seen)), _glyphs(given("r1c1", "5", 0.99, how="vector")))
    assert merged.glyphs[0].text == taken
    assert {g.text for g in merged.glyphs[0].guesses} == {"5", "6"}
    assert len(doubts) == 1


def test_a_character_that_only_the_text_layer_has_is_a_doubt() -> None:
    merged, doubts = merge(_glyphs(), _glyphs(given("r1c1", "5", 0.99, how="vector")))
    assert merged.glyphs[0].confidence <= 0.9
    assert len(doubts) == 1


def test_a_character_drawn_as_a_path_is_read_by_the_pixels() -> None:
    path = evidence(shapes=(Shape("glyph-path", (0.3, 0.2, 0.7, 0.8), (0, 0, 0), "vector"),))
    merged, doubts = merge(_glyphs(given("r1c1", "5")), path)
    assert [g.text for g in merged.glyphs] == ["5"]
    assert merged.shapes == ()
    assert doubts == ()


def test_lines_on_which_the_readers_agree_are_sure() -> None:
    pixels = evidence(traces=(trace("r1c2 r1c1", discs=(1,)),))
    vectors = evidence(traces=(trace("r1c1 r1c2", discs=(0,), how="vector"),))
    merged, doubts = merge(pixels, vectors)
    assert [t.nodes for t in merged.traces] == [t.nodes for t in vectors.traces]
    assert merged.traces[0].how == "vector"
    assert doubts == ()


@pytest.mark.parametrize(
    "other",
    [trace("r1c1 r1c2 r1c3", discs=(0,)), trace("r1c1 r1c2", discs=(1,)), trace("r5c5 r5c6", discs=(0,))],
    ids=["longer", "other end", "elsewhere"],
)
def test_lines_on_which_they_do_not_are_doubts(other) -> None:
    vectors = evidence(traces=(trace("r1c1 r1c2", discs=(0,), how="vector"),))
    _, doubts = merge(evidence(traces=(other,)), vectors)
    assert len(doubts) == 2
    assert all(doubt.where for doubt in doubts)


def test_what_is_left_over_is_told_by_the_vectors() -> None:
    left = ((4.1, 4.1, 4.4, 4.4),)
    merged, _ = merge(evidence(), evidence(unexplained=left))
    assert merged.unexplained == left
    merged, _ = merge(evidence(unexplained=left), evidence(glyphs=(glyph(1, 1, ("5", 0.9)),)))
    assert merged.unexplained == ()
    merged, _ = merge(evidence(unexplained=left), None)
    assert merged.unexplained == left
