"""The page to tune by, as HTML and in the site."""

from html import unescape

import html5lib
import pytest

from fifthpeg.model.tuner import tuner_sections
from fifthpeg.pages.nav import expand_nav
from fifthpeg.pages.tuner import tuner_markdown
from tests.sites import ONE_LICK, Built, build_pages
from tests.written import lick

CAPO = ONE_LICK + "\n```tab\ntuning: sawmill\ncapo: 2\ntitle: Sawmill, in A\n---\nT3 I2 M1 T5 T3 I2 M1 T5\n```\n"
NAV = [{"Home": "index.md"}, {"The licks": "licks/index.md"}]


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Built:
    return build_pages(tmp_path_factory.mktemp("course"), {"index.md": CAPO}, strict=True, nav=NAV)


def test_every_string_stands_there_steady_and_plucked_as_a_recording_that_loops(site):
    root = html5lib.parse(site.text("tuner/index.html"), namespaceHTMLElements=False)
    sounds = [audio for audio in root.iter("audio")]
    assert len(sounds) == 2 * 5 * 2
    assert all("loop" in audio.attrib and "controls" in audio.attrib and audio.get("preload") == "none" for audio in sounds)
    assert "String 3, G3, 196.0 Hz" in [audio.get("aria-label") for audio in sounds]
    assert [audio.get("src") for audio in sounds if not (site.site / "tuner" / audio.get("src")).is_file()] == []


def test_names_tell_all_strings_of_a_tuning_apart(site):
    root = html5lib.parse(site.text("tuner/index.html"), namespaceHTMLElements=False)
    for tuner in (element for element in root.iter("div") if element.get("class") == "fp-tuner"):
        names = [audio.get("aria-label") for audio in tuner.iter("audio")]
        assert len(names) == len(set(names)) == 10


def test_the_capo_the_short_string_and_the_ears_are_spoken_of(site):
    page = unescape(site.text("tuner/index.html"))
    assert "With the capo at fret 2 and the short string at fret 7, as in <em>Sawmill, in A</em>," in page
    assert "A4 E3 A3 D4 E4" in page
    assert "sits at the fifth fret" in page and "Turn the volume down" in page and "audiologist" in page


def test_the_page_lies_beside_the_catalogue(site):
    assert "../tuner/" in site.text("licks/index.html").split("<article")[0]


def test_a_place_of_its_own_in_the_navigation_is_enough():
    nav = ["licks/index.md", {"Tune up": "tuner.md"}]
    assert expand_nav(nav, [], tools={"tuner.md": "Tuner"}) == [{"Licks": ["licks/index.md"]}, {"Tune up": "tuner.md"}]
    assert expand_nav(nav[:1], [], tools={"tuner.md": "Tuner"}) == [{"Licks": ["licks/index.md", {"Tuner": "tuner.md"}]}]


def test_equal_pitches_share_one_file_and_a_second_build_makes_none(site, tmp_path):
    files = {path.name for path in (site.site / "media/tuner").rglob("*.wav")}
    assert files == {f"tone-{midi}.wav" for midi in (50, 55, 59, 60, 62, 67)} | {
        f"pluck-{name}.wav" for name in ("1-62", "2-59", "2-60", "3-55", "4-50", "5-67")}


def test_a_title_is_text_and_never_markup():
    page = tuner_markdown(tuner_sections([lick("capo: 1\ntitle: <b>*x*\n---\nT3 - - - - - - -")]), "media/tuner/k/", 22_050, True)
    assert "<b>" not in page and "*x*" not in page
