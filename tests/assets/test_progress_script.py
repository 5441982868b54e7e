"""How far a student has come: what is kept, how two records join, and the file they are carried in."""

import json
from copy import deepcopy

import pytest

from tests.browser.stage import WEIR_RUN, tab_of

TODAY = "2026-11-27"
WEIR = {"id": "weir-run", "title": "Weir run", "full": 208, "best": 150, "played": 12, "day": "2026-11-20"}
FILE = {"kind": "practice on the five-string banjo", "version": 1, "licks": [WEIR]}
STORE = """
const kept = new Map();
let room = Infinity;
const store = {
  read: (name) => JSON.parse(kept.get(name) || "{}"),
  write: (name, value) => { if (!kept.has(name) && kept.size >= room) return false; kept.set(name, JSON.stringify(value)); return true; },
  names: (beginning) => [...kept.keys()].filter((name) => name.startsWith(beginning)).sort(),
  drop: (name) => kept.delete(name),
};
"""
"""A store as memory.js makes it, in memory, with room for so many names."""


@pytest.fixture(scope="module")
def read(scripts):
    def reading(file: object, today: str = TODAY) -> dict:
        text = file if isinstance(file, str) else json.dumps(file)
        return scripts.evaluate("([text, today]) => fifthpeg.practiceFile.read(text, today)", [text, today])
    return reading


def with_lick(**changes: object) -> dict:
    file = deepcopy(FILE)
    file["licks"][0].update(changes)
    return file


def test_a_file_comes_back_as_it_was_saved(scripts, read):
    text = scripts.evaluate("records => fifthpeg.practiceFile.written(records)", [{**WEIR, "known": True}])
    assert read(text) == {"records": [WEIR]}
    assert json.loads(text) == FILE


@pytest.mark.parametrize(("file", "says"), [
    ("", "not a practice file"),
    ("not JSON at all", "not a practice file"),
    ("[]", "not a practice file"),
    ("null", "not a practice file"),
    ({"kind": "something else", "version": 1, "licks": []}, "not a practice file"),
    (FILE | {"version": "1"}, "which version"),
    (FILE | {"version": 2}, "newer edition"),
    (FILE | {"licks": {"weir-run": WEIR}}, "no list of licks"),
    (FILE | {"licks": [WEIR] * 10_001}, "more than 10000"),
    (FILE | {"licks": [WEIR, 7]}, "lick 2 of 2 can't be read"),
    (with_lick(id="<img src=x onerror=alert(1)>"), "has a name that no lick"),
    (with_lick(id="__proto__"), "has a name that no lick"),
    (with_lick(id="a" * 65), "has a name that no lick"),
    (with_lick(title=["x"]), "has no title"),
    (with_lick(title="x" * 121), "has no title"),
    (with_lick(full=-1), "full tempo that is no whole number"),
    (with_lick(best=601), "best tempo that is no whole number"),
    (with_lick(best="150"), "best tempo that is no whole number"),
    (with_lick(best=149.5), "best tempo that is no whole number"),
    (with_lick(played=None), "count of passes"),
    (with_lick(day="2026-02-30"), "not in the calendar"),
    (with_lick(day=20261120), "not in the calendar"),
    (with_lick(day="2026-11-29"), "still to come"),
    (with_lick(beats=100), "says something that no such file says"),
], ids=str)
def test_a_file_with_one_wrong_word_is_refused_whole_in_a_sentence(read, file, says):
    answer = read(file)
    assert set(answer) == {"says"}
    assert says in answer["says"] and answer["says"].endswith("Nothing has been changed here.")


def test_a_file_far_too_large_is_refused(read):
    assert "far too large" in read(" " * 4_000_001)["says"]


def test_tomorrow_is_allowed_where_it_is_tomorrow_already(read):
    assert read(with_lick(day="2026-11-28"))["records"][0]["day"] == "2026-11-28"


def test_a_title_may_be_any_words_and_stays_a_text(read):
    words = "<script>alert(1)</script>"
    assert read(with_lick(title=words))["records"][0]["title"] == words


def test_a_lick_named_twice_in_a_file_is_joined(read):
    slower = {**WEIR, "best": 120, "day": "2026-11-25"}
    assert read(FILE | {"licks": [WEIR, slower]})["records"] == [{**WEIR, "day": "2026-11-25"}]


def test_joining_takes_the_faster_the_larger_and_the_later_and_twice_is_once(scripts):
    one = {"title": "A", "full": 208, "best": 150, "played": 3, "day": "2026-11-20"}
    other = {"title": "B", "full": 200, "best": 140, "played": 9, "day": "2026-11-25"}
    both = {"title": "A", "full": 208, "best": 150, "played": 9, "day": "2026-11-25"}
    join = "([a, b]) => fifthpeg.progress.joined(a, b)"
    assert scripts.evaluate(join, [one, other]) == both
    assert scripts.evaluate(join, [both, other]) == both


def test_what_is_taken_in_never_lowers_a_best_and_leaves_the_settings_alone(scripts):
    kept = scripts.evaluate("record => {" + STORE + """
      store.write("lick/weir-run", { best: 160, played: 2, day: "2026-11-01", beats: 97, looping: true });
      const count = fifthpeg.practised.takeIn(store, [record]);
      return [count, store.read("lick/weir-run")]; }""", WEIR)
    assert kept == [1, {"title": "Weir run", "full": 208, "best": 160, "played": 12, "day": "2026-11-20", "beats": 97, "looping": True}]


def test_a_store_that_fills_up_keeps_what_it_had(scripts):
    count, kept = scripts.evaluate("([first, second]) => {" + STORE + """
      store.write("lick/weir-run", { best: 160 });
      room = 1;
      return [fifthpeg.practised.takeIn(store, [first, second]), [...kept.keys()]]; }""", [WEIR, {**WEIR, "id": "sluice-tag"}])
    assert (count, kept) == (1, ["lick/weir-run"])


def test_the_last_practised_stands_first_and_what_was_never_played_is_left_out(scripts):
    found = scripts.evaluate("() => {" + STORE + """
      store.write("lick/a", { best: 100, day: "2026-11-20", full: 1, title: "Old words" });
      store.write("lick/b", { best: 0, played: 3, day: "2026-11-26" });
      store.write("lick/c", { beats: 90, looping: true });
      store.write("lick/Not an id", { best: 100 });
      return fifthpeg.practised(store, new Map([["a", { title: "A lick", full: 200 }]])); }""")
    assert [(one["id"], one["title"], one["full"], one["known"]) for one in found] == [("b", "b", 0, False), ("a", "A lick", 200, True)]


def test_what_someone_has_altered_in_the_store_counts_for_nothing(scripts):
    bad = {"title": {"toString": 1}, "full": "208", "best": 1e9, "played": -3, "day": "<b>"}
    assert scripts.evaluate("bad => fifthpeg.progress(bad)", bad) == {"title": "", "full": 0, "best": 0, "played": 0, "day": ""}


def test_forgetting_leaves_the_settings_of_all_tabs(scripts):
    assert scripts.evaluate("() => {" + STORE + """
      store.write("lick/a", { best: 1 });
      store.write("settings", { click: true });
      return [fifthpeg.practised.forget(store), [...kept.keys()]]; }""") == [True, ["settings"]]


@pytest.mark.parametrize(("day", "right"), [("2024-02-29", True), ("2026-02-29", False), ("2026-13-01", False), ("26-1-1", False)])
def test_days_are_those_of_the_calendar(scripts, day, right):
    """29 February in leap years only (ISO 8601's form, the Gregorian calendar)."""
    assert scripts.evaluate("day => fifthpeg.progress.isDay(day)", day) is right


PLAY = """([data, at]) => {""" + STORE + """
  const one = fifthpeg.tab(data, store);
  Object.assign(one.state, at.state || {});
  const stretch = { kind: "play", from: at.from, since: at.from, to: at.to, tempo: at.tempo };
  fifthpeg.tab.passed(one, stretch);
  const best = fifthpeg.tab.finished(one, stretch);
  const through = fifthpeg.tab.playedThrough(one, stretch);
  if (best || through) fifthpeg.tab.keep(one, through ? "2026-11-27" : "");
  const own = store.read("lick/weir-run");
  return [own.day, own.played, own.best]; }"""


@pytest.mark.parametrize(("at", "kept"), [
    ({"from": [0, 1], "to": [8, 1], "tempo": [104, 1]}, [TODAY, 1, 104]),
    ({"from": [4, 1], "to": [8, 1], "tempo": [104, 1], "state": {"looping": True, "first": 8, "last": 15}}, [TODAY, 1, 0]),
    ({"from": [0, 1], "to": [8, 1], "tempo": [104, 1], "state": {"muted": True}}, [TODAY, 1, 0]),
    ({"from": [4, 1], "to": [8, 1], "tempo": [104, 1]}, [None, None, None]),
], ids=["the whole", "a part that is looped", "along with the backing alone", "from the middle, not looped"])
def test_what_a_pass_leaves_behind(scripts, at, kept):
    assert scripts.evaluate(PLAY, [tab_of(WEIR_RUN).data, at]) == kept


def test_a_page_that_stayed_behind_takes_nothing_from_another(scripts):
    """Two pages open with one lick: the slower best of the one must not overwrite the faster of the other."""
    kept = scripts.evaluate("data => {" + STORE + """
      const one = fifthpeg.tab(data, store);
      store.write("lick/weir-run", { best: 200, played: 7, day: "2026-11-26", full: 208, title: "Weir run" });
      one.state.best = 150;
      fifthpeg.tab.keep(one);
      return store.read("lick/weir-run"); }""", tab_of(WEIR_RUN).data)
    assert (kept["best"], kept["played"], kept["day"]) == (200, 7, "2026-11-26")
