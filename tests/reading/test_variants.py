"""A variant says only what changes; everything else is its parent's, and follows it."""

from fifthpeg.reading.fences import find_fences
from fifthpeg.reading.library import read_library
from fifthpeg.reading.writing import write_body

PARENT = """```tab
id: run
title: Run
tempo: 200
exit: 1
after: D7
labels: [plain]
---
[G] T3:2h3 I2 M1 T5 I2:3p0 M1 T3 M1 | "softly" T3 - [D7] M1:4=4 - T5+M1 - - - | T3 - - - - - - -
```
"""


def library(*variants: str, parent: str = PARENT):
    page = parent + "".join(f"\n```tab\n{variant}\n```\n" for variant in variants)
    read = read_library(find_fences(page, "page.md").blocks)
    assert read.problems == ()
    return read.licks


def body(variant: str, parent: str = PARENT) -> list[str]:
    return write_body(library(variant, parent=parent)["v"].bars).split("\n")


def test_all_but_id_and_title_is_inherited():
    licks = library("id: v\nfrom: run")
    assert licks["v"].bars == licks["run"].bars
    assert (licks["v"].title, licks["v"].tempo, licks["v"].after, licks["v"].labels, licks["v"].exit_bars) == (
        "V", 200, "D7", ("plain",), 1)
    assert licks["v"].varies == "run" and licks["v"].changed == ()


def test_own_keys_replace_the_parents():
    lick = library("id: v\nfrom: run\ntempo: 160\nlabels: [bluesy]\nrole: tag\ncapo: 2")["v"]
    assert (lick.tempo, lick.labels, lick.role, lick.capo) == (160, ("bluesy",), "tag", 2)


def test_a_note_is_swapped_everywhere_and_keeps_finger_and_touch():
    assert body("id: v\nfrom: run\nchange:\n- 1:4 -> 1:3\n- 1 -> 1:2")[:2] == [
        "[G] T3:2h3 I2 M1:2 T5 I2:3p0 M1:2 T3 M1:2", '"softly" T3 - [D7] M1:3=4 - T5+M1:2 - - -']


def test_swapping_reaches_arrivals():
    assert body("id: v\nfrom: run\nchange:\n- 3:3 -> 3:4")[0].startswith("[G] T3:2h4 I2")


def test_a_whole_bar_is_rewritten_under_its_chords_and_words():
    lines = body("id: v\nfrom: run\nchange:\n- bar 2: T4 - I2+M1 - T5+M1 - - -")
    assert lines[1] == '"softly" T4 - [D7] I2+M1 - T5+M1 - - -'


def test_a_bar_that_brings_chords_replaces_them():
    lines = body("id: v\nfrom: run\nchange:\n- bar 2: [Em] T4 - I2+M1 - T5+M1 - - -")
    assert lines[1] == '[Em] "softly" T4 - I2+M1 - T5+M1 - - -'


def test_one_slot_is_rewritten():
    licks = library("id: v\nfrom: run\nchange:\n- bar 1 slot 2: I2+M1")
    assert write_body(licks["v"].bars).startswith("[G] T3:2h3 I2+M1 M1 T5")
    assert licks["v"].changed == ((1, 2),)


def test_bars_are_counted_as_the_parent_is_drawn_whatever_went_before():
    lines = body("id: v\nfrom: run\nchange:\n- bar 1: gone\n- after bar 2: T4 - - - - - - -\n"
                 "- bar 3: T3:5 - - - - - - -")
    assert lines == ['"softly" T3 - [D7] M1:4=4 - T5+M1 - - -', "T4 - - - - - - -", "T3:5 - - - - - - -"]


def test_the_exit_shrinks_with_its_bars():
    assert library("id: v\nfrom: run\nchange:\n- bar 3: gone")["v"].exit_bars == 0


def test_a_correction_of_the_parent_reaches_variants_of_variants():
    corrected = PARENT.replace("M1:4=4", "M1:5=4")
    chain = ("id: v\nfrom: run\nchange:\n- bar 1 slot 2: I2:1", "id: w\nfrom: v\nchange:\n- bar 1 slot 3: M1:2")
    before, after = library(*chain)["w"], library(*chain, parent=corrected)["w"]
    assert "M1:4=4" in write_body(before.bars) and "M1:5=4" in write_body(after.bars)
    assert before.changed == after.changed == ((1, 3),)


def test_variants_may_come_before_their_parent():
    page = "```tab\nid: v\nfrom: run\n```\n\n" + PARENT
    assert set(read_library(find_fences(page, "page.md").blocks).licks) == {"run", "v"}


def test_repeat_signs_of_a_rewritten_bar_stay():
    parent = "```tab\nid: run\n---\n|: T3 - - - - - - - | <1> T4 - - - - - - - :| <2> T5 - - - - - - -\n```\n"
    lines = body("id: v\nfrom: run\nchange:\n- bar 1: I2 - - - - - - -\n- bar 2: I3 - - - - - - -", parent=parent)
    assert lines == ["|: I2 - - - - - - -", "<1> I3 - - - - - - - :|", "<2> T5 - - - - - - -"]
