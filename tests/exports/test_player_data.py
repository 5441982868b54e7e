"""What the player gets: exact times as pairs, and the name of every sound."""

import json
from fractions import Fraction

from fifthpeg.exports.player_data import player_data
from fifthpeg.model.backing import BackingNote, BackingSound, Stem
from fifthpeg.model.bank import BankNote
from fifthpeg.sound.perform import perform
from hypothesis import given, settings
from tests.generated import licks
from tests.written import lick, licks_of

TOP = ["id", "title", "rate", "qpm", "beat", "quarters", "pickup", "gain", "tempos", "links", "full_bar", "exit",
       "bars", "notes", "stems"]
NOTE = ["mark", "string", "fret", "finger", "left", "start", "length", "until", "sound", "touch", "picked", "from",
        "bend", "release", "accent", "vibrato", "hand", "bar", "slot", "link"]


def data(text: str) -> dict:
    made = lick(text)
    return player_data(made, perform(made, {}), rate_hz=22_050, gain=0.83)


def sounds(text: str) -> list[str | None]:
    return [note["sound"] for note in data(text)["notes"]]


def test_every_key_in_its_order():
    made = data("T3:2 - - - - - - -")
    assert list(made) == TOP
    assert list(made["notes"][0]) == NOTE


def test_what_stands_at_the_top():
    made = data("id: weir-run\ntitle: Weir run\nmeter: 2/2\ntempo: 104\npickup: 1\n---\nM1 | T3 - - - - - - -")
    del made["notes"], made["bars"]
    assert made == {"id": "weir-run", "title": "Weir run", "rate": 22_050, "qpm": [208, 1], "beat": [2, 1],
                    "quarters": [9, 2], "pickup": [1, 2], "gain": 0.83,
                    "tempos": [[1, 2], [3, 4], [1, 1]], "links": [], "full_bar": [4, 1], "exit": None,
                    "stems": None}


def test_a_note_worked_by_hand():
    note = data("M1 T3:2=2 - - - - - -")["notes"][1]
    del note["hand"]
    assert note == {
        "mark": "p2", "string": 3, "fret": 2, "finger": "T", "left": "2", "start": [1, 2], "length": [7, 2],
        "until": [4, 1], "sound": "3-57-2-pick", "touch": "pick", "picked": True, "from": None, "bend": [0, 1],
        "release": False, "accent": False, "vibrato": False, "bar": 1, "slot": 2, "link": 0}


def test_a_stem_has_its_gain_and_its_notes():
    sound = BackingSound("guitar", (50, 55, 59, 67))
    stem = Stem("guitar", (BackingNote(sound, Fraction(3, 5), Fraction(1)),))
    made = lick("T3 I2 M1 T5 I2 M1 T3 M1")
    assert player_data(made, perform(made, {}), 22_050, 0.83, [stem], 0.5)["stems"] == [
        {"name": "guitar", "gain": 0.5,
         "notes": [{"start": [3, 5], "until": [1, 1], "line": 2, "sound": "guitar-50-55-59-67"}]}]


def test_the_way_out_begins_where_it_is_played():
    assert data("exit: 1\n---\nT3 - - - - - - - | I2 - - - - - - -")["exit"] == [4, 1]


def test_a_showing_of_the_way_out_alone_begins_with_it():
    made = licks_of("id: a\nexit: 1\n---\nT3 - - - - - - - | I2 - - - - - - -", "show: a\nbars: 2")[1]
    shown = player_data(made, perform(made, {}), 22_050, 1.0)
    assert json.loads(json.dumps(shown))["exit"] == [0, 1]


def test_each_touch_asks_for_its_own_sound():
    assert sounds("T3:2h3 s5 p0 M1:12c - - - -") == [
        "3-57-2-pick", "3-58-3-hammer-on", "3-60-5-slide", "3-55-0-pull-off-5", "1-74-12-chime-2"]


def test_a_pull_off_says_how_far_it_goes_and_a_chime_which_partial_it_leaves():
    assert sounds("capo: 2\n---\nT5:9p0 M1:7c T5:10c M1:5c I2:4c - - -") == [
        "5-73-11-pick", "5-69-0-pull-off-4", "1-83-9-chime-3", "5-93-12-chime-4", "1-88-7-chime-4", "2-89-6-chime-5"]


def test_a_hand_is_a_gain_a_shade_and_how_late_it_comes():
    """The thumb brushes from the third string to the first, 9 ms from one to the next."""
    made = lick("T3+T2+T1 - - - - - - -")
    performance = perform(made, {})
    notes = player_data(made, performance, 22_050, 1.0)["notes"]
    assert [(note["string"], note["hand"][2]) for note in notes] == [(3, 0), (2, 9), (1, 18)]
    assert [note["hand"] for note in notes] == [[n.gain, n.shade, n.late_ms] for n in performance.notes]


def test_a_choke_is_a_picked_note_bent_by_the_player():
    (note,) = data("I2:8b1 - - - - - - -")["notes"]
    assert (note["sound"], note["touch"], note["bend"]) == ("2-67-8-pick", "choke", [1, 1])


def test_a_choke_on_a_ringing_string_sounds_nothing_new():
    assert sounds("I2:8 b1 r - - - - -") == ["2-67-8-pick", None, None]


def test_a_capo_stops_the_string_higher_up_the_neck():
    assert sounds("capo: 2\n---\nT3:2 I2 - - - - - -") == ["3-59-4-pick", "2-61-0-pick"]


@settings(max_examples=40)
@given(licks())
def test_it_is_the_performance(made):
    performance = perform(made, {})
    notes = player_data(made, performance, 22_050, 1.0)["notes"]
    assert [(n["mark"], Fraction(*n["start"]), Fraction(*n["length"]), Fraction(*n["until"])) for n in notes] == [
        (n.mark, n.start, n.length, n.rings_until) for n in performance.notes]


@settings(max_examples=40)
@given(licks())
def test_a_sound_is_at_the_pitch_of_its_note(made):
    performance = perform(made, {})
    for told, note in zip(player_data(made, performance, 22_050, 1.0)["notes"], performance.notes, strict=True):
        if told["sound"]:
            bank_note = BankNote.from_name(told["sound"])
            assert (bank_note.string, bank_note.midi) == (note.string, note.midi or 0)


def test_it_is_json():
    made = data("T3:2h3 I2 M1 T5 I2:8b1 M1 T3 M1")
    assert json.loads(json.dumps(made, allow_nan=False)) == made
