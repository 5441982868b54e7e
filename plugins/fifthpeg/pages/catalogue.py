"""The page that lists every lick, and the style sheet that filters it without a script."""

from collections.abc import Mapping, Sequence

from ..model.lick import ROLES
from . import words
from .addresses import CATALOGUE_PAGE, FILTER_STYLE_FILE, lick_page, page_url, relative
from .figure import title_of
from .filters import Filter, form, row_data, row_rules
from .html import link, text
from .published import Published
from .seam_section import chain_note

EMPTY = "There is no lick in the library yet: a tab block gets its place here when it has an `id`."
COLUMNS = ("Lick", "Role", "Key", "Bars", "Tempo", "Labels", "Rolls")


def catalogue_markdown(tabs: Sequence[Published], directory_urls: bool) -> str:
    """A page in Markdown. The list is HTML: it needs no extension, and stays quick with many licks.

    The search leaves the list out: what it says stands on each lick's own page.
    """
    if not tabs:
        return f"# Licks\n\n{EMPTY}\n"
    offered, start = filters(tabs), page_url(CATALOGUE_PAGE, directory_urls)
    titles = {tab.lick.id: title_of(tab.lick) for tab in tabs}
    urls = [relative(page_url(lick_page(tab.lick.id or ""), directory_urls), start) for tab in tabs]
    rows = "\n".join(_row(tab, offered, url, titles) for tab, url in zip(tabs, urls, strict=True))
    heads = "".join(f'<th scope="col">{column}</th>' for column in COLUMNS)
    return (
        f'# Licks\n\n<div class="fp-catalogue" data-search-exclude>\n'
        f'<link rel="stylesheet" href="{relative(FILTER_STYLE_FILE, start)}">\n{form(offered)}\n'
        f'<table class="fp-licks">\n<thead><tr>{heads}</tr></thead>\n<tbody>\n{rows}\n'
        f"</tbody>\n</table>\n</div>\n"
    )


def filters(tabs: Sequence[Published]) -> tuple[Filter, ...]:
    """What the list can be narrowed by."""
    roles = {tab.lick.role for tab in tabs}
    return (
        Filter("role", "Role", tuple(role for role in ROLES if role in roles)),
        Filter("key", "Key", tuple(sorted({tab.lick.key for tab in tabs}))),
        Filter("label", "Label", tuple(sorted({label for tab in tabs for label in tab.lick.labels}))),
        Filter("roll", "Roll", tuple(sorted({name for tab in tabs for name in _rolls(tab)}))),
    )


def filter_style(tabs: Sequence[Published]) -> str:
    """Rules that hide the rows a chosen value leaves out."""
    return row_rules("fp-catalogue", ".fp-licks tbody tr", filters(tabs))


def _rolls(tab: Published) -> tuple[str, ...]:
    """Those of whole bars first, each once."""
    return tuple(dict.fromkeys(roll.name for roll in (*tab.facts.rolls, *tab.facts.half_rolls)))


def _row(tab: Published, offered: Sequence[Filter], url: str, titles: Mapping[str | None, str]) -> str:
    lick, rolls = tab.lick, _rolls(tab)
    data = row_data(offered, {"role": (lick.role,), "key": (lick.key,), "label": lick.labels, "roll": rolls})
    cells = (lick.role, lick.key, str(words.bar_count(lick)), words.number(lick.tempo), ", ".join(lick.labels),
             words.listed(rolls))
    rest = "".join(f'<td data-column="{column}">{text(cell)}</td>'
                   for column, cell in zip(COLUMNS[1:], cells, strict=True))
    return f'<tr {data}><th scope="row">{link(title_of(lick), url)}{_note(tab, titles)}</th>{rest}</tr>'


def _note(tab: Published, titles: Mapping[str | None, str]) -> str:
    """What it is made from."""
    if tab.lick.links:
        return f'<br><span class="fp-links">links: {text(chain_note(tab))}</span>'
    parent = titles.get(tab.lick.varies, "")
    return f'<br><span class="fp-varies">variant of {text(parent)}</span>' if parent else ""
