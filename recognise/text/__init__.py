"""Words on the page: lines of text, and which of them are a grid's title, setter and rules."""

from recognise.text.assign import assign_words
from recognise.text.page import page_lines, page_words

__all__ = ["assign_words", "page_lines", "page_words"]
