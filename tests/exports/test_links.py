"""A chain in every file that goes out: each link named where it begins."""

import io
from fractions import Fraction

import mido
import music21
import pytest
import xmlschema
from fifthpeg.analysis.chain import link_up
from fifthpeg.exports.links import link_places, link_start
from fifthpeg.exports.midi import midi_bytes
from fifthpeg.exports.musicxml import musicxml_bytes
from fifthpeg.exports.player_data import player_data
from fifthpeg.exports.schedule import schedule
from fifthpeg.exports.words import words, words_text
from fifthpeg.model.chain import Chain, Link
from fifthpeg.model.findings import CLASH, CLEAN, Findings
from fifthpeg.model.lick import Showing
from fifthpeg.model.note import with_left_fingers
from fifthpeg.reading.showing import show
from fifthpeg.sound.perform import perform
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.exports.score import SCHEMA, tree, with_some_fingers
from tests.generated import licks
from tests.written import lick

RUN = lick("id: weir-run\ntitle: Weir run\ntempo: 208\n---\n"
           "[D7] M1:4 I2:3 T3:2 M1 T4 I3:2 M1 T4 | I3:2 T4:4 - I3 T4:4 I3:2 T3:5 -")
TAG = lick("id: sluice-tag\ntitle: Sluice tag\ntempo: 208\nexit: 1\n---\n"
           "[G] I2+M1 - T3:2h3 I2 M1 T5 I2:3p0 M1 | T3 - - - - - - -")
LED_IN = lick("id: led-in\ntitle: Led & in\ntempo: 208\npickup: 1\n---\nI2 | [G] T3 - I2 M1 T5 I2 M1 -")


def chained(*links: Link, **fields):
    """weir-run (bars 1 and 2), led-in (3, its pick-up the last slot of 2), sluice-tag (4, and 5 its exit)."""
    links = links or (Link(RUN), Link(LED_IN), Link(TAG))
    return link_up(Chain(tuple(links), id="three", title="Three", **fields))


THREE = chained().lick
CUT = show(THREE, Showing("three", slots=((1, 5), (4, 8))))


def performed(of):
    return perform(of, {})


def test_links_come_in_where_they_begin_a_pick_up_included():
    """Two bars of eight eighths; the pick-up's eighth before the second barline, at 7 1/2 quarters."""
    assert [(place.number, place.link.id, link_start(place, THREE, performed(THREE))) for place in link_places(THREE)
            ] == [(0, "weir-run", 0), (1, "led-in", Fraction(15, 2)), (2, "sluice-tag", 12)]


def test_a_link_that_begins_off_the_beat_is_bounced_with_its_note():
    """The second of a pair begins 60 percent of a quarter in."""
    bounced = chained(bounce=60).lick
    place = link_places(bounced)[1]
    assert link_start(place, bounced, performed(bounced)) == Fraction(38, 5)


@pytest.mark.parametrize("of", [THREE, CUT, chained(bounce=62).lick], ids=["whole", "cut", "bounced"])
def test_a_link_begins_with_its_first_note(of):
    """Every link here has a note in its first slot; the cut one begins with a note too."""
    played = performed(of)
    for place in link_places(of):
        assert link_start(place, of, played) == min(note.start for note in played.notes if note.link == place.number)


def test_a_showing_may_begin_in_the_middle_of_a_link():
    places = [(place.number, place.begins) for place in link_places(CUT)]
    assert places == [(0, False), (1, True), (2, True)]


def test_no_chain_has_no_links():
    assert link_places(RUN) == ()


def test_the_schedule_lists_them_as_performed():
    assert schedule(THREE, performed(THREE), Findings({}), ())["links"] == [
        {"link": 0, "id": "weir-run", "title": "Weir run", "at": "0", "start": 0},
        {"link": 1, "id": "led-in", "title": "Led & in", "at": "15/2", "start": 7.5},
        {"link": 2, "id": "sluice-tag", "title": "Sluice tag", "at": "12", "start": 12}]


def test_the_player_gets_them_with_exact_times():
    made = player_data(THREE, performed(THREE), 22_050, 1.0)
    assert [(link["link"], link["id"], link["start"]) for link in made["links"]] == [
        (0, "weir-run", [0, 1]), (1, "led-in", [15, 2]), (2, "sluice-tag", [12, 1])]
    assert [note["link"] for note in made["notes"] if note["bar"] == 2][-2:] == [0, 1]


def test_midi_marks_each_link_read_back_by_mido():
    """480 ticks a quarter: 7 1/2 quarters are 3600, twelve 5760. Chords are markers of the same kind, after them."""
    file = mido.MidiFile(file=io.BytesIO(midi_bytes(THREE, performed(THREE))), charset="utf-8")
    now, marked = 0, []
    for message in file.tracks[0]:
        now += message.time
        if message.type == "marker":
            marked.append((now, message.text))
    assert [(tick, text) for tick, text in marked if text not in ("D7", "G")] == [
        (0, "Weir run"), (3600, "Led & in"), (5760, "Sluice tag")]
    assert marked[:2] == [(0, "Weir run"), (0, "D7")]


def test_musicxml_has_a_rehearsal_mark_for_each_link():
    score = tree(musicxml_bytes(THREE, with_some_fingers(THREE)))
    assert [(mark.text, bar.get("number")) for bar in score.iter("measure") for mark in bar.iter("rehearsal")] == [
        ("Weir run", "1"), ("Led & in", "2"), ("Sluice tag", "4")]


@pytest.mark.parametrize("of", [THREE, CUT], ids=["whole", "cut"])
def test_a_chain_is_valid_musicxml(of):
    schema = xmlschema.XMLSchema(str(SCHEMA), allow="local")
    schema.validate(musicxml_bytes(of, with_some_fingers(of)).decode())


def test_music21_reads_the_links_at_their_place():
    part = music21.converter.parseData(musicxml_bytes(THREE, with_some_fingers(THREE)), format="musicxml").parts[0]
    marks = [(mark.content, bar.number, mark.offset) for bar in part.getElementsByClass("Measure")
             for mark in bar.getElementsByClass("RehearsalMark")]
    assert marks == [("Weir run", 1, 0), ("Led & in", 2, 3.5), ("Sluice tag", 4, 0)]


def test_musicxml_fingers_the_left_hand_only_where_the_writer_did():
    of = lick("T3:2 I2:3=2 M1 - - - - -")
    notes = with_left_fingers(with_some_fingers(of), {"p1": "1", "p2": "4"})
    assert [finger.text for finger in tree(musicxml_bytes(of, notes)).iter("fingering")] == ["2"]


# Read aloud

def said(of, seams=()) -> list[str]:
    return [bar.text for bar in words(of, with_some_fingers(of), Findings({}, seams=tuple(seams)))]


def test_the_words_name_each_link_where_it_begins():
    bars = said(THREE)
    assert bars[0].startswith("Bar 1. Here Weir run begins. Chord D 7. Beat 1: ")
    assert bars[1].endswith("Here Led & in begins. And: index, string 2 open.")
    assert bars[3].startswith("Bar 4. Here Sluice tag begins. Chord G. Beat 1: ")


def test_a_showing_says_which_link_it_begins_in():
    assert said(CUT)[0].startswith("Bar 1, from beat 3. From the middle of Weir run. ")


def test_the_words_tell_a_clash_at_its_seam():
    """The tag ends with the middle an eighth before a pinch by index and middle: at 208 that is 6.93 a second."""
    twice = chained(Link(TAG), Link(TAG))
    assert twice.seams[0].join.verdict == CLASH
    assert ("Bar 2. Here Sluice tag begins. Clash: the middle finger picks twice in a row, "
            "as at any tempo above 195 beats a minute. Chord G. Beat 1: pinch") in said(twice.lick, twice.seams)[1]


def test_the_words_tell_a_repair_that_was_made():
    twice = chained(Link(TAG, repair="hold"), Link(TAG))
    (seam,) = twice.seams
    assert seam.join.verdict == CLEAN
    assert f"Here Sluice tag begins. Repaired at this seam: {seam.repair.says}. Chord G." in said(
        twice.lick, twice.seams)[1]


def test_a_clean_seam_is_not_mentioned():
    clean = chained(Link(RUN), Link(TAG))
    assert clean.seams[0].join.verdict == CLEAN
    assert "Here Sluice tag begins. Chord G. Beat 1" in said(clean.lick, clean.seams)[2]


@settings(max_examples=30)
@given(st.lists(st.sampled_from([RUN, TAG, LED_IN]), min_size=1, max_size=5), st.sampled_from([50, 58, 66]))
def test_any_chain_names_every_link_once_everywhere(links, bounce):
    together = chained(*map(Link, links), bounce=bounce)
    of, played = together.lick, performed(together.lick)
    starts = [link_start(place, of, played) for place in link_places(of)]
    assert [place.link.id for place in link_places(of)] == [link.id for link in links]
    assert starts == sorted(set(starts))
    assert starts[1:] == [seam.at for seam in together.seams]
    assert words_text(of, with_some_fingers(of)).count("Here ") == len(links)


@settings(max_examples=30)
@given(licks())
def test_a_lick_without_a_chain_is_read_as_ever(of):
    assert "Here " not in words_text(of, with_some_fingers(of))
