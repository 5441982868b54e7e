"""A teacher's own bank off the disk, and what is to be said of it, kept on the shelf until one of its files changes."""

import json
from collections.abc import Callable
from functools import lru_cache
from hashlib import sha256
from pathlib import Path

from ..model.own_bank import OwnBank
from ..model.take_names import read_name
from .fingerprint import sound_key, text_key
from .shelf import Shelf

WARNINGS_FILE = "warnings.json"
KEPT_UNUSED = 4


def read_own_bank(folder: Path) -> OwnBank:
    """The recordings in a folder; other files, hidden ones and folders are passed over. Raises OSError."""
    paths = [path for path in sorted(folder.iterdir())
             if path.is_file() and not path.name.startswith(".") and read_name(path.name)]
    return _read(tuple((path, path.stat().st_size, path.stat().st_mtime_ns) for path in paths))


def own_bank_warnings(own: OwnBank, cache: Path, find: Callable[[OwnBank], list[str]]) -> list[str]:
    """``find`` listens to every file, so it is asked only when one has changed."""
    shelf, key = Shelf(cache / "own-bank"), text_key(own.key, sound_key())
    entry = shelf.find(key) or shelf.keep(key, {WARNINGS_FILE: json.dumps(find(own)).encode()})
    shelf.prune({key}, KEPT_UNUSED)
    return json.loads((entry / WARNINGS_FILE).read_bytes())


@lru_cache(1)
def _read(found: tuple[tuple[Path, int, int], ...]) -> OwnBank:
    """Path, size and time of each file tell a preview whether it has to read them all again."""
    files = {path.name: path.read_bytes() for path, _, _ in found}
    return OwnBank(text_key(*(f"{name} {sha256(content).hexdigest()}" for name, content in files.items())), files)
