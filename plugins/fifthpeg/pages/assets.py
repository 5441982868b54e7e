"""The player's scripts and the style sheets, each kind as one file for the browser."""

from .fingerprint import PACKAGE

SCRIPTS = (
    "time.js", "cursor.js", "voices.js", "mixer.js", "bank.js", "output.js", "click.js", "score.js",
    "stretch.js", "strings.js", "run.js", "climb.js", "tempo.js", "slots.js", "memory.js", "settings.js",
    "tab.js", "dom.js", "geometry.js", "drawing.js", "picking.js", "panel.js", "keys.js", "practice.js",
    "actions.js", "stage.js", "figure.js", "tuner.js", "player.js",
)
"""In the order in which they build on one another."""
STYLES = ("tab.css", "player.css", "practice.css", "pages.css", "tuner.css")
SCRIPT_ADDRESS = "assets/fifthpeg.js"
STYLE_ADDRESS = "assets/fifthpeg.css"


def asset_files() -> dict[str, str]:
    """Published address -> content."""
    return {SCRIPT_ADDRESS: _joined(SCRIPTS), STYLE_ADDRESS: _joined(STYLES)}


def _joined(names: tuple[str, ...]) -> str:
    return "\n".join((PACKAGE / "assets" / name).read_text(encoding="utf-8") for name in names)
