"""Licks laid one after another in the browser are the chain that the build would have put together of them."""

import json
from itertools import permutations
from types import SimpleNamespace

import pytest

from fifthpeg.analysis.chain import link_up
from fifthpeg.compiled import Options
from fifthpeg.exports.player_data import player_data
from fifthpeg.model.chain import Chain, Link
from fifthpeg.pages.bench_files import notes_data
from fifthpeg.pipeline import study_lick
from tests.written import lick

LICKS = {
    "run": "id: run\ntempo: 208\n---\n[D7] M1:4=4 I2:3 T3:2 M1 T4 I3:2 M1 T4 | I3:2=1 T4:4=3 - I3 T4:4 I3:2 T3:5=4 -",
    "tag": "id: tag\ntempo: 208\nexit: 1\n---\n[G] I2+M1 - T3:2=2h3=3 I2 M1 T5 I2:3p0 M1 | T3:2s4 M1 T5 I3 M1:3~ - T4:0h2=2 M1:3~! "
           "| T3 - T5+M1 - . - T5+M1 -",
    "rest": "id: rest\n---\n[G] T3 - . - I2 - M1 - | T5 - - - . - - -",
    "lead": "id: lead\npickup: 2\n---\nI2 M1 | [G] T3 I2 M1 T5 T3 I2 M1 T5 | T3 - - - T4 - - -",
    "twice": "id: twice\n---\n[C] |: T4:2 I2:1 M1:2 T5 T3 I2:1 M1:2 T5 :|",
}
OPTIONS = Options()
ROWS = (*permutations(LICKS, 2), ("run", "tag", "rest"), ("tag", "tag", "tag"), ("twice", "rest", "lead", "run"))
WITHOUT_ROOM = {("run", "lead"), ("tag", "lead"), ("twice", "lead")}
"""Where the second's pick-up finds no room, the bench calls them apart."""
LAY = "([licks, keeps, title]) => fifthpeg.laid(licks, keeps, title)"


@pytest.fixture(scope="module")
def read() -> dict:
    """id -> (the lick, what its script brings)"""
    return {lick_id: scripted(lick(text)) for lick_id, text in LICKS.items()}


def scripted(made):
    data = json.dumps(data_of(made))
    return made, json.loads(json.dumps(notes_data(SimpleNamespace(lick=made, player=data, inline=""))))


def data_of(made) -> dict:
    studied = study_lick(made, OPTIONS)
    return player_data(studied.lick, studied.performance, OPTIONS.rate_hz, 1.0, studied.stems, 1.0)


def heard(data: dict) -> list:
    """What sounds, from when to when."""
    return sorted((note["start"], note["string"], note["sound"], note["until"]) for note in data["notes"])


def slots(data: dict) -> list:
    return [(bar["bar"], bar["barline"], bar["slots"]) for bar in data["bars"]]


def linked(read: dict, ids, keeps_exit: bool):
    return link_up(Chain(tuple(Link(read[lick_id][0]) for lick_id in ids), keep_exit=keeps_exit))


def test_nothing_else_is_left_without_room(read):
    """What the next test leaves out, and no more."""
    found = {ids for ids in ROWS for keeps_exit in (True, False)
             if not all(seam.join.has_room for seam in linked(read, ids, keeps_exit).seams)}
    assert found == WITHOUT_ROOM


@pytest.mark.parametrize("keeps_exit", [True, False])
@pytest.mark.parametrize("ids", [ids for ids in ROWS if ids not in WITHOUT_ROOM], ids=" ".join)
def test_it_sounds_as_the_build_s_own_chain(scripts, read, ids, keeps_exit):
    found = linked(read, ids, keeps_exit)
    assert all(seam.join.has_room for seam in found.seams)
    built = data_of(found.lick)
    laid = scripts.evaluate(LAY, [[read[lick_id][1] for lick_id in ids], keeps_exit, "A row"])
    assert heard(laid) == heard(built)
    assert slots(laid) == slots(built)
    assert (laid["quarters"], laid["exit"], laid["qpm"]) == (built["quarters"], built["exit"], built["qpm"])


def test_each_link_sounds_as_loud_as_by_itself(scripts, read):
    quiet, loud = (dict(read["run"][1], gain=0.5), dict(read["tag"][1], gain=0.8))
    laid = scripts.evaluate(LAY, [[quiet, loud], True, ""])
    strengths = {note["link"]: note["hand"][0] for note in laid["notes"]}
    alone = {0: quiet["notes"][-1]["hand"][0], 1: loud["notes"][-1]["hand"][0]}
    assert laid["gain"] == 0.5
    assert [strengths[link] * laid["gain"] for link in (0, 1)] == pytest.approx([alone[0] * 0.5, alone[1] * 0.8])


def test_a_bar_knows_its_number_in_the_row_and_a_pick_up_inside_has_none(scripts, read):
    laid = scripts.evaluate(LAY, [[read["rest"][1], read["lead"][1]], True, ""])
    assert laid["drawn"] == [{"1": 1, "2": 2}, {"1": 3, "2": 4}]


def test_the_backing_of_each_lick_stays_inside_what_is_played_of_it(scripts, read):
    laid = scripts.evaluate(LAY, [[read["tag"][1], read["run"][1]], True, ""])
    ends = [note["until"] for stem in laid["stems"] for note in stem["notes"] if note["start"][0] / note["start"][1] < 8]
    assert max(top / bottom for top, bottom in ends) == 8
    assert [stem["name"] for stem in laid["stems"]] == ["guitar", "bass"]
