"""The files of the site that no author wrote: lick pages, catalogue, library."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..compiled import Filling, Neighbours
from ..model.lick import Lick
from .addresses import (BENCH_PAGE, CATALOGUE_PAGE, FILTER_STYLE_FILE, GOES_WITH_PAGE, GOES_WITH_STYLE_FILE,
                        LIBRARY_FILE, lick_page, lick_to_lick, page_url)
from .bench import bench_markdown
from .bench_files import bench_files
from .catalogue import catalogue_markdown, filter_style
from .company import Company
from .extras import own_spot, parents_spot
from .figure import title_of
from .goes_with import goes_with_markdown, goes_with_style
from .html import link, text
from .library_file import library_bytes
from .lick_page import Surroundings, lick_page_markdown
from .neighbours_section import neighbours_section
from .published import Published
from .slots import Spot, slot
from .variant import variant_section, variants_list

NOBODY = Neighbours()
NONE: Mapping[Spot, Published] = {}


@dataclass(frozen=True)
class ShownOn:
    """A page with a lick on it: its source file as links name it, its address, its title."""

    source: str
    url: str
    title: str


def lick_spots(tabs: Sequence[Published], extras: Mapping[Spot, Published] = NONE) -> dict[Spot, Published]:
    """What stands on the licks' own pages: the lick, the one it varies, and the small tabs there are."""
    by_id = {tab.lick.id or "": tab for tab in tabs}
    parents = {parents_spot(lick_id): by_id[tab.lick.varies] for lick_id, tab in by_id.items()
               if tab.lick.varies in by_id}
    return {own_spot(lick_id): tab for lick_id, tab in by_id.items()} | parents | dict(extras)


def lick_urls(tabs: Sequence[Published], directory_urls: bool) -> dict[str, str]:
    """The licks' own pages by id, from the site's root."""
    return {tab.lick.id or "": page_url(lick_page(tab.lick.id or ""), directory_urls) for tab in tabs}


def generated_pages(tabs: Sequence[Published], shown_on: Mapping[str, Sequence[ShownOn]], directory_urls: bool,
                    neighbours: Neighbours = NOBODY, extras: Mapping[Spot, Published] = NONE) -> dict[str, str]:
    """Source file -> Markdown. ``tabs`` are the library's, in order. ``neighbours`` speaks of the same licks, or of
    none: then there is no page of what goes with what. ``extras`` are the small tabs there are."""
    by_id = {tab.lick.id or "": tab for tab in tabs}
    by_parent = _by_parent(tabs)
    company = Company(tabs, neighbours)
    pages = {CATALOGUE_PAGE: catalogue_markdown(tabs, directory_urls)}
    if company:
        pages[GOES_WITH_PAGE] = goes_with_markdown(company, directory_urls)
        pages[BENCH_PAGE] = bench_markdown(tabs[0].bank_folder, directory_urls)
    for lick_id, tab in by_id.items():
        around = Surroundings(
            shown_on=[(page.source, page.title) for page in shown_on.get(lick_id, ())],
            after=_after(tab.lick, by_id, directory_urls),
            parent=_parent(tab, by_id),
            variants=variants_list(by_parent.get(lick_id, ())),
            neighbours=neighbours_section(company, tab, directory_urls),
            urls={linked.id: lick_to_lick(linked.id, directory_urls) for linked in tab.lick.links
                  if linked.id in by_id},
            extras=extras)
        pages[lick_page(lick_id)] = lick_page_markdown(tab, slot(*own_spot(lick_id)), around)
    return pages


def generated_files(tabs: Sequence[Published], shown_on: Mapping[str, Sequence[ShownOn]], directory_urls: bool,
                    neighbours: Neighbours = NOBODY,
                    vamps: Sequence[tuple[Filling, Published]] = ()) -> dict[str, str | bytes]:
    """Published address -> content. ``vamps``: what time over a chord can be filled with, and the chord's vamp."""
    pages = {lick_id: [page.url for page in shown] for lick_id, shown in shown_on.items()}
    files = {
        LIBRARY_FILE: library_bytes(tabs, lick_urls(tabs, directory_urls), pages),
        FILTER_STYLE_FILE: filter_style(tabs),
    }
    company = Company(tabs, neighbours)
    if not company:
        return files
    return files | {GOES_WITH_STYLE_FILE: goes_with_style(company)} | bench_files(tabs, neighbours, vamps)


def _parent(tab: Published, by_id: Mapping[str, Published]) -> str:
    """The lick it varies and what it changes, as Markdown."""
    parent = by_id.get(tab.lick.varies or "")
    return variant_section(tab, parent, slot(*parents_spot(tab.lick.id or ""))) if parent else ""


def _by_parent(tabs: Sequence[Published]) -> dict[str | None, list[Published]]:
    found: dict[str | None, list[Published]] = {}
    for tab in tabs:
        found.setdefault(tab.lick.varies, []).append(tab)
    return found


def _after(lick: Lick, by_id: Mapping[str, Published], directory_urls: bool) -> str:
    """The chord it follows, or a link to the lick."""
    if lick.after not in by_id:
        return text(lick.after)
    return link(title_of(by_id[lick.after].lick), lick_to_lick(lick.after, directory_urls))
