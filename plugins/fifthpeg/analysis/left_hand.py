"""Left-hand fingers for notes whose writer gave none, and the positions they lie in.

The choice is the cheapest of all, by dynamic programming over the steps at which fretted notes begin. What it costs
is counted in small whole numbers, all common practice, no source:

* ``BROKEN`` for each rule broken: one finger on two frets at once; a lower finger past a higher one; a slide, choke
  or release that changes its finger; a hammer-on by a finger not above the one it leaves, a pull-off to one not below
  it, or to one that was elsewhere just before and can't be down in time; a hand that moves between the two; a fret
  out of reach;
* ``SHIFT`` and one for each fret, for each move of the hand; where a slide carries the hand the move is free;
* ``REACH`` or ``SQUEEZE`` for a finger off its own fret;
* ``HOP`` and ``ACROSS`` for a finger that goes from one fret, or string, straight to another; ``BARRE`` for one that
  holds two strings;
* ``OFF_SHAPE`` for a note of the chord's usual shape by another finger than the shape has there; for any other note
  ``INDEX`` and ``LITTLE`` for those two: middle and ring are the first to be thought of for a note by itself.

Written fingers are never overruled, only counted. Of equally cheap choices the lower position is taken.
"""

from collections.abc import Sequence
from itertools import combinations

from ..model.hands import WIDEST_SPAN_MM
from ..model.left_hand import LeftHand, Position, WideSpan
from ..model.lick import Lick
from ..model.note import Note
from ..model.tab import HAMMER_ON, PULL_OFF
from .chord_shapes import shape_finger
from .left_steps import (FINGERS, OFFSETS, OVER_THE_EDGE, Choice, Fretted, Step, choices, fretted_notes, needed_until,
                         offset)
from .neck import SCALE_LENGTH_MM, span_mm

BROKEN = 10_000
SHIFT, REACH, SQUEEZE, HOP, ACROSS, BARRE, INDEX, LITTLE = 4, 3, 2, 2, 1, 3, 1, 2
OFF_SHAPE = 3
Down = tuple[tuple[int, str], ...]
"""(place in the row, finger) of notes that still matter."""
State = tuple[int, Down]


def left_hand(lick: Lick, notes: Sequence[Note], widest_mm: float = WIDEST_SPAN_MM,
              scale_length_mm: float = SCALE_LENGTH_MM) -> LeftHand:
    """``notes`` as written."""
    row, steps = fretted_notes(notes, shape_finger(lick))
    path = cheapest_choices(row, steps)
    fingers = {index: finger for step, (_, chosen) in zip(steps, path, strict=True)
               for index, finger in zip(step.notes, chosen, strict=True)}
    positions = [Position(row[step.notes[0]].bar, row[step.notes[0]].slot, position)
                 for step, (position, _) in zip(steps, path, strict=True)]
    moved = [here for index, here in enumerate(positions) if index == 0 or positions[index - 1].fret != here.fret]
    return LeftHand({row[index].mark: finger for index, finger in sorted(fingers.items())}, tuple(moved),
                    tuple(_wide_spans(lick, row, steps, fingers, widest_mm, scale_length_mm)))


def cheapest_choices(row: Sequence[Fretted], steps: Sequence[Step]) -> list[Choice]:
    """A position and fingers for each step."""
    until = needed_until(row, steps)
    layer: dict[State, int] = {(0, ()): 0}
    trail: list[dict[State, tuple[State, Choice]]] = []
    for number, step in enumerate(steps):
        reached: dict[State, int] = {}
        came: dict[State, tuple[State, Choice]] = {}
        for choice in choices(row, step):
            for state, cost in layer.items():
                total = cost + step_cost(row, steps, number, state, choice)
                down = (*state[1], *zip(step.notes, choice[1], strict=True))
                after = choice[0], tuple(pair for pair in down if until[pair[0]] > number)
                if after not in reached or total < reached[after]:
                    reached[after], came[after] = total, (state, choice)
        layer = reached
        trail.append(came)
    return _walk_back(layer, trail)


def step_cost(row: Sequence[Fretted], steps: Sequence[Step], number: int, state: State, choice: Choice) -> int:
    """What the step adds, coming from ``state``; position 0 is nowhere yet."""
    (before, down), (position, fingers), step = state, choice, steps[number]
    known, placed = dict(down), tuple(zip(step.notes, fingers, strict=True))
    just_before = steps[number - 1].notes if number else ()
    last = {finger: row[index] for index, finger in down if index in just_before}
    holding = [(index, finger) for index, finger in down if row[index].end > step.start]
    cost = _shift_cost(row, step, before, position)
    cost += sum(_finger_cost(row[index], finger, position) for index, finger in placed)
    cost += sum(_together_cost(row, *pair) for pair in combinations((*holding, *placed), 2)
                if pair[1][0] in step.notes)
    for index, finger in placed:
        note = row[index]
        if note.source is not None:
            cost += _reached_cost(note, finger, known[note.source], last, moved=before != position)
        if not note.keeps_finger and finger in last:
            cost += _hop_cost(last[finger], note)
    return cost


def _shift_cost(row: Sequence[Fretted], step: Step, before: int, position: int) -> int:
    carried = next((row[index].fret - row[row[index].source].fret for index in step.notes if row[index].is_slide), 0)
    moved = abs(position - before - carried)
    return SHIFT + moved if before and moved else 0


def _finger_cost(note: Fretted, finger: str, position: int) -> int:
    if finger == OVER_THE_EDGE:
        return 0
    off = offset(position, finger, note.fret)
    if off not in OFFSETS[finger]:
        return BROKEN
    reaching = off > 0 or (off < 0 and finger == FINGERS[0])
    if note.shape and note.source is None:
        return (0 if finger == note.shape else OFF_SHAPE) + (REACH if reaching else SQUEEZE if off else 0)
    own = {FINGERS[0]: INDEX, FINGERS[-1]: LITTLE}.get(finger, 0)
    return own + (REACH if reaching else SQUEEZE if off else 0)


def _together_cost(row: Sequence[Fretted], one: tuple[int, str], other: tuple[int, str]) -> int:
    """Two notes held at the same moment."""
    (one_index, one_finger), (other_index, other_finger) = one, other
    one_fret, other_fret = row[one_index].fret, row[other_index].fret
    if one_finger == other_finger:
        return BARRE if one_fret == other_fret else BROKEN
    if OVER_THE_EDGE in (one_finger, other_finger) or one_fret == other_fret:
        return 0
    return 0 if (one_finger < other_finger) == (one_fret < other_fret) else BROKEN


def _reached_cost(note: Fretted, finger: str, source_finger: str, last: dict[str, Fretted], moved: bool) -> int:
    """An arrival against the note it comes from."""
    if note.keeps_finger:
        return 0 if finger == source_finger else BROKEN
    broken = int(moved)
    if OVER_THE_EDGE not in (finger, source_finger):
        broken += not (finger > source_finger if note.touch == HAMMER_ON else finger < source_finger)
    elsewhere = last.get(finger)
    if note.touch == PULL_OFF and elsewhere is not None:
        broken += (elsewhere.string, elsewhere.fret) != (note.string, note.fret)
    return broken * BROKEN


def _hop_cost(before: Fretted, note: Fretted) -> int:
    if before.fret != note.fret:
        return HOP
    return ACROSS if before.string != note.string else 0


def _wide_spans(lick: Lick, row: Sequence[Fretted], steps: Sequence[Step], fingers: dict[int, str], widest_mm: float,
                scale_length_mm: float) -> list[WideSpan]:
    """Where what is held at once, or by the two fingers of a hammer-on or pull-off, is further apart than allowed."""
    found = []
    for step in steps:
        held = {index for index in range(step.notes[-1] + 1) if index in step.notes or row[index].end > step.start}
        held |= {row[index].source for index in step.notes if row[index].is_slurred}
        frets = tuple(sorted({row[index].fret for index in held if fingers[index] != OVER_THE_EDGE}))
        span = span_mm(frets, lick.capo, scale_length_mm)
        if span > widest_mm:
            first = row[step.notes[0]]
            found.append(WideSpan(first.bar, first.slot, frets, span))
    return found


def _walk_back(layer: dict[State, int], trail: Sequence[dict[State, tuple[State, Choice]]]) -> list[Choice]:
    state = min(layer, key=layer.__getitem__)
    path = []
    for came in reversed(trail):
        state, choice = came[state]
        path.append(choice)
    return path[::-1]
