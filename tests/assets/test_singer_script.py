"""A number of bars dealt, and a chain held against it; the chain kept in an address."""

import pytest

ANSWER = """([wanted, chain]) => fifthpeg.singer.judge(wanted,
  { chord: "G", bars: new Map([["run", [2, null]], ["tag", [2, 3]], ["leaver", [1, null]]]) }, chain, (id) => id.toUpperCase())"""


def chain(*ids: str, keeps_exit: bool = True, has_exit: bool = False, verdicts: tuple[str, ...] = ()) -> dict:
    return {"ids": list(ids), "keepsExit": keeps_exit, "hasExit": has_exit,
            "verdicts": list(verdicts or ["clean"] * (len(ids) - 1))}


@pytest.mark.parametrize(("wanted", "answer", "fits", "clean", "says"), [
    (4, chain(), False, False, "Nothing is on the bench yet: 4 bars to fill."),
    (1, chain(), False, False, "Nothing is on the bench yet: 1 bar to fill."),
    (4, chain("run"), False, False, "2 of 4 bars so far."),
    (4, chain("run", "run"), True, True, "It fills the 4 bars over G, and every seam is clean."),
    (5, chain("run", "tag", has_exit=True), True, True, "It fills the 5 bars over G, and every seam is clean."),
    (4, chain("run", "tag", has_exit=True, keeps_exit=False), True, True, "It fills the 4 bars over G, and every seam is clean."),
    (4, chain("tag", "run"), True, True, "It fills the 4 bars over G, and every seam is clean."),
    (3, chain("run", "run"), False, False, "4 bars, 1 too many."),
    (4, chain("run", "waltz"), False, False, "WALTZ is not over G throughout."),
    (3, chain("run", "leaver", has_exit=True), False, False, "The last exit leaves G: let it fall away."),
    (4, chain("run", "run", verdicts=("tight",)), True, False, "a seam is not clean (tight): see what would mend it."),
    (6, chain("run", "run", "run", verdicts=("tight", "clash")), True, False, "some seams are not clean (clash): see what would mend them."),
    (4, chain("run", "run", verdicts=("apart",)), True, False, "two of the licks can't stand in one chain."),
])
def test_an_answer_is_judged_by_its_bars_its_chord_and_its_seams(scripts, wanted, answer, fits, clean, says):
    found = scripts.evaluate(ANSWER, [wanted, answer])
    assert (found["fits"], found["clean"]) == (fits, clean)
    assert says in found["says"]


def test_only_lengths_that_work_are_dealt_each_at_some_time_and_never_twice_running(scripts):
    lengths = [2, 3, 5, 8]
    dealt = scripts.evaluate("""lengths => { const dealt = []; let last = 0;
      for (let seed = 0; seed < 400; seed += 1) dealt.push(last = fifthpeg.singer.deal(lengths, seed * 7919, last));
      return dealt; }""", lengths)
    assert set(dealt) == set(lengths)
    assert all(one != other for one, other in zip(dealt, dealt[1:], strict=False))
    assert min(dealt.count(length) for length in lengths) > 50


def test_the_same_seed_deals_the_same_and_one_length_is_dealt_again(scripts):
    assert scripts.evaluate("[1, 2].map(() => fifthpeg.singer.deal([2, 4, 6], 12345))") == \
        scripts.evaluate("[1, 2].map(() => fifthpeg.singer.deal([2, 4, 6], 12345))")
    assert scripts.evaluate("fifthpeg.singer.deal([4], 99, 4)") == 4


READ = "hash => fifthpeg.benchAddress.read(hash, new Map([['run', 1], ['tag', 1]]))"


@pytest.mark.parametrize(("address", "ids", "keeps_exit", "lost"), [
    ("#chain=run,tag", ["run", "tag"], True, 0),
    ("#chain=run,run&exit=no", ["run", "run"], False, 0),
    ("#chain=run,<b>,__proto__,constructor,toString", ["run"], True, 4),
    ("#chain=%3Cscript%3E", [], True, 1),
    ("#chain=", [], True, 0),
    ("#chain=run,,tag,", ["run", "tag"], True, 0),
    ("#chain=" + ",".join(["run"] * 70), ["run"] * 64, True, 6),
], ids=["a chain", "without its exit", "names of objects", "escaped markup", "empty", "gaps", "too many links"])
def test_an_address_lets_known_licks_through_and_nothing_else(scripts, address, ids, keeps_exit, lost):
    assert scripts.evaluate(READ, address) == {"chain": {"ids": ids, "keepsExit": keeps_exit}, "lost": lost}


@pytest.mark.parametrize("address", ["", "#", "#licks-to-pick-from", "#chain", "#%"])
def test_an_address_without_a_chain_asks_for_none(scripts, address):
    found = scripts.evaluate(READ, address)
    assert found["chain"] is None or found["chain"]["ids"] == []


def test_an_address_is_read_as_it_was_written(scripts):
    there_and_back = """chain => fifthpeg.benchAddress.read(fifthpeg.benchAddress.written(chain), new Map(chain.ids.map((id) => [id, 1]))).chain"""
    for kept in ({"ids": ["a-b", "c"], "keepsExit": False}, {"ids": ["x"], "keepsExit": True}):
        assert scripts.evaluate(there_and_back, kept) == kept
    assert scripts.evaluate("fifthpeg.benchAddress.written({ ids: [], keepsExit: true })") == ""
