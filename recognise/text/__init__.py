"""Words on the page: lines of text, and which of them are a grid's title, setter and rules."""

from recognise.text.assign import assign_words
from recognise.text.page import page_lines

__all__ = ["assign_words", "page_lines"]
