"""Repairs of seams and loops: what a player would be offered, and that each holds what it promises."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

import pytest
from fifthpeg.analysis.repairs import loop_repairs, repairs_for
from fifthpeg.analysis.seams import loop, seam
from fifthpeg.analysis.settle import settled
from fifthpeg.analysis.study import choose_fingers, study
from fifthpeg.model.hands import REACH
from fifthpeg.model.lick import Lick
from fifthpeg.model.note import written_notes
from fifthpeg.model.tab import Hold, Strike
from fifthpeg.sound.perform import perform
from hypothesis import given, settings
from tests.analysis.brute_force import repeats_inside, seam_verdict
from tests.analysis.neighbours import neighbours
from tests.written import lick

WEIR = "id: weir-run\ntempo: 208\n---\n[G] T3 I2 M1 T5 I2 T5 I3 M1"
PINCHES = "id: sluice-tag\ntempo: 208\n---\n[G] I2+M1 - T3 I2 M1 T5 I2 T3"


def offers(before: str, after: str) -> dict[str, str]:
    return {offer.name: offer.says for offer in repairs_for(lick(before), lick(after))}


def test_what_is_offered_between_a_middle_finger_and_its_pinch():
    """Common practice, no source: hold the note before, or play a lone string in place of the pinch."""
    assert list(offers(WEIR, PINCHES).items()) == [
        ("hold", "at the end of Weir run: hold the G before instead of picking the last D (bar 1, the and of beat 4) "
                 "with the middle finger"),
        ("single", "at the start of Sluice tag: pick the B (bar 1, beat 1) alone with the index finger in place of "
                   "the pinch"),
        ("pinch", "at the start of Sluice tag: pinch (bar 1, beat 1) with the thumb and the index finger instead of "
                  "the index finger and the middle finger"),
    ]


def test_a_pinch_at_the_end_may_be_held_or_played_on_one_string():
    before = WEIR.replace("I3 M1", "I3 T3+M1")
    assert set(offers(before, PINCHES)) >= {"hold", "single"}
    assert "hold the G before instead of picking the last pinch" in offers(before, PINCHES)["hold"]


def test_the_last_note_is_given_to_the_thumb_where_its_string_allows():
    before = WEIR.replace("T5 I3 M1", "T5 I2 M3")
    assert offers(before, PINCHES)["thumb"] == (
        "at the end of Weir run: pick the last G (bar 1, the and of beat 4) with the thumb instead of the "
        "middle finger")
    assert "thumb" not in offers(WEIR, PINCHES)


def test_the_thumb_is_not_offered_where_it_has_just_picked():
    assert "thumb" not in offers(WEIR.replace("T5 I3 M1", "I2 T5 M3"), PINCHES)


def test_a_note_is_not_held_after_silence():
    assert "hold" not in offers(WEIR.replace("I3 M1", ". M1"), PINCHES)


def test_a_note_that_a_slide_leaves_from_is_not_taken_away():
    assert "hold" not in offers(WEIR.replace("I3 M1", "M1:2 s4"), PINCHES.replace("208", "300"))
    before = "tempo: 240\n---\nT3 I2 M1 T5 I2 T5 M1:2 s4"
    after = "tempo: 240\n---\nM1 - - T3 I2 M1 T5 I2"
    assert seam(lick(before), lick(after), clash_per_second=3, tight_per_second=3).verdict == "clash"
    assert "hold" not in {offer.name for offer in repairs_for(lick(before), lick(after), None, None, 3, 3)}


def test_a_held_strike_keeps_what_is_hammered_at_the_same_time():
    before = lick("tempo: 208\n---\nT3 I2 M1 T5 I2 T5 T4 4>h2+M1")
    held = next(offer for offer in repairs_for(before, lick(PINCHES)) if offer.name == "hold")
    last = held.before.bars[0].cells[-1]
    assert (last.plucks, last.landings[0].fret) == ((), 2)


def test_a_clean_seam_needs_nothing():
    assert repairs_for(lick(WEIR), lick("tempo: 208\n---\nT3 I2 M1 T5 I2 T5 I3 M1")) == ()


def test_the_repaired_licks_keep_their_own_tempo_and_exit():
    after = lick(PINCHES.replace("tempo: 208", "tempo: 190\nexit: 1") + " | T3 - - - - - - -")
    for offer in repairs_for(lick(WEIR), after):
        assert (offer.before.tempo, offer.after.tempo, offer.after.exit_bars) == (208, 190, 1)


def test_a_repair_is_looked_for_at_the_block_s_tempo():
    assert repairs_for(lick(WEIR), lick(PINCHES), Fraction(100)) != ()
    quarters_apart = lick("tempo: 208\n---\nT3 I2 M1 T5 I2 T5 M1 -")
    assert repairs_for(quarters_apart, lick(PINCHES)) == ()
    assert repairs_for(quarters_apart, lick(PINCHES), Fraction(330)) != ()


def test_the_loop_of_a_lick_is_repaired_on_both_sides_of_its_barline_at_once():
    made = lick("tempo: 208\n---\nM1 I2 T3 M1 I2 T3 I2 M1")
    found = loop_repairs(made)
    assert {offer.name for offer in found} >= {"hold", "refinger"}
    assert all(offer.before is offer.after and loop(offer.after).verdict == "clean" for offer in found)


def test_findings_of_a_loop_that_clashes_say_how_to_mend_it():
    made = lick("title: Weir\ntempo: 208\n---\nM1 I2 T3 M1 I2 T3 I2 M1")
    notes = written_notes(made)
    repairs = {repair.name: repair.says for repair in study(made, notes, perform(made, {})).loop.repairs}
    assert repairs["hold"] == ("hold the B before instead of picking the last D (bar 1, the and of beat 4) "
                               "with the middle finger")


def test_each_loop_has_repairs_of_its_own():
    text = "tempo: 208\nexit: 1\n---\nM1 I2 T3 M1 I2 T3 I2 M1 | T3 - - - - - - -"
    made = lick(text)
    found = study(made, written_notes(made), perform(made, {}))
    assert found.loop.repairs and not found.loop_with_exit.repairs


def test_the_key_spells_the_notes():
    before = WEIR.replace("I3 M1", "I3:3 M1").replace("id", "key: F\nid")
    assert "hold the B♭ before" in offers(before, PINCHES)["hold"]


def test_with_a_capo_notes_have_the_names_of_their_shapes():
    texts = [text.replace("id", "capo: 2\nid") for text in (WEIR, PINCHES)]
    assert "hold the G before" in offers(*texts)["hold"]


@settings(max_examples=100)
@given(neighbours(), neighbours())
def test_every_offer_makes_the_seam_clean_and_nothing_worse(before, after):
    tempo, bounce = before.tempo, before.bounce
    before, after = settled(before), settled(after)
    at_pace = replace(after, tempo=tempo, bounce=bounce)
    for offer in repairs_for(before, after):
        mended = replace(offer.after, tempo=tempo, bounce=bounce)
        if seam(before, after).has_room:
            assert seam_verdict(offer.before, mended) == "clean"
        assert seam(offer.before, offer.after).verdict == "clean"
        assert (offer.before == before) != (offer.after == after)
        assert not worse(without_exit(before), without_exit(offer.before))
        assert not worse(at_pace, mended)


@settings(max_examples=50)
@given(neighbours())
def test_every_offer_makes_the_loop_clean_and_nothing_worse(made):
    made = settled(made)
    for offer in loop_repairs(made):
        assert loop(offer.after).verdict == "clean"
        assert not worse(without_exit(made), without_exit(offer.after))


@settings(max_examples=50)
@given(neighbours(), neighbours())
def test_offers_have_one_name_each_and_touch_ever_more_notes(before, after):
    before, after = settled(before), settled(after)
    found = repairs_for(before, after)
    assert len({offer.name for offer in found}) == len(found)
    changed = [touched(before, offer.before) + touched(after, offer.after) for offer in found]
    assert changed == sorted(changed)


@settings(max_examples=120)
@given(neighbours(), neighbours())
def test_no_plain_repair_is_missed(before, after):
    """The last cell of a lick without repeats, changed in the text's own terms: held, or given to the thumb."""
    before, after = (replace(settled(made), bars=tuple(replace(bar, repeat_times=0) for bar in made_bars(made)))
                     for made in (before, after))
    after = replace(after, tempo=before.tempo, bounce=before.bounce)
    if seam(before, after).verdict == "clean" or not seam(before, after).has_room:
        return
    found = {offer.name for offer in repairs_for(before, after)}
    for name, made in by_hand(before):
        good = seam_verdict(made, after) == "clean" and not worse(without_exit(before), without_exit(made))
        assert (name in found) == good, name


def made_bars(made: Lick):
    return settled(made).bars


def by_hand(made: Lick) -> Iterator[tuple[str, Lick]]:
    """The last kept bar's last cell, where it is one plain pluck and the cell before it sounds."""
    index = len(made.bars) - made.exit_bars - 1
    bar = made.bars[index]
    if len(bar.cells) < 2 or not all(isinstance(cell, Strike) and cell.plucks for cell in bar.cells[-2:]):
        return
    (*others, last), before = bar.cells, bar.cells[-2]
    if len(last.plucks) > 1 or last.landings or last.plucks[0].arrivals or before.plucks[-1].damped:
        return
    if any(note.source for note in written_notes(made)):
        return
    yield "hold", with_bar(made, index, (*others, Hold()))
    if last.plucks[0].finger != "T" and last.plucks[0].string in REACH["T"]:
        thumbed = replace(last, plucks=(replace(last.plucks[0], finger="T"),))
        yield "thumb", with_bar(made, index, (*others, thumbed))


def with_bar(made: Lick, index: int, cells: tuple) -> Lick:
    bars = list(made.bars)
    bars[index] = replace(bars[index], cells=cells)
    return replace(made, bars=tuple(bars))


def without_exit(made: Lick) -> Lick:
    return replace(made, bars=made.bars[:len(made.bars) - made.exit_bars], exit_bars=0)


def touched(made: Lick, changed: Lick) -> int:
    """How many picked notes are not picked any more, or by another finger; both have the same places in time."""
    fingers = {(note.start, note.string): note.finger for note in written_notes(changed) if note.picked}
    return sum(fingers.get((note.start, note.string)) != note.finger for note in written_notes(made) if note.picked)


def worse(made: Lick, changed: Lick) -> bool:
    before, after = repeats_inside(made), repeats_inside(changed)
    return any(speed > before.get(place, 0) for place, speed in after.items())


@pytest.mark.parametrize("name", ["hold", "thumb", "refinger", "single", "pinch"])
def test_each_kind_of_repair_comes_up_somewhere(name):
    """Else the checks above would say nothing of it."""
    pairs = [(WEIR, PINCHES), (WEIR.replace("T5 I3 M1", "T5 I2 M3"), PINCHES),
             ("tempo: 208\n---\nT3 I2 M1 T5 I2 T5 M2 I3", "tempo: 208\n---\nI2 - M1 T5 I2 T3 I2 M1")]
    assert any(name in offers(*pair) for pair in pairs)
