"""The drawing in a browser: how bars wrap, how small they get, and whether words are as wide as was reckoned."""

from dataclasses import replace
from pathlib import Path

import pytest
from fifthpeg.engraving.draw import draw
from fifthpeg.engraving.lettering import width_of
from fifthpeg.engraving.proportions import LINE_CUT
from fifthpeg.model.findings import CLASH
from fifthpeg.model.left_hand import LeftHand, Position
from tests.engraving.adorned import suggested
from tests.engraving.chained import SLUICE_TAG, WEIR_RUN, row, seams
from tests.written import lick

STYLE = (Path(__file__).parents[2] / "plugins" / "fifthpeg" / "assets" / "tab.css").read_text(encoding="utf-8")
THEME = ".md-typeset svg{max-width:100%;height:auto}"
"""What the theme does to any drawing in a text (Material for MkDocs 9)."""
LICKS = ("[G] T3 I2 M1 T5 I2 M1 T3 M1 | [D7] M1:4=4 I2:3 T3:2 M1 T4 I3:2 M1 T4 |"
         "[Am7] 3:2s4=2 2:10b1 - r - . 1:12c 3:x",
         "grid: 16\n---\n" + "3:12 2:10 1:12 5:12 " * 4 + "| " + "T3 I2 M1 T5 " * 4)
CHAIN = row(replace(WEIR_RUN, title="Weir run, the long way round by the mill"), SLUICE_TAG)
CHAIN_FOUND = replace(seams(CHAIN, [CLASH]), left=LeftHand({}, (Position(1, 2, 12), Position(2, 1, 5)), ()))
PAGE_PX = (320, 1280)
LEAST_FRET_PX = 11


@pytest.fixture(params=PAGE_PX)
def page(request, chromium):
    shown = [*((tab, None) for tab in map(lick, LICKS)), (CHAIN, CHAIN_FOUND)]
    inside = (draw(tab, suggested(tab), "", found).inline for tab, found in shown)
    tabs = "".join(f'<div class="fp-drawing" role="img" aria-label="t">{bars}</div>' for bars in inside)
    page = chromium.new_page(viewport={"width": request.param, "height": 800})
    page.set_content(f"<style>{THEME}{STYLE} body{{margin:16px}}</style><div class='md-typeset'>{tabs}</div>")
    yield page
    page.close()


def bars(page) -> list[dict]:
    return page.evaluate("""[...document.querySelectorAll('.fp-bar')].map(bar => {
        const box = bar.getBoundingClientRect();
        return {top: box.top, left: box.left, right: box.right, scale: box.width / bar.viewBox.baseVal.width,
                upright: box.height / bar.viewBox.baseVal.height};
    })""")


def test_the_page_never_scrolls_sideways(page):
    """WCAG 2.2, 1.4.10 Reflow: 320 CSS px."""
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_numbers_stay_large_enough_to_read(page):
    sizes = page.evaluate("""[...document.querySelectorAll('.fp-note > text:not(.fp-left)')].map(text => {
        const bar = text.ownerSVGElement;
        const scale = bar.getBoundingClientRect().width / bar.viewBox.baseVal.width;
        return parseFloat(getComputedStyle(text).fontSize) * scale;
    })""")
    assert min(sizes) >= LEAST_FRET_PX


def test_digits_are_never_stretched(page):
    for bar in bars(page):
        assert bar["scale"] == pytest.approx(bar["upright"], rel=0.01)


def test_bars_of_a_row_share_a_scale_and_touch(page):
    drawn = bars(page)
    for left, right in zip(drawn, drawn[1:], strict=False):
        if left["top"] == right["top"]:
            assert left["scale"] == pytest.approx(right["scale"], rel=0.01)
            assert right["left"] == pytest.approx(left["right"], abs=0.1)


def test_words_are_no_wider_than_reckoned(page):
    """As Chromium measures them in this machine's own sans-serif."""
    measured = page.evaluate("""[...document.querySelectorAll('.fp-bar text')].map(text =>
        [text.textContent, parseFloat(getComputedStyle(text).fontSize), text.getComputedTextLength()])""")
    assert {"Sluice tag", "twelfth position"} <= {words for words, _, _ in measured}
    for words, size, width in measured:
        assert width <= width_of(words, size) + 2 * LINE_CUT, words
