"""Roll names. The finger patterns are those of public teaching pages, which differ on names and starts."""

import pytest
from fifthpeg.analysis.rolls import roll_name
from fifthpeg.analysis.study import choose_fingers, study
from fifthpeg.model.note import written_notes
from fifthpeg.sound.perform import perform
from tests.written import lick

TABLE = {
    "TMTIMTIM": "forward",
    "IMTIMTIM": "forward",
    "TIMTIMTI": "forward",
    "TIMTIMTM": "forward",
    "MITMITMI": "backward",
    "TIMTMITM": "forward-reverse",
    "TITMTITM": "alternating thumb",
    "IMTMTIMT": "index-lead",
}


def rolls_of(text: str) -> list[tuple[int, str]]:
    made = lick(text)
    notes = written_notes(made)
    findings = study(made, notes, perform(made, choose_fingers(made, notes)))
    return [(roll.bar, roll.name) for roll in findings.rolls]


@pytest.mark.parametrize("pattern", TABLE)
def test_the_patterns_of_the_teaching_pages(pattern):
    assert roll_name(pattern) == TABLE[pattern]


@pytest.mark.parametrize("start", range(3))
def test_forward_and_backward_may_start_on_any_finger(start):
    assert roll_name(("TIM" * 4)[start:start + 8]) == "forward"
    assert roll_name(("MIT" * 4)[start:start + 8]) == "backward"


@pytest.mark.parametrize("pattern", ["TIMTITIM", "TIMIMTIM", "TTTTTTTT", "TMTMTMTM", "TIMT", ""])
def test_other_patterns_have_no_name(pattern):
    assert roll_name(pattern) is None


@pytest.mark.parametrize("pattern", TABLE)
def test_no_roll_repeats_a_finger_when_it_is_looped(pattern):
    """Common practice, no source: that is what the rolls are for. Forward, begun with T M, loops M to T."""
    assert all(a != b for a, b in zip(pattern, pattern[1:] + pattern[0], strict=True))


def test_each_bar_is_named_by_itself():
    bars = "T3 I2 M1 T5 M1 I2 T3 M1 | T3 I2 T5 M1 T4 I2 T5 M1 | T3 - M1 - T5 - M1 -"
    assert rolls_of(bars) == [(1, "forward-reverse"), (2, "alternating thumb")]


def test_fingers_the_tool_chose_name_a_roll_as_well():
    assert rolls_of("2 1 5 2 1 5 2 1") == [(1, "forward")]


def test_the_strings_do_not_matter():
    assert rolls_of("T4 I3 M1 T5 M1 I3 T4 M1") == [(1, "forward-reverse")]


def test_slides_and_hammer_ons_inside_a_slot_leave_a_roll_its_name():
    assert rolls_of("T3:2s3 I2 M1 T5 M1 I2 T3:2p0 M1") == [(1, "forward-reverse")]


def test_a_roll_in_sixteenths_fills_no_bar_of_eighths():
    assert rolls_of("grid: 16\n---\nT3 I2 M1 T5 M1 I2 T3 M1 - - - - - - - -") == []


def test_eighths_written_on_a_finer_grid_are_still_eighths():
    assert rolls_of("grid: 16\n---\nT3 - I2 - M1 - T5 - M1 - I2 - T3 - M1 -") == [(1, "forward-reverse")]


def test_a_pinch_in_the_bar_makes_it_no_roll():
    assert rolls_of("T3+M1 I2 M1 T5 M1 I2 T3 M1") == []
