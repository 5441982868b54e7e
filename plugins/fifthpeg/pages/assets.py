"""The player's scripts and the style sheets, each kind as one file for the browser."""

from .addresses import BENCH_SCRIPT_FILE, PRACTICE_SCRIPT_FILE, relative
from .fingerprint import PACKAGE
from .html import text

SCRIPTS = (
    "time.js", "cursor.js", "voices.js", "mixer.js", "bank.js", "output.js", "click.js", "score.js",
    "stretch.js", "strings.js", "run.js", "climb.js", "tempo.js", "slots.js", "memory.js", "progress.js",
    "settings.js", "tab.js", "dom.js", "geometry.js", "drawing.js", "picking.js", "panel.js", "keys.js", "practice.js",
    "actions.js", "beside.js", "stage.js", "figure.js", "tuner.js", "whereabouts.js", "player.js",
)
"""In the order in which they build on one another."""
STYLES = ("tab.css", "player.css", "folds.css", "practice.css", "pages.css", "tuner.css", "practice_page.css",
          "bench.css", "print.css")
PACKET_STYLE = "packet.css"
"""Of the packet alone; the others come before it."""
OFFLINE_SCRIPT = "search_in_frame.js"
"""Only for a site opened from a folder: the search worker's stand-in."""
OFFLINE_SCRIPT_ADDRESS = f"assets/{OFFLINE_SCRIPT}"
PRACTICE_SCRIPTS = ("practised.js", "practice_file.js", "practice_page.js")
BENCH_SCRIPTS = ("bench.js", "bench_address.js", "laid.js", "singer.js", "bench_parts.js", "bench_singer.js",
                 "bench_page.js")
"""Each of one page only, after all others."""
SCRIPT_ADDRESS = "assets/fifthpeg.js"
"""On every page, where the theme puts scripts."""
STYLE_ADDRESS = "assets/fifthpeg.css"
OWN_SCRIPTS = {PRACTICE_SCRIPT_FILE: PRACTICE_SCRIPTS, BENCH_SCRIPT_FILE: BENCH_SCRIPTS}
"""Address -> the scripts of a page that loads them itself."""


def script_tags(here: str, *addresses: str) -> str:
    """For the page at ``here``, of scripts that build on the player's: that one comes first, wherever the theme has it."""
    return "".join(f'<script src="{text(relative(address, here))}" defer></script>\n'
                   for address in (SCRIPT_ADDRESS, *addresses))


def asset_files(offline: bool = False) -> dict[str, str]:
    """Published address -> content."""
    everywhere = {SCRIPT_ADDRESS: SCRIPTS, STYLE_ADDRESS: STYLES}
    offline_only = {OFFLINE_SCRIPT_ADDRESS: (OFFLINE_SCRIPT,)} if offline else {}
    return {address: _joined(names) for address, names in (everywhere | OWN_SCRIPTS | offline_only).items()}


def packet_style() -> str:
    return _joined((*STYLES, PACKET_STYLE))


def _joined(names: tuple[str, ...]) -> str:
    return "\n".join((PACKAGE / "assets" / name).read_text(encoding="utf-8") for name in names)
