"""A ``chain`` or ``fit`` block as it stands: what it asks for, before the licks it names are known."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from .chain_keys import CHAIN_KEYS, FIT_KEYS, AskedLink
from .faults import Faults
from .header import LINE_HINT, Entry, Parts, divide, read_header
from .keys import BY_NAME, Key
from .messages import nearest
from .values import read_values, report_unknown_key

LINKS_LINE = "links: [weir-run, sluice-tag]"
FIT_LINES = "fill: 6` and `over: G"
THE_LINKS_OWN = ("meter", "grid", "pickup", "tuning", "capo", "fifth")
FIT_KIND, CHAIN_KIND = "fit", "chain"


@dataclass(frozen=True)
class Asked:
    """``values`` by key, ``entries`` where they stand."""

    values: Mapping[str, Any]
    entries: Mapping[str, Entry]

    @property
    def id(self) -> str | None:
        return self.values.get("id")

    @property
    def links(self) -> tuple[AskedLink, ...]:
        return self.values.get("links", ())


def read_asked(rows: Sequence[str], kind: str, faults: Faults) -> Asked:
    """``kind`` is the block's name. Whatever is wrong is in ``faults``."""
    parts = divide(rows, faults)
    line = LINKS_LINE if kind == CHAIN_KIND else FIT_LINES
    entries = read_header(rows, parts, faults, LINE_HINT.replace("tempo: 208", line))
    keys = CHAIN_KEYS if kind == CHAIN_KIND else FIT_KEYS
    values = read_values(entries, keys, faults, lambda entry: _report_unknown(entry, kind, keys, faults))
    body = [row for row in parts.body_rows if rows[row].strip()]
    if body:
        _report_body(rows, body, kind, line, parts, faults)
    else:
        _report_missing(entries, kind, faults)
    return Asked(values, entries)


def _report_body(rows: Sequence[str], body: Sequence[int], kind: str, line: str, parts: Parts,
                 faults: Faults) -> None:
    span = body[0], 0, len(rows[body[0]])
    if parts.header_rows:
        faults.add(span, "bad-header", f"a {kind} has no tab of its own",
                   "take this out: its tab comes from the licks it names")
    else:
        faults.add(span, "bad-header", f"a {kind} begins with a word and a colon", f"such as `{line}`")


def _report_missing(entries: Mapping[str, Entry], kind: str, faults: Faults) -> None:
    """Where a key is there and wrong, or spelled wrong, that has been said."""
    needed = {CHAIN_KIND: {"links": ("this chain names no links", f"add a line such as `{LINKS_LINE}`")},
              FIT_KIND: {"fill": ("this fit doesn't say how many bars to fill", "add a line such as `fill: 6`"),
                         "over": ("this fit doesn't say over which chord", "add a line such as `over: G`")}}[kind]
    for key, (says, hint) in needed.items():
        misspelled = any(nearest(written, (key,)) for written in entries)
        if key not in entries and not misspelled:
            first = next(iter(entries.values()), None)
            faults.add(first.key_span if first else (0, 0, 1), "bad-header", says, hint)


def _report_unknown(entry: Entry, kind: str, keys: Sequence[Key], faults: Faults) -> None:
    hint = ""
    if entry.key in THE_LINKS_OWN and entry.key in BY_NAME:
        hint = "take it out: that is as in the licks it is made of"
    report_unknown_key(entry, f"a {kind}", [key.name for key in keys], faults, hint)
