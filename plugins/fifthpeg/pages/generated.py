"""The files of the site that no author wrote: lick pages, catalogue, library."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from . import addresses
from .catalogue import catalogue_markdown, filter_style
from .library_file import library_bytes
from .lick_page import lick_page_markdown
from .published import Published
from .slots import Spot, slot

NO_LINE = 0
"""A lick's own page has no lines of an author's."""


@dataclass(frozen=True)
class ShownOn:
    """A page with a lick on it: its source file as links name it, its address, its title."""

    source: str
    url: str
    title: str


def lick_spot(lick_id: str) -> Spot:
    return addresses.lick_page(lick_id), NO_LINE


def generated_pages(tabs: Sequence[Published], shown_on: Mapping[str, Sequence[ShownOn]]) -> dict[str, str]:
    """Source file -> Markdown. ``tabs`` are the library's, in order."""
    licks = {tab.lick.id or "": tab.lick for tab in tabs}
    pages = {
        addresses.lick_page(lick_id): lick_page_markdown(
            tab, slot(*lick_spot(lick_id)), [(page.source, page.title) for page in shown_on.get(lick_id, ())], licks)
        for lick_id, tab in zip(licks, tabs, strict=True)
    }
    return pages | {addresses.CATALOGUE_PAGE: catalogue_markdown(tabs)}


def generated_files(tabs: Sequence[Published], lick_urls: Mapping[str, str],
                    shown_on: Mapping[str, Sequence[ShownOn]]) -> dict[str, str | bytes]:
    """Published address -> content."""
    urls = {lick_id: [page.url for page in pages] for lick_id, pages in shown_on.items()}
    return {
        addresses.LIBRARY_FILE: library_bytes(tabs, lick_urls, urls),
        addresses.FILTER_STYLE_FILE: filter_style(tabs),
    }
