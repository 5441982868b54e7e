"""Which licks a fit block lets in, and what becomes of the chains found."""

from fractions import Fraction

import pytest

from fifthpeg.analysis.fit_chain import as_chain
from fifthpeg.analysis.fit_request import admitted, answer
from fifthpeg.model.chain import FitRequest
from fifthpeg.model.findings import REPAIRED
from fifthpeg.model.lick import Lick
from fifthpeg.model.tab import Bar, Hold, Pluck, Strike


def bar_of(number, *fingers_and_strings, chord="G"):
    strikes = [Strike((Pluck(string, finger=finger),)) for finger, string in fingers_and_strings]
    cells = tuple(cell for strike in strikes for cell in (strike, Hold()))
    return Bar(number, cells, chords=((0, chord),))


ROUND = (("T", 3), ("I", 2), ("M", 1), ("T", 5))
MILL = Lick((bar_of(1, *ROUND),), id="mill", title="Mill", role="tag", labels=("driving",))
RACE = Lick((bar_of(1, *ROUND), bar_of(2, *ROUND)), id="race", title="Race", role="fill", key="D", labels=("bluesy", "low"))
BY_ID = {lick.id: lick for lick in (MILL, RACE)}


@pytest.mark.parametrize(("narrowing", "let_in"), [
    ({}, ["mill", "race"]),
    ({"roles": ("tag", "fill")}, ["mill", "race"]),
    ({"roles": ("tag",)}, ["mill"]),
    ({"keys": ("D",)}, ["race"]),
    ({"labels": ("low", "quiet")}, ["race"]),
    ({"with_ids": ("mill",)}, ["mill"]),
    ({"roles": ("tag",), "labels": ("low",)}, []),
])
def test_a_lick_needs_one_of_each_thing_asked_for(narrowing, let_in):
    assert [lick.id for lick in admitted(FitRequest(3, "G", **narrowing), list(BY_ID.values()))] == let_in


def test_three_bars_of_a_one_bar_and_a_two_bar_lick_can_be_filled_in_three_ways():
    """1 + 1 + 1, 1 + 2, 2 + 1: counted by hand."""
    assert answer(FitRequest(3, "G"), list(BY_ID.values())).count == 3


def test_a_chain_found_keeps_its_order_its_repairs_and_the_tempo_asked_for():
    request = FitRequest(3, "G", tempo=Fraction(120), bounce=60)
    best = answer(request, list(BY_ID.values())).best
    chains = [as_chain(fit, request, BY_ID) for fit in best]
    for fit, chain in zip(best, chains, strict=True):
        assert tuple(link.lick.id for link in chain.links) == fit.links
        assert [link.repair is not None for link in chain.links[:-1]] == [word == REPAIRED for word in fit.seams]
        assert chain.id is None and chain.tempo == 120 and chain.bounce == 60
    assert "Mill, then Race" in {chain.title for chain in chains}
