"""What each block was read as, kept from build to build: a block that stands as it stood is not read again.

A big course has tens of thousands of words in its tabs, and reading them was a third of what a warm build did. They
are pickled, since that is quick with so many small values; only classes of the model and of reading are taken back.
"""

import gc
import io
import os
import pickle
import tempfile
from collections.abc import Callable, Hashable
from fractions import Fraction
from pathlib import Path

from .shelf import digest

PACKAGE = __name__.split(".")[0]
OWN_MODULES = (f"{PACKAGE}.model.", f"{PACKAGE}.reading.")


class Readings:
    """One lives through all builds of a preview. ``read`` takes a block and the site's defaults, and has no other
    inputs."""

    def __init__(self, read: Callable[[Hashable, Hashable], object]):
        self._read = read
        self._opened: tuple[Path, str] | None = None
        self._known: dict[tuple, object] = {}
        self._used: dict[tuple, object] = {}

    def open(self, path: Path, salt: str) -> None:
        """Before a build. ``salt`` stands for the program: what another one has read is not taken."""
        if self._opened != (path, salt):
            self._opened, self._known = (path, salt), _kept(path, salt)
        self._used = {}

    def read(self, block: Hashable, defaults: Hashable):
        key = block, defaults
        if key not in self._used:
            self._used[key] = self._known[key] if key in self._known else self._read(block, defaults)
        return self._used[key]

    def keep(self) -> None:
        """After a build: what it used, and nothing older."""
        if self._opened and self._used.keys() != self._known.keys():
            _write(*self._opened, self._used)
        self._known = self._used


def _kept(path: Path, salt: str) -> dict:
    """Empty where nothing was kept, by another program, or where it is harmed."""
    try:
        head, _, content = path.read_bytes().partition(b"\n")
        return _unpickled(content) if head == _head(salt, content) else {}
    except (OSError, pickle.UnpicklingError):
        return {}


def _unpickled(content: bytes) -> dict:
    """All of it stays: a garbage collector that looks through it as it grows doubles the time."""
    collects = gc.isenabled()
    gc.disable()
    try:
        return _OwnValues(io.BytesIO(content)).load()
    finally:
        if collects:
            gc.enable()


def _write(path: Path, salt: str, readings: dict) -> None:
    """Whole or not at all."""
    content = pickle.dumps(readings, pickle.HIGHEST_PROTOCOL)
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, making = tempfile.mkstemp(prefix="making-", dir=path.parent)
    with os.fdopen(handle, "wb") as file:
        file.write(_head(salt, content) + b"\n" + content)
    os.replace(making, path)


def _head(salt: str, content: bytes) -> bytes:
    return f"{digest(content)} {salt}".encode()


class _OwnValues(pickle.Unpickler):
    """A folder with a cache may come from anywhere, and a pickle could call anything."""

    def find_class(self, module: str, name: str) -> type:
        if (module, name) == (Fraction.__module__, Fraction.__name__):
            return Fraction
        found = super().find_class(module, name) if module.startswith(OWN_MODULES) and "." not in name else None
        if isinstance(found, type) and found.__module__ == module:
            return found
        raise pickle.UnpicklingError(f"{module}.{name} is nothing that a block is read as")
