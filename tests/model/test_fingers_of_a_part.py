"""Fingers are chosen once a lick: a showing takes those of the whole."""

from fifthpeg.compiled import Options
from fifthpeg.model.note import fingers_from, written_notes
from fifthpeg.pipeline import study_lick
from fifthpeg.reading.fences import find_fences
from fifthpeg.reading.library import read_library

PAGE = """```tab
id: run
tempo: 208
---
M1 3 2 (3 3)/2 1 5 T3 | 3 2 1 5 2 1 5 1
```

```tab
show: run
slots: {slots}
```
"""
OPTIONS = Options(22_050, -21.0, 5.0, 6.5)


def whole_and_part(slots: str):
    licks = list(read_library(find_fences(PAGE.format(slots=slots), "page.md").blocks).by_block.values())
    return [study_lick(lick, OPTIONS).notes for lick in licks]


def test_every_part_is_fingered_as_the_whole():
    for slots in ("1.2-1.6", "1.4-2.3", "2.1-2.8", "2.1-2.1", "1.7-1.8"):
        whole, part = whole_and_part(slots)
        first, last = (part[0].bar, part[0].slot), (part[-1].bar, part[-1].slot)
        same = [note.finger for note in whole if first <= (note.bar, note.slot) <= last]
        assert part and [note.finger for note in part] == same


def test_plucks_of_one_string_in_one_group_keep_their_order():
    whole, part = whole_and_part("1.4-1.4")
    assert [note.finger for note in part] == [note.finger for note in whole if (note.bar, note.slot) == (1, 4)]


def test_written_fingers_are_left_alone():
    notes = written_notes(read_library(find_fences(PAGE.format(slots="1.1"), "page.md").blocks).licks["run"])
    assert "p1" not in fingers_from(notes, notes)
