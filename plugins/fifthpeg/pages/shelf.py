"""The cache on disk: folders of files by content key, each entry whole and unharmed or not there at all.

An entry is written beside its place and moved there in one step. Its list of checksums is itself
checksummed; whatever does not agree with it is thrown away and made again.
"""

import json
import os
import shutil
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from zlib import crc32

LIST_NAME = "list.json"
ENTRIES_KEPT_UNUSED = 400
"""Entries of earlier versions that stay for a while: switching back to an old wording is then quick."""


@dataclass(frozen=True)
class Shelf:
    """``folder`` holds one folder an entry."""

    folder: Path

    def find(self, key: str) -> Path | None:
        """The folder of a whole and unharmed entry, or None."""
        entry = self.folder / key
        return entry if _is_unharmed(entry) else None

    def keep(self, key: str, files: Mapping[str, bytes]) -> Path:
        """Puts the files on the shelf and returns their folder."""
        self.folder.mkdir(parents=True, exist_ok=True)
        making = Path(tempfile.mkdtemp(prefix="making-", dir=self.folder))
        try:
            for name, content in files.items():
                (making / name).write_bytes(content)
            (making / LIST_NAME).write_bytes(_list_bytes(files))
            return _move(making, self.folder / key)
        finally:
            shutil.rmtree(making, ignore_errors=True)

    def prune(self, used: set[str], kept_unused: int = ENTRIES_KEPT_UNUSED) -> None:
        """Drops the oldest entries not in ``used``, past ``kept_unused`` of them, and abandoned ones."""
        if not self.folder.is_dir():
            return
        unused = [entry for entry in os.scandir(self.folder) if entry.is_dir() and entry.name not in used]
        unused.sort(key=lambda entry: (entry.stat().st_mtime_ns, entry.name), reverse=True)
        for entry in unused[kept_unused:]:
            shutil.rmtree(entry.path, ignore_errors=True)


def link_or_copy(source: str, target: str) -> None:
    """A second name for the same bytes where the file system can, else a copy. ``target`` is replaced."""
    try:
        os.link(source, target)
    except FileExistsError:
        os.unlink(target)
        link_or_copy(source, target)
    except OSError:
        os.makedirs(os.path.dirname(target), exist_ok=True)
        _link_or_copy_there(source, target)


def _link_or_copy_there(source: str, target: str) -> None:
    try:
        os.link(source, target)
    except OSError:
        shutil.copyfile(source, target)


def _list_bytes(files: Mapping[str, bytes]) -> bytes:
    listed = json.dumps({name: digest(content) for name, content in sorted(files.items())}).encode()
    return digest(listed).encode() + b"\n" + listed


def _is_unharmed(entry: Path) -> bool:
    folder = str(entry)
    try:
        head, _, listed = _content(f"{folder}/{LIST_NAME}").partition(b"\n")
        return head.decode("ascii", "replace") == digest(listed) and all(
            digest(_content(f"{folder}/{name}")) == expected for name, expected in json.loads(listed).items())
    except (OSError, ValueError):
        return False


def _content(path: str) -> bytes:
    """Unbuffered: half of what it takes to read a thousand small files is what is put round the reading."""
    with open(path, "rb", buffering=0) as file:
        return file.read()


def digest(content: bytes) -> str:
    """CRC-32: it is harm that is looked for, not a forger, and every recording is read through at every build."""
    return f"{crc32(content):08x}"


def _move(making: Path, entry: Path) -> Path:
    """Another build may have put the same entry there meanwhile; an unharmed one stays."""
    if entry.exists():
        if _is_unharmed(entry):
            return entry
        shutil.rmtree(entry)
    try:
        os.rename(making, entry)
    except OSError:
        if not _is_unharmed(entry):
            raise
    return entry
