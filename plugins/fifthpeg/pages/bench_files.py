"""What the chain bench reads, as scripts, so that it works from a folder: the library with all verdicts, and each lick.

The rules of seams are the build's; here are their answers. A sentence that many pairs share is written once.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from ..compiled import Filling, Neighbours
from ..model.bounce import bounced
from ..model.lick import Lick
from ..model.note import FRETTED_RING_BEATS, moments_of
from ..model.play_order import kept_order
from ..model.tab import Cell, Group, Rest
from . import hands_words, words
from .addresses import BENCH_LIBRARY_FILE, bench_notes_file
from .figure import title_of
from .published import Published

ALWAYS_RINGING = None
STOPPED_TOUCH, CHIME_TOUCH = "damped", "chime"


def bench_files(tabs: Sequence[Published], neighbours: Neighbours,
                vamps: Sequence[tuple[Filling, Published]] = ()) -> dict[str, str]:
    """Published address -> content. ``tabs`` are the library's; ``neighbours`` speaks of the same licks."""
    named = {f"licks/{tab.lick.id}": tab for tab in tabs}
    named |= {f"vamps/{number}": tab for number, (_, tab) in enumerate(vamps)}
    library = library_data(tabs, neighbours) | {"fillings": [_filling(filling, tabs) for filling, _ in vamps]}
    notes = {bench_notes_file(name): _call("notes", name, notes_data(tab)) for name, tab in named.items()}
    return {BENCH_LIBRARY_FILE: _call("library", library)} | notes


def _filling(filling: Filling, tabs: Sequence[Published]) -> list:
    """[chord, lengths in bars, {place of a lick: [bars without its exit, bars with it]}]"""
    places = {tab.lick.id: place for place, tab in enumerate(tabs)}
    bars = {places[filler.id]: [filler.body_bars, filler.full_bars] for filler in filling.fillers}
    return [filling.chord, filling.lengths, bars]


def library_data(tabs: Sequence[Published], neighbours: Neighbours) -> dict:
    """A JSON value. ``licks`` are [id, title, role, key, labels, bars without the exit, bars with it, full tempo in words,
    beats]; ``rows`` have a sign for each lick that may follow, in the order of ``licks``; ``seams`` maps, for each lick,
    the place of the next to places in ``says``: first the verdict in words, then what would mend it. None: the library is
    too large to say it of every pair."""
    ids = [tab.lick.id or "" for tab in tabs]
    places = {lick_id: place for place, lick_id in enumerate(neighbours.ids)}
    pool: dict[str, int] = {}
    order = [places[lick_id] for lick_id in ids]
    rows = ["".join(map(neighbours.rows[place].__getitem__, order)) for place in order]
    said_in_full = bool(neighbours.joins) or "1" not in "".join(rows) and "2" not in "".join(rows)
    seams = [dict(_seams(before, ids, neighbours, pool)) if neighbours.joins else {} for before in ids]
    return {"licks": [_lick(tab) for tab in tabs], "rows": rows, "seams": seams if said_in_full else None,
            "says": list(pool)}


def notes_data(tab: Published) -> dict:
    """The player's data of a lick, with what it takes to play it before another one.

    ``body`` is where its exit begins, or its end. ``free`` maps places in ``notes`` to when a note that sounds over that
    moment would be left by its finger; None where only the next pluck of its string, or a rest, would end it. ``hush`` is
    its first rest. ``drawing`` is its tab as SVG.
    """
    data = json.loads(tab.player)
    body = data["exit"] or data["quarters"]
    ring = FRETTED_RING_BEATS * tab.lick.meter.beat_quarters
    hush = next(_rests(tab.lick), None)
    free = {place: _left(note, ring) for place, note in enumerate(data["notes"])
            if note["touch"] != STOPPED_TOUCH and _is_before(note["start"], body) and not _is_before(note["until"], body)}
    return data | {"body": body, "free": free, "hush": _pair(hush) if hush is not None else None,
                   "title": title_of(tab.lick), "drawing": tab.inline}


def _lick(tab: Published) -> list:
    lick = tab.lick
    body, full = (sum(lick.bars[index].number > 0 for index in kept_order(lick, keeps)) for keeps in (False, True))
    return [lick.id, title_of(lick), lick.role, lick.key, list(lick.labels), body, full, words.full_tempo(lick),
            float(lick.tempo)]


def _seams(before: str, ids: Sequence[str], neighbours: Neighbours,
           pool: dict[str, int]) -> Iterator[tuple[int, list[int]]]:
    for place, after in enumerate(ids):
        join = neighbours.joins.get(f"{before} {after}")
        if join is not None:
            sentences = (hands_words.sentence(hands_words.join(join)), *hands_words.offers(join))
            yield place, [pool.setdefault(said, len(pool)) for said in sentences]


def _left(note: Mapping, ring: Fraction) -> list[int] | None:
    if note["fret"] == 0 or note["touch"] == CHIME_TOUCH:
        return ALWAYS_RINGING
    return _pair(Fraction(*note["start"]) + Fraction(*note["length"]) + ring)


def _rests(lick: Lick) -> Iterator[Fraction]:
    """When each rest begins, as performed."""
    start = Fraction(0)
    for index in kept_order(lick, True):
        bar = lick.bars[index]
        length = bar.slot_count * lick.slot_quarters
        if any(map(_has_rest, bar.cells)):
            barline = start + length if bar.number == 0 else start
            for moment in moments_of(bar, index, start, lick.slot_quarters):
                if isinstance(moment.event, Rest):
                    yield barline + bounced(moment.at - barline, lick.bounce)
        start += length


def _has_rest(cell: Cell) -> bool:
    return isinstance(cell, Rest) or isinstance(cell, Group) and any(map(_has_rest, cell.cells))


def _is_before(one: Sequence[int], other: Sequence[int]) -> bool:
    """Of two times as numerator and denominator: a library has tens of thousands of notes, and fractions are slow."""
    return one[0] * other[1] < other[0] * one[1]


def _pair(value: Fraction) -> list[int]:
    return [value.numerator, value.denominator]


def _call(name: str, *values: object) -> str:
    said = ",".join(json.dumps(value, ensure_ascii=True, separators=(",", ":")) for value in values)
    return f"fifthpeg.bench.{name}({said});\n"
