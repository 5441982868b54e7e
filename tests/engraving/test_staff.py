"""Numbers stand on their strings, and the strings stop for them."""

import pytest
from fifthpeg.engraving.shapes import Block, Curve, DrawnBar, Label, Stroke
from tests.engraving.adorned import drawn
from tests.written import lick

FIVE = "T3 I2 M1 T5 T4 M1 I2 M1"
CAP_HEIGHT = 0.72


def lines_of(bar: DrawnBar) -> list[float]:
    """Heights of the five lines, top first."""
    return sorted({shape.points[0][1] for shape in bar.shapes if isinstance(shape, Stroke) and shape.kind == "staff"})


def strokes(bar: DrawnBar, kind: str) -> list[Stroke]:
    return [shape for shape in bar.shapes if isinstance(shape, Stroke) and shape.kind == kind]


def curves(bar: DrawnBar, kind: str) -> list[Curve]:
    return [shape for shape in bar.shapes if isinstance(shape, Curve) and shape.kind == kind]


def words(bar: DrawnBar, kind: str) -> list[str]:
    return [shape.words for shape in bar.shapes if isinstance(shape, Label) and shape.kind == kind]


def test_five_lines_with_the_first_string_on_top():
    (bar,) = drawn(lick(FIVE))
    assert len(lines_of(bar)) == 5


def test_each_number_is_centred_on_the_line_of_its_string():
    (bar,) = drawn(lick(FIVE))
    lines = lines_of(bar)
    for head in bar.heads:
        middle = head.label.y - CAP_HEIGHT * head.label.size / 2
        assert middle == pytest.approx(lines[head.string - 1])


def test_a_line_stops_on_both_sides_of_a_number():
    (bar,) = drawn(lick("T3 - - - - - - -"))
    label = bar.heads[0].label
    third = [line.points for line in strokes(bar, "staff") if line.points[0][1] == lines_of(bar)[2]]
    (_, (end, _)), ((begin, _), _) = third
    assert end < label.box.left and begin > label.box.right


def test_lines_of_neighbouring_bars_meet():
    first, second = drawn(lick(f"{FIVE} | {FIVE}"))
    assert lines_of(first) == lines_of(second)
    assert max(line.points[-1][0] for line in strokes(first, "staff")) >= first.width
    assert min(line.points[0][0] for line in strokes(second, "staff")) == 0


def test_the_meter_stands_in_the_first_bar_only():
    first, second = drawn(lick(f"{FIVE} | {FIVE}"))
    assert (words(first, "meter"), words(second, "meter")) == (["4", "4"], [])


def test_a_pick_up_is_shorter_and_has_no_number():
    pickup, first = drawn(lick(f"pickup: 2\n---\nT3 I2 | {FIVE}"))
    assert pickup.width < first.width / 2
    assert (words(pickup, "number"), words(first, "number")) == ([], ["1"])


def test_the_exit_is_bracketed_and_named_once():
    first, second, third = drawn(lick(f"exit: 2\n---\n{FIVE} | {FIVE} | {FIVE}"))
    assert [words(bar, "exit-word") for bar in (first, second, third)] == [[], ["exit"], []]
    assert [len(strokes(bar, "exit")) for bar in (first, second, third)] == [0, 1, 1]


def test_a_slide_up_rises_and_a_slide_down_falls():
    up, down = strokes(drawn(lick("3:2s5 - - - 3:5s2 - - -"))[0], "slide")
    assert up.points[0][1] > up.points[1][1]
    assert down.points[0][1] < down.points[1][1]


def test_a_slide_over_a_barline_is_drawn_half_in_each_bar_and_meets_on_the_string():
    first, second = drawn(lick("T3 I2 M1 T5 I2 M1 - T3:2 | s4 - - - - - - -"))
    (out,), (into,) = strokes(first, "slide"), strokes(second, "slide")
    assert out.points[-1] == (pytest.approx(first.width), lines_of(first)[2])
    assert into.points[0][0] <= 3 and into.points[0][1] == lines_of(second)[2]


def test_an_arc_over_a_barline_meets_itself_and_names_its_touch_once():
    first, second = drawn(lick("T3 I2 M1 T5 I2 M1 - T3:2 | h4 - - - - - - -"))
    (out,), (into,) = curves(first, "arc"), curves(second, "arc")
    assert out.end == (first.width, into.start[1]) and into.start[0] == 0
    assert (words(first, "mark"), words(second, "mark")) == ([], ["H"])


def test_hammer_ons_and_pull_offs_have_arcs_with_their_letters():
    (bar,) = drawn(lick("3:0h2p0 - - - 2:3p1 - - -"))
    assert words(bar, "mark") == ["H", "P", "P"]
    assert len(curves(bar, "arc")) == 3


def test_a_pinch_stacks_both_letters_first_string_on_top():
    (bar,) = drawn(lick("T5+M1 - - - - - - -"))
    letters = [shape for shape in bar.shapes if isinstance(shape, Label) and shape.kind == "finger"]
    assert [letter.words for letter in sorted(letters, key=lambda letter: letter.y)] == ["M", "T"]
    assert letters[0].x == letters[1].x == bar.heads[0].label.x


def test_left_hand_numbers_are_small_ringed_and_off_the_strings():
    """So that none can be taken for a fret."""
    (bar,) = drawn(lick("T3:2=2 - - - - - - -"))
    (head,) = bar.heads
    ring, number = head.ornaments
    assert (ring.kind, number.words) == ("ring", "2")
    assert number.size < head.label.size
    assert all(abs(ring.y - line) > ring.radius for line in lines_of(bar))


def test_a_repeat_has_dots_and_says_how_often():
    (bar,) = drawn(lick("|: T3 - - - - - - - :|x3"))
    dots = [shape for shape in bar.shapes if shape.kind == "barline" and not isinstance(shape, Block)]
    assert len(dots) == 4
    assert words(bar, "times") == ["×3"]


def test_a_choke_names_its_step_and_its_release():
    (bar,) = drawn(lick("2:10b1 - 2:10b2r - 2:10 b0.5 r -"))
    assert words(bar, "mark") == ["half", "whole", "quarter", "let down"]
