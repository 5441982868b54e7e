"""The player's scripts and the style sheets, each kind as one file for the browser."""

from .fingerprint import PACKAGE

SCRIPTS = (
    "time.js", "cursor.js", "voices.js", "mixer.js", "bank.js", "output.js", "click.js", "score.js",
    "stretch.js", "strings.js", "run.js", "climb.js", "tempo.js", "slots.js", "memory.js", "settings.js",
    "tab.js", "dom.js", "geometry.js", "drawing.js", "picking.js", "panel.js", "keys.js", "practice.js",
    "actions.js", "beside.js", "stage.js", "figure.js", "tuner.js", "player.js",
)
"""In the order in which they build on one another."""
STYLES = ("tab.css", "player.css", "practice.css", "pages.css", "tuner.css", "print.css")
PACKET_STYLE = "packet.css"
"""Of the packet alone; the others come before it."""
OFFLINE_SCRIPT = "iframe-worker.js"
"""Only for a site opened from a folder: the search worker's stand-in."""
OFFLINE_SCRIPT_ADDRESS = f"assets/{OFFLINE_SCRIPT}"
SCRIPT_ADDRESS = "assets/fifthpeg.js"
STYLE_ADDRESS = "assets/fifthpeg.css"


def asset_files(offline: bool = False) -> dict[str, str]:
    """Published address -> content."""
    files = {SCRIPT_ADDRESS: _joined(SCRIPTS), STYLE_ADDRESS: _joined(STYLES)}
    return files | {OFFLINE_SCRIPT_ADDRESS: _joined((OFFLINE_SCRIPT,))} if offline else files


def packet_style() -> str:
    return _joined((*STYLES, PACKET_STYLE))


def _joined(names: tuple[str, ...]) -> str:
    return "\n".join((PACKAGE / "assets" / name).read_text(encoding="utf-8") for name in names)
