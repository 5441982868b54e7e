"""What the settings of a site take.

Each reader takes what YAML made of the words behind a setting, and returns the value or raises ``ValueError`` with
what a teacher is told: what it takes, and what it was given.
"""

from collections.abc import Callable
from typing import Any

from .reading.header import Entry
from .reading.keys import BY_NAME
from .reading.messages import listed


def number(least: float, most: float, of_least: str = "", of_most: str = "", unit: str = "") -> Callable[[Any], float]:
    """``of_least`` and ``of_most`` say in words what the ends of the range mean."""
    takes = f"a number between {_end(least, of_least)} and {_end(most, of_most)}{f', in {unit}' if unit else ''}"

    def read(value: Any) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float) or not least <= value <= most:
            raise _refusal(takes, value)
        return value
    return read


def switch(value: Any) -> bool:
    if not isinstance(value, bool):
        raise _refusal("true or false", value)
    return value


def one_of(*allowed: str | int) -> Callable[[Any], str | int]:
    def read(value: Any) -> str | int:
        if isinstance(value, bool) or value not in allowed:
            raise _refusal(listed(allowed), value)
        return value
    return read


def some_of(*allowed: str) -> Callable[[Any], list[str]]:
    takes = f"a list such as [{allowed[0]}, {allowed[-1]}], of {listed(allowed, 'and')} ([] for none)"

    def read(value: Any) -> list[str]:
        if not isinstance(value, list) or any(item not in allowed for item in value):
            raise _refusal(takes, value)
        return value
    return read


def words(value: Any) -> str:
    """A year or a date is as good as words."""
    if isinstance(value, list | dict):
        raise _refusal("a few words, between quotation marks where a colon or a bracket is among them", value)
    return str(value)


def key(value: Any) -> str:
    """As the header of a tab takes it."""
    try:
        return BY_NAME["key"].read(Entry("key", (0, 0, 0), str(value)))
    except ValueError:
        raise _refusal(BY_NAME["key"].allowed, value) from None


def _refusal(takes: str, value: Any) -> ValueError:
    return ValueError(f"it takes {takes}, not {_as_written(value)}")


def _as_written(value: Any) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    return f"[{', '.join(map(str, value))}]" if isinstance(value, list) else str(value)


def _end(value: float, meaning: str) -> str:
    return f"{value:g} ({meaning})" if meaning else f"{value:g}"

