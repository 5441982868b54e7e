"""What goes into each slot of a page: a tab, or the message why there is none, or both."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .figure import figure
from .problem_box import problem_box
from .published import Published
from .slots import Spot

ID_PREFIX = "fp-"


@dataclass(frozen=True)
class Spots:
    """``tabs`` and ``messages`` by spot; ``lick_urls`` are the licks' own pages, by id."""

    tabs: Mapping[Spot, Published]
    messages: Mapping[Spot, Sequence[str]]
    lick_urls: Mapping[str, str]

    def content(self, spot: Spot, page_url: str, ids: set[str]) -> str:
        """``ids`` are the element ids the page has already; the tab's own is added."""
        messages = self.messages.get(spot, ())
        box = problem_box(messages) if messages else ""
        tab = self.tabs.get(spot)
        return box + (self._figure(tab, page_url, ids) if tab else "")

    def _figure(self, tab: Published, page_url: str, ids: set[str]) -> str:
        lick_url = self.lick_urls.get(tab.lick.id or tab.lick.shows or "", "")
        return figure(tab, _new_id(tab, ids), page_url, "" if lick_url == page_url else lick_url)


def _new_id(tab: Published, ids: set[str]) -> str:
    """The lick's id where it is free; a number of the page's own otherwise (an id never begins with a dot)."""
    wanted = ID_PREFIX + (tab.lick.id or "")
    new = wanted if tab.lick.id and wanted not in ids else f"{ID_PREFIX}.{len(ids) + 1}"
    ids.add(new)
    return new
