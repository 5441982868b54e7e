"""A block into a lick or a showing: header through the key table, then the body."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from ..model.lick import Lick, Showing
from ..model.meter import Meter
from ..model.problem import Problem
from ..model.tuning import LAST_FRET
from .asking import CHAIN_KIND, FIT_KIND, Asked, read_asked
from .body import read_body
from .faults import Faults
from .fences import Block
from .header import DIVIDER_HINT, Entry, Parts, divide, looks_like_header, read_header
from .keys import BY_NAME, KEYS, title_from
from .tempos import borrowed_shares, shares
from .values import read_values, report_unknown_key
from .variants import Variant, read_variant

MAX_CHARACTERS = 200_000
KINDS_IN_WORDS = {"lick": "a tab block", "showing": "a block that shows another lick", "variant": "a variant"}


@dataclass(frozen=True)
class Defaults:
    """What a block takes from the site where it says nothing itself."""

    key: str = "G"
    tempo: Fraction = Fraction(160)
    rights: str = ""


@dataclass(frozen=True)
class Read:
    """One of ``lick``, ``showing``, ``variant``, ``chain`` and ``fit``, or none where there are problems.

    ``id`` is the block's, whether there are problems or not.
    """

    lick: Lick | None
    showing: Showing | None
    problems: tuple[Problem, ...]
    variant: Variant | None = None
    chain: Asked | None = None
    fit: Asked | None = None
    id: str | None = None


def parse(block: Block, defaults: Defaults = Defaults()) -> Read:
    """Every fault of the block is reported; a lick comes only from a block without any."""
    faults = Faults(block)
    if len(block.source) > MAX_CHARACTERS:
        faults.add((0, 0, 1), "bad-value",
                   f"this block has {len(block.source):,} characters; {MAX_CHARACTERS:,} are the most",
                   "split it into several licks")
        return Read(None, None, tuple(faults.problems))
    rows = block.source.split("\n")
    if block.name in (CHAIN_KIND, FIT_KIND):
        asked = read_asked(rows, block.name, faults)
        chain, fit = (asked, None) if block.name == CHAIN_KIND else (None, asked)
        return _result(faults, Read(None, None, (), chain=chain, fit=fit, id=asked.id))
    parts = divide(rows, faults)
    entries = read_header(rows, parts, faults)
    if "show" in entries:
        return _result(faults, Read(None, _showing(entries, rows, parts, faults), ()))
    if "from" in entries:
        return _result(faults, Read(None, None, (), _variant(entries, rows, parts, faults), id=_own_id(entries)))
    return _result(faults, Read(_lick(entries, rows, parts, defaults, faults), None, (), id=_own_id(entries)))


def _result(faults: Faults, read: Read) -> Read:
    if faults.problems:
        return Read(None, None, tuple(sorted(faults.problems, key=lambda problem: problem.place)), id=read.id)
    return read


def _own_id(entries: Mapping[str, Entry]) -> str | None:
    """The id that a block with a fault elsewhere still takes."""
    try:
        return BY_NAME["id"].read(entries["id"]) if "id" in entries else None
    except ValueError:
        return None


def _lick(entries: Mapping[str, Entry], rows: list[str], parts: Parts, defaults: Defaults, faults: Faults) -> Lick:
    values = _values(entries, "lick", faults)
    frame = _frame(values, entries, defaults, faults)
    if not parts.body_rows and parts.header_rows:
        if faults.problems:
            return frame
        last_row = parts.header_rows[-1]
        faults.add((last_row, 0, max(1, len(rows[last_row]))), "bad-header", "this block has a header and no tab",
                   "write a line `---` under the header, and the tab below it")
        return frame
    bars = read_body(rows, _without_header_lines(rows, parts, faults), frame, faults)
    written_bars = sum(1 for bar in bars if bar.number > 0)
    if "exit" in values and values["exit"] >= max(written_bars, 1) and bars:
        faults.add(entries["exit"].span, "bad-value",
                   f"an exit of {values['exit']} bars leaves nothing of a lick of {written_bars}",
                   "`exit` counts the bars at the end that only show a way out")
    return replace(frame, bars=bars)


def _frame(values: dict[str, Any], entries: Mapping[str, Entry], defaults: Defaults, faults: Faults) -> Lick:
    """The lick before its bars: all that the header decides."""
    tempo = values.pop("tempo", defaults.tempo)
    paces = values.pop("tempos", None)
    renamed = {"exit": "exit_bars"}
    fields = {"key": defaults.key, "rights": defaults.rights} | {renamed.get(k, k): v for k, v in values.items()}
    if fields.get("id") and not fields.get("title"):
        fields["title"] = title_from(fields["id"])
    if paces:
        fields["tempos"] = shares(paces, tempo, entries["tempos"], faults)
    frame = Lick(bars=(), tempo=tempo, place=faults.place((0, 0, 1)), **fields)
    _check_frame(frame, entries, faults)
    if frame.meter.slots(frame.grid).denominator != 1:
        return Lick(bars=(), tempo=tempo, place=frame.place, **(fields | {"meter": Meter(4, 4), "grid": 8}))
    return frame


def _check_frame(frame: Lick, entries: Mapping[str, Entry], faults: Faults) -> None:
    """Values that are good alone but not together."""
    slots = frame.meter.slots(frame.grid)
    if slots.denominator != 1:
        entry = entries.get("grid") or entries["meter"]
        faults.add(entry.span, "bad-value", f"a bar of {frame.meter} can't be filled with slots of 1/{frame.grid}",
                   "choose a finer `grid`")
    elif frame.pickup >= slots:
        faults.add(entries["pickup"].span, "bad-pickup",
                   f"a pick-up of {frame.pickup} slots is no shorter than a bar",
                   f"a bar of {frame.meter} has {slots}: the pick-up has fewer")
    if frame.bounce != 50 and (frame.grid == 4 or frame.meter.is_compound):
        faults.add(entries["bounce"].span, "bad-value",
                   f"{frame.meter} with slots of 1/{frame.grid} has no pairs of eighths to bounce",
                   "leave `bounce` out here")
    if frame.fifth and frame.fifth > LAST_FRET - frame.capo:
        faults.add(entries["fifth"].span, "bad-value", f"fret {frame.fifth} is past the end of the neck",
                   "the short string is often raised to capo + 5")


def _variant(entries: Mapping[str, Entry], rows: list[str], parts: Parts, faults: Faults) -> Variant | None:
    values = _values(entries, "variant", faults)
    _no_tab_of_its_own("from", rows, parts, faults)
    if faults.problems:
        return None
    if values.get("id") and not values.get("title"):
        values["title"] = title_from(values["id"])
    if values.get("tempos"):
        values["tempos"], values["tempos_in_beats"] = borrowed_shares(values["tempos"], values.get("tempo"),
                                                                      entries["tempos"], faults)
    return read_variant(values, entries)


def _no_tab_of_its_own(key: str, rows: list[str], parts: Parts, faults: Faults) -> None:
    row = next((row for row in parts.body_rows if rows[row].strip()), None)
    if row is not None:
        faults.add((row, 0, len(rows[row])), "bad-header", f"a block with `{key}:` has no tab of its own",
                   f"take the tab out, or take `{key}:` out")


def _showing(entries: Mapping[str, Entry], rows: list[str], parts: Parts, faults: Faults) -> Showing | None:
    values = _values(entries, "showing", faults)
    _no_tab_of_its_own("show", rows, parts, faults)
    if faults.problems:
        return None
    if "bars" in values and "slots" in values:
        faults.add(entries["slots"].key_span, "bad-header", "`bars` and `slots` can't both say what is shown",
                   "keep one of the two")
        return None
    tempo = values.get("tempo")
    tempos, in_beats = None, False
    if values.get("tempos"):
        tempos, in_beats = borrowed_shares(values["tempos"], tempo, entries["tempos"], faults)
    return Showing(
        shows=values["show"], bars=values.get("bars"), tempo=tempo, title=values.get("title", ""),
        tempos=tempos, tempos_in_beats=in_beats,
        slots=values.get("slots"), place=faults.place(entries["show"].span))


def _values(entries: Mapping[str, Entry], kind: str, faults: Faults) -> dict[str, Any]:
    """Each entry through the key table; unknown keys and values that can't be are reported."""
    keys = [key for key in KEYS if getattr(key, kind)]
    return read_values(entries, keys, faults,
                       lambda entry: _unknown_key(entry, kind, [key.name for key in keys], faults))


def _unknown_key(entry: Entry, kind: str, allowed: Sequence[str], faults: Faults) -> None:
    if entry.key not in BY_NAME or kind == "lick":
        report_unknown_key(entry, KINDS_IN_WORDS[kind], allowed, faults,
                           also=("from", "show") if kind == "lick" else ())
        return
    hint = ("take it out: nothing new is defined here" if entry.key == "id"
            else "take it out: it is as in the lick it comes from")
    faults.add(entry.key_span, "unknown-key", f"{KINDS_IN_WORDS[kind]} has no key `{entry.key}` of its own", hint)


def _without_header_lines(rows: list[str], parts: Parts, faults: Faults) -> Sequence[int]:
    """The body's rows, less those of a header that no ``---`` parts from the tab."""
    if parts.divided:
        return parts.body_rows
    strays = [row_index for row_index in parts.body_rows if looks_like_header(rows[row_index])]
    if strays:
        row = rows[strays[0]]
        faults.add((strays[0], 0, len(row)), "bad-header", "this line looks like a header, but stands in the tab",
                   f"{DIVIDER_HINT}, and write its keys in small letters")
    return [row_index for row_index in parts.body_rows if row_index not in strays]
