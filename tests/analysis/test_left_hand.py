"""Left-hand fingers and positions: the cheapest there are, what a teacher would write; lengths by the handbook."""

from dataclasses import replace
from fractions import Fraction
from itertools import cycle, product
from math import prod

import pytest
from fifthpeg.analysis.left_hand import cheapest_choices, left_hand
from fifthpeg.analysis.left_steps import OFFSETS, Fretted, Step, choices, fretted_notes
from fifthpeg.analysis.neck import fret_mm, span_mm
from fifthpeg.model.note import written_notes
from fifthpeg.model.tab import HAMMER_ON, PULL_OFF, SLIDE
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from tests.generated import licks
from tests.written import lick

MOST_CHOICES, MOST_STEPS = 7000, 4


def hand(text: str, **terms):
    made = lick(text)
    return left_hand(made, written_notes(made), **terms)


def fingered(text: str) -> str:
    """The fingers of the fretted notes in written order."""
    return " ".join(hand(text).fingers.values())


@pytest.mark.parametrize(("fret", "millimetres"), [
    (1, 37.42), (2, 72.74), (3, 106.08), (4, 137.55), (5, 167.25), (7, 221.75), (10, 292.55), (12, 333.38),
    (17, 417.00), (22, 479.65)])
def test_frets_lie_where_the_handbook_has_them(fret, millimetres):
    """d = L(1 − 2^(−n/12)) for L = 666.75 mm (26¼ in); the twelfth halves the string."""
    assert fret_mm(fret) == pytest.approx(millimetres, abs=0.006)
    assert fret_mm(12) == 666.75 / 2


@pytest.mark.parametrize(("frets", "millimetres"), [
    ((1, 4), 100.1), ((1, 5), 129.8), ((5, 8), 79.5), ((7, 10), 70.8)])
def test_spans_of_four_and_five_frets(frets, millimetres):
    assert span_mm(frets) == pytest.approx(millimetres, abs=0.06)


def test_with_a_capo_the_same_frets_lie_closer():
    assert span_mm((1, 4), capo=4) == pytest.approx(span_mm((5, 8)))


@settings(max_examples=50)
@given(licks(most_bars=2), st.lists(st.sampled_from((None,) * 5 + ("1", "2", "3", "4", "T")), min_size=5, max_size=5))
def test_no_fingering_is_cheaper(made, written):
    notes = [replace(note, left=left) for note, left in zip(written_notes(made), cycle(written), strict=False)]
    row, steps = fretted_notes(notes)
    steps = steps[:MOST_STEPS]
    assert_cheapest(row[:steps[-1].notes[-1] + 1] if steps else (), steps)


@st.composite
def rows(draw) -> tuple[tuple[Fretted, ...], tuple[Step, ...]]:
    """Three or four notes a beat apart: held on, or reached from the one before, or by themselves."""
    row: list[Fretted] = []
    for number in range(draw(st.integers(3, 4))):
        fret, how = draw(st.integers(1, 7)), draw(st.sampled_from(("pick", "pick", HAMMER_ON, PULL_OFF, SLIDE)))
        before = row[-1] if row else None
        upwards = how in (HAMMER_ON, SLIDE)
        if before is None or how == "pick" or fret == before.fret or (fret > before.fret) != upwards:
            taken = {note.string for note in row if note.end > number}
            string = draw(st.sampled_from([string for string in (1, 2, 3, 4) if string not in taken]))
            end = Fraction(number + draw(st.sampled_from((1, 1, 2, 3))))
            shape = draw(st.sampled_from((None, None, "1", "2", "3", "4")))
            row.append(Fretted(f"p{number}", 1, 1, string, fret, None, None, "pick", end, shape))
            continue
        row[-1] = replace(before, end=Fraction(number))
        row.append(Fretted(f"p{number}", 1, 1, before.string, fret, None, number - 1, how, Fraction(number + 1)))
    return tuple(row), tuple(Step(Fraction(number), (number,)) for number in range(len(row)))


@settings(max_examples=50)
@given(rows())
def test_no_fingering_is_cheaper_where_notes_are_held_and_reached(made):
    assert_cheapest(*made)


def assert_cheapest(row, steps) -> None:
    options = [choices(row, step) for step in steps]
    assume(steps and prod(map(len, options)) <= MOST_CHOICES)
    found = cheapest_choices(row, steps)
    assert slow_cost(row, steps, found) == min(slow_cost(row, steps, path) for path in product(*options))


def slow_cost(row, steps, path) -> int:
    """The rules once more, with the whole past at hand: every step against every note before it."""
    finger = {index: chosen for step, (_, fingers) in zip(steps, path, strict=True)
              for index, chosen in zip(step.notes, fingers, strict=True)}
    total = 0
    for number, step in enumerate(steps):
        position = path[number][0]
        slide = [row[i].fret - row[row[i].source].fret for i in step.notes if row[i].is_slide]
        if number:
            away = abs(position - path[number - 1][0] - (slide[0] if slide else 0))
            total += 4 + away if away else 0
        past = [i for earlier in steps[:number] for i in earlier.notes]
        held = [i for i in past if row[i].end > step.start]
        pairs = [(i, j) for i in held for j in step.notes] + [(i, j) for i in step.notes for j in step.notes if i < j]
        for i, j in pairs:
            same_finger, same_fret = finger[i] == finger[j], row[i].fret == row[j].fret
            crossed = (finger[i] < finger[j]) != (row[i].fret < row[j].fret)
            if same_finger:
                total += 3 if same_fret else 10_000
            elif not same_fret and crossed and "T" not in (finger[i], finger[j]):
                total += 10_000
        for i in step.notes:
            total += alone(row[i], finger[i], position) + after_last(row, steps, path, number, i, finger)
    return total


def alone(note, finger: str, position: int) -> int:
    if finger == "T":
        return 0
    off = note.fret - (position + int(finger) - 1)
    if off not in OFFSETS[finger]:
        return 10_000
    own = {"1": 1, "4": 2}.get(finger, 0)
    if note.shape and note.source is None:
        own = 0 if finger == note.shape else 3
    return own + {0: 0, 1: 3, -1: 3 if finger == "1" else 2}[off]


def after_last(row, steps, path, number: int, i: int, finger) -> int:
    note, total = row[i], 0
    before = list(steps[number - 1].notes) if number else []
    same = [j for j in before if finger[j] == finger[i]]
    if note.source is not None:
        of_source = finger[note.source]
        if note.touch in ("hammer-on", "pull-off"):
            wrong = finger[i] <= of_source if note.touch == "hammer-on" else finger[i] >= of_source
            total += 10_000 * (wrong and "T" not in (finger[i], of_source))
            total += 10_000 * (path[number][0] != path[number - 1][0])
            busy = same and (row[same[-1]].string, row[same[-1]].fret) != (note.string, note.fret)
            total += 10_000 * bool(note.touch == "pull-off" and busy)
        else:
            total += 10_000 * (finger[i] != of_source)
    if same and (note.source is None or note.touch in ("hammer-on", "pull-off")):
        last = row[same[-1]]
        total += 2 if last.fret != note.fret else 1 if last.string != note.string else 0
    return total


def test_a_d7_run_in_second_position():
    """Index on 2, middle on 3, ring on 4, little on 5."""
    text = "[D7] M1:4 I2:3 T3:2 M1 T4 I3:2 M1 T4 | I3:2 T4:4 - I3 T4:4 I3:2 T3:5 -"
    assert fingered(text) == "3 2 1 1 1 3 3 1 4"
    assert [position.name for position in hand(text).positions] == ["second position"]


def test_a_tag_in_first_position():
    assert fingered("T3:2h3 I2 M1 T5 I2:3p0 M1 T4:0h2 I3") == "2 3 3 2"


def test_a_pull_off_has_the_lower_finger_under_it():
    assert fingered("I2:3p1 - - - - - - -") == "3 1"


def test_a_hammer_on_comes_from_a_finger_above():
    assert fingered("T4:2h4 - - - - - - -") == "1 3"


def test_the_hand_moves_before_a_hammer_on_and_not_within_it():
    """From fret 1 to a hammer-on from 3 to 7: the hand is in place where the third fret is picked."""
    path = cheapest_choices(*fretted_notes(written_notes(lick("T4:1=1 - T3:3h7 - - - - -"))))
    assert [position for position, _ in path] == [1, 3, 3]


def test_a_slide_keeps_its_finger_and_carries_the_hand():
    made = hand("T3:2=1s5 - I2:5 - M1:7 - - -")
    assert list(made.fingers.values()) == ["1", "1", "1", "3"]
    assert [position.fret for position in made.positions] == [2, 5]
    slid, arrived, *_ = fingered("T3:2s5 - I2:5 - M1:7 - - -").split()
    assert slid == arrived


def test_a_choke_and_its_release_keep_their_finger():
    fingers = fingered("M1:10 b1 - r - - - -").split()
    assert len(set(fingers)) == 1


def test_written_fingers_stay_and_turn_the_others():
    assert fingered("T3:2=1 I2:3 - - - - - -") == "1 2"
    assert fingered("T3:2=2 I2:3 - - - - - -") == "2 3"


def test_strings_held_together_take_fingers_in_order():
    """An F shape: index on 1, middle on 2, ring and little on 3."""
    assert fingered("T4:3+I3:2+M2:1 - - - - - - -") == "3 2 1"


def test_a_held_note_keeps_its_finger_from_an_arrival_elsewhere():
    """The third string goes on at fret 2 while the second is hammered."""
    fingers = hand("T3:2+I2:1 2>h3 - - - - - -").fingers
    assert len(set(fingers.values())) == 3


def test_nothing_is_chosen_for_open_strings_chimes_and_damped_ones():
    assert hand("T3 I2 M1:12c T5 I3:x - - -").fingers == {}


def test_a_span_wider_than_the_setting_is_told():
    (span,) = hand("T4:1=1+M1:5=4 - - - - - - -").wide_spans
    assert (span.bar, span.slot, span.frets) == (1, 1, (1, 5))
    assert span.millimetres == pytest.approx(129.8, abs=0.06)
    assert hand("T4:5=1+M1:9=4 - - - - - - -").wide_spans == ()
    assert hand("T4:1=1+M1:5=4 - - - - - - -", widest_mm=130).wide_spans == ()


def test_a_wide_pull_off_is_told_as_well():
    assert [span.frets for span in hand("M1:6=4p1=1 - - - - - - -").wide_spans] == [(1, 6)]


def test_impossible_written_fingers_are_kept():
    assert fingered("T3:2=1+M1:9=1 - - - - - - -") == "1 1"


@settings(max_examples=20)
@given(licks())
def test_every_fretted_note_has_a_finger_and_written_ones_stay(made):
    notes = written_notes(made)
    fingers = left_hand(made, notes).fingers
    fretted = [note for note in notes if note.fret and note.touch not in ("chime", "damped")]
    assert set(fingers) == {note.mark for note in fretted}
    assert all(fingers[note.mark] == note.left for note in fretted if note.left)


@settings(max_examples=20)
@given(licks())
def test_the_same_lick_gets_the_same_fingers(made):
    notes = written_notes(made)
    assert left_hand(made, notes) == left_hand(made, list(notes))
