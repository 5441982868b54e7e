"""Long lists and tables lifted out of generated pages before Markdown reads them, and put back later.

A library's page for each lick names many others: parsing those names again and again cost most of a build. What the
search is to find comes back before it reads the page, the rest when the page is done.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import count

from .slots import Spot, fill, slot

FIRST_LINE = 1000
"""Generated pages have no lines of an author's; small tabs take the low numbers."""
_UNSEARCHED = re.compile(r'<div class="fp-(?:goes|told|scroll|catalogue)".*?\n</div>', re.DOTALL)
_SEARCHED = re.compile(r'<table class="fp-facts">.*?</table>', re.DOTALL)


@dataclass(frozen=True)
class Lifted:
    """``pages`` have slots in place of ``lists``, which the search passes by, and of ``facts``, which it finds."""

    pages: dict[str, str]
    lists: Mapping[Spot, str]
    facts: Mapping[Spot, str]

    def with_facts(self, page_html: str) -> str:
        """The page with its facts in their slots; other slots stay as they are."""
        return fill(page_html, self.facts.get)[0] if self.facts else page_html


def lift(pages: Mapping[str, str]) -> Lifted:
    lists: dict[Spot, str] = {}
    facts: dict[Spot, str] = {}
    lifted = {}
    for source, markdown in pages.items():
        lines = count(FIRST_LINE)
        short = _without(_UNSEARCHED, markdown, source, lines, lists)
        lifted[source] = _without(_SEARCHED, short, source, lines, facts)
    return Lifted(lifted, lists, facts)


def _without(pattern: re.Pattern[str], markdown: str, source: str, lines: Iterator[int],
             taken: dict[Spot, str]) -> str:
    def take(found: re.Match[str]) -> str:
        spot = source, next(lines)
        taken[spot] = found[0]
        return slot(*spot)

    return pattern.sub(take, markdown)
