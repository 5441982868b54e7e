"""The files of the site that no author wrote: lick pages, catalogue, library."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..model.lick import Lick
from .addresses import CATALOGUE_PAGE, FILTER_STYLE_FILE, LIBRARY_FILE, lick_page, page_url, relative
from .catalogue import catalogue_markdown, filter_style
from .figure import title_of
from .html import link, text
from .library_file import library_bytes
from .lick_page import lick_page_markdown
from .published import Published
from .slots import Spot, slot
from .variant import variant_section, variants_list

NO_LINE, PARENTS_LINE = 0, 1
"""A lick's own page has no lines of an author's: its tab and that of its parent are told apart by number."""


@dataclass(frozen=True)
class ShownOn:
    """A page with a lick on it: its source file as links name it, its address, its title."""

    source: str
    url: str
    title: str


def lick_spot(lick_id: str) -> Spot:
    return lick_page(lick_id), NO_LINE


def lick_spots(tabs: Sequence[Published]) -> dict[Spot, Published]:
    """What stands on the licks' own pages: the lick, and the one it varies."""
    by_id = {tab.lick.id or "": tab for tab in tabs}
    parents = {(lick_page(lick_id), PARENTS_LINE): by_id[tab.lick.varies] for lick_id, tab in by_id.items()
               if tab.lick.varies in by_id}
    return {lick_spot(lick_id): tab for lick_id, tab in by_id.items()} | parents


def lick_urls(tabs: Sequence[Published], directory_urls: bool) -> dict[str, str]:
    """The licks' own pages by id, from the site's root."""
    return {tab.lick.id or "": page_url(lick_page(tab.lick.id or ""), directory_urls) for tab in tabs}


def generated_pages(tabs: Sequence[Published], shown_on: Mapping[str, Sequence[ShownOn]],
                    directory_urls: bool) -> dict[str, str]:
    """Source file -> Markdown. ``tabs`` are the library's, in order."""
    by_id = {tab.lick.id or "": tab for tab in tabs}
    urls = lick_urls(tabs, directory_urls)
    by_parent = _by_parent(tabs)
    pages = {
        lick_page(lick_id): lick_page_markdown(
            tab, slot(*lick_spot(lick_id)), [(page.source, page.title) for page in shown_on.get(lick_id, ())],
            _after(tab.lick, by_id, urls), _parent(tab, by_id), variants_list(by_parent.get(lick_id, ())))
        for lick_id, tab in by_id.items()
    }
    return pages | {CATALOGUE_PAGE: catalogue_markdown(tabs, directory_urls)}


def generated_files(tabs: Sequence[Published], shown_on: Mapping[str, Sequence[ShownOn]],
                    directory_urls: bool) -> dict[str, str | bytes]:
    """Published address -> content."""
    pages = {lick_id: [page.url for page in shown] for lick_id, shown in shown_on.items()}
    return {
        LIBRARY_FILE: library_bytes(tabs, lick_urls(tabs, directory_urls), pages),
        FILTER_STYLE_FILE: filter_style(tabs),
    }


def _parent(tab: Published, by_id: Mapping[str, Published]) -> str:
    """The lick it varies and what it changes, as Markdown."""
    parent = by_id.get(tab.lick.varies or "")
    return variant_section(tab, parent, slot(lick_page(tab.lick.id or ""), PARENTS_LINE)) if parent else ""


def _by_parent(tabs: Sequence[Published]) -> dict[str | None, list[Published]]:
    found: dict[str | None, list[Published]] = {}
    for tab in tabs:
        found.setdefault(tab.lick.varies, []).append(tab)
    return found


def _after(lick: Lick, by_id: Mapping[str, Published], urls: Mapping[str, str]) -> str:
    """The chord it follows, or a link to the lick."""
    if lick.after not in by_id:
        return text(lick.after)
    return link(title_of(by_id[lick.after].lick), relative(urls[lick.after], urls[lick.id or ""]))
