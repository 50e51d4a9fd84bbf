"""Words that reasons are made of."""

from __future__ import annotations

import pytest

from schema.words import with_article


@pytest.mark.parametrize("named", ["a cage", "an arrow", "an even cell", "an x-sum", "a sandwich", "an extra region"])
def test_names_have_the_article_that_is_spoken(named: str) -> None:
    assert with_article(named.partition(" ")[2]) == named
