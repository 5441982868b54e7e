"""The page that lists every lick, and the style sheet that filters it without a script."""

from collections.abc import Sequence

from ..model.lick import ROLES
from . import words
from .figure import title_of
from .html import markdown_text, text
from .published import Published

EMPTY = "There is no lick in the library yet: a tab block gets its place here when it has an `id`."
COLUMNS = ("Lick", "Role", "Key", "Bars", "Tempo", "Labels", "Rolls")
ANY = "any"


def catalogue_markdown(tabs: Sequence[Published]) -> str:
    """A page in Markdown; links are to the licks' source files in the same folder."""
    if not tabs:
        return f"# Licks\n\n{EMPTY}\n"
    rows = "\n".join(_row(tab, filters(tabs)) for tab in tabs)
    heads = "".join(f'<th scope="col">{column}</th>' for column in COLUMNS)
    return (
        f'# Licks\n\n<div class="fp-catalogue" markdown="1">\n\n{_form(tabs)}\n\n'
        f'<table class="fp-licks" markdown="1">\n<thead><tr>{heads}</tr></thead>\n<tbody markdown="1">\n{rows}\n'
        f"</tbody>\n</table>\n\n</div>\n"
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


def _row(tab: Published, offered: dict[str, tuple[str, ...]]) -> str:
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
    title = f'<td markdown="span">[{markdown_text(title_of(lick))}]({lick.id}.md)</td>'
    return f"<tr {data}>{title}{rest}</tr>"
