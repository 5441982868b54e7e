"""The player's scripts in the order they build on one another, and the style sheets."""

from .fingerprint import PACKAGE

ASSETS_FOLDER = "assets/fifthpeg"
SCRIPTS = ("time.js", "cursor.js", "voices.js", "mixer.js", "bank.js", "output.js", "drawing.js", "panel.js", "player.js")
STYLES = ("player.css", "tab.css", "pages.css")


def asset_files() -> dict[str, str]:
    """Published address -> file in the package."""
    return {f"{ASSETS_FOLDER}/{name}": str(PACKAGE / "assets" / name) for name in (*SCRIPTS, *STYLES)}


def script_addresses() -> list[str]:
    return [f"{ASSETS_FOLDER}/{name}" for name in SCRIPTS]


def style_addresses() -> list[str]:
    return [f"{ASSETS_FOLDER}/{name}" for name in STYLES]
