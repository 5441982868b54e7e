"""Bars that a showing cut: beams and rests as in the whole bar, and no barline where there is none."""

import pytest
from fifthpeg.engraving.draw import draw
from fifthpeg.engraving.plan import plan_bars
from fifthpeg.engraving.shapes import Block, DrawnBar, Stroke
from tests.engraving.adorned import drawn, suggested
from tests.written import licks_of

EIGHT = "T3 I2 M1 T5 I2 M1 T3 M1"


def shown(slots: str, body: str = f"{EIGHT} | {EIGHT}"):
    return licks_of(f"id: a\n---\n{body}", f"show: a\nslots: {slots}")[1]


def uprights(bar: DrawnBar) -> list[float]:
    return [shape.box.left for shape in bar.shapes if isinstance(shape, Block) and shape.kind == "barline"]


def pieces_of_first_string(bar: DrawnBar) -> list[tuple[float, float]]:
    strokes = [shape for shape in bar.shapes if isinstance(shape, Stroke) and shape.kind == "staff"]
    top = min(stroke.points[0][1] for stroke in strokes)
    return [(stroke.points[0][0], stroke.points[-1][0]) for stroke in strokes if stroke.points[0][1] == top]


@pytest.mark.parametrize("slots, beams, alone", [
    ("1.4-1.8", [(1, 4)], (0,)), ("1.3-1.8", [(0, 1), (2, 5)], ()), ("1.5-1.8", [(0, 3)], ()), ("1.1-1.5", [(0, 3)], (4,)),
])
def test_beams_break_where_the_whole_bar_has_its_middle(slots, beams, alone):
    """Two beams of four eighths in 4/4: common practice, no source."""
    made = shown(slots)
    beaming = plan_bars(made, suggested(made)).bars[0].beaming
    assert ([(beam.first, beam.last) for beam in beaming.beams], beaming.flagged) == (beams, alone)


def test_values_are_split_at_the_beats_of_the_whole_bar():
    """Five eighths from the second eighth on: first up to the second beat."""
    made = shown("1.2-1.8", "T3 I2 - - - - M1 T3")
    pieces = plan_bars(made, suggested(made)).bars[0].pieces
    quarter = plan_bars(made, suggested(made)).bars[0].quarter_ticks
    assert [piece.at * 2 // quarter for piece in pieces] == [0, 1, 5, 6]


def test_a_silent_cut_bar_has_rests_as_long_as_it_is():
    made = shown("1.5-1.8", "T3 . . . . . . .")
    (piece,) = plan_bars(made, suggested(made)).bars[0].pieces
    assert (piece.silent, piece.value.halvings) == (True, 1)


def test_a_cut_bar_has_no_barline_at_its_open_side():
    whole, late, early = (drawn(shown(slots)) for slots in ("1.1-2.8", "1.3-2.8", "1.1-2.5"))
    assert 0 in uprights(whole[0]) and 0 not in uprights(late[0])
    assert uprights(whole[-1]) and not uprights(early[-1])
    assert uprights(late[0]) and uprights(early[0])


def test_the_strings_of_an_open_side_begin_and_end_in_two_dashes():
    late, early = drawn(shown("1.3-2.8"))[0], drawn(shown("1.1-2.5"))[-1]
    assert [end - begin for begin, end in pieces_of_first_string(late)[:2]] == [2.0, 2.5]
    assert [end - begin for begin, end in pieces_of_first_string(early)[-2:]] == pytest.approx([2.5, 2.0])


def test_a_note_carried_over_the_cut_stands_in_brackets_and_is_picked():
    made = shown("1.2-1.8", "T3:2 h3 - - T3 I2 M1 T5")
    notes = suggested(made)
    assert (notes[0].carried, notes[0].picked) == (True, True)
    assert ">[3]</text>" in draw(made, notes).inline


def test_the_file_carries_the_tab_in_words():
    made = shown("1.3-2.8")
    sheet = draw(made, suggested(made), "Bar 1, from beat 2.\nBeat 2: <middle>.").standalone
    assert "Bar 1, from beat 2. Beat 2: &lt;middle&gt;.</desc>" in sheet
