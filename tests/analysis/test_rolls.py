"""Roll names. The finger patterns are common practice, no source; names and starts differ from player to player."""

import pytest
from fifthpeg.analysis.rolls import half_roll_name, roll_name
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


@pytest.mark.parametrize("pattern", ["TIMTMITM", "TITMTITM", "IMTMTIMT", "IMTIMTIM"])
def test_a_looped_roll_has_no_repeat_to_mark(pattern):
    """Common practice, no source: that is what the rolls are for."""
    strings = {"T": "3", "I": "2", "M": "1"}
    made = lick("tempo: 208\n---\n" + " ".join(finger + strings[finger] for finger in pattern))
    notes = written_notes(made)
    findings = study(made, notes, perform(made, {}))
    assert findings.repeats == ()
    assert findings.loop.verdict == "clean"


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


@pytest.mark.parametrize(("pattern", "name"), [
    ("MITMTIMT", "forward-reverse"), ("ITMTITMT", "alternating thumb"), ("TMTITMTI", "alternating thumb"),
    ("TIMTIMTM", "forward"), ("MTMTIMTI", "forward"),
])
def test_a_roll_begun_elsewhere_is_the_same_roll(pattern, name):
    """The index-lead roll begun elsewhere, as in the last two, is a forward roll: its fingers go round that way."""
    assert roll_name(pattern) == name


def test_index_lead_is_forward_begun_elsewhere_and_keeps_its_own_name_only_as_written():
    """The one pattern of the table that another names too, turned round: it is told apart by its start."""
    turned = {"IMTMTIMT"[start:] + "IMTMTIMT"[:start] for start in range(1, 8)}
    assert roll_name("IMTMTIMT") == "index-lead"
    assert "index-lead" not in {roll_name(pattern) for pattern in turned}
    assert "forward" in {roll_name(pattern) for pattern in turned}


@pytest.mark.parametrize(("bar", "name"), [
    ("T3 - M1 T5 M1 I2 T3 M1", "forward-reverse"),
    ("T3 I2 T5 M1 T4 . T5 M1", "alternating thumb"),
    ("T3:2 s4 M1 T5 M1 I2 T3 M1", "forward-reverse"),
    ("T3 I2 M1 T5 I2 M1 T5 -", "forward"),
])
def test_a_hold_a_slide_or_a_note_left_out_leaves_a_roll_its_name(bar, name):
    assert rolls_of(bar) == [(1, name)]


def test_where_too_much_is_missing_nothing_is_named():
    assert rolls_of("T3 - - - M1 I2 T3 M1") == []


@pytest.mark.parametrize(("pattern", "name"), [
    ("TIMT-ITM", "forward-reverse"), ("TIMTIMT-", "forward"), ("T-MT-ITM", "forward-reverse"),
    ("--MTIMTI", "forward"), ("-ITM-ITM", "alternating thumb"), ("T-TMT-TM", "alternating thumb"), ("-IMTM-MT", None),
])
def test_missing_fingers_leave_a_name_only_where_they_could_not_decide(pattern, name):
    """The last may be an index-lead roll, I in front, or a forward one, T in front."""
    assert roll_name(pattern) == name


def halves_of(text: str) -> list[tuple[int, int, str]]:
    made = lick(text)
    notes = written_notes(made)
    findings = study(made, notes, perform(made, choose_fingers(made, notes)))
    return [(roll.bar, roll.half, roll.name) for roll in findings.half_rolls]


def test_half_bars_are_named_where_the_bar_is_not():
    assert halves_of("T3 I2 M1 T5 T3 - - - | T3 - - - M1 I2 T3 M1 | T3 - - - T4 I2 T5 M1") == [
        (1, 1, "forward"), (2, 2, "backward"), (3, 2, "alternating thumb")]


def test_a_bar_with_a_name_has_no_halves():
    assert halves_of("T3 I2 M1 T5 M1 I2 T3 M1") == []


@pytest.mark.parametrize(("pattern", "name"), [
    ("TIMT", "forward"), ("MITM", "backward"), ("TITM", "alternating thumb"), ("IMTM", "index-lead"),
    ("TI-T", "forward"), ("TIM-", "forward"), ("TI-M", "alternating thumb"), ("-IT-", None), ("TTTT", None),
])
def test_what_half_a_bar_can_tell(pattern, name):
    assert half_roll_name(pattern) == name
