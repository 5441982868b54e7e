"""One build's tabs, fits, contexts and repaired endings, with the real pipeline behind them."""

from dataclasses import replace

import pytest

from fifthpeg import companions, pipeline
from fifthpeg.compiled import Options
from fifthpeg.model.chain import FitRequest
from fifthpeg.pages.answers import Answers
from fifthpeg.pages.edition import Makers, edition
from fifthpeg.pages.publish import Stock
from tests.written import lick

SLUICE = "id: sluice\ntitle: Sluice\nrole: tag\nexit: 1\nafter: weir\ntempo: 208\n---\n[G] I2+M1 - T3 I2 M1 T5 I2 M1 | T3 - - - T4 - - -"
WEIR = "id: weir\ntitle: Weir\nafter: G\ntempo: 208\n---\n[D7] M1:4 I2:3 T3:2 M1 T4 I3:2 M1 -"
OPTIONS = Options()


def makers(compiled: list[str]) -> Makers:
    def compile_lick(made, stem):
        compiled.append(stem)
        return pipeline.compile_lick(made, stem, OPTIONS)

    return Makers(
        compile_lick, lambda licks: pipeline.neighbours(licks, OPTIONS),
        lambda request, licks: pipeline.find_fits(request, licks, OPTIONS),
        lambda request, fits, licks: companions.fit_licks(request, fits, licks, OPTIONS),
        lambda made, before: companions.in_context(made, before, OPTIONS),
        lambda made: companions.mended_seams(made, OPTIONS),
        lambda licks: pipeline.fillings(licks, OPTIONS),
        lambda filling, licks: companions.chord_vamp(filling, licks, OPTIONS))


def build(folder, compiled):
    licks = [lick(text) for text in (SLUICE, WEIR)]
    by_spot = {("page.md", line): made for line, made in enumerate(licks)}
    requests = {("page.md", 9): FitRequest(2, "G", licks[1])}
    return edition(by_spot, {made.id: made for made in licks}, requests, Stock(folder, "salt", "bank"),
                   Answers(folder, "salt"), makers(compiled))


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    folder, compiled = tmp_path_factory.mktemp("shelf"), []
    return build(folder, compiled), folder, compiled


def test_a_fit_comes_with_its_chains_drawn_and_heard(built):
    shown = built[0].fits["page.md", 9]
    assert [fit.links for fit in shown.fits.best] == [("sluice",), ("sluice", "sluice")][:len(shown.fits.best)]
    assert len(shown.tabs) == len(shown.fits.best) > 0
    assert all((tab.entry / "tab-full.wav").read_bytes()[:4] == b"RIFF" for tab in shown.tabs)


def test_a_lick_has_its_context_after_a_lick_and_after_a_chord(built):
    contexts = built[0].contexts
    assert contexts["sluice"].lick.links[0].id == "weir" and contexts["weir"].lick.links[0].id == ""
    assert {tab.address.folder.split("/")[1] for tab in contexts.values()} == {"blocks"}


def test_a_loop_that_can_be_mended_shows_its_mended_bar(built):
    endings = {tab.lick.id: tab.ending for tab in built[0].library}
    assert endings["weir"] is None and endings["sluice"].inline.count("<svg") == 1
    (bar,) = endings["sluice"].words
    assert bar.startswith("Bar 1.") and endings["sluice"].title.startswith("Hold")


def test_a_second_build_compiles_nothing(built):
    _, folder, compiled = built
    assert compiled
    again: list[str] = []
    assert replace(build(folder, again), neighbours=built[0].neighbours) == built[0] and again == []
