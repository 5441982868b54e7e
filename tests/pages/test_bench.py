"""What the chain bench reads: the verdicts of the build, told once, and the notes of each lick."""

import json
from dataclasses import replace

import pytest

from fifthpeg import pipeline
from fifthpeg.compiled import Filler, Filling, Neighbours, Options
from fifthpeg.pages import hands_words
from fifthpeg.pages.bench import bench_markdown
from fifthpeg.pages.bench_files import bench_files
from fifthpeg.pages.generated import generated_files, generated_pages
from tests.pages.made import published
from tests.written import lick

HOSTILE = "</script><b>*x*"
EMPTY_DATA = json.dumps({"exit": None, "quarters": [4, 1], "notes": []})
LICKS = [lick(f"id: run\ntitle: {HOSTILE}\ntempo: 208\n---\n[G] T3 I2 M1 T5 I2 M1 T3 M1"),
         lick("id: tag\ntempo: 208\nexit: 1\n---\n[G] M1 I2 T3 M1 T4 I3 T4 I2 | T3 - - - - - - -")]
TABS = [replace(published(one), player=EMPTY_DATA) for one in LICKS]


def brought(script: str) -> list:
    """The values a script hands over."""
    before, _, rest = script.partition("(")
    assert before.startswith("fifthpeg.bench.") and rest.endswith(");\n")
    return json.loads(f"[{rest[:-3]}]")


@pytest.fixture(scope="module")
def neighbours() -> Neighbours:
    return pipeline.neighbours(LICKS, Options())


@pytest.fixture(scope="module")
def library(neighbours) -> dict:
    (found,) = brought(bench_files(TABS, neighbours)["media/bench/library.js"])
    return found


def test_every_verdict_and_every_sentence_is_the_build_s_own(library, neighbours):
    for place, before in enumerate(LICKS):
        for other, after in enumerate(LICKS):
            join = neighbours.join(before.id, after.id)
            assert {"0": "clean", "1": "tight", "2": "clash"}[library["rows"][place][other]] == join.verdict
            said = [library["says"][at] for at in library["seams"][place].get(str(other), [])]
            assert said == ([] if join.verdict == "clean" else
                            [hands_words.sentence(hands_words.join(join)), *hands_words.offers(join)])


def test_a_sentence_is_written_once(library):
    assert len(library["says"]) == len(set(library["says"]))


def test_a_lick_is_told_by_its_bars_with_the_exit_and_without(library):
    assert library["licks"][1] == ["tag", "Tag", "lick", "G", [], 1, 2, "208 beats a minute", 208.0]


def test_what_fills_a_chord_s_time_is_told_by_place(neighbours):
    filling = Filling("G", (1, 2), (Filler("tag", 1, 2),))
    files = bench_files(TABS, neighbours, [(filling, TABS[0])])
    assert brought(files["media/bench/library.js"])[0]["fillings"] == [["G", [1, 2], {"1": [1, 2]}]]
    assert brought(files["media/bench/vamps/0.js"])[0] == "vamps/0"


def test_scripts_hold_text_and_no_markup_of_a_title(neighbours):
    """A script file can't be ended by a title; its words are data."""
    for script in bench_files(TABS, neighbours).values():
        brought(script)
    assert HOSTILE not in bench_markdown("media/bank/abc/", True)


def test_a_library_too_large_to_say_all_says_the_verdicts_alone(neighbours):
    silent = replace(neighbours, joins={})
    (found,) = brought(bench_files(TABS, silent)["media/bench/library.js"])
    assert found["seams"] is None and "2" in "".join(found["rows"])


def test_there_is_a_bench_where_neighbours_are_known_and_none_elsewhere(neighbours):
    assert "bench.md" in generated_pages(TABS, {}, True, neighbours)
    assert "bench.md" not in generated_pages(TABS, {}, True)
    assert not [name for name in generated_files(TABS, {}, True) if "bench" in name]


def test_the_page_finds_its_files_with_either_kind_of_address():
    assert 'data-fp-lick="../licks/*/" data-fp-bench="../media/bench/" data-fp-bank="../media/bank/abc/"' in bench_markdown("media/bank/abc/", True)
    assert 'data-fp-lick="licks/*.html" data-fp-bench="media/bench/"' in bench_markdown("media/bank/abc/", False)
