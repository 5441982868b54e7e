"""The site's navigation: the catalogue's entry becomes a section with every lick's page."""

from collections.abc import Sequence

from ..model.lick import ROLES, Lick
from .addresses import CATALOGUE_PAGE, lick_page
from .figure import title_of
from .html import text

DEFAULT_TITLE = "Licks"
ROLE_HEADINGS = {
    "lick": "Licks", "tag": "Tags", "fill": "Fills", "roll": "Rolls", "kick-off": "Kick-offs",
    "break": "Breaks", "backup": "Backup", "exercise": "Exercises",
}


def expand_nav(nav: object, licks: Sequence[Lick]) -> object:
    """``nav`` as mkdocs.yml has it: lists, dicts of title and entry, page names."""
    if nav == CATALOGUE_PAGE:
        return {DEFAULT_TITLE: _section(licks)}
    if isinstance(nav, list):
        return [expand_nav(item, licks) for item in nav]
    if isinstance(nav, dict):
        return {title: _section(licks) if item == CATALOGUE_PAGE else expand_nav(item, licks)
                for title, item in nav.items()}
    return nav


def _section(licks: Sequence[Lick]) -> list[object]:
    """A section a role: a page then lists the licks of its own role only, which keeps pages small."""
    by_role = {role: sorted((lick for lick in licks if lick.role == role), key=lambda lick: (title_of(lick), lick.id))
               for role in ROLES}
    return [CATALOGUE_PAGE] + [
        {ROLE_HEADINGS[role]: [{text(title_of(lick)): lick_page(lick.id or "")} for lick in found]}
        for role, found in by_role.items() if found
    ]
