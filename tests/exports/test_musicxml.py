"""MusicXML: valid by the standard's own schema, right where that does not look, read the same by music21."""

from collections import Counter
from fractions import Fraction

import music21
import pytest
import xmlschema
from fifthpeg.exports.musicxml import musicxml_bytes
from fifthpeg.model.lick import Lick
from fifthpeg.model.note import written_notes
from fifthpeg.model.tuning import short_string_stop
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.exports.score import SCHEMA, course_licks, heard, midi_in, tree, with_some_fingers
from tests.generated import licks
from tests.reading.test_writing import block_texts
from tests.written import lick

COURSE = course_licks()
MADE = st.one_of(licks(), block_texts().map(lick))
"""From the model's nouns, and from words of the tab language; together every token."""
UNHURRIED = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
EVERY_TOKEN = lick("""
title: Every token
key: G
tempo: 120
pickup: 2
capo: 2
exit: 1
bounce: 60
---
"pick-up" T4 h2=2
[G7sus4] T3:2=1h3=2! I2:10=3b1r M1:12c T5:9 (T3 I2 M1)/2 (T3 -) .
|: [C/E] T3:2s5~ - 3:x I2:8=T b1 r - -
T4:2 I3 4>h4+M1 T2+T3+T4! [F#m7b5] - (T3 I2:3p0 M1 I2:1h2h3)! - .
<1> T5+M1 - - - - - - - :|x3 <2> T4 - - T3:5s7=3 s9 - p7 -
T3+I1:2h3p0 I2:3 . . . . . .""")
TYPE_QUARTERS = {name: Fraction(4, 2 ** halvings) for halvings, name in enumerate(
    "whole half quarter eighth 16th 32nd 64th 128th 256th 512th 1024th".split())}


def written(of: Lick):
    return tree(musicxml_bytes(of, with_some_fingers(of)))


def noted(text: str):
    """The file's notes (rests too) of a block; slots are eighths, two divisions a quarter where nothing is finer."""
    return written(lick(text)).findall(".//note")


@pytest.fixture(scope="module")
def schema():
    return xmlschema.XMLSchema(str(SCHEMA), allow="local")


# The standard's schema

@pytest.mark.parametrize("of", COURSE, ids=lambda of: of.id or of.title)
def test_every_tab_of_the_course_is_valid(of, schema):
    schema.validate(musicxml_bytes(of, with_some_fingers(of)).decode())


def test_any_lick_is_valid(schema):
    @UNHURRIED
    @given(MADE)
    def check(of):
        schema.validate(musicxml_bytes(of, with_some_fingers(of)).decode())
    check()


def test_a_lick_with_every_token_is_valid(schema):
    schema.validate(musicxml_bytes(EVERY_TOKEN, with_some_fingers(EVERY_TOKEN)).decode())


# What the schema does not look at

@UNHURRIED
@given(MADE)
def test_the_file_agrees_with_itself(of):
    check_all(of)


@pytest.mark.parametrize("of", [*COURSE, EVERY_TOKEN], ids=lambda of: of.id or of.title)
def test_every_tab_of_the_course_agrees_with_itself(of):
    check_all(of)


def check_all(of: Lick) -> None:
    score = written(of)
    check_tuning_lines(score)
    check_frets_match_pitches(score, of)
    check_durations_fill_the_bars(score, of)
    check_values_say_the_durations(score)
    check_starts_and_stops_pair_up(score)
    check_repeats(score)


def check_tuning_lines(score) -> None:
    assert [int(tuning.get("line")) for tuning in score.iter("staff-tuning")] == [1, 2, 3, 4, 5]


def check_frets_match_pitches(score, of: Lick) -> None:
    """Line 1 is the bottom one, the short string, whose frets count from the long neck's nut (capo)."""
    capo = int(score.findtext(".//capo") or 0)
    opened = {6 - int(tuning.get("line")): midi_in(tuning, "tuning-") + capo for tuning in score.iter("staff-tuning")}
    for note in score.iterfind(".//note[pitch]"):
        string, fret = int(note.findtext(".//string")), int(note.findtext(".//fret"))
        assert string in (1, 2, 3, 4, 5)
        if note.find(".//harmonic") is None:
            stopped = fret - (short_string_stop(of.capo, of.fifth) - capo) if string == 5 and fret else fret
            assert midi_in(note.find("pitch")) == opened[string] + stopped


def check_durations_fill_the_bars(score, of: Lick) -> None:
    divisions = int(score.findtext(".//divisions"))
    for bar, measure in zip(of.bars, score.iter("measure"), strict=True):
        filled = sum(int(note.findtext("duration")) for note in measure.iter("note") if note.find("chord") is None)
        assert Fraction(filled, divisions) == bar.slot_count * of.slot_quarters


def check_values_say_the_durations(score) -> None:
    divisions = int(score.findtext(".//divisions"))
    for note in score.iterfind(".//note[type]"):
        said = TYPE_QUARTERS[note.findtext("type")] * (Fraction(3, 2) if note.find("dot") is not None else 1)
        said *= Fraction(int(note.findtext(".//normal-notes") or 1), int(note.findtext(".//actual-notes") or 1))
        assert said == Fraction(int(note.findtext("duration")), divisions)


def check_starts_and_stops_pair_up(score) -> None:
    """In the order of the file; a tie also within one string."""
    for name in ("hammer-on", "pull-off", "slide", "wavy-line", "tuplet", "tied", "tie"):
        open_ones = Counter()
        for note in score.iter("note"):
            for mark in note.iter(name):
                key = note.findtext(".//string") if name.startswith("tie") else mark.get("number")
                open_ones[key] += 1 if mark.get("type") == "start" else -1
                assert open_ones[key] in (0, 1)
        assert not any(open_ones.values()), name


def check_repeats(score) -> None:
    going, endings = 0, []
    for barline in score.iter("barline"):
        for ending in barline.iter("ending"):
            endings.append((ending.get("number"), ending.get("type")))
        for sign in barline.iter("repeat"):
            going += 1 if sign.get("direction") == "forward" else -1
            assert going in (0, 1)
            assert sign.get("times") is None or barline.find("ending") is None
    assert going == 0
    assert [kind for _, kind in endings] == ["start", "stop"] * (len(endings) // 2)
    assert [number for number, _ in endings[::2]] == [number for number, _ in endings[1::2]]


# What another program hears

@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(MADE)
def test_music21_reads_pitches_times_strings_and_frets_as_written(of):
    check_heard(of)


@pytest.mark.parametrize("of", [*COURSE, EVERY_TOKEN], ids=lambda of: of.id or of.title)
def test_music21_reads_every_tab_of_the_course_as_written(of):
    check_heard(of)


def check_heard(of: Lick) -> None:
    """Each stretch of time that music21 reads holds just the notes that sound there, begun and tied as they are."""
    notes, until = written_notes(of), Fraction(0)
    for start, length, pitches, places in heard(musicxml_bytes(of, notes)):
        end = start + length
        sounding = [note for note in notes if note.start < end and note.start + note.length > start]
        assert all(note.start <= start and note.start + note.length >= end for note in sounding)
        assert pitches == Counter((pitch(of, note), note.start < start or bends_on(note, notes),
                                   note.start + note.length > end or is_bent_on(note, notes)) for note in sounding)
        assert places == Counter((note.string, note.fret) for note in sounding)
        assert start == until
        until = end
    assert until == sum(bar.slot_count for bar in of.bars) * of.slot_quarters


def pitch(of: Lick, note) -> int:
    """A damped string stands where it would sound."""
    return of.midi(note.string, note.fret) if note.midi is None else note.midi


def bends_on(note, notes) -> bool:
    """A choke or release with a slot of its own is no new sound: it is tied to what it bends."""
    return note.touch == "choke" and not note.picked and any(
        before.mark == note.source and before.start + before.length == note.start for before in notes)


def is_bent_on(note, notes) -> bool:
    return any(after.source == note.mark and bends_on(after, notes) for after in notes)


def test_music21_reads_chords_tempo_slides_and_endings():
    data = musicxml_bytes(EVERY_TOKEN, written_notes(EVERY_TOKEN))
    part = music21.converter.parseData(data, format="musicxml").parts[0]
    assert [symbol.figure for symbol in part.recurse().getElementsByClass("ChordSymbol")][1:] == ["D/F#", "G#ø7"]
    assert [mark.number for mark in part.recurse().getElementsByClass("MetronomeMark")] == [120]
    spanners = Counter(type(spanner).__name__ for spanner in part.spannerBundle)
    assert spanners == {"HammerOn": 6, "PullOff": 3, "Glissando": 3, "RepeatBracket": 2, "TrillExtension": 1}


# One thing at a time, worked by hand from the standard's own documentation

def test_right_hand_letters_are_the_standards():
    assert [note.findtext(".//pluck") for note in noted("T3 I2 M1 T5 I2 M1 T3 M1")] == list("pimpimpm")


def test_an_arrival_has_no_pluck():
    assert [note.findtext(".//pluck") for note in noted("T3:2h3 . . . . . . .")[:2]] == ["p", None]


def test_open_g_is_tuned_from_the_bottom_line_up():
    score = written(lick("T3 I2 M1 T5 I2 M1 T3 M1"))
    assert [midi_in(tuning, "tuning-") for tuning in score.iter("staff-tuning")] == [67, 50, 55, 59, 62]
    assert (score.findtext(".//sign"), score.findtext(".//staff-lines"), score.find(".//capo")) == ("TAB", "5", None)


def test_a_capo_is_said_once_and_heard_in_pitch_key_and_chords():
    score = written(lick("key: G\ncapo: 2\n---\n[G] T3 I2 M1 T5 I2 M1 T3 M1"))
    assert [midi_in(tuning, "tuning-") for tuning in score.iter("staff-tuning")] == [67, 50, 55, 59, 62]
    assert score.findtext(".//capo") == "2"
    assert [midi_in(pitched) for pitched in score.iter("pitch")][:4] == [57, 61, 64, 69]
    assert score.findtext(".//fifths") == "3"
    assert score.findtext(".//root-step") == "A"


def test_a_short_string_left_alone_by_the_capo_keeps_its_pitch():
    score = written(lick("capo: 2\nfifth: 0\n---\nT5 T5:7 - - - - - -"))
    assert [midi_in(pitched) for pitched in score.iter("pitch")] == [67, 71, 71]
    check_frets_match_pitches(score, lick("capo: 2\nfifth: 0\n---\nT5 T5:7 - - - - - -"))


@pytest.mark.parametrize("key, fifths, mode", [
    ("G", 1, "major"), ("F", -1, "major"), ("Bb", -2, "major"), ("Em", 1, "minor"), ("Gm", -2, "minor"),
    ("F#", 6, "major"), ("B", 5, "major")])
def test_keys_have_their_signatures(key, fifths, mode):
    """The circle of fifths, from memory."""
    score = written(lick(f"key: {key}\n---\nT3 I2 M1 T5 I2 M1 T3 M1"))
    assert (int(score.findtext(".//fifths")), score.findtext(".//mode")) == (fifths, mode)


def test_the_blue_third_of_g_is_b_flat():
    third = noted("key: G\n---\nT3:3 - - - - - - -")[0]
    assert (third.findtext(".//step"), third.findtext(".//alter")) == ("B", "-1")


def test_the_third_of_a_d_seventh_is_f_sharp_in_g_and_in_g_minor():
    for key in ("G", "Gm"):
        third = noted(f"key: {key}\n---\nT4:4 - - - - - - -")[0]
        assert (third.findtext(".//step"), third.findtext(".//alter"), third.findtext(".//octave")) == ("F", "1", "3")


@pytest.mark.parametrize("header, unit, dots, marked, sounding", [
    ("meter: 4/4\ntempo: 208", "quarter", 0, "208", "208"), ("meter: 2/2\ntempo: 104", "half", 0, "104", "208"),
    ("meter: 6/8\ntempo: 80", "quarter", 1, "80", "120"), ("meter: 3/8\ntempo: 92.5", "eighth", 0, "92.5", "46.25")])
def test_tempo_is_marked_in_beats_and_sounded_in_quarters(header, unit, dots, marked, sounding):
    score = written(lick(f"{header}\n---\n" + "T3 " * {"4/4": 8, "2/2": 8, "6/8": 6, "3/8": 3}[header[7:10]]))
    assert score.findtext(".//beat-unit") == unit
    assert len(score.findall(".//beat-unit-dot")) == dots
    assert score.findtext(".//per-minute") == marked
    assert score.find(".//sound").get("tempo") == sounding


def test_bounce_is_the_standards_swing():
    score = written(lick("bounce: 60\n---\nT3 I2 M1 T5 I2 M1 T3 M1"))
    assert [score.findtext(f".//{name}") for name in ("first", "second", "swing-type")] == ["3", "2", "eighth"]


def test_a_pick_up_is_an_implicit_measure_nought():
    score = written(lick("pickup: 2\n---\nT4 I3\nT3 I2 M1 T5 I2 M1 T3 M1"))
    assert [(bar.get("number"), bar.get("implicit")) for bar in score.iter("measure")] == [("0", "yes"), ("1", None)]


def test_a_repeat_says_its_times_and_where_it_begins():
    score = written(lick("T3 - - - - - - -\n|: T3 - - - - - - - :|x3"))
    signs = [(sign.get("direction"), sign.get("times"), sign.getparent().get("location"))
             for sign in score.iter("repeat")]
    assert signs == [("forward", None, "left"), ("backward", "3", "right")]


def test_a_repeat_behind_a_repeat_begins_where_that_ended():
    score = written(lick("T3 - - - - - - - :|\nT4 - - - - - - - :|"))
    assert [(sign.getparent().getparent().get("number"), sign.get("direction")) for sign in score.iter("repeat")] == [
        ("1", "forward"), ("1", "backward"), ("2", "forward"), ("2", "backward")]


def test_endings_count_the_passes_and_leave_the_times_out():
    score = written(lick("T3 - - - - - - -\n<1> T3 - - - - - - - :|x3\n<2> T3 - - - - - - -"))
    assert [(ending.get("number"), ending.get("type")) for ending in score.iter("ending")] == [
        ("1,2", "start"), ("1,2", "stop"), ("3", "start"), ("3", "stop")]
    assert [sign.get("times") for sign in score.iter("repeat")] == [None, None]


def test_a_triplet_is_three_in_the_time_of_two():
    group = noted("(T3 I2 M1)/2 - - - - - -")[:3]
    assert [(note.findtext("type"), note.findtext(".//actual-notes"), note.findtext(".//normal-notes"))
            for note in group] == [("eighth", "3", "2")] * 3
    assert [[mark.get("type") for mark in note.iter("tuplet")] for note in group] == [["start"], [], ["stop"]]


def test_an_arrival_divides_its_slot():
    notes = noted("T3:2h3 I2 . . . . . .")[:3]
    assert [note.findtext("type") for note in notes] == ["16th", "16th", "eighth"]


def test_a_hold_over_a_barline_is_tied():
    notes = noted(". . . . . . . T3 | - . . . . . . .")
    tied = [[mark.get("type") for mark in note.iter("tied")] for note in notes if note.find("pitch") is not None]
    assert tied == [["start"], ["stop"]]


def test_five_eighths_take_two_values():
    notes = noted("T3 - - - - I2 - -")[:2]
    assert [(note.findtext("type"), note.findtext(".//fret")) for note in notes] == [("half", "0"), ("eighth", "0")]


def test_a_slide_leaves_from_the_end_of_a_note_of_two_values():
    notes = noted("T3:2 - - - - s5 - -")
    assert [[mark.get("type") for mark in note.iter("slide")] for note in notes] == [[], ["start"], ["stop"]]


def test_ringing_is_not_written():
    assert [note.findtext("duration") for note in noted("T3 I2 M1 T5 I2 M1 T3 M1")] == ["1"] * 8


def test_a_bar_of_silence_is_a_whole_bars_rest():
    rest = noted("T3 - - - - - - -\n. . . . . . . .")[1]
    assert rest.find("rest").get("measure") == "yes"


def test_a_choke_and_its_release_are_two_bends():
    """The schema's own words: a release has a negative bend-alter, not a zero."""
    choked = noted("I2:10b1.5r - - - - - - -")[0]
    assert [(bend.findtext("bend-alter"), bend.find("release") is not None) for bend in choked.iter("bend")] == [
        ("1.5", False), ("-1.5", True)]


def test_a_choke_and_release_in_slots_of_their_own_bend_a_tied_note():
    notes = noted("I2:8 b1 r - - - - -")
    assert [[bend.findtext("bend-alter") for bend in note.iter("bend")] for note in notes] == [[], ["1"], ["-1"]]
    tied = [[mark.get("type") for mark in note.iter("tied")] for note in notes]
    assert tied == [["start"], ["stop", "start"], ["stop"]]


def test_a_choke_pushed_further_bends_by_the_rest():
    notes = noted("I2:8b.5 b2 r - - - - -")
    assert [bend.findtext("bend-alter") for note in notes for bend in note.iter("bend")] == ["0.5", "1.5", "-2"]


def test_a_chime_is_a_natural_harmonic_at_its_sounding_pitch():
    chime = noted("M1:12c - - - - - - -")[0]
    assert chime.find(".//harmonic/natural") is not None and chime.find(".//harmonic/sounding-pitch") is not None
    assert (midi_in(chime.find("pitch")), chime.findtext(".//fret")) == (74, "12")


def test_a_damped_pluck_has_a_cross_for_a_head():
    damped = noted("T3:x - - - - - - -")[0]
    assert damped.findtext("notehead") == "x"


def test_vibrato_is_a_wavy_line_as_long_as_the_note():
    notes = noted("T3:2~ - - - - I2 - -")
    waves = [[mark.get("type") for mark in note.iter("wavy-line")] for note in notes]
    assert waves == [["start"], ["stop"], []]


def test_an_accent_stands_on_the_pluck_and_not_on_its_arrival():
    assert [note.find(".//accent") is not None for note in noted("T3:2h3! . . . . . . .")[:2]] == [True, False]


def test_a_pinch_is_one_chord():
    assert [note.find("chord") is not None for note in noted("T5+M1 - - - - - - -")] == [False, True]


def test_a_string_held_while_another_moves_is_tied():
    low_high_held_moved = noted("T3+M1:2h4 . . . . . . .")[:4]
    tied = [[mark.get("type") for mark in note.iter("tied")] for note in low_high_held_moved]
    assert tied == [["start"], [], ["stop"], []]


def test_left_hand_fingers_are_written_where_given():
    assert [note.findtext(".//fingering") for note in noted("T3:2=2h3=3 I2:1=T . . . . . .")[:3]] == ["2", "3", "T"]


def test_a_chord_over_a_held_note_keeps_its_time():
    score = written(lick("[G] T3 - - - [D7] - - - -"))
    harmonies = score.findall(".//harmony")
    assert [tuple(map(harmony.findtext, (".//root-step", "kind", "offset"))) for harmony in harmonies] == [
        ("G", "major", None), ("D", "dominant", "4")]


def test_the_way_out_is_said():
    score = written(lick("exit: 1\n---\nT3 - - - - - - -\nT3 - - - - - - -"))
    assert [words.getparent().getparent().getparent().get("number") for words in score.iter("words")] == ["2"]


def test_no_words_of_a_teacher_become_markup():
    header = 'title: <b> & "more"\nrights: </work>\nlabels: [<a>, b & c]'
    score = written(lick(f'{header}\n---\n"x < y & z" T3 - - - - - - -'))
    assert score.findtext(".//work-title") == '<b> & "more"'
    assert score.findtext(".//rights") == "</work>"
    assert score.findtext(".//miscellaneous-field[@name='labels']") == "<a>, b & c"
    assert score.findtext(".//words") == "x < y & z"


def test_characters_xml_cannot_hold_are_dropped():
    odd = lick("title: A\n---\nT3 - - - - - - -")
    assert written(Lick(odd.bars, title="a\x00b\x0bc\ud800d\uffff")).findtext(".//work-title") == "abcd"


def test_the_same_lick_is_the_same_file():
    notes = written_notes(EVERY_TOKEN)
    assert musicxml_bytes(EVERY_TOKEN, notes) == musicxml_bytes(EVERY_TOKEN, notes)
