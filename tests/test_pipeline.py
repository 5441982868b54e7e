"""One lick through everything that is published: what is drawn, listed, sent as MIDI and heard must be one music."""

import io
import json
import re
import wave
from fractions import Fraction
from xml.etree import ElementTree

import mido
import numpy as np
import pyloudnorm
import pytest
import soundfile
from scipy.signal import resample_poly

from fifthpeg.compiled import Compiled, Options
from fifthpeg.model.lick import TEMPO_NAMES, Lick
from fifthpeg.pipeline import bank_scripts, compile_lick
from tests.riff import cues_of
from tests.sound.measure import note_that_started, onsets
from tests.written import lick as written_lick

STEM = "mill-lane"
MILL_LANE = """\
id: mill-lane
title: Mill lane
tempo: 150
tempos: [40 %, 60 %, 100 %]
---
[G] T3 I2:1 M1 T4:2 I3:4 M1:5 T5 M1 | T3:2 I2 M1:3 T4 I3 M1:2 T2:3 -
"""
"""One string at a time, so that an ear can follow; every string, open and fretted."""
OPEN_G = {1: "D4", 2: "B3", 3: "G3", 4: "D3", 5: "G4"}
ONSET_TOLERANCE_SECONDS = 0.005
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def lick() -> Lick:
    return written_lick(MILL_LANE)


@pytest.fixture(scope="module")
def compiled(lick) -> Compiled:
    return compile_lick(lick, STEM, Options())


@pytest.fixture(scope="module")
def alone(lick) -> Compiled:
    """Recorded without the backing, so that an ear can follow the lick."""
    return compile_lick(lick, STEM, Options(backing_in_recordings=False))


@pytest.fixture(scope="module")
def listed(compiled) -> dict:
    return json.loads(compiled.files[".json"])


def midi_of_name(name: str) -> int:
    """By music21, which knows nothing of our tables."""
    from music21.pitch import Pitch
    return Pitch(name).midi


def drawn_notes(compiled: Compiled) -> dict[str, tuple[int, int]]:
    """Mark -> (string, fret) as the drawing shows them: the fret as the text one reads, the string by its line."""
    root = ElementTree.fromstring(compiled.files[".svg"])
    groups = [group for group in root.iter(f"{SVG}g") if group.get("data-mark")]
    return {group.get("data-mark"): (int(group.get("data-string")), int(group.find(f"{SVG}text").text)) for group in groups}


def midi_notes(compiled: Compiled) -> list[tuple[Fraction, int]]:
    """(start in quarters, note number) of each note in the MIDI file, in order."""
    file = mido.MidiFile(file=io.BytesIO(compiled.files[".mid"]))
    notes = []
    for track in file.tracks:
        tick = 0
        for message in track:
            tick += message.time
            if message.type == "note_on" and message.velocity:
                notes.append((Fraction(tick, file.ticks_per_beat), message.note))
    return sorted(notes)


def recording(compiled: Compiled, name: str) -> tuple[np.ndarray, int]:
    with wave.open(io.BytesIO(compiled.files[f"-{name}.wav"])) as file:
        samples = np.frombuffer(file.readframes(file.getnframes()), dtype="<i2") / 32768
        return samples, file.getframerate()


def seconds_of(listed: dict, name: str) -> list[float]:
    """When each pluck of the list starts in a recording."""
    tempo = next(tempo for tempo in listed["tempos"] if tempo["name"] == name)["quarters_per_minute"]
    return [float(Fraction(pluck["at"])) * 60 / tempo for pluck in listed["plucks"]]


def test_the_list_says_what_the_teacher_wrote(listed):
    """String and fret of every token, read off the text by hand-written rules of their own."""
    words = MILL_LANE.split("---")[1].replace("[G]", "").replace("|", "").split()
    asked = [(int(word[1]), int(word[3:] or 0)) for word in words if word != "-"]
    assert [(pluck["string"], pluck["fret"]) for pluck in listed["plucks"]] == asked


def test_drawing_and_list_agree_on_string_and_fret(compiled, listed):
    assert drawn_notes(compiled) == {pluck["mark"]: (pluck["string"], pluck["fret"]) for pluck in listed["plucks"]}


def test_what_is_drawn_on_the_page_is_what_is_drawn_for_download(compiled):
    marks = re.findall(r'data-mark="(p\d+)"', compiled.inline)
    assert sorted(marks) == sorted(drawn_notes(compiled))


def test_pitches_follow_from_the_drawing_by_the_tuning(compiled, listed):
    """Open G as makers print it, gDGBD; a fret is a semitone."""
    drawn = drawn_notes(compiled)
    for pluck in listed["plucks"]:
        string, fret = drawn[pluck["mark"]]
        assert pluck["midi"] == midi_of_name(OPEN_G[string]) + fret


def test_midi_has_the_list_s_notes_at_the_list_s_times(compiled, listed):
    assert midi_notes(compiled) == sorted((Fraction(pluck["at"]), pluck["midi"]) for pluck in listed["plucks"])


@pytest.mark.parametrize("name", TEMPO_NAMES)
def test_every_note_of_a_recording_begins_when_the_list_says(alone, listed, name):
    samples, rate_hz = recording(alone, name)
    heard = onsets(samples, rate_hz)
    assert [start for start in seconds_of(listed, name)
            if np.abs(heard - start).min() > ONSET_TOLERANCE_SECONDS] == []


def test_every_note_heard_is_the_note_listed(alone, listed):
    samples, rate_hz = recording(alone, "slow")
    starts = seconds_of(listed, "slow")
    ends = [*starts[1:], starts[-1] + starts[1] - starts[0]]
    heard = [note_that_started(samples, rate_hz, start, end) for start, end in zip(starts, ends, strict=True)]
    assert heard == [pluck["midi"] for pluck in listed["plucks"]]


def test_bars_are_as_long_everywhere(compiled, listed):
    """Two bars of 4/4: in the drawing, in the list, in MIDI's meter, and in the sound, which rings on for a second."""
    assert compiled.inline.count('class="fp-bar"') == listed["bars"] == 2
    assert [bar["length"] for bar in listed["bar_map"]] == [4, 4] and listed["quarters"] == 8
    meters = [message for track in mido.MidiFile(file=io.BytesIO(compiled.files[".mid"])).tracks
              for message in track if message.type == "time_signature"]
    assert [(meter.numerator, meter.denominator) for meter in meters] == [(4, 4)]
    samples, rate_hz = recording(compiled, "full")
    assert len(samples) / rate_hz == pytest.approx(8 * 60 / 150 + 1, abs=1 / rate_hz)


def test_midi_is_at_the_full_tempo(compiled, lick):
    tempos = [message.tempo for track in mido.MidiFile(file=io.BytesIO(compiled.files[".mid"])).tracks
              for message in track if message.type == "set_tempo"]
    assert tempos == [round(60_000_000 / lick.tempo)]


def test_the_player_is_told_of_the_same_notes(compiled, listed):
    player = json.loads(compiled.player)
    assert [(note["mark"], note["string"], note["fret"], Fraction(*note["start"])) for note in player["notes"]] == [
        (pluck["mark"], pluck["string"], pluck["fret"], Fraction(pluck["at"])) for pluck in listed["plucks"]]


def test_the_bank_has_every_sound_the_player_asks_for(compiled):
    player = json.loads(compiled.player)
    wanted = {note["sound"] for part in (player, *player["stems"]) for note in part["notes"] if note["sound"]}
    assert wanted == set(compiled.facts.bank)
    scripts = dict(bank_scripts(compiled.facts.bank, Options()))
    assert all(scripts[name].startswith(f'fifthpeg.bank.take("{name}", "') for name in wanted)


def test_the_list_names_the_recordings_as_they_are_published(listed):
    assert [tempo["wav"] for tempo in listed["tempos"]] == [f"{STEM}-{name}.wav" for name in TEMPO_NAMES]


def test_the_list_says_how_loud_each_recording_is(compiled, listed):
    """By pyloudnorm and by scipy's own resampling, on the file as published."""
    for tempo in listed["tempos"]:
        samples, rate_hz = recording(compiled, tempo["name"])
        heard = pyloudnorm.Meter(rate_hz, filter_class="DeMan").integrated_loudness(samples)
        assert heard == pytest.approx(Options().loudness_lufs, abs=0.5)
        assert tempo["lufs"] == pytest.approx(heard, abs=0.1)
        peak_dbtp = 20 * np.log10(np.abs(resample_poly(samples, 4, 1)).max())
        assert peak_dbtp <= -1
        assert tempo["true_peak_dbtp"] == pytest.approx(peak_dbtp, abs=0.1)


def test_a_quiet_recording_needs_no_limiter(lick):
    quiet = compile_lick(lick, STEM, Options(loudness_lufs=-30))
    assert [tempo["limited_db"] for tempo in json.loads(quiet.files[".json"])["tempos"]] == [0, 0, 0]


def test_where_the_limiter_is_needed_the_list_says_how_much_it_took(lick):
    loud = compile_lick(lick, STEM, Options(loudness_lufs=-14.5))
    for tempo in json.loads(loud.files[".json"])["tempos"]:
        samples, rate_hz = recording(loud, tempo["name"])
        assert pyloudnorm.Meter(rate_hz, filter_class="DeMan").integrated_loudness(samples) == pytest.approx(-14.5, abs=0.5)
        assert 20 * np.log10(np.abs(resample_poly(samples, 4, 1)).max()) <= -1
        assert 0 < tempo["limited_db"] < 12


def test_the_list_has_the_backing_that_the_player_plays(compiled, listed):
    told = [(stem["name"], Fraction(*note["start"]), float(Fraction(*note["until"])), note["sound"])
            for stem in json.loads(compiled.player)["stems"] for note in stem["notes"]]
    assert told == [(note["stem"], Fraction(note["at"]), note["until"],
                     "-".join([note["stem"], *map(str, note["pitches"])])) for note in listed["backing"]]
    assert len(told) > 8


def test_the_backing_is_so_much_quieter_than_the_lick_as_is_asked_for(compiled, alone, lick):
    """What the lick's recording with backing has and the one without has not, by pyloudnorm; both at full tempo."""
    def backing_lufs(below_lu: float) -> float:
        both = compile_lick(lick, STEM, Options(backing_below_lu=below_lu, loudness_lufs=-24.0))
        bare = compile_lick(lick, STEM, Options(backing_in_recordings=False, loudness_lufs=-24.0))
        gains = [json.loads(made.files[".json"])["tempos"][-1]["gain"] for made in (both, bare)]
        (mixed, rate_hz), (lick_only, _) = recording(both, "full"), recording(bare, "full")
        left = mixed / gains[0] - lick_only / gains[1]
        meter = pyloudnorm.Meter(rate_hz, filter_class="DeMan")
        return meter.integrated_loudness(lick_only / gains[1]) - meter.integrated_loudness(left)
    assert backing_lufs(8.0) == pytest.approx(8.0, abs=0.2)
    assert backing_lufs(3.0) == pytest.approx(3.0, abs=0.2)


def test_the_player_is_as_loud_with_backing_whether_the_recordings_have_it_or_not(compiled, alone):
    assert json.loads(alone.player)["gain"] == json.loads(compiled.player)["gain"]


@pytest.mark.parametrize("names", [("medium",), ()])
def test_only_the_recordings_asked_for_are_made(lick, names):
    made = compile_lick(lick, STEM, Options(recordings=names))
    assert [ending for ending in made.files if ending.endswith(".wav")] == [f"-{name}.wav" for name in names]
    assert made.facts.recordings == names
    assert {tempo["name"]: tempo["wav"] for tempo in json.loads(made.files[".json"])["tempos"]} == {
        name: f"{STEM}-{name}.wav" if name in names else None for name in TEMPO_NAMES}


def test_fewer_recordings_leave_the_player_as_it_was(compiled, lick):
    assert compile_lick(lick, STEM, Options(recordings=())).player == compiled.player


def test_a_recording_has_a_cue_at_every_bar(compiled, listed):
    cues = cues_of(compiled.files["-slow.wav"])
    rate_hz = Options().rate_hz
    assert [label for _, label in cues] == ["Bar 1", "Bar 2"]
    assert [frame for frame, _ in cues] == [round(bar["start"] * 60 / 60 * rate_hz) for bar in listed["bar_map"]]


WITH_TICKS = Options(count_in_recordings=True, click_in_recordings=True)


@pytest.fixture(scope="module")
def counted(lick) -> Compiled:
    return compile_lick(lick, STEM, WITH_TICKS)


def test_without_ticks_nothing_lies_before_the_first_quarter(listed):
    assert [tempo["count_frames"] for tempo in listed["tempos"]] == [0, 0, 0]


@pytest.mark.parametrize("name", TEMPO_NAMES)
def test_a_counted_recording_is_longer_by_its_bar_and_the_list_says_by_how_much(compiled, counted, name):
    (tempo,) = (tempo for tempo in json.loads(counted.files[".json"])["tempos"] if tempo["name"] == name)
    (longer, rate_hz), (plain, _) = recording(counted, name), recording(compiled, name)
    assert tempo["count_frames"] == len(longer) - len(plain) == round(4 * 60 / tempo["quarters_per_minute"] * rate_hz)


def test_a_counted_recording_is_as_loud_as_any_and_under_the_ceiling(counted):
    for name in TEMPO_NAMES:
        samples, rate_hz = recording(counted, name)
        assert pyloudnorm.Meter(rate_hz, filter_class="DeMan").integrated_loudness(samples) == pytest.approx(-21.0, abs=0.5)
        assert 20 * np.log10(np.abs(resample_poly(samples, 4, 1)).max()) <= -1


def test_the_count_has_a_cue_of_its_own_and_the_others_move_with_it(compiled, counted):
    (tempo,) = (tempo for tempo in json.loads(counted.files[".json"])["tempos"] if tempo["name"] == "slow")
    plain, moved = cues_of(compiled.files["-slow.wav"]), cues_of(counted.files["-slow.wav"])
    assert moved == [(0, "Count"), *((frame + tempo["count_frames"], label) for frame, label in plain)]


def test_a_click_alone_makes_no_recording_longer(compiled, lick):
    clicked = compile_lick(lick, STEM, Options(click_in_recordings=True))
    assert cues_of(clicked.files["-full.wav"]) == cues_of(compiled.files["-full.wav"])
    assert len(clicked.files["-full.wav"]) == len(compiled.files["-full.wav"])
    assert clicked.files["-full.wav"] != compiled.files["-full.wav"]


def test_ticks_leave_the_player_as_it_was(compiled, counted):
    """It has its own, to be switched there."""
    assert counted.player == compiled.player


def test_stereo_has_two_sides_of_one_loudness_with_the_lick_in_the_middle(lick):
    """Without its backing both sides are alike."""
    made = {backing: compile_lick(lick, STEM, Options(stereo=True, backing_in_recordings=backing)) for backing in (True, False)}
    for with_backing, recorded in made.items():
        samples, rate_hz = soundfile.read(io.BytesIO(recorded.files["-full.wav"]))
        assert samples.shape[1] == 2
        heard = pyloudnorm.Meter(rate_hz, filter_class="DeMan").integrated_loudness(samples)
        assert heard == pytest.approx(-21.0, abs=0.5)
        assert np.array_equal(samples[:, 0], samples[:, 1]) is not with_backing


def test_a_room_rings_after_the_lick_and_is_as_loud(lick, compiled):
    roomy = compile_lick(lick, STEM, Options(room="small"))
    samples, rate_hz = recording(roomy, "full")
    plain, _ = recording(compiled, "full")
    assert len(samples) == len(plain)
    assert pyloudnorm.Meter(rate_hz, filter_class="DeMan").integrated_loudness(samples) == pytest.approx(-21.0, abs=0.5)
    assert not np.array_equal(samples, plain)


def test_a_corrected_fret_changes_all_of_them(compiled):
    corrected = compile_lick(written_lick(MILL_LANE.replace("I3:4", "I3:5")), STEM, Options())
    changed = {ending for ending in compiled.files if compiled.files[ending] != corrected.files[ending]}
    assert changed == set(compiled.files)


def test_the_same_lick_gives_the_same_bytes(compiled, lick):
    assert compile_lick(lick, STEM, Options()).files == compiled.files
