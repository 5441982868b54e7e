"""Which stems share a beam, by the meter. The windows are common practice, no source."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, groupby

from ..model.meter import Meter
from .rhythm import Piece

CROWDED = 6
"""More stems than this in a half bar are beamed by the quarter."""


@dataclass(frozen=True)
class Beam:
    """A stretch of level ``level`` (1 is the outermost) over pieces ``first`` to ``last``.

    ``stub`` is +1 or −1 where a single stem carries it, to its right or left.
    """

    level: int
    first: int
    last: int
    stub: int = 0


@dataclass(frozen=True)
class Beaming:
    """``flagged`` are the pieces that stand alone and carry flags."""

    beams: tuple[Beam, ...]
    flagged: tuple[int, ...]


def beam_windows(meter: Meter, quarter_ticks: int) -> tuple[int, ...]:
    """Lengths in ticks, bar start to bar end, of the stretches a beam may not leave."""
    unit = 4 * quarter_ticks // meter.unit
    if meter.is_compound:
        return (3 * unit,) * (meter.count // 3)
    if meter.unit == 8:
        return _twos_and_a_three(meter.count, unit)
    if meter.unit == 4 and meter.count == 4:
        return (2 * unit, 2 * unit)
    if meter.unit in (2, 4):
        return (unit,) * meter.count
    return (quarter_ticks,) * -(-meter.count * unit // quarter_ticks)


def beam_up(pieces: Sequence[Piece], meter: Meter, quarter_ticks: int, position: int) -> Beaming:
    """``position`` is where the bar starts in its meter, in ticks."""
    inner = int(meter.beat_quarters * quarter_ticks) if meter.is_compound else quarter_ticks
    beams: list[Beam] = []
    flagged: list[int] = []
    for group in _groups(pieces, beam_windows(meter, quarter_ticks), quarter_ticks, position):
        if len(group) == 1:
            flagged += group
        else:
            beams.append(Beam(1, group[0], group[-1]))
            beams += _inner_beams(pieces, group, inner, position)
    return Beaming(tuple(beams), tuple(flagged))


def _twos_and_a_three(count: int, unit: int) -> tuple[int, ...]:
    if count <= 3:
        return (count * unit,)
    twos = (count - 3) // 2 if count % 2 else count // 2
    return (2 * unit,) * twos + ((3 * unit,) if count % 2 else ())


def _groups(pieces: Sequence[Piece], windows: tuple[int, ...], quarter_ticks: int, position: int) -> list[list[int]]:
    """Neighbouring short values of one window."""
    ends = list(accumulate(windows))
    window_of = [sum(piece.at + position >= end for end in ends) for piece in pieces]
    groups = []
    for _, window in groupby(range(len(pieces)), key=lambda i: window_of[i]):
        members = list(window)
        crowded = len(members) > CROWDED
        keyed = [(_beam_key(pieces[i], crowded, quarter_ticks, position), i) for i in members]
        groups += [[i for _, i in run] for key, run in groupby(keyed, key=lambda pair: pair[0]) if key is not None]
    return groups


def _beam_key(piece: Piece, crowded: bool, quarter_ticks: int, position: int) -> int | None:
    if piece.silent or not piece.value.flags:
        return None
    return (piece.at + position) // quarter_ticks if crowded else 0


def _inner_beams(pieces: Sequence[Piece], group: list[int], inner_ticks: int, position: int) -> list[Beam]:
    """Second and further beams, broken at every beat."""
    found = []
    deepest = max(pieces[i].value.flags for i in group)
    for level in range(2, deepest + 1):
        beats = {i: (pieces[i].at + position) // inner_ticks for i in group if pieces[i].value.flags >= level}
        for beat, run in groupby(group, key=beats.get):
            members = list(run)
            if beat is None:
                continue
            stub = _stub(pieces, group, members[0], position) if len(members) == 1 else 0
            found.append(Beam(level, members[0], members[-1], stub))
    return found


def _stub(pieces: Sequence[Piece], group: list[int], index: int, position: int) -> int:
    """A lone short value points into the pair it belongs to."""
    if index in (group[0], group[-1]):
        return 1 if index == group[0] else -1
    piece = pieces[index]
    return 1 if (piece.at + position) % (2 * piece.value.ticks) == 0 else -1
