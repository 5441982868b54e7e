"""The answer to a fit block, and what is shown of a lesson's front matter."""

import pytest

from fifthpeg.model.chain import FitRequest
from fifthpeg.model.findings import CLEAN, REPAIRED, Fit, Fits
from fifthpeg.pages.edition import ShownFit
from fifthpeg.pages.lesson import Lesson, lesson_head, techniques_markdown, with_lesson_head
from fifthpeg.pages.spots import Spots
from tests.pages.made import tab
from tests.pages.test_pages import NASTY, parsed
from tests.written import lick

WEIR = lick("id: weir\ntitle: Weir run\n---\nT3 I2 M1 T5 I2 M1 T3 M1")
TITLES = {"weir": "Weir run", "b": "Beta", "c": f"Gamma {NASTY}", "d": "Delta"}
SPOT = ("p.md", 1)


def shown(fits: Fits, bars: int = 6, after=None, ids=None) -> str:
    tabs = tuple(tab("title: Chain") for _ in fits.best)
    answer = ShownFit(FitRequest(bars, "G", after), fits, tabs)
    urls = {lick_id: f"licks/{lick_id}/" for lick_id in TITLES}
    return Spots({}, {}, urls, {SPOT: answer}, TITLES).content(SPOT, "lessons/one/", set() if ids is None else ids)


def says(html: str) -> str:
    return "".join(parsed(html).find(".//p").itertext())


BEST = (Fit(("b", "c"), True, (CLEAN,), (None,)), Fit(("c", "b"), False, (REPAIRED,), ("hold",)))


def test_it_says_what_was_asked_how_many_there_are_and_how_many_are_shown():
    said = says(shown(Fits(BEST, 37), after=WEIR))
    assert said == "Six bars of G after Weir run: 37 chains fill them; the best two:"


@pytest.mark.parametrize("fits, bars, said", [
    (Fits(BEST, 2), 6, "Six bars of G: two chains fill them."),
    (Fits(BEST[:1], 1), 1, "One bar of G: one chain fills it."),
    (Fits((), 0), 6, "Six bars of G: no chain of licks fills them without a clash.")])
def test_it_counts_in_words(fits, bars, said):
    assert says(shown(fits, bars)) == said


def test_only_the_first_chain_is_open_and_each_says_what_it_is():
    folds = [fold for fold in parsed(shown(Fits(BEST, 2))).iter("details") if "fp-fit-chain" in fold.get("class")]
    assert ["open" in fold.attrib for fold in folds] == [True, False]
    assert [fold.find("summary").text.rsplit(": ", 1)[1] for fold in folds] == ["clean", "clean once mended"]


def test_it_says_what_becomes_of_the_exit():
    html = shown(Fits(BEST, 2))
    assert "keeps its exit" in html and "falls away" in html


def test_the_seam_with_the_lick_before_is_said():
    best = (Fit(("b",), None, before=REPAIRED, before_repair="hold"),)
    assert "into <a" in shown(Fits(best, 1), after=WEIR) and "<code>hold</code>" in shown(Fits(best, 1), after=WEIR)


def test_nearest_lengths_are_offered_where_there_is_no_chain():
    assert "nearest lengths that can be filled: five and eight bars" in shown(Fits((), 0, nearest_lengths=(5, 8)))


def test_licks_without_chords_are_named_with_what_to_do():
    html = shown(Fits((), 0, without_chords=("b", "d")))
    assert "2 licks don't say" in html and '<a href="../../licks/d/">Delta</a>' in html and "[G]" in html


def test_no_id_stands_twice_however_often_chains_are_shown():
    ids: set[str] = set()
    html = shown(Fits(BEST, 2), ids=ids) + shown(Fits(BEST, 2), ids=ids)
    found = [element.get("id") for element in parsed(html).iter() if element.get("id")]
    assert len(found) == len(set(found)) and len(ids) == 4


META = {"level": 2, "needs": ["03-x.md"], "summary": "Two *bars*.", "techniques": ["pull-off"]}


def test_a_lesson_s_head_says_level_needs_and_techniques():
    head = lesson_head(META, "lessons/06-tag.md", {"lessons/03-x.md": "Pinches"}.get)
    assert "- **Level:** 2 of 3" in head and "[Pinches](03-x.md)" in head
    assert "[pull&#45;off](../techniques.md#technique.pull-off)" in head and "Two &#42;bars&#42;" in head


def test_a_lesson_that_says_nothing_has_no_head():
    assert lesson_head({"title": "x", "needs": []}, "a.md", lambda _: None) == ""


def test_a_head_stands_under_the_title_and_never_in_a_block():
    assert with_lesson_head("# One\n\ntext", "HEAD\n\n") == "# One\n\nHEAD\n\n\ntext"
    assert with_lesson_head("```\n# no title\n```", "HEAD\n\n").startswith("HEAD")
    assert with_lesson_head("# One", "") == "# One"


def test_techniques_are_listed_with_the_easiest_lesson_first():
    lessons = [Lesson("b.md", "Hard", 3, "", ("Pull-off",)), Lesson("a.md", "Easy", 1, "Why.", ("pull off", "pinch"))]
    said = techniques_markdown(lessons)
    assert said.index("Pinch") < said.index('id="technique.pull-off"') and said.count("## ") == 2
    assert said.rindex("[Easy](a.md), level 1: Why&#46;") < said.index("[Hard](b.md), level 3")
