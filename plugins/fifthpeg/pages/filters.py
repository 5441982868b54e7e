"""Lists that a reader narrows by choosing a value: a form and a style sheet, no script.

Values are named by number, so that nothing an author writes gets into a rule.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .html import text

ANY = "any"


@dataclass(frozen=True)
class Filter:
    """``name`` is the attribute ``data-name`` of what it narrows, and of its field ``fp-name``; ``label`` is read."""

    name: str
    label: str
    values: tuple[str, ...]


def form(filters: Sequence[Filter]) -> str:
    """Nothing for a filter with one value, which would narrow nothing."""
    selects = "".join(_select(each) for each in filters if len(each.values) > 1)
    return f'<form class="fp-filters" autocomplete="off">{selects}</form>' if selects else ""


def row_data(filters: Sequence[Filter], chosen: Mapping[str, Sequence[str]]) -> str:
    """Attributes of a row; ``chosen`` are its own values by the name of the filter."""
    return " ".join(f'data-{each.name}="{" ".join(str(each.values.index(value) + 1) for value in chosen[each.name])}"'
                    for each in filters)


def row_rules(list_class: str, row: str, filters: Sequence[Filter]) -> str:
    """Rules that hide the rows a chosen value leaves out; ``row`` is a selector below the element with the class."""
    return "".join(
        f'{while_chosen(list_class, each, number)} {row}:not([data-{each.name}~="{number}"]) {{ display: none; }}\n'
        for each in filters for number in range(1, len(each.values) + 1))


def while_chosen(list_class: str, each: Filter, number: int) -> str:
    """The element with the class, while this value (from 1) is chosen in it."""
    return f'.{list_class}:has([name="fp-{each.name}"] option[value="{number}"]:checked)'


def _select(each: Filter) -> str:
    options = "".join(f'<option value="{number}">{text(value)}</option>'
                      for number, value in enumerate(each.values, start=1))
    return (f'<label>{each.label} <select name="fp-{each.name}"><option value="0" selected>{ANY}</option>'
            f"{options}</select></label>")
