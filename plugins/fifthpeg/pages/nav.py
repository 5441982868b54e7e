"""The site's navigation: the catalogue's entry becomes a section with every lick's page."""

from collections.abc import Mapping, Sequence

from ..model.lick import ROLES
from .addresses import CATALOGUE_PAGE, GOES_WITH_PAGE, lick_page
from .figure import title_of
from .html import text
from .published import Published

NO_TOOLS: Mapping[str, str] = {}
DEFAULT_TITLE = "Licks"
GOES_WITH_TITLE = "What goes with what"
ROLE_HEADINGS = {
    "lick": "Licks", "tag": "Tags", "fill": "Fills", "roll": "Rolls", "kick-off": "Kick-offs",
    "break": "Breaks", "backup": "Backup", "exercise": "Exercises",
}


def in_order(tab: Published) -> tuple[str, str]:
    """Key that sorts licks by title."""
    return title_of(tab.lick).casefold(), tab.lick.id or ""


def expand_nav(nav: object, tabs: Sequence[Published], goes_with: bool = False,
               tools: Mapping[str, str] = NO_TOOLS) -> object:
    """``tabs`` are the library's, in order; ``nav`` as mkdocs.yml has it: lists, dicts of title and entry, pages.

    ``goes_with``: whether the site has the page of what goes with what. ``tools``: titles by page that stand beside the
    catalogue, except those to which mkdocs.yml gives a place of their own.
    """
    beside = [{GOES_WITH_TITLE: GOES_WITH_PAGE}] if goes_with else []
    beside += [{title: page} for page, title in tools.items() if not _names(nav, page)]
    return _expanded(nav, [CATALOGUE_PAGE, *beside, *_by_role(tabs)])


def _expanded(nav: object, section: list[object]) -> object:
    if nav == CATALOGUE_PAGE:
        return {DEFAULT_TITLE: section}
    if isinstance(nav, list):
        return [_expanded(item, section) for item in nav]
    if isinstance(nav, dict):
        return {title: section if item == CATALOGUE_PAGE else _expanded(item, section) for title, item in nav.items()}
    return nav


def _names(nav: object, page: str) -> bool:
    if isinstance(nav, dict):
        return any(_names(item, page) for item in nav.values())
    return any(_names(item, page) for item in nav) if isinstance(nav, list) else nav == page


def _by_role(tabs: Sequence[Published]) -> list[object]:
    """A section a role: a page then lists the licks of its own role only, which keeps pages small."""
    by_role = {role: [tab.lick for tab in tabs if tab.lick.role == role] for role in ROLES}
    return [
        {ROLE_HEADINGS[role]: [{_nav_title(title_of(lick)): lick_page(lick.id or "")} for lick in found]}
        for role, found in by_role.items() if found
    ]


def _nav_title(title: str) -> str:
    """Escaped, as MkDocs wants it; the theme unescapes it again for the window's title, where ``<`` could end it."""
    return text(title.translate({ord("<"): "‹", ord(">"): "›"}))
