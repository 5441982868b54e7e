"""What a student may choose: tempos, slots, loops, the climb, and what the browser keeps of it."""

import json

import pytest

from tests.browser.stage import SLUICE_TAG, WEIR_RUN, tab_of

REPEATED = "|: M1 I2 T3 M1 T4 I3 M1 T4 :|"


def test_tempos_reach_from_30_to_150_percent_of_the_full_one(scripts):
    found = scripts.evaluate("data => fifthpeg.tempo(data)", tab_of("tempo: 131\n---\nT3 I2 M1 T5 I2 M1 T3 M1").data)
    assert (found["least"], found["full"], found["most"]) == (40, 131, 196)


def test_a_recordings_own_tempo_is_kept_exactly_though_shown_rounded(scripts):
    data = tab_of("tempo: 125\n---\nT3 I2 M1 T5 I2 M1 T3 M1").data
    exact, plain = scripts.evaluate("d => [fifthpeg.tempo.quartersPerMinute(d, 63), fifthpeg.tempo.quartersPerMinute(d, 64)]", data)
    assert (exact, plain) == ([125, 2], [64, 1])


def test_a_tempo_is_in_the_meters_beat(scripts):
    data = tab_of("meter: 6/8\ntempo: 100\n---\nT3 I2 M1 T5 I2 M1").data
    assert scripts.evaluate("d => fifthpeg.tempo.quartersPerMinute(d, 80)", data) == [120, 1]


@pytest.mark.parametrize(("rule", "tempos"), [
    ({"from": 100, "step": 5, "passes": 2, "goal": 112}, [100, 100, 105, 105, 110, 110, 112, 112]),
    ({"from": 100, "step": 20, "passes": 1, "goal": 150}, [100, 120, 140, 150, 150, 150, 150, 150]),
    ({"from": 120, "step": 5, "passes": 1, "goal": 100}, [120] * 8),
], ids=["by steps to the goal", "never above it", "never down to it"])
def test_a_climb_worked_by_hand(scripts, rule, tempos):
    assert scripts.evaluate("rule => [0, 1, 2, 3, 4, 5, 6, 7].map(pass => fifthpeg.climb(rule, pass))", rule) == tempos


def slots(scripts, source: str) -> list[dict]:
    return scripts.evaluate("data => fifthpeg.slots(data)", tab_of(source).data)


def test_slots_are_named_as_a_player_counts_them(scripts):
    assert [slot["words"] for slot in slots(scripts, WEIR_RUN)][:4] == [
        "bar 1, beat 1", "bar 1, the and of beat 1", "bar 1, beat 2", "bar 1, the and of beat 2"]


def test_a_pick_up_is_counted_at_its_place_in_the_bar(scripts):
    words = [slot["words"] for slot in slots(scripts, "pickup: 2\n---\nI2 M1 | M1 I2 T3 M1 T4 I3 M1 T4")]
    assert words[:3] == ["pick-up, beat 4", "pick-up, the and of beat 4", "bar 1, beat 1"]


def test_bounce_changes_no_slots_name(scripts):
    line = "M1 I2 T3 M1 T4 I3 M1 T4"
    names = [[slot["words"] for slot in slots(scripts, f"bounce: {share}\n---\n{line}")] for share in (50, 66)]
    assert names[0] == names[1]


def test_a_repeated_bar_is_met_twice(scripts):
    row = slots(scripts, REPEATED)
    assert (len(row), row[0]["words"], row[8]["words"]) == (16, "bar 1, beat 1", "bar 1, beat 1, time 2")


def test_slots_follow_one_another_to_the_end(scripts):
    row = slots(scripts, SLUICE_TAG)
    assert [slot["end"] for slot in row[:-1]] == [slot["at"] for slot in row[1:]]
    assert row[-1]["end"] == tab_of(SLUICE_TAG).data["quarters"]


def test_slots_between_written_notes_lie_evenly_in_the_drawing(scripts):
    assert scripts.evaluate("fifthpeg.geometry.edgesOf(new Map([[0, 0], [2, 40], [4, 100]]), 4)") == [0, 20, 40, 70, 100]


FACTS = {"id": "weir-run", "title": "Weir run", "least": 63, "most": 312, "full": 208, "last": 15}


def recalled(scripts, kept: dict[str, str]) -> dict:
    return scripts.evaluate(
        """([facts, kept]) => {
            const fake = {getItem: name => (name in kept ? kept[name] : null), setItem() {}};
            Object.defineProperty(globalThis, 'localStorage', {value: fake, configurable: true});
            return fifthpeg.settings.recall(fifthpeg.memory('site'), facts);
        }""", [FACTS, kept])


def test_without_a_memory_everything_is_as_usual(scripts):
    state = recalled(scripts, {})
    assert (state["beats"], state["looping"], state["first"], state["last"], state["best"]) == (208, False, 0, 15, 0)
    assert (state["letters"], state["click"], state["counted"], state["follow"]) == (True, False, False, False)


def test_what_was_kept_is_found_again(scripts):
    state = recalled(scripts, {"site/lick/weir-run": json.dumps({"beats": 104, "looping": True, "first": 4, "last": 7, "best": 96}),
                               "site/settings": json.dumps({"click": True, "letters": False})})
    assert (state["beats"], state["looping"], state["first"], state["last"], state["best"]) == (104, True, 4, 7, 96)
    assert (state["click"], state["letters"]) == (True, False)


LEVELS = ("guitarLevel", "bassLevel", "clickLevel", "countLevel")


@pytest.mark.parametrize(("kept", "levels"), [
    ({}, [100, 100, 100, 100]),
    ({"guitarLevel": 0, "bassLevel": 200, "clickLevel": 150, "countLevel": 30}, [0, 200, 150, 30]),
    ({"level": 60}, [60, 60, 100, 100]),
    ({"level": 60, "bassLevel": 90}, [60, 90, 100, 100]),
    ({"level": 201, "clickLevel": -10, "countLevel": 99.5}, [100, 100, 100, 100]),
    ({"level": "60", "guitarLevel": None, "bassLevel": [50], "clickLevel": True}, [100, 100, 100, 100]),
], ids=["nothing", "each its own", "one for both, as once", "as once and since", "out of range", "no numbers"])
def test_levels_are_found_again_and_not_believed_blindly(scripts, kept, levels):
    state = recalled(scripts, {"site/settings": json.dumps(kept)})
    assert [state[name] for name in LEVELS] == levels


@pytest.mark.parametrize("spoiled", [
    "{", "null", "[]", "7", '"x"', '{"beats": 9999, "first": -1, "last": 400, "looping": "yes", "best": "<img>"}',
    '{"beats": 104.5, "first": 12, "last": 3, "passes": 0, "step": 1e9, "goal": null}',
])
def test_a_memory_that_someone_spoiled_is_not_believed(scripts, spoiled):
    state = recalled(scripts, {"site/lick/weir-run": spoiled, "site/settings": spoiled})
    usual = recalled(scripts, {})
    del state["first"], usual["first"]
    assert state == usual


def test_each_site_keeps_its_own(scripts):
    state = recalled(scripts, {"elsewhere/lick/weir-run": json.dumps({"beats": 104})})
    assert state["beats"] == 208
