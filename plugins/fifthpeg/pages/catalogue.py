"""The page that lists every lick, and the style sheet that filters it without a script."""

from collections.abc import Sequence

from ..model.lick import ROLES
from . import words
from .addresses import CATALOGUE_PAGE, FILTER_STYLE_FILE, lick_page, page_url, relative
from .figure import title_of
from .html import link, text
from .published import Published

EMPTY = "There is no lick in the library yet: a tab block gets its place here when it has an `id`."
COLUMNS = ("Lick", "Role", "Key", "Bars", "Tempo", "Labels", "Rolls")
ANY = "any"


def catalogue_markdown(tabs: Sequence[Published], directory_urls: bool) -> str:
    """A page in Markdown. The list is HTML: it needs no extension, and stays quick with many licks.

    The search leaves the list out: what it says stands on each lick's own page.
    """
    if not tabs:
        return f"# Licks\n\n{EMPTY}\n"
    offered, start = filters(tabs), page_url(CATALOGUE_PAGE, directory_urls)
    titles = {tab.lick.id: title_of(tab.lick) for tab in tabs}
    rows = "\n".join(_row(tab, offered, relative(page_url(lick_page(tab.lick.id or ""), directory_urls), start),
                          titles.get(tab.lick.varies, "")) for tab in tabs)
    heads = "".join(f'<th scope="col">{column}</th>' for column in COLUMNS)
    return (
        f'# Licks\n\n<div class="fp-catalogue" data-search-exclude>\n'
        f'<link rel="stylesheet" href="{relative(FILTER_STYLE_FILE, start)}">\n{_form(tabs)}\n'
        f'<table class="fp-licks">\n<thead><tr>{heads}</tr></thead>\n<tbody>\n{rows}\n'
        f"</tbody>\n</table>\n</div>\n"
    )


def filters(tabs: Sequence[Published]) -> dict[str, tuple[str, ...]]:
    """What the list can be narrowed by, and the values each filter offers."""
    roles = {tab.lick.role for tab in tabs}
    return {
        "Role": tuple(role for role in ROLES if role in roles),
        "Key": tuple(sorted({tab.lick.key for tab in tabs})),
        "Label": tuple(sorted({label for tab in tabs for label in tab.lick.labels})),
    }


def filter_style(tabs: Sequence[Published]) -> str:
    """Rules that hide the rows a chosen value leaves out; values are named by number."""
    return "".join(
        f'.fp-catalogue:has([name="fp-{name.lower()}"] option[value="{index}"]:checked)'
        f' .fp-licks tbody tr:not([data-{name.lower()}~="{index}"]) {{ display: none; }}\n'
        for name, values in filters(tabs).items() for index in range(1, len(values) + 1)
    )


def _form(tabs: Sequence[Published]) -> str:
    selects = "".join(_select(name, values) for name, values in filters(tabs).items() if len(values) > 1)
    return f'<form class="fp-filters" autocomplete="off">{selects}</form>' if selects else ""


def _select(name: str, values: tuple[str, ...]) -> str:
    options = "".join(f'<option value="{index}">{text(value)}</option>' for index, value in enumerate(values, start=1))
    return (f'<label>{name} <select name="fp-{name.lower()}"><option value="0" selected>{ANY}</option>'
            f"{options}</select></label>")


def _row(tab: Published, offered: dict[str, tuple[str, ...]], url: str, parent_title: str) -> str:
    lick = tab.lick
    chosen = {"Role": (lick.role,), "Key": (lick.key,), "Label": lick.labels}
    data = " ".join(
        f'data-{name.lower()}="{" ".join(str(values.index(value) + 1) for value in chosen[name])}"'
        for name, values in offered.items()
    )
    rolls = words.listed(tuple(dict.fromkeys(roll.name for roll in tab.facts.rolls)))
    cells = (lick.role, lick.key, str(words.bar_count(lick)), words.number(lick.tempo), ", ".join(lick.labels), rolls)
    named = zip(COLUMNS[1:], cells, strict=True)
    rest = "".join(f'<td data-column="{column}">{text(cell)}</td>' for column, cell in named)
    varies = f'<br><span class="fp-varies">variant of {text(parent_title)}</span>' if parent_title else ""
    return f'<tr {data}><th scope="row">{link(title_of(lick), url)}{varies}</th>{rest}</tr>'
