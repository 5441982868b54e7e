"""Placeholders: a page is rendered with empty slots, and its tabs are put in when it is done.

So neither Markdown nor the search index ever sees a drawing.
"""

import html
import re
from collections.abc import Callable

_SLOT = re.compile(r'<div data-fp-slot="([^"]*):(\d+)"></div>')
_MARK = "data-fp-slot"
_COMMENT = re.compile(r"<!--.*?(?:-->|\Z)", re.DOTALL)
Spot = tuple[str, int]
"""A page, as messages name it, and the line on it where a block opens."""


def slot(page: str, line: int) -> str:
    return f'<div data-fp-slot="{html.escape(page)}:{line}"></div>'


def fill(page_html: str, content_of: Callable[[Spot], str | None]) -> tuple[str, set[Spot]]:
    """The page with its slots filled, and the spots filled; None leaves a slot for later. Slots inside a comment stay
    empty."""
    if _MARK not in page_html:
        return page_html, set()
    filled: set[Spot] = set()
    commented = [match.span() for match in _COMMENT.finditer(page_html) if _MARK in match[0]]

    def content(match: re.Match[str]) -> str:
        if any(start < match.start() < end for start, end in commented):
            return ""
        spot = html.unescape(match[1]), int(match[2])
        found = content_of(spot)
        if found is None:
            return match[0]
        filled.add(spot)
        return found

    return _SLOT.sub(content, page_html), filled
