"""The page on which a student puts licks in a row and hears at once how their seams go.

Nothing is judged in the browser: what goes with what was found by the build, and is published beside the page.
"""

from .addresses import (BENCH_FOLDER, BENCH_LIBRARY_FILE, BENCH_PAGE, BENCH_SCRIPT_FILE, lick_page, page_url, relative)
from .assets import script_tags
from .html import text

TITLE = "Chain bench"
WHAT = ("Put licks in a row and see at once how the right hand gets from each to the next. Between two links of a chain "
        "the exit of the first falls away; the last may keep its own.")
HOW_JUDGED = ("Each seam is judged by itself, at the full tempo and the bounce of the lick before it, as on the page of that "
              "lick. Two small changes to one very short lick are not tried together. The backing is each lick's own: "
              "where a lick names no chord there is none, and nothing walks up to the chord of the next one.")
WHERE = ("The chain is kept in this browser, and the address of this page carries it: copy the address, or "
         "keep it as a bookmark, to come back to it or to show it to someone.")
CARE = ("It is easy to go on too long with a new row of licks. Stop at the first pain, and let the hands rest five minutes in every half "
        "hour. Pain that stays is a matter for a doctor or a physiotherapist.")
NO_SCRIPTS = ("The bench needs scripts, which are off here. What goes with what stands on each lick's own page, and "
              "all recordings play.")
ANY_ID = "*"


def bench_markdown(bank_folder: str, directory_urls: bool) -> str:
    """``bank_folder`` is where the sounds lie, from the site's root."""
    here = page_url(BENCH_PAGE, directory_urls)
    places = {"root": "", "lick": page_url(lick_page(ANY_ID), directory_urls),
              "bench": BENCH_FOLDER, "bank": bank_folder}
    data = " ".join(f'data-fp-{name}="{text(relative(place, here))}"' for name, place in places.items())
    scripts = script_tags(here, BENCH_SCRIPT_FILE, BENCH_LIBRARY_FILE)
    return (f'# {TITLE}\n\n{WHAT}\n\n<div class="fp-bench" {data} data-search-exclude>\n<p>{NO_SCRIPTS}</p>\n</div>\n'
            f"{scripts}\n{HOW_JUDGED}\n\n{WHERE}\n\n{CARE}\n")
