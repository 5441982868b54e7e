"""The page on which a student sees what was practised: a room for what the browser keeps, and the course's licks.

Nothing of a student is known here. The player keeps it in the browser, and a script of this page shows it.
"""

from collections.abc import Sequence
from math import floor

from ..model.lick import Lick
from .addresses import PRACTICE_PAGE, PRACTICE_SCRIPT_FILE, lick_page, page_url, relative
from .assets import script_tags
from .figure import title_of
from .html import script_data, text
from .published import Published

TITLE = "Practice"
WHAT = ("What you have practised with the players of this course: the last day, how many passes you have played "
        "along with, and the best tempo at which a lick was played through from its first note to its last, against its full tempo.")
WHERE = ("It is kept in this browser, on this machine, and nowhere else: nothing is sent, and nobody else sees it. To "
         "carry it to another browser, save it as a file and take the file in there.")
COUNTS = ("A pass is one time through, of the whole or of the part you loop. The player can't hear you: the best tempo "
          "says how fast a pass went by, and whether it was clean is yours to judge.")
CARE = ("More is not better. Stop at the first pain, let the hands rest five minutes in every half hour, and add no "
        "more than ten minutes a day to what they are used to. Pain, numbness or tingling that lasts or comes back is a "
        "matter for a doctor or a physiotherapist.")
NO_SCRIPTS = "This list needs scripts, which are off here. The recordings on every page play without them."
ANY_ID = "*"
"""Stands for an id in the pattern of a lick's address; no id has it."""


def practice_markdown(tabs: Sequence[Published], directory_urls: bool) -> str:
    """``tabs`` are the library's."""
    here = page_url(PRACTICE_PAGE, directory_urls)
    licks = script_data([[tab.lick.id, title_of(tab.lick), _shown_beats(tab.lick)] for tab in tabs])
    pattern = relative(page_url(lick_page(ANY_ID), directory_urls), here)
    return (
        f"# {TITLE}\n\n{WHAT}\n\n{WHERE}\n\n"
        f'<div class="fp-practised" data-fp-root="{text(relative("", here))}" data-fp-lick="{text(pattern)}" '
        "data-search-exclude>\n"
        f'<p>{NO_SCRIPTS}</p>\n<script type="application/json">{licks}</script>\n</div>\n'
        f"{script_tags(here, PRACTICE_SCRIPT_FILE)}\n{COUNTS}\n\n{CARE}\n"
    )


def _shown_beats(lick: Lick) -> int:
    """As the player rounds it."""
    return floor(lick.tempo + 0.5)
