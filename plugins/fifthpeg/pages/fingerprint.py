"""Keys by content: the same lick, settings and program give the same key, anywhere."""

import hashlib
from dataclasses import fields, is_dataclass
from functools import cache
from pathlib import Path

from ..model.lick import Lick

PACKAGE = Path(__file__).resolve().parent.parent
MAKING_FOLDERS = ("model", "analysis", "engraving", "sound", "exports")
SOUNDING_FOLDERS = ("model", "sound")


def content_key(lick: Lick, salt: str) -> str:
    """A key of the lick without its places; ``salt`` stands for settings and program."""
    parts = [salt]
    _gather(lick, parts)
    return hashlib.sha256("\x1f".join(parts).encode()).hexdigest()


def text_key(*words: str) -> str:
    return hashlib.sha256("\x1f".join(words).encode()).hexdigest()


def program_key() -> str:
    """Changes with any code that has a part in what is published for a lick."""
    return _sources_key(MAKING_FOLDERS) + _file_key(PACKAGE / "pipeline.py")


def sound_key() -> str:
    """Changes with any code that has a part in the samples of a bank note."""
    return _sources_key(SOUNDING_FOLDERS) + _file_key(PACKAGE / "exports" / "note_script.py")


@cache
def _sources_key(folders: tuple[str, ...]) -> str:
    return text_key(*(_file_key(path) for folder in folders for path in sorted((PACKAGE / folder).glob("*.py"))))


@cache
def _file_key(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


@cache
def _names(kind: type) -> tuple[str, ...]:
    return tuple(item.name for item in fields(kind) if item.compare)


def _gather(value: object, parts: list[str]) -> None:
    if is_dataclass(value):
        parts.append(type(value).__name__)
        for name in _names(type(value)):
            _gather(getattr(value, name), parts)
    elif isinstance(value, tuple):
        parts.append(f"({len(value)}")
        for item in value:
            _gather(item, parts)
    else:
        parts.append(f"{type(value).__name__} {value}")
