"""What was found about both hands, drawn at the note it concerns."""

from dataclasses import replace
from xml.etree import ElementTree

import pytest
from fifthpeg.engraving.draw import draw
from fifthpeg.engraving.shapes import DrawnBar, Label, Sign
from fifthpeg.model.findings import CLASH, TIGHT, Findings, RepeatedFinger
from fifthpeg.model.left_hand import LeftHand, Position
from fifthpeg.model.note import with_left_fingers, written_notes
from tests.engraving.adorned import drawn
from tests.written import lick

CLASHING = RepeatedFinger(("M",), 1, 2, 6.93, CLASH, 195.0)
HIGH = "[C] 1:10=4 2:8 1:12 - 2:10 1:10 3:9 5"


def repeats(text: str, *found: RepeatedFinger) -> list[DrawnBar]:
    read = lick(text)
    return drawn(read, written_notes(read), Findings({}, repeats=found))


def signs(bar: DrawnBar) -> list[Sign]:
    return [shape for shape in bar.shapes if isinstance(shape, Sign)]


def labels(bar: DrawnBar, kind: str) -> list[Label]:
    return [shape for shape in bar.shapes if isinstance(shape, Label) and shape.kind == kind]


def lying(text: str, *positions: Position):
    """The lick, its notes with a ring finger chosen for every fret that has none, and where the hand lies."""
    read = lick(text)
    notes = written_notes(read)
    chosen = {note.mark: "3" for note in notes if note.fret}
    return read, with_left_fingers(notes, chosen), Findings({}, left=LeftHand(chosen, positions, ()))


def ornaments(bar: DrawnBar, kind: str) -> list[tuple[str, str]]:
    """(mark of the note, what is written) of one kind of ornament."""
    return [(head.mark, getattr(shape, "words", "")) for head in bar.heads for shape in head.ornaments
            if shape.kind == kind]


def test_a_repeated_finger_has_its_sign_before_its_letter():
    (bar,) = repeats("T3 M1 I2 - - - - -", replace(CLASHING, slot=2))
    (sign,), letter = signs(bar), labels(bar, "finger")[1]
    assert labels(bar, "finger")[0].box.right < sign.x < letter.box.left
    assert letter.box.top <= sign.y <= letter.box.bottom


def test_in_a_pinch_only_the_letter_that_repeats_has_a_sign():
    (bar,) = repeats("M1 T5+M1 - - - - - -", CLASHING)
    (sign,) = signs(bar)
    middle = next(label for label in labels(bar, "finger")[1:] if label.words == "M")
    assert middle.box.top <= sign.y <= middle.box.bottom


def test_a_divided_slot_has_the_sign_at_the_second_pick():
    (bar,) = repeats("T3 (I2 M1 M1) - - - - - -", CLASHING)
    (sign,) = signs(bar)
    assert labels(bar, "finger")[2].box.right < sign.x < labels(bar, "finger")[3].box.left


def test_two_repeats_in_one_slot_have_a_sign_each():
    (bar,) = repeats("M1 (M1 M1) - - - - - -", CLASHING, CLASHING)
    assert len({sign.x for sign in signs(bar)}) == 2


@pytest.mark.parametrize("found, said", [
    (CLASHING, "clash: middle picks twice in a row here, 6.9 a second; a clash above 195"),
    (RepeatedFinger(("T", "M"), 1, 2, 5.2, TIGHT, 254.4),
     "tight: thumb and middle pick twice in a row here, 5.2 a second; a clash above 254"),
])
def test_a_sign_says_which_finger_how_fast_and_from_when_it_clashes(found, said):
    read = lick("T5+M1 T5+M1 - - - - - -")
    inline = draw(read, written_notes(read), "", Findings({}, repeats=(found,))).inline
    marks = [group for group in ElementTree.fromstring(f"<div>{inline}</div>").iter("g")
             if group.get("class") == "fp-repeat"]
    assert {(mark.get("data-verdict"), mark.findtext("title")) for mark in marks} == {(found.verdict, said)}
    assert len(marks) == len(found.fingers)


def test_chosen_left_fingers_are_not_drawn_where_the_hand_stays():
    read, notes, found = lying(HIGH)
    (bar,) = drawn(read, notes, found)
    assert ornaments(bar, "left") == [("p1", "4")]
    assert ornaments(bar, "left-chosen") == []


def test_a_lick_whose_hand_stays_is_drawn_as_if_nothing_had_been_chosen():
    read, notes, _ = lying(HIGH)
    assert [bar.shapes for bar in drawn(read, notes)] == [bar.shapes for bar in drawn(read, written_notes(read))]


def test_where_the_hand_comes_to_lie_a_chosen_finger_is_drawn_in_a_cup_and_not_in_a_ring():
    read, notes, found = lying("1:10 2:8 - - 1:2 - - -", Position(1, 1, 8), Position(1, 5, 1))
    (bar,) = drawn(read, notes, found)
    assert ornaments(bar, "left-chosen") == [("p1", "3"), ("p3", "3")]
    assert [mark for mark, _ in ornaments(bar, "left-cup")] == ["p1", "p3"]
    assert ornaments(bar, "ring") == ornaments(bar, "left") == []


def test_only_positions_above_the_first_are_named():
    read, notes, found = lying("1:10 2:8 - - 1:2 - - -", Position(1, 1, 8), Position(1, 5, 1))
    (bar,) = drawn(read, notes, found)
    assert [label.words for label in labels(bar, "position")] == ["eighth position"]


def test_a_position_makes_way_for_a_chord():
    read, notes, found = lying("[C] 1:10 2:8 - - - - - -", Position(1, 1, 8))
    (bar,) = drawn(read, notes, found)
    (chord,), (name,) = labels(bar, "chord"), labels(bar, "position")
    assert chord.box.right < name.box.left


def test_a_position_that_finds_no_room_is_still_told_at_its_note():
    read, notes, found = lying("[C#m7b5/G] 1:10 - - - - - - -", Position(1, 1, 8))
    (bar,) = drawn(read, notes, found)
    assert labels(bar, "position") == []
    assert bar.heads[0].says == "string 1, fret 10; left ring finger (suggested), eighth position"
