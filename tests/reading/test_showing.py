"""Part of a lick shown again: its own bar numbers, and what the cut makes of holds, arrivals and chords."""

from fifthpeg.model.note import written_notes
from fifthpeg.reading.fences import find_fences
from fifthpeg.reading.library import read_library
from fifthpeg.reading.writing import write_body

LICK = """```tab
id: run
title: Run
tempo: 200
exit: 1
---
[G] T3:2 - I2 M1 T5 - [D7] 1:3 "up" I2:3=2 | p1 - T3 h2 (T4 M1)/2 I2 - | |: T3 - - - - - - - :|
```
"""


def shown(header: str):
    read = read_library(find_fences(f"{LICK}\n```tab\nshow: run\n{header}\n```\n", "page.md").blocks)
    assert read.problems == ()
    return list(read.by_block.values())[1]


def test_a_whole_lick_is_shown_as_it_is():
    lick = shown("")
    assert (lick.id, lick.shows, lick.title, lick.tempo, lick.exit_bars, lick.shown_bars) == (None, "run", "Run", 200,
                                                                                              1, None)


def test_bars_keep_their_numbers_and_the_chord_in_force_is_carried_in():
    lick = shown("bars: 2-3\ntempo: 90\ntitle: The end")
    assert [bar.number for bar in lick.bars] == [2, 3]
    assert lick.bars[0].chords == ((0, "D7"),)
    assert (lick.tempo, lick.title, lick.exit_bars, lick.shown_bars) == (90, "The end", 1, (2, 3))


def test_an_arrival_cut_off_from_its_note_is_picked_and_said_to_be_carried():
    first = shown("bars: 2").bars[0].cells[0]
    assert [(pluck.string, pluck.fret, pluck.carried) for pluck in first.plucks] == [(2, 1, True)]
    assert first.landings == ()


def test_an_arrival_whose_note_is_shown_stays_an_arrival():
    notes = written_notes(shown("bars: 2"))
    assert [(note.string, note.fret, note.touch) for note in notes[1:3]] == [(3, 0, "pick"), (3, 2, "hammer-on")]


def test_a_hold_cut_off_from_its_note_becomes_a_rest():
    assert write_body(shown("slots: 1.2-1.4").bars) == "[G] . I2 M1"


def test_slots_are_counted_as_in_the_whole_bar():
    lick = shown("slots: 1.3-2.2")
    assert [(note.bar, note.slot) for note in written_notes(lick)] == [(1, 3), (1, 4), (1, 5), (1, 7), (1, 8), (2, 1)]
    assert [bar.slot_count for bar in lick.bars] == [6, 2]
    assert lick.bars[0].chords == ((0, "G"), (4, "D7")) and lick.bars[0].texts == ((5, "up"),)


def test_a_group_is_shown_whole_by_its_first_slot():
    assert write_body(shown("slots: 2.5-2.5").bars) == "[D7] (T4 M1)/2"


def test_half_a_repeat_is_played_once():
    page = "```tab\nid: r\n---\n|: T3 - - - - - - - | T4 - - - - - - - :|\n```\n\n```tab\nshow: r\nbars: 2\n```\n"
    lick = list(read_library(find_fences(page, "page.md").blocks).by_block.values())[1]
    assert lick.bars[0].repeat_times == 0
