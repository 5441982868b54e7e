"""media/library.json: the library for other programs."""

import json
from collections.abc import Mapping, Sequence

from . import words
from .figure import title_of
from .published import Published

SCHEMA = 1


def library_bytes(tabs: Sequence[Published], lick_urls: Mapping[str, str], shown_on: Mapping[str, Sequence[str]]) -> bytes:
    """``lick_urls`` are the licks' own pages by id, ``shown_on`` the addresses of the pages that show each."""
    licks = [_entry(tab, lick_urls[tab.lick.id or ""], shown_on.get(tab.lick.id or "", ())) for tab in tabs]
    return (json.dumps({"schema": SCHEMA, "licks": licks}, ensure_ascii=False, indent=1) + "\n").encode()


def _entry(tab: Published, lick_url: str, shown_on: Sequence[str]) -> dict[str, object]:
    lick = tab.lick
    defined = {"page": lick.place.page, "line": lick.place.line} if lick.place else None
    return {
        "id": lick.id, "title": title_of(lick), "varies": lick.varies, "links": [linked.id for linked in lick.links],
        "role": lick.role, "key": lick.key, "meter": str(lick.meter),
        "bars": words.bar_count(lick), "exit_bars": lick.exit_bars, "tempo": float(lick.tempo),
        "labels": list(lick.labels), "url": lick_url, "media": tab.address.folder + "/",
        "defined": defined, "shown_on": list(shown_on),
    }
