"""Keys by content: the same lick, settings and program give the same key, anywhere."""

import hashlib
import sys
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from fractions import Fraction
from functools import cache
from importlib.metadata import version
from operator import attrgetter
from pathlib import Path

from ..model.lick import Lick

PACKAGE = Path(__file__).resolve().parent.parent
MAKING_MODULES = ("__init__.py", "compiled.py", "companions.py", "pipeline.py", "pages/publish.py", "pages/kept.py")
SOUND_LIBRARIES = ("numpy", "scipy", "soundfile")
"""Another version of one of these may round the last bit of a sample the other way."""
MAKING_FOLDERS = ("model", "analysis", "engraving", "sound", "exports")
SOUNDING_FOLDERS = ("model", "sound")
READING_FOLDERS = ("model", "reading")
_PLAIN = frozenset({str, int, bool, type(None), Fraction})


def content_key(lick: Lick, salt: str) -> str:
    """A key of the lick without its places; ``salt`` stands for settings and program."""
    return text_key(salt, repr(_bare(lick)))


def text_key(*words: str) -> str:
    return hashlib.sha256("\x1f".join(words).encode()).hexdigest()


def program_key() -> str:
    """Changes with any code that has a part in what is published for a lick."""
    return text_key(_sources_key(MAKING_FOLDERS), *(_file_key(PACKAGE / name) for name in MAKING_MODULES), _library_versions())


def sound_key() -> str:
    """Changes with any code that has a part in the samples of a bank note; SYNTHESIS_VERSION lies among it."""
    return text_key(_sources_key(SOUNDING_FOLDERS), _file_key(PACKAGE / "exports" / "note_script.py"), _library_versions())


def reading_key() -> str:
    """Changes with any code that has a part in what a block is read as, and with what pickles it."""
    return text_key(_sources_key(READING_FOLDERS), sys.version)


@cache
def _sources_key(folders: tuple[str, ...]) -> str:
    return text_key(*(_file_key(path) for folder in folders for path in sorted((PACKAGE / folder).glob("*.py"))))


@cache
def _library_versions() -> str:
    return " ".join(version(name) for name in SOUND_LIBRARIES)


@cache
def _file_key(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def _bare(value: object) -> object:
    """The value in tuples, a dataclass as its name and the fields that make it equal to another."""
    kind = type(value)
    if kind in _PLAIN:
        return value
    if kind is tuple:
        return tuple(map(_bare, value))
    values_of = _compared_fields(kind)
    return (kind.__name__, *map(_bare, values_of(value))) if values_of else value


@cache
def _compared_fields(kind: type) -> Callable[[object], tuple] | None:
    if not is_dataclass(kind):
        return None
    names = [item.name for item in fields(kind) if item.compare]
    return attrgetter(*names) if len(names) > 1 else lambda value: tuple(getattr(value, name) for name in names)
