"""Chains that fill a number of bars: counted by hand, and against trying every chain there is."""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from fifthpeg.analysis.fits import find_fits, lengths_that_fit
from fifthpeg.analysis.repairs import repairs_for
from fifthpeg.analysis.seams import seam
from fifthpeg.model.chain import differences
from fifthpeg.model.lick import Lick
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.analysis.neighbours import neighbours
from tests.written import lick

BAR = "T3 I2 M1 T5 M1 I2 T3 M1"
"""It may follow itself cleanly: T comes after M."""
ENDS_ON_THUMB = "T3 I2 M1 T5 M1 I2 M1 T5"


def of_bars(name: str, *bars: str, chord: str = "G", header: str = "") -> Lick:
    return lick(f"id: {name}\ntempo: 208\n{header}---\n[{chord}] {' | '.join(bars)}")


A, B, TWO = of_bars("a", BAR), of_bars("b", BAR), of_bars("two", BAR, BAR)
WITH_EXIT = of_bars("with-exit", BAR, BAR, header="exit: 1\n")


@pytest.mark.parametrize(("bars", "count"), [(1, 2), (2, 5), (3, 12), (4, 29), (5, 70), (6, 169)])
def test_two_one_bar_licks_and_a_two_bar_lick(bars, count):
    """w(n) = 2 w(n−1) + w(n−2), with w(0) = 1 and w(1) = 2."""
    assert find_fits([A, B, TWO], bars, "G").count == count


@pytest.mark.parametrize(("bars", "count"), [(1, 1), (2, 2), (3, 2), (6, 2)])
def test_one_lick_of_a_bar_and_an_exit(bars, count):
    """n times without its exit; n − 1 times, the last with its exit. One bar: only without."""
    assert find_fits([WITH_EXIT], bars, "G").count == count


@pytest.mark.parametrize("licks", [[A, B, TWO], [TWO], [WITH_EXIT], [of_bars("three", BAR, BAR, BAR), TWO], [of_bars("c", BAR, chord="C")]],
                         ids=["ones and a two", "twos", "with an exit", "twos and threes", "another chord"])
def test_the_lengths_that_work_are_those_that_have_a_chain(licks):
    assert lengths_that_fit(licks, "G", 8) == tuple(bars for bars in range(1, 9) if find_fits(licks, bars, "G").count)


def test_lengths_worked_by_hand():
    assert lengths_that_fit([TWO], "G", 8) == (2, 4, 6, 8)
    assert lengths_that_fit([of_bars("three", BAR, BAR, BAR), TWO], "G", 8) == (2, 3, 4, 5, 6, 7, 8)


def test_the_last_exit_is_kept_or_dropped_and_said():
    ways = {(fit.links, fit.exit_kept) for fit in find_fits([WITH_EXIT], 2, "G").best}
    assert ways == {(("with-exit",), True), (("with-exit", "with-exit"), False)}


def test_a_lick_without_exit_keeps_none():
    assert [fit.exit_kept for fit in find_fits([A], 1, "G").best] == [None]


def test_an_exit_over_another_chord_can_only_be_dropped():
    made = of_bars("a", BAR, "[C] " + BAR, header="exit: 1\n")
    assert [fit.exit_kept for fit in find_fits([made], 1, "G").best] == [False]
    assert find_fits([made], 2, "G").count == 1


def test_every_kept_bar_lies_under_the_chord():
    over_both = of_bars("both", BAR, "[C] " + BAR)
    changes_inside = of_bars("inside", "T3 I2 M1 T5 [C] M1 I2 T3 M1")
    begins_late = lick(f"id: late\n---\nT3 I2 M1 T5 [G] M1 I2 T3 M1 | {BAR}")
    for made in (over_both, changes_inside, begins_late):
        assert find_fits([made], len(made.bars), "G").count == 0
    assert find_fits([of_bars("carried", BAR, BAR)], 2, "G").count == 1


def test_a_chord_spelled_otherwise_is_the_same_chord():
    assert find_fits([of_bars("a", BAR, chord="A#")], 1, "Bb").count == 1
    assert find_fits([of_bars("a", BAR, chord="G7")], 1, "G").count == 0


def test_repeats_unfold():
    assert find_fits([of_bars("twice", f"|: {BAR} :|")], 2, "G").count == 1


def test_a_pick_up_is_no_bar_of_its_own():
    made = lick("id: a\ntempo: 208\npickup: 1\n---\n[G] T5 | M1 I2 T3 M1 T5 I2 M1 -")
    assert [fit.links for fit in find_fits([made], 2, "G").best] == [("a", "a")]


def test_a_lick_without_chords_is_named():
    plain = lick(f"id: plain\n---\n{BAR}")
    found = find_fits([A, plain], 1, "G")
    assert (found.without_chords, found.count) == (("plain",), 1)


def test_a_clash_that_nothing_repairs_is_never_offered():
    """Only the thumb reaches string 5, and after silence nothing is there to hold."""
    stubborn = of_bars("stubborn", "T5 - - - - . . T5")
    found = find_fits([stubborn], 2, "G")
    assert (found.count, found.best, found.nearest_lengths) == (0, (), (1,))


def test_clean_comes_before_repaired():
    fits = find_fits([of_bars("b", ENDS_ON_THUMB), A], 2, "G", most=4).best
    assert [(fit.links, fit.seams, fit.repairs) for fit in fits] == [
        (("a", "b"), ("clean",), (None,)), (("a", "a"), ("clean",), (None,)),
        (("b", "a"), ("repaired",), ("hold",)), (("b", "b"), ("repaired",), ("hold",))]


def test_the_nearest_lengths_are_named():
    found = find_fits([of_bars("three", BAR, BAR, BAR)], 4, "G")
    assert (found.count, found.nearest_lengths) == (0, (3, 6))
    assert find_fits([TWO], 1, "G").nearest_lengths == (2,)
    assert find_fits([], 4, "G").nearest_lengths == ()


def test_the_lick_before_counts_as_a_seam():
    before = of_bars("before", ENDS_ON_THUMB)
    begins_on_index = of_bars("z", "I2 M1 T3 I2 M1 T5 I2 M1")
    best = find_fits([A, begins_on_index], 1, "G", after=before).best
    assert [(fit.links, fit.before) for fit in best] == [(("z",), "clean"), (("a",), "repaired")]
    assert best[1].before_repair is not None


def test_a_lick_meant_to_follow_the_chord_comes_first():
    meant, another = replace(A, id="z", after="D7"), replace(A, id="y", after="C")
    fits = find_fits([A, another, meant], 1, "G", after="D7").best
    assert [fit.links for fit in fits] == [("z",), ("a",), ("y",)]


def test_the_same_for_the_lick_itself_and_for_the_chord_it_ends_over():
    run = of_bars("run", BAR, chord="D7")
    for after in ("run", "D7"):
        fits = find_fits([A, replace(A, id="z", after=after)], 1, "G", after=run).best
        assert [fit.links for fit in fits] == [("z",), ("a",)]


def test_no_needless_repetition_and_other_licks_in_each_further_fit():
    licks = [replace(A, id=name) for name in "abcd"]
    fits = find_fits(licks, 2, "G", most=4).best
    assert [fit.links for fit in fits] == [("a", "b"), ("c", "d"), ("a", "c"), ("b", "d")]


def test_a_chain_goes_at_the_tempo_of_its_first_link():
    """At 100 the thumb's repeat is tight, at 208 a clash: either way it has to be repaired; a quarter apart it is
    clean at 208 and tight at 330."""
    fast = replace(of_bars("fast", "T3 I2 M1 T5 M1 I2 T3 -"), tempo=Fraction(330))
    slow = replace(of_bars("slow", BAR), tempo=Fraction(100))
    seams = {fit.links: fit.seams for fit in find_fits([fast, slow], 2, "G", most=9).best}
    assert seams["fast", "slow"] == ("repaired",)
    assert find_fits([fast, slow], 2, "G", tempo=Fraction(100), most=9).best[0].seams == ("clean",)
    assert {fit.seams for fit in find_fits([fast, slow], 2, "G", tempo=Fraction(100), most=9).best} == {("clean",)}


def test_licks_of_another_tuning_do_not_mix():
    assert find_fits([A, replace(B, capo=2)], 2, "G").count == 2


@pytest.mark.parametrize(("bars", "most"), [(0, 5), (65, 5), (4, 0), (4, 65)])
def test_numbers_out_of_reach_are_refused(bars, most):
    with pytest.raises(ValueError, match=r"between 1 and 64"):
        find_fits([A], bars, "G", most=most)


def test_sixteen_bars_of_many_licks_are_counted_exactly():
    """w(16) of w(n) = 40 w(n−1): all one bar long, all seams clean."""
    assert find_fits([replace(A, id=f"a{number}") for number in range(40)], 16, "G").count == 40**16


@st.composite
def libraries(draw) -> list[Lick]:
    made = draw(st.lists(neighbours(), min_size=1, max_size=3))
    chords = [draw(st.sampled_from((((0, "G"),),) * 5 + (((0, "C"),),))) for _ in made]
    quick = draw(st.sampled_from((Fraction(200), None)))
    return [replace(each, id=f"l{number}", tempo=quick or each.tempo, after=draw(st.sampled_from(("", "D7", "C"))),
                    bars=tuple(replace(bar, chords=chord) for bar in each.bars))
            for number, (each, chord) in enumerate(zip(made, chords, strict=True))]


@settings(max_examples=100)
@given(libraries(), st.integers(1, 4), st.sampled_from((None, "D7")))
def test_fits_are_those_of_trying_everything(licks, bars, after):
    found = find_fits(licks, bars, "G", after=after, most=6)
    every = list(all_chains({each.id: each for each in licks}, bars, after))
    assert found.count == len(every)
    shown: dict[str, int] = {}
    for fit in found.best:
        best = min(every, key=lambda chain: order(chain, shown))
        assert (fit.links, fit.exit_kept, fit.seams) == best[1:4]
        every.remove(best)
        for link in fit.links:
            shown[link] = shown.get(link, 0) + 1
    assert len(found.best) == min(6, found.count)


@settings(max_examples=60)
@given(libraries(), st.integers(2, 3))
def test_the_repair_of_a_seam_is_the_first_offered(licks, bars):
    by_id = {each.id: each for each in licks}
    for fit in find_fits(licks, bars, "G").best:
        first = by_id[fit.links[0]]
        for (one, other), word, name in zip(pairwise(fit.links), fit.seams, fit.repairs, strict=True):
            offers = repairs_for(by_id[one], by_id[other], first.tempo, first.bounce)
            assert name == (offers[0].name if word == "repaired" else None)


def all_chains(licks: dict[str, Lick], bars: int, after: str | None, path: tuple[str, ...] = ()):
    """(cost, links, exit kept, seams) of every chain, built link by link from the rule alone."""
    for name in licks:
        links = (*path, name)
        body, full = lengths(licks[name])
        seams = words(licks, links)
        if not body or "clash" in seams or "never" in seams:
            continue
        kept = sum(lengths(licks[link])[0] for link in path)
        has_exit = licks[name].exit_bars > 0
        if kept + body == bars:
            yield cost(licks, links, seams, after, has_exit), links, False if has_exit else None, seams
        if full and kept + full == bars:
            yield cost(licks, links, seams, after, False), links, True, seams
        if kept + body < bars:
            yield from all_chains(licks, bars, after, links)


def lengths(made: Lick) -> tuple[int, int]:
    """Bars played without the exit, and with it; 0 where they are not all under G."""
    if made.bars[-1].chords[0][1] != "G":
        return 0, 0
    played, start = 0, 1
    passes = []
    for bar in made.bars:
        if bar.number == 0:
            continue
        passes.append(bar.number)
        if bar.repeat_times:
            passes += list(range(start, bar.number + 1)) * (bar.repeat_times - 1)
            start = bar.number + 1
    first_exit = made.bars[-1].number - made.exit_bars + 1
    played = passes.index(first_exit) if made.exit_bars else len(passes)
    return played, len(passes) if made.exit_bars else 0


def words(licks: dict[str, Lick], links: tuple[str, ...]) -> tuple[str, ...]:
    first = licks[links[0]]
    return tuple(word(licks[one], licks[other], first) for one, other in pairwise(links))


def word(before: Lick, after: Lick, first: Lick) -> str:
    found = seam(before, after, first.tempo, first.bounce)
    if differences(before, after) or not found.has_room:
        return "never"
    if found.verdict == "clean":
        return "clean"
    return "repaired" if repairs_for(before, after, first.tempo, first.bounce) else found.verdict


def cost(licks: dict[str, Lick], links, seams, after, dropped: bool) -> tuple[int, ...]:
    wants = licks[links[0]].after
    suits = 0 if after is None or wants == after else 1 if not wants else 2
    adjacent = sum(one == other for one, other in pairwise(links))
    returns = sum(one == other for one, other in zip(links, links[2:], strict=False))
    return seams.count("tight"), seams.count("repaired"), suits, adjacent, returns, len(links), int(dropped)


def order(chain, shown: dict[str, int]):
    spent, links = chain[:2]
    return spent, [(shown.get(link, 0) + links[:at].count(link), link) for at, link in enumerate(links)]
