"""What goes into each slot of a page: a tab, the answer to a fit block, the message why there is none, or both."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from .addresses import relative
from .edition import ShownFit
from .extras import IN_CONTEXT, open_fold
from .figure import figure, small_figure
from .fits import Shelfmarks, fit_content
from .problem_box import problem_box
from .published import Published
from .slots import Spot

ID_PREFIX = "fp-"


@dataclass(frozen=True)
class Spots:
    """``tabs``, ``messages`` and ``fits`` by spot; ``lick_urls`` are the licks' own pages and ``titles`` their
    names, by id; ``lists`` were lifted out of generated pages, ``endings`` are the licks whose mended end stands there,
    ``beside`` the tabs in context that stand under a chain.
    """

    tabs: Mapping[Spot, Published]
    messages: Mapping[Spot, Sequence[str]]
    lick_urls: Mapping[str, str]
    fits: Mapping[Spot, ShownFit] = field(default_factory=dict)
    titles: Mapping[str, str] = field(default_factory=dict)
    lists: Mapping[Spot, str] = field(default_factory=dict)
    endings: Mapping[Spot, Published] = field(default_factory=dict)
    beside: Mapping[Spot, Published] = field(default_factory=dict)

    def content(self, spot: Spot, page_url: str, ids: set[str]) -> str:
        """``ids`` are the element ids the page has already; the tab's own is added."""
        if spot in self.lists:
            return self.lists[spot]
        if spot in self.endings:
            return self._ending(self.endings[spot], page_url, ids)
        messages = self.messages.get(spot, ())
        box = problem_box(messages) if messages else ""
        tab, answer = self.tabs.get(spot), self.fits.get(spot)
        return (box + (self._figure(tab, page_url, ids) if tab else "") + self._beside(spot, page_url, ids)
                + (self._fits(answer, page_url, ids) if answer else ""))

    def _figure(self, tab: Published, page_url: str, ids: set[str]) -> str:
        lick_url = self.lick_urls.get(tab.lick.id or tab.lick.shows or "", "")
        return figure(tab, _new_id(tab, ids), page_url, "" if lick_url == page_url else lick_url)

    def _beside(self, spot: Spot, page_url: str, ids: set[str]) -> str:
        tab = self.beside.get(spot)
        return open_fold(IN_CONTEXT, self._figure(tab, page_url, ids)) if tab else ""

    def _ending(self, tab: Published, page_url: str, ids: set[str]) -> str:
        ids.add(element_id := f"{ID_PREFIX}.{len(ids) + 1}")
        return small_figure(tab.ending, element_id, relative(tab.bank_folder, page_url))

    def _fits(self, answer: ShownFit, page_url: str, ids: set[str]) -> str:
        named = {lick_id for tab in answer.tabs for lick_id in (linked.id for linked in tab.lick.links)}
        named |= {*answer.fits.without_chords, *(lick_id for fit in answer.fits.best for lick_id in fit.links)}
        named |= {getattr(answer.request.after, "id", None) or ""}
        urls = {lick_id: relative(self.lick_urls[lick_id], page_url) for lick_id in named & self.lick_urls.keys()}
        element_ids = [_new_id(tab, ids) for tab in answer.tabs]
        return fit_content(answer, Shelfmarks(self.titles, urls), element_ids, page_url)


def _new_id(tab: Published, ids: set[str]) -> str:
    """The lick's id where it is free; a number of the page's own otherwise (an id never begins with a dot)."""
    wanted = ID_PREFIX + (tab.lick.id or "")
    new = wanted if tab.lick.id and wanted not in ids else f"{ID_PREFIX}.{len(ids) + 1}"
    ids.add(new)
    return new
