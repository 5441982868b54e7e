"""Values of the model as JSON, and back again exactly: dataclasses, tuples, dicts, fractions and plain words."""

import json
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from fractions import Fraction
from functools import cache
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints


def as_json(value: object) -> str:
    """Fractions as text, ``3/2``; tuples as lists; dataclasses as objects by the names of their fields."""
    return json.dumps(_plain(value), separators=(",", ":"))


def from_plain(kind: Any, kept: Any) -> Any:
    """``kept`` as ``json.loads`` gives it; ``kind`` the annotation of what it was.

    Raises TypeError for kinds not kept.
    """
    return _reader(kind)(kept)


def _plain(value: Any) -> Any:
    if is_dataclass(value):
        return {item.name: _plain(getattr(value, item.name)) for item in fields(value)}
    if isinstance(value, Fraction):
        return str(value)
    if isinstance(value, (tuple, list)):
        return [_plain(item) for item in value]
    return {key: _plain(item) for key, item in value.items()} if isinstance(value, dict) else value


@cache
def _reader(kind: Any) -> Callable[[Any], Any]:
    """Made once a kind: every page of a site has its facts read back."""
    if is_dataclass(kind):
        return _dataclass_reader(kind)
    if kind is Fraction:
        return Fraction
    if kind in (str, int, float, bool):
        return _as_it_is
    origin, inner = get_origin(kind), get_args(kind)
    if origin is tuple:
        return _tuple_reader(inner)
    if origin is dict and inner[0] is str:
        return _dict_reader(_reader(inner[1]))
    if origin in (Union, UnionType) and NoneType in inner and len(inner) == 2:
        return _optional_reader(_reader(inner[0] if inner[1] is NoneType else inner[1]))
    raise TypeError(f"{kind!r} is not kept on the shelf")


def _as_it_is(kept: Any) -> Any:
    """Known by name to the readers of what holds such values, so that most need no call."""
    return kept


def _dataclass_reader(kind: type) -> Callable[[Any], Any]:
    hints = get_type_hints(kind)
    readers = [(item.name, _reader(hints[item.name])) for item in fields(kind)]
    converted = [(name, read) for name, read in readers if read is not _as_it_is]
    return lambda kept: kind(**kept | {name: read(kept[name]) for name, read in converted})


def _tuple_reader(inner: tuple[Any, ...]) -> Callable[[Any], Any]:
    if len(inner) == 2 and inner[1] is Ellipsis:
        read = _reader(inner[0])
        return tuple if read is _as_it_is else lambda kept: tuple(map(read, kept))
    readers = [_reader(kind) for kind in inner]
    return lambda kept: tuple(read(item) for read, item in zip(readers, kept, strict=True))


def _dict_reader(read: Callable[[Any], Any]) -> Callable[[Any], Any]:
    return lambda kept: {key: read(item) for key, item in kept.items()}


def _optional_reader(read: Callable[[Any], Any]) -> Callable[[Any], Any]:
    return lambda kept: None if kept is None else read(kept)
