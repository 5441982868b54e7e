"""Pictures of sounds: SVG that stands in any page, in its ink, the same every time."""

import io
import re
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image

from fifthpeg.exports.sound_pictures import HIGHEST_HZ, Sound, chart, portraits

RATE_HZ = 22_050
TONE_HZ, LOW_HZ = 3000.0, 600.0
LINES = {"String 1": [(0, 0.01), (1, -0.02)], "String 2": [(0, 0.03), (1, 0.0)]}


def dying(hz: float) -> np.ndarray:
    time = np.arange(RATE_HZ) / RATE_HZ
    return np.sin(2 * np.pi * hz * time) * np.exp(-8 * time)


@pytest.fixture(scope="module")
def pictures() -> list[str]:
    return [chart("pitch", "cents", LINES), portraits("one", [Sound("A", dying(TONE_HZ), RATE_HZ), Sound("B", dying(LOW_HZ), RATE_HZ)])]


def test_the_same_sounds_give_the_same_text(pictures):
    again = [chart("pitch", "cents", LINES), portraits("one", [Sound("A", dying(TONE_HZ), RATE_HZ), Sound("B", dying(LOW_HZ), RATE_HZ)])]
    assert pictures == again


def test_ink_is_the_page_s_own_and_words_are_text(pictures):
    for drawn in pictures:
        root = ElementTree.fromstring(drawn)
        assert "currentColor" in drawn and "#000000" not in drawn and "#010203" not in drawn
        assert "<style" not in drawn and "font-family" not in drawn
        assert [text.text for text in root.iter("{http://www.w3.org/2000/svg}text")]


def test_two_pictures_of_a_page_have_no_name_in_common(pictures):
    ids = [name for drawn in (*pictures, portraits("two", [Sound("A", dying(TONE_HZ), RATE_HZ)])) for name in re.findall(r'\bid="([^"]+)"', drawn)]
    assert ids and len(ids) == len(set(ids))


@pytest.mark.parametrize("index, hz", [(0, TONE_HZ), (1, LOW_HZ)])
def test_a_tone_is_bright_at_its_own_height(chromium, pictures, index, hz):
    """The brightest row of a spectrogram as a browser shows it, from the bottom up, against the frequency put in."""
    page = chromium.new_page()
    page.set_content(f"<div style='width:1400px'>{pictures[1]}</div>")
    box = page.locator("image").nth(index).bounding_box()
    shown = Image.open(io.BytesIO(page.screenshot(clip=box, full_page=True))).convert("L")
    page.close()
    rows = np.asarray(shown).mean(axis=1)
    assert (1 - np.argmax(rows) / len(rows)) * HIGHEST_HZ == pytest.approx(hz, abs=150)


def test_a_chart_gives_small_differences_no_more_room_than_they_are_worth():
    """The two lines lie 0.05 apart: on an axis of a hundred they meet in the drawing, on one of their own they don't."""
    def heights(drawn: str) -> list[float]:
        return [float(y) for y in re.findall(r'<use [^>]*y="([\d.]+)"', drawn)]
    narrow, wide = chart("a", "x", LINES), chart("a", "x", LINES, least_span=100)
    assert narrow != wide and len(heights(wide)) > 4
