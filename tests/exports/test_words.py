"""The tab read aloud: goldens to be read by ear, and what must hold for any lick."""

import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from fifthpeg.exports.words import words, words_text
from fifthpeg.exports.words_signs import chord_words
from fifthpeg.exports.words_time import duration_words
from fifthpeg.model.hands import FINGER_WORDS
from fifthpeg.model.note import written_notes
from fifthpeg.reading.fences import find_fences
from fifthpeg.reading.parse import parse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.exports.known import with_known
from tests.exports.score import course_licks, with_some_fingers
from tests.generated import licks
from tests.reading.test_writing import block_texts
from tests.written import lick

CASES = sorted((Path(__file__).parents[1] / "cases" / "words").glob("*.md"))
KNOWN, DIVIDER = "\n==== known\n", "\n==== gives\n"
MADE = st.one_of(licks(), block_texts().map(lick))
UNHURRIED = settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
SAID = re.compile(
    r"(?P<touch>slide|hammer-on|pull-off) to (?:fret (?P<reached>\d+)|open)"
    r"|let string (?P<down>\d) down|choke string (?P<up>\d) up"
    r"|string (?P<string>\d)(?: open|, (?P<damped>damped)|(?:, chime at|,) fret (?P<fret>\d+))")
TUPLET = re.compile(r"(?P<begins>.*), (?P<kind>\w+) over (?P<length>[^,]*)(?:, (?P<place>\w+))?$")
SHARES = {"half": 2, "third": 3, "quarter": 4, "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8, "ninth": 9,
          "tenth": 10, "twelfth": 12, "sixteenth": 16}
COUNTS = ["", "a", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]
ORDINALS = ["", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"]


def read_aloud(text: str) -> str:
    of = lick(text)
    return words_text(of, with_some_fingers(of))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_a_tab_is_read_aloud_as_agreed(case, accept):
    before, _, expected = case.read_text().partition(DIVIDER)
    page, _, known = before.partition(KNOWN)
    (block,) = find_fences(page, "page.md").blocks
    of, findings = with_known(parse(block).lick, known)
    said = words_text(of, with_some_fingers(of), findings)
    if accept:
        case.write_text(before + DIVIDER + said)
    assert said == (said if accept else expected)


def test_there_are_cases():
    assert len(CASES) >= 8


# What must hold for any lick

@UNHURRIED
@given(MADE)
def test_every_note_is_said_once_with_its_string_and_fret(of):
    check_every_note(of)


@pytest.mark.parametrize("of", course_licks(), ids=lambda of: of.id or of.title)
def test_every_note_of_the_course_is_said(of):
    check_every_note(of)


def check_every_note(of) -> None:
    notes = with_some_fingers(of)
    for bar in words(of, notes):
        said = [entry for sentence in bar.sentences for entry in map(heard, SAID.finditer(sentence))]
        assert said == [expected(note, notes, of) for note in notes if note.bar == bar.bar]


def heard(match: re.Match) -> tuple:
    if match["touch"]:
        return match["touch"], None, int(match["reached"] or 0)
    if match["down"] or match["up"]:
        return "choke", int(match["down"] or match["up"]), None
    return "damped" if match["damped"] else "note", int(match["string"]), int(match["fret"] or 0)


def expected(note, notes, of) -> tuple:
    """An arrival inside its slot is said without its string; one with a slot of its own like a pluck."""
    inside = not note.picked and note.source and any(
        before.mark == note.source and (before.bar, before.slot, before.strike) == (note.bar, note.slot, note.strike)
        for before in notes) and not begins_a_cell(of, note.start)
    if inside:
        return note.touch, None, note.fret
    if note.touch == "choke" and not note.picked:
        return "choke", note.string, None
    return ("damped" if note.touch == "damped" else "note"), note.string, note.fret


def begins_a_cell(of, time: Fraction) -> bool:
    at = Fraction(0)
    for bar in of.bars:
        for cell in bar.cells:
            inner = getattr(cell, "cells", (cell,))
            length = getattr(cell, "slots", 1) * of.slot_quarters
            if time in {at + index * length / len(inner) for index in range(len(inner))}:
                return True
            at += length
    return False


@UNHURRIED
@given(MADE)
def test_beats_rise_through_every_bar_and_are_where_the_strikes_are(of):
    """The labels, read back by a reader of their own, are the times at which something is struck or silenced."""
    notes, start = with_some_fingers(of), Fraction(0)
    for bar, said in zip(of.bars, words(of, notes), strict=True):
        length = bar.slot_count * of.slot_quarters
        origin = start + length - of.meter.quarters if bar.number == 0 else start
        times = times_said(said.sentences, of)
        assert times == sorted(set(times))
        struck = [note.start for note in notes if note.bar == bar.number and begins_a_cell(of, note.start)]
        assert {time - origin for time in struck} <= set(times)
        start += length


def times_said(sentences, of) -> list[Fraction]:
    """Quarters from the barline of each sentence that begins with a time of something played or silenced."""
    times, beat, tuplet = [], 0, None
    for sentence in sentences:
        named, colon, said = sentence.partition(": ")
        if not colon or "“" in named or said.startswith(("chord", "written above")):
            continue
        match = TUPLET.match(named)
        if match:
            begins, beat = time_of(match["begins"], beat, of)
            count = 3 if match["kind"] == "triplet" else COUNTS.index(match["kind"])
            tuplet = begins, beats_of(match["length"]) * of.meter.beat_quarters / count
            times.append(begins + tuplet[1] * (ORDINALS.index(match["place"] or "first") - 1))
        elif named.lower() in ORDINALS:
            times.append(tuplet[0] + tuplet[1] * (ORDINALS.index(named.lower()) - 1))
        else:
            time, beat = time_of(named, beat, of)
            times.append(time)
    return times


def time_of(named: str, beat: int, of) -> tuple[Fraction, int]:
    match = re.search(r" ?(?:of |past )?[Bb]eat (\d+)$", named)
    beat = int(match[1]) if match else beat
    rest = named[:match.start()] if match else named.removesuffix(" on")
    if rest.endswith(" eighth") and rest.split()[0].lower() in ("second", "third"):
        share = Fraction(ORDINALS.index(rest.split()[0].lower()) - 1, 3)
    else:
        halves = {"": Fraction(0), "And": Fraction(1, 2), "Half a beat": Fraction(1, 2)}
        share = halves[rest] if rest in halves else share_of(rest)
    return (beat - 1 + share) * of.meter.beat_quarters, beat


def share_of(text: str) -> Fraction:
    if "/" in text:
        return Fraction(text)
    count, name = text.lower().replace("an ", "a ").split()
    return Fraction(COUNTS.index(count), SHARES[name if name in SHARES else name.removesuffix("s")])


def beats_of(text: str) -> Fraction:
    if text.startswith("a beat"):
        rest = text.removeprefix("a beat").removeprefix(" and ")
        return 1 + (share_of(rest) if rest else 0)
    if text == "half a beat":
        return Fraction(1, 2)
    if text.endswith(" of a beat"):
        return share_of(text.removesuffix(" of a beat"))
    whole, _, rest = text.removesuffix(" beats").partition(" and ")
    return int(whole) + (share_of(rest) if rest else 0)


@given(st.fractions(min_value=Fraction(1, 64), max_value=20, max_denominator=64))
def test_a_length_in_words_reads_back_as_itself(beats):
    assert beats_of(duration_words(beats)) == beats


@UNHURRIED
@given(licks())
def test_every_picking_finger_is_said(of):
    notes = with_some_fingers(of)
    said = words_text(of, notes)
    for finger, word in FINGER_WORDS.items():
        picked = sum(note.finger == finger for note in notes)
        assert len(re.findall(rf"\b{word}(?:,| on) string", said)) == picked


# One thing at a time

def test_a_bar_says_its_beats():
    assert read_aloud("T3 I2 M1 T5 I2 M1 T3 M1") == (
        "Bar 1. Beat 1: thumb, string 3 open. And: index, string 2 open. Beat 2: middle, string 1 open. "
        "And: thumb, string 5 open. Beat 3: index, string 2 open. And: middle, string 1 open. "
        "Beat 4: thumb, string 3 open. And: middle, string 1 open.\n")


@pytest.mark.parametrize("token, said", [
    ("T3:2=2", "thumb, string 3, fret 2, left middle"),
    ("T3:2=2h3=3", "thumb, string 3, fret 2, left middle, hammer-on to fret 3, left ring"),
    ("I2:3p0", "index, string 2, fret 3, pull-off to open"), ("T3:2s5", "thumb, string 3, fret 2, slide to fret 5"),
    ("T5+M1", "pinch, thumb on string 5 open and middle on string 1 open"),
    ("T4+T3+T2", "brush with the thumb, string 4 open, string 3 open and string 2 open"),
    ("M1:10b1r", "middle, string 1, fret 10, choke up a half step and let down"),
    ("M1:10b.5", "middle, string 1, fret 10, choke up a quarter step"),
    ("M1:12c", "middle, string 1, chime at fret 12"), ("T3:x", "thumb, string 3, damped"),
    ("T3:2~", "thumb, string 3, fret 2, with vibrato"), ("T3!", "thumb, string 3 open, accented"),
    ("T5:7", "thumb, string 5, fret 7")])
def test_a_token_has_its_words(token, said):
    assert f"Beat 1: {said}. And: rest" in read_aloud(f"{token} . . . . . . .")


def test_what_goes_on_says_how_long():
    said = read_aloud("T3 - - I2 M1 T5 I2 M1")
    assert "Beat 1: thumb, string 3 open, held for a beat and a half. And of beat 2: index, string 2 open." in said


def test_a_hold_over_the_barline_is_counted_through():
    assert read_aloud(". . . . . . T3 - | - - T3 - . . . .").startswith(
        "Bar 1. Beat 1: rest for 3 beats. Beat 4: thumb, string 3 open, held for 2 beats.\nBar 2. Beat 2: ")


def test_silence_goes_on_over_a_barline():
    assert "Bar 2. Beat 1: rest for 2 beats. Beat 3: thumb" in read_aloud("T3 - - - . . . .\n- - - - T3 - - -")


def test_a_triplet_names_its_shares():
    said = read_aloud("(T3 I2 M1)/2 T5 - - - - -")
    assert "Beat 1, triplet over a beat: thumb, string 3 open. Second: index, string 2 open. Third: middle" in said


def test_two_like_triplets_in_a_row_are_both_named():
    assert read_aloud("(T3 - M1)/2 (- I2 M1)/2 T5 - - -").count("triplet over a beat") == 2


def test_an_arrival_of_its_own_is_said_like_a_pluck():
    assert "And: hammer-on, string 4, fret 2, left middle." in read_aloud("T4 h2=2 T3 - - - - -")


def test_an_arrival_under_a_pluck_follows_it():
    assert "middle, string 1 open, with hammer-on, string 4, fret 4" in read_aloud("T4:2 I3 4>h4+M1 . . . . .")


def test_a_choke_of_its_own_goes_up_and_is_let_down():
    assert "And: choke string 2 up a half step. Beat 2: let string 2 down, held" in read_aloud("I2:8 b1 r - - - - -")


def test_a_repeat_says_how_far_and_how_often_and_where_it_goes_back():
    said = read_aloud("|: T3 - - - - - - -\nT3 - - - - - - - :|x3").split("\n")
    assert said[0].startswith("Bar 1. From here to bar 2, 3 times.")
    assert said[1].endswith("Back to bar 1.")


def test_a_repeat_without_a_sign_begins_behind_the_pick_up():
    said = read_aloud("pickup: 1\n---\nT4\nT3 - - - - - - :|").split("\n")
    assert said[0] == "Pick-up bar. And of beat 4: thumb, string 4 open."
    assert said[1].startswith("Bar 1. This bar, twice.")


def test_endings_say_which_time_they_are_for():
    said = read_aloud("T3 - - - - - - -\n<1> T4 - - - - - - - :|\n<2> T3 - - - - - - -").split("\n")
    assert said[1].startswith("Bar 2, first ending. The first time only.")
    assert said[2].startswith("Bar 3, second ending. The last time, in place of bar 2.")


def test_the_way_out_is_named():
    said = read_aloud("exit: 1\n---\nT3 - - - - - - -\nT3 - - - - - - -")
    assert "\nBar 2, the way out. Beat 1" in said


def test_a_repeat_behind_a_repeat_begins_where_that_ended():
    said = read_aloud("T3 - - - - - - - :|\nT4 - - - - - - - :|").split("\n")
    assert said[1].startswith("Bar 2. This bar, twice.")


def test_a_chord_over_a_held_note_has_its_own_time():
    assert "held for 4 beats. Beat 3: chord D 7." in read_aloud("[G] T3 - - - [D7] - - - -")


@pytest.mark.parametrize("name, said", [("G", "G"), ("Bb", "B flat"), ("F#m7/E", "F sharp minor 7 over E"),
                                        ("Dm7b5", "D minor 7 flat 5"), ("Asus4", "A suspended 4")])
def test_chords_are_spelled_out(name, said):
    assert chord_words(name) == said


def test_what_a_variant_changed_is_said():
    of = lick("T3 I2 M1 T5 I2 M1 T3 M1")
    said = words_text(replace(of, changed=((1, 2),)), with_some_fingers(of))
    assert said.count("changed") == 1 and "And: index, string 2 open, changed." in said


def test_six_eight_counts_dotted_quarters_and_their_eighths():
    assert read_aloud("meter: 6/8\n---\nT3 I2 M1 T5 I2 M1") == (
        "Bar 1. Beat 1: thumb, string 3 open. Second eighth: index, string 2 open. "
        "Third eighth: middle, string 1 open. Beat 2: thumb, string 5 open. Second eighth: index, string 2 open. "
        "Third eighth: middle, string 1 open.\n")


def test_fingers_nobody_chose_are_left_out():
    of = lick("3 2 1 5 2 1 3 1")
    assert words_text(of, written_notes(of)).startswith("Bar 1. Beat 1: string 3 open. And: string 2 open.")
