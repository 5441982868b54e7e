"""Chains: what falls away, what is carried over, who picks twice where two licks meet."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fifthpeg.analysis.chain import link_up
from fifthpeg.analysis.repeats import find_repeats
from fifthpeg.analysis.pace import pace_of
from fifthpeg.analysis.seams import seam
from fifthpeg.analysis.settle import settled
from fifthpeg.analysis.strikes import unfolded_pickings
from fifthpeg.analysis.study import choose_fingers, study
from fifthpeg.model.chain import Chain, Link, differences
from fifthpeg.model.findings import CLASH, CLEAN
from fifthpeg.model.note import notes_through, written_notes
from fifthpeg.model.play_order import kept_order
from fifthpeg.sound.perform import perform
from tests.analysis.neighbours import neighbours
from tests.written import lick

WEIR = lick("id: weir\ntitle: Weir\ntempo: 208\n---\n[D7] M1:4 I2:3 T3:2 M1 T4 I3:2 M1 T4 | I3:2 T4:4 - I3 T4:4 I3:2 T3:5 -")
SLUICE = lick("id: sluice\ntitle: Sluice\ntempo: 208\nexit: 1\nafter: D7\n---\n"
              "[G] I2+M1 - T3 I2 M1 T5 I2 M1 | T3:2 M1 T5 I3 M1 T4 I3 M1 | T3 - T5+M1 - T4 - T5+M1 -")
RACE = lick("id: race\ntitle: Race\ntempo: 190\nexit: 1\n---\n"
            "[G] T5+M1 - I2 M1 T3 I2 M1 T5 | I2 M1 T3 M1 T4 M1 I3 M2 | T3 - I2+M1 - T3+M1 - - -")
TURN = lick("id: turn\ntempo: 208\n---\n[G] T3 - - - - - - - | <1> [C] T4 - - - - - - - :| <2> [D] T5 - - - - - - -")
LEAD = lick("id: lead\ntempo: 208\npickup: 2\n---\nI3 M2 | [G] T3 - - - - - - - | T3 - I2 - M1 - - -")


def chained(*links, **rest):
    return link_up(Chain(tuple(link if isinstance(link, Link) else Link(link) for link in links), **rest))


def strings_of(made):
    return [[note.string for note in written_notes(made) if note.bar == bar.number] for bar in made.bars]


def test_exits_fall_away_inside_and_the_last_one_stays():
    made = chained(WEIR, SLUICE, RACE).lick
    assert [bar.number for bar in made.bars] == [1, 2, 3, 4, 5, 6, 7] and made.exit_bars == 1
    assert [(link.id, link.first) for link in made.links] == [("weir", (1, 1)), ("sluice", (3, 1)), ("race", (5, 1))]
    assert strings_of(made)[6] == [3, 2, 1, 3, 1]


def test_the_last_exit_can_be_dropped():
    made = chained(SLUICE, RACE, keep_exit=False).lick
    assert len(made.bars) == 4 and made.exit_bars == 0


def test_tempo_is_the_first_link_s_unless_the_chain_says_so():
    assert chained(RACE, SLUICE).lick.tempo == 190 and chained(SLUICE, RACE).lick.tempo == 208
    assert chained(SLUICE, RACE, tempo=Fraction(100)).lick.tempo == 100


def test_repeats_unfold_and_each_jump_brings_its_chord_back():
    """Bar 1, first ending, bar 1 again, second ending: G C G D, worked by hand."""
    made = chained(TURN, SLUICE).lick
    assert [bar.chords for bar in made.bars[:4]] == [((0, "G"),), ((0, "C"),), ((0, "G"),), ((0, "D"),)]
    assert not any(bar.repeat_times or bar.ending or bar.opens_repeat for bar in made.bars)


def test_a_later_pick_up_lies_over_the_holds_before_it():
    made = chained(WEIR, LEAD)
    assert made.lick.links[1].first == (3, 1)
    over_holds = chained(TURN, LEAD).lick
    assert over_holds.links[1].first == (4, 7) and strings_of(over_holds)[3] == [5, 3, 2]
    assert all(bar.slot_count == 8 for bar in over_holds.bars)


def test_middle_an_eighth_before_a_pinch_with_the_middle_clashes_at_full_speed():
    """Common practice, no source; 208 beats a minute in eighths are 6.93 a second, a clash above 195."""
    (found,) = chained(SLUICE, RACE).seams
    assert (found.join.verdict, found.join.fingers, found.join.clashes_above) == (CLASH, ("M",), 195.0)
    assert round(found.join.per_second, 2) == 6.93 and found.at == 8


@pytest.mark.parametrize("repair", ["hold", "single"])
def test_a_held_last_note_or_a_lone_string_makes_it_clean(repair):
    """Common practice, no source."""
    (found,) = chained(Link(SLUICE, repair), RACE).seams
    assert found.join.verdict == CLEAN and found.repair.name == repair and found.unrepaired.verdict == CLASH


def test_the_last_note_given_to_the_thumb_makes_it_clean_where_its_string_allows():
    (found,) = chained(Link(RACE, "thumb"), SLUICE).seams
    assert found.join.verdict == CLEAN and found.repair.name == "thumb"
    last = [note for note in written_notes(chained(Link(RACE, "thumb"), SLUICE).lick) if note.bar == 2][-1]
    assert (last.string, last.finger) == (2, "T")


def test_a_repair_that_is_not_on_offer_is_not_made():
    (found,) = chained(Link(SLUICE, "thumb"), RACE).seams
    assert found.repair is None and found.join.verdict == CLASH and found.join.repairs


def test_the_last_link_s_repair_is_the_loop_s():
    made = chained(Link(SLUICE, "hold"), Link(RACE, "hold"))
    assert made.loop.repair.name == "hold" and made.loop.join.verdict == CLEAN


def test_a_chain_of_chains_is_the_chain_of_all_links():
    whole = chained(WEIR, SLUICE, RACE).lick
    nested = chained(WEIR, chained(SLUICE, RACE).lick).lick
    assert nested.bars == whole.bars and nested.exit_bars == whole.exit_bars
    assert [link.first for link in nested.links] == [(1, 1), (3, 1)]


def test_a_seam_is_no_mark_and_is_told_with_the_part_it_lies_in():
    made = chained(SLUICE, RACE).lick
    notes = written_notes(made)
    found = study(made, notes, perform(made, choose_fingers(made, notes)))
    assert [one.at for one in found.seams] == [8] and found.repeats == ()
    assert found.harmony.over[0].chord == "G" and found.left.fingers


@settings(max_examples=60, deadline=None)
@given(st.lists(neighbours(), min_size=2, max_size=3))
def test_between_seams_a_chain_sounds_its_links(licks):
    licks = [settled(replace(one, tempo=licks[0].tempo, bounce=50, capo=licks[0].capo, pickup=0, bars=tuple(
        bar for bar in one.bars if bar.number and bar.slot_count == 4)), ) for one in licks]
    if not all(one.bars for one in licks):
        return
    licks = [replace(one, exit_bars=min(one.exit_bars, len(one.bars) - 1)) for one in licks]
    made = chained(*licks).lick
    expected, start = [], Fraction(0)
    for index, one in enumerate(licks):
        order = kept_order(one, index == len(licks) - 1)
        expected += [(note.start + start, note.string, note.fret, note.finger) for note in notes_through(one, order)]
        start += sum(one.bars[at].slot_count for at in order) * one.slot_quarters
    assert [(note.start, note.string, note.fret, note.finger) for note in written_notes(made)] == expected


@settings(max_examples=60, deadline=None)
@given(neighbours(), neighbours())
def test_a_finger_that_repeats_across_the_seam_is_what_the_seam_says(before, after):
    after = replace(after, tempo=before.tempo, bounce=before.bounce, capo=before.capo)
    alone = seam(before, after)
    if differences(before, after) or not alone.has_room:
        return
    made = chained(before, after).lick
    pickings = unfolded_pickings(made, range(len(made.bars)))
    across = [repeat for repeat in find_repeats(pickings, pace_of(made)) if made.link_at(repeat.bar, repeat.slot) == 1]
    inside = find_repeats([one for one in pickings if made.link_at(one.bar, one.slot) == 1], pace_of(made))
    straddling = [repeat for repeat in across if repeat not in inside]
    worst = max(straddling, key=lambda repeat: repeat.per_second, default=None)
    assert (alone.verdict, alone.per_second) == ((CLEAN, None) if worst is None else (worst.verdict, worst.per_second))
