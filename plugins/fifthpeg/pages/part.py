"""Part of a course: the chosen lessons, every lick they need, and nothing that leads elsewhere.

The library is read and judged as a whole first, so that a fit block or a seam says the same in a part as in
the course.
"""

import html
import posixpath
import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from urllib.parse import unquote

from ..compiled import Neighbours
from .edition import Edition
from .published import Published

_LINK = re.compile(r'<a\b[^>]*?href="(?P<to>[^"]*\.md(?:#[^"]*)?)"[^>]*>(?P<words>.*?)</a>', re.DOTALL)


@dataclass(frozen=True)
class Offline:
    """Whether the site is built to be opened from a folder. ``only`` names source files where it is to hold no more of
    their folders; a ``light`` one has no recordings."""

    wanted: bool = False
    only: frozenset[str] = frozenset()
    light: bool = False


OFF = Offline()


def chosen_pages(said: Iterable[str], sources: Collection[str], docs_folder: str = "") -> frozenset[str]:
    """Source files by what someone typed: a page, with or without ``.md``, or how the names of some begin; the course's
    own folder may stand before it, as in messages. Raises ValueError with a sentence where nothing is named so."""
    return frozenset(source for one in said for source in _meant(one, sources, docs_folder))


def left_out(sources: Iterable[str], chosen: Collection[str]) -> frozenset[str]:
    """Pages beside a chosen one that were not chosen. What lies in other folders, and each folder's index, stays."""
    folders = {posixpath.dirname(source) for source in chosen}
    return frozenset(source for source in sources if source not in chosen
                     and posixpath.dirname(source) in folders and posixpath.basename(source) != "index.md")


def part_of(made: Edition, pages: Collection[str]) -> Edition:
    """What the pages (as messages name them) show, with the licks that these are made from."""
    tabs = {spot: tab for spot, tab in made.tabs.items() if spot[0] in pages}
    fits = {spot: shown for spot, shown in made.fits.items() if spot[0] in pages}
    shown = [*tabs.values(), *(tab for answer in fits.values() for tab in answer.tabs)]
    needed = _needed(shown, {tab.lick.id or "": tab for tab in made.library})
    return Edition(
        tabs, tuple(tab for tab in made.library if tab.lick.id in needed), fits, _among(made.neighbours, needed),
        {lick_id: tab for lick_id, tab in made.contexts.items() if lick_id in needed},
        {spot: tab for spot, tab in made.beside.items() if spot[0] in pages},
        {seam: tab for seam, tab in made.seams.items() if seam[0] in needed})


def prune_nav(nav: object, gone: Collection[str]) -> object:
    """``nav`` as mkdocs.yml has it, without the pages gone and without sections that are empty then."""
    if isinstance(nav, list):
        return [kept for kept in (prune_nav(item, gone) for item in nav) if kept]
    if isinstance(nav, dict):
        return {title: kept for title, kept in ((title, prune_nav(item, gone)) for title, item in nav.items()) if kept}
    return None if nav in gone else nav


def unlink(page_html: str, source: str, gone: Collection[str]) -> str:
    """Links to pages that are left out become their words; MkDocs has left those as the author wrote them."""
    if not gone:
        return page_html

    def words(found: re.Match[str]) -> str:
        path = unquote(html.unescape(found["to"]).partition("#")[0])
        leads_to = posixpath.normpath(posixpath.join(posixpath.dirname(source), path))
        return found["words"] if leads_to in gone else found[0]

    return _LINK.sub(words, page_html)


def _meant(said: str, sources: Collection[str], docs_folder: str) -> Sequence[str]:
    start = posixpath.normpath(said.replace("\\", "/")).removeprefix(f"{docs_folder}/")
    exact = [source for source in sources if source in (start, f"{start}.md")]
    found = exact or sorted(source for source in sources if source.startswith(start))
    if not found:
        near = get_close_matches(start, sources, 1, 0.3)
        raise ValueError(f"no page of the course is called {said}" + (f"; do you mean {near[0]}?" if near else ""))
    return found


def _needed(shown: Iterable[Published], library: Mapping[str, Published]) -> set[str]:
    """Ids of the licks shown, of their parents and links, of what they follow, and so on."""
    needed: set[str] = set()
    waiting = [*shown]
    while waiting:
        named = {lick_id for lick_id in _named(waiting.pop()) if lick_id in library} - needed
        needed |= named
        waiting += [library[lick_id] for lick_id in named]
    return needed


def _named(tab: Published) -> Iterator[str]:
    lick = tab.lick
    yield from (lick_id for lick_id in (lick.id, lick.shows, lick.varies, lick.after) if lick_id)
    yield from (linked.id for linked in lick.links if linked.id)


def _among(neighbours: Neighbours, needed: Collection[str]) -> Neighbours:
    """The same table with fewer rows and columns."""
    kept = [index for index, lick_id in enumerate(neighbours.ids) if lick_id in needed]
    joins = {pair: join for pair, join in neighbours.joins.items() if set(pair.split(" ")) <= set(needed)}
    return Neighbours(tuple(neighbours.ids[index] for index in kept), _cut(neighbours.rows, kept), joins)


def _cut(rows: Sequence[str], kept: Sequence[int]) -> tuple[str, ...]:
    return tuple("".join(rows[row][column] for column in kept) for row in kept)
