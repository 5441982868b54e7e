"""Every number on the lesson about seams: worked out here, or counted the slow way, and then looked for on the page."""

import re
from fractions import Fraction
from functools import cache
from html import unescape
from pathlib import Path

import pytest

from fifthpeg.analysis.chain import link_up
from fifthpeg.analysis.repairs import repairs_for
from fifthpeg.analysis.seams import seam
from fifthpeg.model.chain import differences
from fifthpeg.model.lick import Lick
from fifthpeg.model.play_order import unfold
from fifthpeg.reading.fences import find_fences
from fifthpeg.reading.library import read_library

ROOT = Path(__file__).parents[1]
LESSON = "content/lessons/08-two-tags-in-a-row.md"
TEMPO = 208
FAULT_PER_SECOND = 6.5
"""The default limit: an estimate from finger tapping, see model/hands."""
SECONDS_BETWEEN_EIGHTHS = 60 / TEMPO / 2


@pytest.fixture(scope="module")
def library():
    pages = sorted((ROOT / "content").rglob("*.md"))
    blocks = [block for page in pages
              for block in find_fences(page.read_text(encoding="utf-8"), page.relative_to(ROOT).as_posix()).blocks]
    return read_library(blocks, link_up=link_up)


@pytest.fixture(scope="module")
def page(site):
    """The words of the lesson as built."""
    written = (site / "lessons/08-two-tags-in-a-row/index.html").read_text(encoding="utf-8")
    html = re.sub(r"<(svg|script).*?</\1>", "", written, flags=re.DOTALL)
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", "", html)))


def test_eighths_come_about_seven_to_the_second(page):
    assert round(1 / SECONDS_BETWEEN_EIGHTHS) == 7
    assert "the eighths come about seven to the second" in page


def test_the_limit_is_met_at_195(page):
    """Eighths at tempo t come t / 30 to the second."""
    assert FAULT_PER_SECOND * 30 == 195
    assert "a fault above 195 beats a minute" in page


@pytest.mark.parametrize(("before_id", "after_id", "repair"), [
    ("sluice-tag", "tailrace-tag", "hold"), ("sluice-tag", "tailrace-tag", "single"),
    ("tailrace-tag", "sluice-tag", "thumb")])
def test_the_seams_clash_by_the_middle_finger_and_are_mended_as_told(library, before_id, after_id, repair):
    before, after = library.licks[before_id], library.licks[after_id]
    found = seam(before, after)
    assert (found.verdict, found.fingers, found.clashes_above) == ("clash", ("M",), 195)
    assert found.per_second == pytest.approx(1 / SECONDS_BETWEEN_EIGHTHS)
    assert repair in [offer.name for offer in repairs_for(before, after)]


def test_the_run_into_either_tag_looks_after_itself(library):
    assert {seam(library.licks["weir-run"], library.licks[tag]).verdict
            for tag in ("sluice-tag", "tailrace-tag")} == {"clean"}


@pytest.mark.parametrize(("chain_id", "bars", "of_g"), [
    ("sluice-then-tailrace", 5, 4), ("tailrace-then-sluice", 5, 4), ("weir-sluice-tailrace", 7, 4),
    ("weir-tailrace-sluice", 7, 4)])
def test_two_tags_make_four_bars_and_a_way_out(library, page, chain_id, bars, of_g):
    chain = library.licks[chain_id]
    assert (len(chain.bars), chain.exit_bars) == (bars, 1)
    assert chords_of(chain)[:-1].count("G") == of_g
    assert "Two bars of D7, four of G and the way out." in page


def test_the_unmended_seam_says_where_it_clashes(page):
    assert "The middle finger picks again here: a clash, as at any tempo above 195 beats a minute." in page


def test_the_number_of_fits_is_that_of_trying_every_row(library, page):
    """Rows of tags after the Weir run whose kept bars lie under G, six in all, the last exit kept or dropped, no clash
    left."""
    tags = {lick_id: lick for lick_id, lick in library.licks.items() if lick.role == "tag"}
    weir = library.licks["weir-run"]
    begin = [lick_id for lick_id, lick in tags.items() if joins(weir, lick, lick.tempo, lick.bounce)]
    found = [row for first in begin for row in rows(tags, (first,), 6)]
    assert f"{len(found)} chains fill them; the best three:" in page
    assert "Six bars of G after Weir run" in page


def rows(tags: dict[str, Lick], path: tuple[str, ...], bars: int):
    """One entry for each way the row can end in so many bars, exit kept or dropped."""
    before = sum(len(body(tags[link])) for link in path[:-1])
    last = tags[path[-1]]
    kept = body(last)
    if not kept or set(kept) != {"G"}:
        return
    if before + len(kept) == bars:
        yield path
    if last.exit_bars and set(played(last)) == {"G"} and before + len(played(last)) == bars:
        yield path
    if before + len(kept) < bars:
        first = tags[path[0]]
        for following in tags:
            if joins(last, tags[following], first.tempo, first.bounce):
                yield from rows(tags, (*path, following), bars)


@cache
def joins(before: Lick, after: Lick, tempo: Fraction, bounce: int) -> bool:
    """In one chain, and no clash that nothing repairs."""
    found = seam(before, after, tempo, bounce)
    if differences(before, after) or not found.has_room:
        return False
    return found.verdict != "clash" or bool(repairs_for(before, after, tempo, bounce))


def body(lick: Lick) -> list[str | None]:
    """The chord over each kept bar as played; a bar with two counts as neither."""
    return played(lick)[:len(played(lick)) - lick.exit_bars]


def played(lick: Lick) -> list[str | None]:
    chords = dict(zip([bar.number for bar in lick.bars], chords_of(lick), strict=True))
    return [chords[lick.bars[index].number] for index, _ in unfold(lick) if lick.bars[index].number]


def chords_of(lick: Lick) -> list[str | None]:
    in_force, found = None, []
    for bar in lick.bars:
        named = {name for _, name in bar.chords}
        if in_force and (not bar.chords or bar.chords[0][0]):
            named.add(in_force)
        in_force = bar.chords[-1][1] if bar.chords else in_force
        found.append(named.pop() if len(named) == 1 else None)
    return found
