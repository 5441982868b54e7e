"""The published schedule: every key, equal to the performance, exact in its texts."""

import json
from dataclasses import replace
from fractions import Fraction

import pytest
from fifthpeg.analysis.study import choose_fingers, study
from fifthpeg.exports.schedule import Recording, number, schedule, schedule_bytes
from fifthpeg.model.findings import CLEAN, TIGHT, Findings, Join, Repair, Roll, Seam
from fifthpeg.model.harmony import Colour, Doubt, Harmony, Stretch
from fifthpeg.model.left_hand import LeftHand, Position, WideSpan
from fifthpeg.model.note import with_left_fingers, written_notes
from fifthpeg.sound.perform import perform
from hypothesis import given, settings
from tests.generated import licks
from tests.written import lick

KEYS = [
    "schema", "id", "title", "varies", "role", "key", "meter", "grid", "bounce", "pickup", "quarters",
    "quarters_per_minute", "beat_quarters", "tempos", "bars", "exit_bars", "exit_start", "bar_map",
    "tuning", "capo", "fifth", "plucks",
    "chords", "backing", "links", "rolls", "half_rolls", "marks", "seams", "loop", "loop_with_exit", "left", "harmony"]
PLUCK_KEYS = [
    "string", "fret", "midi", "start", "at", "length", "for", "rings_until", "finger", "given", "left",
    "left_given", "touch", "picked", "from_fret",
    "accent", "vibrato", "bend", "release", "strike", "bar", "slot", "pass", "link", "mark"]
WEIR_RUN = """id: weir-run
title: Weir run
tempo: 208
---
[D7] M1:4=4 I2:3 T3:2 M1 T4 I3:2 M1 T4 | I3:2=1 T4:4=3 - I3 T4:4 I3:2 T3:5=4 -"""


def scheduled(made, recordings=()) -> dict:
    notes = written_notes(made)
    performance = perform(made, choose_fingers(made, notes))
    return schedule(made, performance, study(made, notes, performance), recordings)


def read(text: str, recordings=()) -> dict:
    return json.loads(schedule_bytes(scheduled(lick(text), recordings)))


def test_every_key_in_its_order():
    assert list(read(WEIR_RUN)) == KEYS


def test_every_key_of_a_pluck_in_its_order():
    assert all(list(pluck) == PLUCK_KEYS for pluck in read(WEIR_RUN)["plucks"])


def test_what_stands_at_the_top():
    made = read(WEIR_RUN)
    assert {key: made[key] for key in KEYS[:13]} == {
        "schema": 1, "id": "weir-run", "title": "Weir run", "varies": None, "role": "lick", "key": "G",
        "meter": "4/4", "grid": 8, "bounce": 50,
        "pickup": 0, "quarters": 8, "quarters_per_minute": 208, "beat_quarters": 1}


def test_a_pluck_worked_by_hand():
    """The third of the run: string 3 at fret 2 is A3, an eighth long, a beat in; it rings two beats past that."""
    assert read(WEIR_RUN)["plucks"][2] == {
        "string": 3, "fret": 2, "midi": 57, "start": 1, "at": "1", "length": 0.5, "for": "1/2", "rings_until": 2.5,
        "finger": "T", "given": True, "left": None, "left_given": None,
        "touch": "pick", "picked": True, "from_fret": None,
        "accent": False, "vibrato": False, "bend": 0, "release": False, "strike": 3, "bar": 1, "slot": 3,
        "pass": 1, "link": 0, "mark": "p3"}


def test_left_hand_fingers_are_said():
    assert [(pluck["left"], pluck["left_given"]) for pluck in read(WEIR_RUN)["plucks"][:2]] == [
        ("4", True), (None, None)]


def test_a_chosen_left_hand_finger_is_said_to_be_chosen():
    made = lick("T3:2 I2:3=2 M1 - - - - -")
    performance = perform(made, {})
    held = replace(performance, notes=with_left_fingers(performance.notes, {"p1": "1", "p2": "4"}))
    plucks = schedule(made, held, Findings({}), ())["plucks"]
    assert [(pluck["left"], pluck["left_given"]) for pluck in plucks] == [("1", False), ("2", True), (None, None)]


def listed_with(**findings) -> dict:
    made = lick(WEIR_RUN)
    return json.loads(schedule_bytes(schedule(made, perform(made, {}), Findings({}, **findings), ())))


def test_half_rolls_say_which_half():
    listed = listed_with(half_rolls=(Roll(2, "forward", 1), Roll(2, "backward", 2)))
    assert listed["half_rolls"] == [
        {"bar": 2, "half": 1, "name": "forward"}, {"bar": 2, "half": 2, "name": "backward"}]


def test_positions_and_wide_spans():
    """Frets 1 to 5 lie 167.25 − 37.42 = 129.83 mm apart (fret geometry, scale 666.75 mm)."""
    left = LeftHand({"p1": "4"}, (Position(1, 1, 5),), (WideSpan(2, 3, (1, 5), 129.8299),))
    assert listed_with(left=left)["left"] == {
        "positions": [{"bar": 1, "slot": 1, "fret": 5, "name": "fifth position"}],
        "wide_spans": [{"bar": 2, "slot": 3, "frets": [1, 5], "millimetres": 129.8}]}


def test_where_it_fits_and_what_stands_out():
    harmony = Harmony((Stretch(None, Fraction(1, 2), Fraction(0)), Stretch("D7", Fraction(2), Fraction(2))), "G",
                      (Colour("p3", 1, 3, "B flat", "G", "flat third"),
                       Colour("p4", 1, 4, "F", None, "flat seventh")),
                      (Doubt("D7", 1, 1, 6, "G", "Is it G?"),))
    assert listed_with(harmony=harmony)["harmony"] == {
        "over": [{"chord": None, "bars": 0.5, "start": 0}, {"chord": "D7", "bars": 2, "start": 2}], "after": "G",
        "notes": [{"bar": 1, "slot": 3, "mark": "p3", "name": "B flat", "outside": "G", "degree": "flat third"},
                  {"bar": 1, "slot": 4, "mark": "p4", "name": "F", "outside": None, "degree": "flat seventh"}],
        "doubts": [{"bar": 1, "chord": "D7", "better": "G", "says": "Is it G?"}]}


def test_a_seam_that_was_repaired_says_how_and_what_it_was():
    hold = Repair("hold", "Hold it.")
    seam = Seam(0, "a", "b", Fraction(8), Join(CLEAN), hold, Join(TIGHT, ("M",), 5.5, 195.0, (hold,)))
    (listed,) = listed_with(seams=(seam,))["seams"]
    assert (listed["verdict"], listed["repair"]) == ("clean", {"name": "hold", "says": "Hold it."})
    assert listed["unrepaired"] == {"verdict": "tight", "fingers": ["M"], "per_second": 5.5, "clashes_above": 195,
                                    "repairs": [{"name": "hold", "says": "Hold it."}]}


def test_an_arrival_is_a_pluck_of_its_own_without_a_finger():
    picked, arrived = read("T3:2s5 - - - - - - -")["plucks"]
    assert (arrived["picked"], arrived["finger"], arrived["touch"], arrived["from_fret"]) == (False, None, "slide", 2)
    assert picked["strike"] == arrived["strike"]


def test_a_chosen_finger_is_said_to_be_chosen():
    pluck = read("5 - - - - - - -")["plucks"][0]
    assert (pluck["finger"], pluck["given"]) == ("T", False)


def test_a_damped_pluck_sounds_no_pitch():
    assert read("T3:x - - - - - - -")["plucks"][0]["midi"] is None


@settings(max_examples=40)
@given(licks())
def test_the_plucks_are_the_performance(made):
    performance = perform(made, choose_fingers(made, written_notes(made)))
    plucks = scheduled(made)["plucks"]
    assert [(p["mark"], p["string"], p["midi"], Fraction(p["at"]), Fraction(p["for"]), p["finger"], p["pass"])
            for p in plucks] == [
        (n.mark, n.string, n.midi, n.start, n.length, n.finger, n.passage) for n in performance.notes]


@settings(max_examples=40)
@given(licks())
def test_numbers_and_fractions_say_the_same(made):
    for pluck in scheduled(made)["plucks"]:
        assert pluck["start"] == pytest.approx(float(Fraction(pluck["at"])), abs=1e-6)
        assert pluck["length"] == pytest.approx(float(Fraction(pluck["for"])), abs=1e-6)


@settings(max_examples=40)
@given(licks())
def test_bars_lie_end_to_end_and_fill_the_whole(made):
    listed = scheduled(made)
    time = 0
    for bar in listed["bar_map"]:
        assert bar["start"] == time
        time += bar["length"]
    assert time == listed["quarters"]


def test_repeats_are_unfolded_in_the_bar_map():
    bar_map = read("T3 - - - - - - - :| T4 - - - - - - -")["bar_map"]
    assert [(bar["bar"], bar["pass"], bar["start"]) for bar in bar_map] == [(1, 1, 0), (1, 2, 4), (2, 1, 8)]


def test_the_pick_up_is_bar_zero_and_not_counted():
    made = read("pickup: 2\n---\nM1 I2 | T3 - - - - - - -")
    assert (made["pickup"], made["bars"], made["bar_map"][0]["bar"], made["quarters"]) == (2, 1, 0, 5)


def test_the_exit_is_said_in_bars_and_quarters():
    made = read("exit: 1\n---\nT3 - - - - - - - | I2 - - - - - - -")
    assert (made["exit_bars"], made["exit_start"]) == (1, 4)


def test_the_short_string_s_fret_is_said_with_a_capo():
    assert (read(WEIR_RUN)["capo"], read(WEIR_RUN)["fifth"]) == (0, 5)
    made = read("capo: 2\n---\nT3 - - - - - - -")
    assert (made["capo"], made["fifth"], made["tuning"]) == (2, 7, [67, 50, 55, 59, 62])


def test_recordings_are_listed_with_their_files():
    recordings = [Recording("slow", Fraction(104), "weir-run-slow.wav"),
                  Recording("medium", Fraction(313, 2), "weir-run-medium.wav", gain=0.8312345678)]
    assert read(WEIR_RUN, recordings)["tempos"] == [
        {"name": "slow", "quarters_per_minute": 104, "wav": "weir-run-slow.wav"},
        {"name": "medium", "quarters_per_minute": 156.5, "wav": "weir-run-medium.wav", "gain": 0.831235}]


def test_a_recording_that_is_not_made_has_no_file():
    listed = read(WEIR_RUN, [Recording("slow", Fraction(104), None)])["tempos"]
    assert listed == [{"name": "slow", "quarters_per_minute": 104, "wav": None}]


def test_a_recording_says_how_loud_it_is_and_silence_nothing():
    recordings = [Recording("slow", Fraction(104), "a.wav", 0.5, -21.02, -3.25, 0.0),
                  Recording("full", Fraction(208), "b.wav", 1.0, float("-inf"), float("-inf"), 0.0)]
    slow, full = read(WEIR_RUN, recordings)["tempos"]
    assert (slow["lufs"], slow["true_peak_dbtp"], slow["limited_db"]) == (-21.02, -3.25, 0)
    assert "lufs" not in full


def test_a_recording_says_how_much_of_it_is_counted():
    slow, full = (Recording(name, Fraction(104), "a.wav", count_frames=frames) for name, frames in (("slow", 50_885), ("full", 0)))
    assert [listed["count_frames"] for listed in read(WEIR_RUN, [slow, full])["tempos"]] == [50_885, 0]


def test_chords_where_they_change():
    assert read(WEIR_RUN)["chords"] == [{"start": 0, "name": "D7"}]


def test_a_roll_and_a_mark_and_a_loop():
    """208 a minute: neighbouring eighths come 416 / 60 = 6.93 a second."""
    made = read("tempo: 208\n---\nM1 I2 T3 M1 M1 I2 T3 M1")
    assert made["marks"] == [
        {"fingers": ["M"], "bar": 1, "slot": 5, "per_second": 6.93, "verdict": "clash", "clashes_above": 195}]
    repairs = made["loop"].pop("repairs")
    assert made["loop"] == {"verdict": "clash", "fingers": ["M"], "per_second": 6.93, "clashes_above": 195}
    assert all(set(repair) == {"name", "says"} for repair in repairs)
    assert "hold" in [repair["name"] for repair in repairs]
    assert read("T3 I2 M1 T5 M1 I2 T3 M1")["rolls"] == [{"bar": 1, "name": "forward-reverse"}]


def test_a_clean_loop_names_no_finger():
    assert read(WEIR_RUN)["loop"] == {
        "verdict": "clean", "fingers": [], "per_second": None, "clashes_above": None, "repairs": []}


def test_a_seam_says_which_links_meet_where():
    made = lick(WEIR_RUN)
    join = Join(TIGHT, ("M",), 5.5, 195.0, (Repair("hold", "Hold it."),))
    seam = Seam(0, "weir-run", "sluice-tag", Fraction(8), join)
    findings = Findings({}, seams=(seam, replace(seam, join=Join(CLEAN))))
    listed = schedule(made, perform(made, {}), findings, ())["seams"]
    assert listed[0] == {
        "link": 0, "from": "weir-run", "to": "sluice-tag", "at": "8", "verdict": "tight", "fingers": ["M"],
        "per_second": 5.5, "clashes_above": 195, "repairs": [{"name": "hold", "says": "Hold it."}],
        "repair": None, "unrepaired": None}
    assert listed[1]["verdict"] == "clean"


@settings(max_examples=40)
@given(licks())
def test_the_bytes_read_back_as_the_value(made):
    value = scheduled(made)
    assert json.loads(schedule_bytes(value)) == value


def test_the_bytes_are_utf_8_with_a_line_for_each_pluck():
    data = schedule_bytes(scheduled(replace(lick(WEIR_RUN), title="Wehrläufer ♭")))
    assert "Wehrläufer ♭" in data.decode("utf-8")
    assert data.count(b"\n  {\"string\"") == 14
    assert data.endswith(b"}\n")


@pytest.mark.parametrize(("value", "said"), [
    (Fraction(4), 4), (Fraction(1, 2), 0.5), (Fraction(1, 3), 0.333333), (Fraction(2, 3), 0.666667)])
def test_numbers_are_whole_or_rounded_to_six_digits(value, said):
    assert number(value) == said
    assert isinstance(number(value), type(said))
