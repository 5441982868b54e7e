"""All seams of a library at once say what they say one by one."""

from dataclasses import replace
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from fifthpeg.analysis.repairs import repairs_for
from fifthpeg.analysis.seams import seam
from fifthpeg.analysis.unclean import unclean_joins
from fifthpeg.model.chain import differences
from fifthpeg.model.findings import CLEAN
from tests.analysis.neighbours import neighbours


@settings(max_examples=60, deadline=None)
@given(st.lists(neighbours(), min_size=2, max_size=4))
def test_each_unclean_pair_has_the_join_and_the_offers_of_the_pair_by_itself(licks):
    found = unclean_joins(licks)
    for before, after in product(range(len(licks)), repeat=2):
        alone = seam(licks[before], licks[after])
        if differences(licks[before], licks[after]) or not alone.has_room or alone.verdict == CLEAN:
            assert (before, after) not in found
        else:
            offers = tuple(offer.repair for offer in repairs_for(licks[before], licks[after]))
            assert found[before, after] == replace(alone, repairs=offers)


def test_an_empty_library_has_no_seams():
    assert unclean_joins([]) == {}
