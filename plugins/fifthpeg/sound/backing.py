"""Who plays what when behind a lick: boom-chuck from its chords, as exact data.

On strong beats a bass note, on weak ones a chord stroke: root and fifth in turn, the root wherever a bar or a chord
begins. Before a chord with another root the last two beats of a bar walk up to it, where the chord that is left has
been heard by then. All common practice, no source.
"""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from ..model.backing import BASS, GUITAR, BackingNote, BackingSound, Stem
from ..model.bounce import bounced
from ..model.lick import Lick
from ..model.meter import Meter
from ..model.performance import BarPass, Performance
from ..model.pitch import SEMITONES_PER_OCTAVE
from .voicing import WALK_UP, bass_pitches, stroke_pitches

PICK_UP = 0


@dataclass(frozen=True)
class Beat:
    """A place of the pattern: a ``strong`` one takes the bass, the others the chord; ``first`` of its bar.

    ``pitch`` is the bass's there, None for a chord stroke.
    """

    at: Fraction
    chord: str
    strong: bool
    first: bool
    pitch: int | None = None


def arrange(lick: Lick, performance: Performance) -> tuple[Stem, ...]:
    """The stems of guitar and bass; none where nothing is played under a chord."""
    beats = _with_walk_ups(_with_bass(_beats(lick, performance), lick), lick.capo)
    line = [beat for beat in beats if beat.pitch is not None]
    if not line:
        return ()
    line_ends, ends = _ends(line, performance.quarters), _ends(beats, performance.quarters)
    guitar = [
        BackingNote(BackingSound(GUITAR, stroke_pitches(beat.chord, lick.capo)), beat.at, ends[beat.at])
        if beat.pitch is None else
        BackingNote(BackingSound(GUITAR, (beat.pitch + SEMITONES_PER_OCTAVE,)), beat.at, line_ends[beat.at])
        for beat in beats]
    bass = [BackingNote(BackingSound(BASS, (beat.pitch,)), beat.at, line_ends[beat.at]) for beat in line]
    return Stem(GUITAR, tuple(guitar)), Stem(BASS, tuple(bass))


def pattern(meter: Meter) -> tuple[tuple[Fraction, bool], ...]:
    """(quarters from the barline, whether the bass plays there) for one bar.

    Beats of half notes, or of a bar of two, are halved: bass on the beat, chord after it; dotted beats have the chord
    on their third part. Other bars go in twos, an odd one with a group of three ahead.
    """
    beat = meter.beat_quarters
    if meter.is_compound or meter.unit == 2 or meter.count <= 2:
        after = beat * 2 / 3 if meter.is_compound else beat / 2
        count = meter.quarters / beat
        return tuple(place for i in range(int(count)) for place in ((i * beat, True), (i * beat + after, False)))
    strong = {0, *range(3 if meter.count % 2 else 2, meter.count, 2)}
    return tuple((i * beat, i in strong) for i in range(meter.count))


def _beats(lick: Lick, performance: Performance) -> list[Beat]:
    """Under a chord, in order; a performance that begins with a pick-up is joined after it."""
    starts = [start for start, _ in performance.chords]
    opening = performance.bar_map[:1] if performance.bar_map and performance.bar_map[0].bar == PICK_UP else ()
    found = []
    for played in performance.bar_map[len(opening):]:
        for at, strong, first in _places(played, lick):
            index = bisect_right(starts, at) - 1
            if index >= 0:
                found.append(Beat(at, performance.chords[index][1], strong, first))
    return found


def _places(played: BarPass, lick: Lick) -> Iterator[tuple[Fraction, bool, bool]]:
    """(time, strong, first of the bar) within what is played of the bar; a pick-up's beats lie before its barline."""
    ahead = lick.meter.quarters if played.barline > played.start else 0
    for offset, strong in pattern(lick.meter):
        at = played.barline + bounced(offset - ahead, lick.bounce)
        if played.start <= at < played.start + played.length:
            yield at, strong, offset == 0


def _with_bass(beats: Sequence[Beat], lick: Lick) -> list[Beat]:
    """Root and fifth in turn, beginning with the root in each bar of more than one, and under each new chord."""
    found, chord, turn = [], "", 0
    several = sum(strong for _, strong in pattern(lick.meter)) > 1
    for beat in beats:
        if beat.chord != chord or (beat.first and several):
            chord, turn = beat.chord, 0
        found.append(replace(beat, pitch=bass_pitches(chord, lick.capo)[turn]) if beat.strong else beat)
        turn = 1 - turn if beat.strong else turn
    return found


def _with_walk_ups(beats: Sequence[Beat], capo: int) -> list[Beat]:
    found, heard_from = list(beats), 0
    for i, (before, beat) in enumerate(pairwise(beats), start=1):
        if beat.chord == before.chord:
            continue
        root, moves = bass_pitches(beat.chord, capo)[0], _moves_root(before.chord, beat.chord)
        if beat.first and moves and any(not heard.strong for heard in beats[heard_from:i - len(WALK_UP)]):
            for back, below in zip((2, 1), WALK_UP, strict=True):
                found[i - back] = replace(beats[i - back], pitch=root - below)
        heard_from = i
    return found


def _moves_root(chord: str, other: str) -> bool:
    return bass_pitches(chord, 0)[0] != bass_pitches(other, 0)[0]


def _ends(beats: Sequence[Beat], end: Fraction) -> dict[Fraction, Fraction]:
    """Each beat's time -> the next one's."""
    following = [*(beat.at for beat in beats[1:]), end]
    return {beat.at: then for beat, then in zip(beats, following, strict=True)}
