"""Bars cut by a showing and slots changed by a variant, in words and in MusicXML."""

import pytest
from fifthpeg.exports.musicxml import musicxml_bytes
from fifthpeg.exports.words import words
from fifthpeg.exports.words_cells import cell_words
from tests.exports.score import tree, with_some_fingers
from tests.written import licks_of

EIGHT = "T3 I2 M1 T5 I2 M1 T3 M1"


def shown(slots: str, body: str = f"{EIGHT} | {EIGHT}", header: str = ""):
    return licks_of(f"id: a\n{header}---\n{body}", f"show: a\nslots: {slots}")[1]


def varied(*changes: str, body: str = EIGHT):
    return licks_of(f"id: a\n---\n{body}", "id: b\nfrom: a\nchange:\n" + "\n".join(f"  - {c}" for c in changes))[1]


def said(of) -> list[str]:
    return [bar.text for bar in words(of, with_some_fingers(of))]


@pytest.mark.parametrize("slots, heading, first", [
    ("1.5-1.8", "Bar 1, from beat 3", "Beat 3: index, string 2 open."),
    ("1.4-1.8", "Bar 1, from the and of beat 2", "And of beat 2: thumb, string 5 open."),
    ("1.1-1.4", "Bar 1, as far as the and of beat 2", "Beat 1: thumb, string 3 open."),
    ("1.3-1.5", "Bar 1, from beat 2, as far as beat 3", "Beat 2: middle, string 1 open."),
])
def test_beats_are_counted_from_the_real_barline(slots, heading, first):
    of = shown(slots)
    (bar,) = words(of, with_some_fingers(of))
    assert (bar.heading, bar.sentences[0]) == (heading, first)


def test_a_cut_pick_up_keeps_its_beat():
    of = shown("0.2-0.2", f"T3 I2 | {EIGHT}", "pickup: 2\n")
    assert said(of) == ["Pick-up bar, from the and of beat 4. And of beat 4: index, string 2 open."]


def test_a_changed_slot_that_holds_is_said():
    (bar,) = said(varied("bar 1 slot 3: -"))
    assert "And: index, string 2 open, held for a beat. Beat 2: held on, changed. And: thumb" in bar


def test_a_changed_slot_that_rests_is_said():
    (bar,) = said(varied("bar 1 slot 3: ."))
    assert "Beat 2: rest for half a beat, changed. And: thumb" in bar


def test_a_changed_slot_in_a_silence_is_said():
    (bar,) = said(varied("bar 1 slot 4: .", body="T3 I2 . T5 I2 M1 T3 M1"))
    assert "Beat 2: rest for a beat. And: rest, changed. Beat 3" in bar


def test_a_bar_silenced_by_a_variant_says_so():
    assert said(varied("bar 1: . - - - - - - -"))[0] == "Bar 1. Rest for the whole bar, changed."


def test_a_new_bar_is_said_once_not_slot_by_slot():
    bars = said(varied("after bar 1: T3 - - - I2 - - -"))
    assert bars[1] == ("Bar 2, new. Beat 1: thumb, string 3 open, held for 2 beats."
                       " Beat 3: index, string 2 open, held for 2 beats.")


def test_cells_are_placed_in_their_bar_and_say_what_begins_there():
    of = varied("bar 1: T3 I2 (1 2 -)/2 I2 - T3:2h3 M1")
    cells = cell_words(of, with_some_fingers(of))
    assert [(cell.slot, cell.slots) for cell in cells] == [(1, 1), (2, 1), (3, 2), (5, 1), (6, 1), (7, 1), (8, 1)]
    assert cells[2].place == "beat 2"
    assert cells[2].says == "three in two slots: middle, string 1 open, then index, string 2 open, then held on"
    assert [cell.says for cell in cells[3:6]] == [
        "index, string 2 open", "held on", "thumb, string 3, fret 2, hammer-on to fret 3"]


# MusicXML

def test_a_cut_bar_is_an_implicit_measure_as_long_as_it_is():
    """MusicXML 4.0, measure/@implicit: for measures whose number is not to count, such as partial ones."""
    score = tree(musicxml_bytes(shown("1.3-2.5"), with_some_fingers(shown("1.3-2.5"))))
    measures = list(score.iter("measure"))
    assert [(bar.get("number"), bar.get("implicit")) for bar in measures] == [("1", "yes"), ("2", "yes")]
    divisions = int(score.findtext(".//divisions"))
    lengths = [sum(int(d.text) for d in bar.iter("duration")) for bar in measures]
    assert lengths == [3 * divisions, 5 * divisions // 2]


@pytest.mark.parametrize("slots, style", [("1.1-2.5", "none"), ("1.3-2.8", "light-heavy")])
def test_only_a_real_end_is_a_final_barline(slots, style):
    score = tree(musicxml_bytes(shown(slots), with_some_fingers(shown(slots))))
    assert [bar.text for bar in score.iter("bar-style")] == [style]


def test_values_of_a_cut_bar_are_split_at_its_real_beats():
    of = shown("1.2-1.8", "T3 I2 - - - - M1 T3")
    score = tree(musicxml_bytes(of, with_some_fingers(of)))
    assert [note.findtext("type") for note in score.iter("note")] == ["eighth", "half", "eighth", "eighth"]


def test_a_silent_cut_bar_is_no_whole_bars_rest():
    of = shown("1.5-1.8", "T3 . . . . . . .")
    score = tree(musicxml_bytes(of, with_some_fingers(of)))
    assert [rest.get("measure") for rest in score.iter("rest")] == [None]


def test_a_note_carried_over_the_cut_has_its_head_in_parentheses():
    of = shown("1.2-1.8", "T3:2 h3 - - T3 I2 M1 T5")
    score = tree(musicxml_bytes(of, with_some_fingers(of)))
    assert [note.find("notehead") is not None for note in score.iter("note")][:2] == [True, False]
    assert score.find(".//notehead").get("parentheses") == "yes"
