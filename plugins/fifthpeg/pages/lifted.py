"""Long lists and tables lifted out of generated pages before Markdown and the search read them, and put back when a
page is done.

A library's page for each lick names many others: parsing those names again and again cost most of a build.
"""

import re
from collections.abc import Mapping
from itertools import count

from .slots import Spot, slot

FIRST_LINE = 1000
"""Generated pages have no lines of an author's; small tabs take the low numbers."""
_LONG_LIST = re.compile(r'<div class="fp-(?:goes|told)".*?\n</div>', re.DOTALL)


def lift(pages: Mapping[str, str]) -> tuple[dict[str, str], dict[Spot, str]]:
    """The pages with a slot in place of each long list, and the lists by their spots."""
    lists: dict[Spot, str] = {}
    return {source: _lifted(source, markdown, lists) for source, markdown in pages.items()}, lists


def _lifted(source: str, markdown: str, lists: dict[Spot, str]) -> str:
    lines = count(FIRST_LINE)

    def take(found: re.Match[str]) -> str:
        spot = source, next(lines)
        lists[spot] = found[0]
        return slot(*spot)

    return _LONG_LIST.sub(take, markdown)
