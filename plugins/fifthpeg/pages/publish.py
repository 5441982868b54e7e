"""From licks to files on the shelf: what is there is used, what is missing is made and kept."""

import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from ..compiled import Compiled, Facts, SmallTab
from ..model.cell_words import CellWords
from ..model.lick import Lick
from ..model.tuner import OpenString
from .addresses import Address, bank_folder, block_address, lick_address, tuner_folder
from .fingerprint import content_key, text_key
from .kept import as_json, from_plain
from .published import Published
from .shelf import LIST_NAME, Shelf

PAGE_FILE = "page.json"
SCRIPT_FILE = "note.js"
FILE_STEM = "tab"
"""On the shelf all entries' files are called alike; their published names come from their addresses."""
PART_STEM = "part"
TUNERS_KEPT_UNUSED = 4


@dataclass(frozen=True)
class Stock:
    """One build's view of the cache. ``salt`` and ``bank_key`` stand for settings and program.

    ``tabs`` holds what this build has published, by content key; ``notes`` the keys of its bank notes.
    """

    folder: Path
    salt: str
    bank_key: str
    tabs: dict[str, Published] = field(default_factory=dict)
    notes: set[str] = field(default_factory=set)

    def publish(self, lick: Lick, compile_lick: Callable[[Lick, str], Compiled]) -> Published:
        """``compile_lick`` takes a lick and the stem of its files; it is called for what the shelf lacks."""
        key = content_key(lick, self.salt)
        if key not in self.tabs:
            entry = self._licks.find(key)
            if entry is None:
                entry = self._licks.keep(key, _files(compile_lick(lick, stem_of(lick))))
            self.tabs[key] = _published(lick, key, entry, self.bank_key)
        return self.tabs[key]

    def publish_bank(self, tabs: Iterable[Published],
                     make_scripts: Callable[[Iterable[str]], Iterator[tuple[str, str]]]) -> dict[str, Path]:
        """Published address -> file, of every bank note the tabs need; ``make_scripts`` makes the missing ones."""
        keys = {name: text_key(self.bank_key, name) for tab in tabs for name in tab.facts.bank}
        self.notes.update(keys.values())
        entries = {name: self._bank.find(keys[name]) for name in sorted(keys)}
        for name, script in make_scripts([name for name, entry in entries.items() if entry is None]):
            entries[name] = self._bank.keep(keys[name], {SCRIPT_FILE: script.encode()})
        return {f"{bank_folder(self.bank_key)}{name}.js": entry / SCRIPT_FILE for name, entry in entries.items() if entry}

    def publish_tuner(self, strings: Sequence[OpenString],
                      make_files: Callable[[Sequence[OpenString]], Mapping[str, bytes]]) -> tuple[str, dict[str, Path]]:
        """(the folder's address, published address -> file) of the sounds to tune by."""
        key, shelf = text_key(self.salt, repr(strings)), Shelf(self.folder / "tuner")
        entry = shelf.find(key) or shelf.keep(key, make_files(strings))
        shelf.prune({key}, TUNERS_KEPT_UNUSED)
        folder = tuner_folder(key)
        return folder, {f"{folder}{path.name}": path for path in sorted(entry.iterdir()) if path.name != LIST_NAME}

    def prune(self) -> None:
        self._licks.prune(set(self.tabs))
        self._bank.prune(self.notes)

    @property
    def _licks(self) -> Shelf:
        return Shelf(self.folder / "licks")

    @property
    def _bank(self) -> Shelf:
        return Shelf(self.folder / "bank")


def published_files(tab: Published) -> dict[str, Path]:
    """Published address -> file on the shelf."""
    return {tab.address.file(ending): tab.entry / (FILE_STEM + ending) for ending in tab.endings}


def as_whole(lick: Lick, licks: Mapping[str, Lick]) -> Lick:
    """The library's lick where a showing shows all of it unchanged: both then share their files."""
    shown = licks.get(lick.shows or "")
    return shown if shown and replace(lick, id=shown.id, shows=None, whole=None) == shown else lick


def stem_of(lick: Lick) -> str:
    """How the names of a lick's files begin."""
    if lick.id:
        return lick.id
    return f"{lick.shows}-{PART_STEM}" if lick.shows else FILE_STEM


def _files(compiled: Compiled) -> dict[str, bytes]:
    page = {"facts": compiled.facts, "inline": compiled.inline, "player": compiled.player, "words": compiled.words,
            "cells": compiled.cells, "ending": compiled.ending}
    files = {FILE_STEM + ending: content for ending, content in compiled.files.items()}
    return files | {PAGE_FILE: as_json(page).encode()}


def _published(lick: Lick, key: str, entry: Path, bank_key: str) -> Published:
    page = json.loads((entry / PAGE_FILE).read_bytes())
    return Published(lick, _address(lick, key), from_plain(Facts, page["facts"]), page["inline"], page["player"],
                     tuple(page["words"]), bank_folder(bank_key), entry,
                     from_plain(tuple[CellWords, ...], page["cells"]), from_plain(SmallTab | None, page["ending"]))


def _address(lick: Lick, key: str) -> Address:
    return lick_address(lick.id) if lick.id else block_address(key, stem_of(lick))
