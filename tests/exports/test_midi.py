"""The MIDI file read back by mido (an independent reader) and held against the performance."""

import io
from collections import defaultdict
from fractions import Fraction

import mido
import pytest
from fifthpeg.exports.midi import midi_bytes
from fifthpeg.sound.perform import perform
from hypothesis import given, settings
from tests.generated import licks
from tests.written import lick

PPQ = 480


def read(made) -> mido.MidiFile:
    return mido.MidiFile(file=io.BytesIO(midi_bytes(made, perform(made, {}))), charset="utf-8")


def read_text(text: str) -> mido.MidiFile:
    return read(lick(text))


def timed(track: mido.MidiTrack) -> list[tuple[int, mido.Message]]:
    now, events = 0, []
    for message in track:
        now += message.time
        events.append((now, message))
    return events


def sounded(file: mido.MidiFile) -> dict[int, list[tuple[int, int, int]]]:
    """For each string its notes as (on tick, off tick, midi), in order; each ends before the next begins."""
    notes, open_notes = defaultdict(list), {}
    for tick, message in timed(file.tracks[1]):
        if message.type == "note_on":
            assert message.channel not in open_notes, "two notes at once on one string"
            open_notes[message.channel] = (tick, message.note)
        elif message.type == "note_off":
            start, midi = open_notes.pop(message.channel)
            assert midi == message.note
            notes[message.channel + 1].append((start, tick, midi))
    assert not open_notes, "a note that is never ended"
    return notes


def bends(file: mido.MidiFile, string: int) -> list[tuple[int, int]]:
    return [(tick, message.pitch) for tick, message in timed(file.tracks[1])
            if message.type == "pitchwheel" and message.channel == string - 1]


def of_type(file: mido.MidiFile, kind: str) -> list[tuple[int, mido.Message]]:
    return [(tick, message) for track in file.tracks for tick, message in timed(track) if message.type == kind]


@settings(max_examples=50)
@given(licks())
def test_every_sounded_note_is_in_the_file_at_its_tick_and_pitch(made):
    performance = perform(made, {})
    expected = defaultdict(list)
    for note in performance.notes:
        if note.picked or note.touch != "choke":
            pitch = note.midi if note.midi is not None else made.midi(note.string, 0)
            expected[note.string].append((round(note.start * PPQ), pitch))
    in_file = {string: [(on, midi) for on, _, midi in notes] for string, notes in sounded(read(made)).items()}
    assert in_file == expected


@settings(max_examples=50)
@given(licks())
def test_notes_end_where_the_string_stops_ringing(made):
    performance = perform(made, {})
    stops = defaultdict(list)
    for note in performance.notes:
        until = note.start + Fraction(1, 16) if note.midi is None else note.rings_until
        if note.touch == "choke" and not note.picked:
            stops[note.string].pop()
        stops[note.string].append(round(until * PPQ))
    assert {string: [off for _, off, _ in notes] for string, notes in sounded(read(made)).items()} == stops


@settings(max_examples=40)
@given(licks())
def test_no_note_begins_on_a_bent_string(made):
    bent = dict.fromkeys(range(5), 0)
    for _, message in timed(read(made).tracks[1]):
        if message.type == "pitchwheel":
            bent[message.channel] = message.pitch
        elif message.type == "note_on":
            assert bent[message.channel] == 0


def test_two_tracks_with_480_ticks_a_quarter():
    file = read_text("T3 - - - - - - -")
    assert (file.type, len(file.tracks), file.ticks_per_beat) == (1, 2, PPQ)


def test_an_eighth_is_240_ticks():
    """PPQ 480, worked by hand."""
    file = read_text("T3 T4 - - - - - -")
    assert sounded(file)[4][0][0] == 240


def test_the_title_names_the_first_track_whatever_its_letters():
    file = read_text("title: Über die Brücke ♯1\n---\nT3 - - - - - - -")
    assert file.tracks[0].name == "Über die Brücke ♯1"


@pytest.mark.parametrize(("header", "microseconds"), [
    ("tempo: 160", 375_000),
    ("meter: 2/2\ntempo: 80", 375_000),
    ("tempo: 208", 288_462),
])
def test_tempo_is_in_microseconds_a_quarter(header, microseconds):
    """60,000,000 / quarters a minute, to the nearest (MIDI 1.0, set tempo)."""
    ((tick, message),) = of_type(read_text(f"{header}\n---\nT3 - - - - - - -"), "set_tempo")
    assert (tick, message.tempo) == (0, microseconds)


@pytest.mark.parametrize(("meter", "slots", "clocks"),
                         [("4/4", 8, 24), ("2/2", 8, 48), ("3/4", 6, 24), ("6/8", 6, 36)])
def test_the_meter_and_its_click(meter, slots, clocks):
    """24 MIDI clocks a quarter (MIDI 1.0, time signature)."""
    ((_, message),) = of_type(read_text(f"meter: {meter}\n---\nT3" + " -" * (slots - 1)), "time_signature")
    assert f"{message.numerator}/{message.denominator}" == meter
    assert message.clocks_per_click == clocks


def test_a_pick_up_has_a_meter_of_its_own_so_that_barlines_fall_right():
    meters = of_type(read_text("pickup: 1\n---\nM1 | T3 - - - - - - -"), "time_signature")
    assert [(tick, m.numerator, m.denominator) for tick, m in meters] == [(0, 1, 8), (240, 4, 4)]


def test_every_string_has_a_banjo_on_a_channel_of_its_own():
    programs = of_type(read_text("T3 - - - - - - -"), "program_change")
    assert [(message.channel, message.program) for _, message in programs] == [(c, 105) for c in range(5)]


def test_no_string_is_on_the_drum_channel():
    made = read_text("T5+M1 I2 T3 T4 - - - -")
    assert {message.channel for _, message in of_type(made, "note_on")} == {0, 1, 2, 3, 4}


def test_the_bend_range_is_an_octave_each_way():
    """RPN 0: controllers 101 and 100 at 0, then data entry 6 (MIDI 1.0)."""
    controls = of_type(read_text("T3 - - - - - - -"), "control_change")
    first_string = [(message.control, message.value) for _, message in controls if message.channel == 0]
    assert first_string[:3] == [(101, 0), (100, 0), (6, 12)]


def test_a_slide_steps_fret_by_fret_and_arrives_as_a_note_of_its_own():
    """Two frets on the way from 2 to 5: one semitone is 8192 / 12 = 683, two 1365."""
    file = read_text("T3:2s5 - - - - - - -")
    assert [value for _, value in bends(file, 3)] == [0, 683, 1365, 0]
    assert [(on, midi) for on, _, midi in sounded(file)[3]] == [(0, 57), (120, 60)]


def test_a_slide_down_steps_down():
    assert [value for _, value in bends(read_text("T3:5s3 - - - - - - -"), 3)] == [0, -683, 0]


def test_a_slide_is_on_its_way_only_just_before_it_arrives():
    file = read_text("T3:2 - - - s5 - - -")
    ticks = [tick for tick, value in bends(file, 3) if value]
    assert ticks == [960 - 80, 960 - 40]


def test_a_slide_past_the_bend_range_stays_within_it():
    assert max(value for _, value in bends(read_text("T3:2s17 - - - - - - -"), 3)) == 8191


def test_a_choke_rises_smoothly_to_its_bend():
    values = [value for _, value in bends(read_text("I2:8b1 - - - - - - -"), 2)]
    assert values == sorted(values)
    assert values[-1] == 683
    assert len(values) > 8


def test_a_choke_by_half_a_semitone():
    assert bends(read_text("I2:8b0.5 - - - - - - -"), 2)[-1][1] == 341


def test_a_choke_let_down_in_its_slot_comes_back_to_pitch():
    values = [value for _, value in bends(read_text("I2:8b1r - - - - - - -"), 2)]
    assert max(values) == 683
    assert values[-1] == 0


def test_a_choke_is_let_down_halfway_through_its_note():
    """Held for two quarters, it starts to fall after one: 480 ticks."""
    made = bends(read_text("I2:8b1r - - - T3 - - -"), 2)
    assert max(tick for tick, value in made if value == 683) <= 480
    assert min(tick for tick, value in made if tick > 240 and value < 683) == 490


def test_a_choke_in_a_slot_of_its_own_bends_the_note_that_rings():
    file = read_text("I2:8 b1 r - - - - -")
    assert [(on, midi) for on, _, midi in sounded(file)[2]] == [(0, 67)]
    values = bends(file, 2)
    assert [value for tick, value in values if tick <= 240] == [0]
    assert max(values, key=lambda event: event[1])[0] <= 480
    assert values[-1][1] == 0


def test_a_bend_is_undone_before_the_string_is_picked_again():
    file = read_text("I2:8b1 - I2 - - - - -")
    events = [message.type for tick, message in timed(file.tracks[1]) if tick == 480]
    assert events == ["note_off", "pitchwheel", "note_on"]


def test_hammer_ons_and_pull_offs_are_softer_than_what_is_picked():
    first, hammered, pulled = (m.velocity for _, m in of_type(read_text("T3h2 p0 - - - - - -"), "note_on"))
    assert first > hammered > pulled


def test_an_accent_is_louder():
    plain, accented = (m.velocity for _, m in of_type(read_text("T3 T4! - - - - - -"), "note_on"))
    assert 127 >= accented > plain


def test_a_damped_pluck_is_short_and_soft_at_the_open_pitch():
    file = read_text("capo: 2\n---\nT3:x - - - M1 - - -")
    assert sounded(file)[3] == [(0, 30, 57)]
    damped, plain = (m.velocity for _, m in of_type(file, "note_on"))
    assert damped < plain / 2


def test_repeats_are_played_out():
    assert [on for on, _, _ in sounded(read_text("T3 - - - - - - - :|x3"))[3]] == [0, 1920, 3840]


def test_bounce_is_played():
    """Two thirds and one third would be 320 and 160 ticks; 60 percent is 288."""
    assert sounded(read_text("bounce: 60\n---\nT3 T4 - - - - - -"))[4][0][0] == 288


def test_chord_names_stand_where_they_change():
    markers = of_type(read_text("[G] T3 - - - [D7] T4 - - -"), "marker")
    assert [(tick, message.text) for tick, message in markers] == [(0, "G"), (960, "D7")]


def test_the_same_lick_gives_the_same_bytes():
    made = lick("T3:2s5 I2 M1 T5 I2:8b1 M1 T3 M1")
    assert midi_bytes(made, perform(made, {})) == midi_bytes(made, perform(made, {}))


def test_a_damped_pluck_gives_way_to_the_next_pluck_of_its_string():
    """Eight in one sixteenth: each is shorter than a damped pluck would last by itself."""
    notes = sounded(read_text("meter: 2/4\ngrid: 16\n---\n(3:x 3 3:x 3 3:x 3 3:x 3) I2 - - - - - -"))[3]
    assert [(on, off) for on, off, _ in notes[:3]] == [(0, 15), (15, 30), (30, 45)]
    assert len(notes) == 8
