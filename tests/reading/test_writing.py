"""A lick written back reads as the same lick; a block lined up says the same as before."""

from pathlib import Path

from fifthpeg.analysis.chain import link_up
from fifthpeg.reading.fences import Block, find_fences
from fifthpeg.reading.library import read_library
from fifthpeg.reading.parse import parse
from fifthpeg.reading.tidying import tidy_page
from fifthpeg.reading.writing import write
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

COURSE = sorted((Path(__file__).parents[2] / "content").rglob("*.md"))

FINGERED = ["T3", "I2", "M1", "T5", "T4:12=4", "3", "I2:8b1", "2:10b.5r", "M1:7b1.5~", "M1:12c", "5:17c", "T3:x",
            "I3:2~",
            "T3:2s5", "I3:2=1h3=2", "4:0h2p0", "T5+M1", "I2:3=2+M1:4=3", "T4+I3!", "T5:7", "T2+T3+T4", "M1:19c"]
"""Words that are right in any place of any bar."""
GOING_ON = ["T3:2 s4", "I2:3 p0", "T4 h2=2", "M1:5 b1", "T4 4>h2+I3", "M1:7 b1 r", "T3:2 - h4 p0"]
"""Runs of two slots and more; the later ones go on from the first."""


def slot_count(words: str) -> int:
    return len(words.split())


@st.composite
def bar_texts(draw, slots: int, first: bool) -> str:
    words, left, begun = [], slots, not first
    while left:
        kind = draw(st.sampled_from(["plain"] * 5 + ["hold", "rest", "run", "group", "sign"]))
        if kind == "sign":
            words.append(draw(st.sampled_from(["[G]", "[D7]", '"lazily"', "[F#m7/E]"])))
            continue
        run = draw(st.sampled_from(GOING_ON))
        if kind == "run" and slot_count(run) <= left:
            words.append(run)
            left -= slot_count(run)
        elif kind == "group" and left >= 2:
            inner = draw(st.lists(st.sampled_from([*FINGERED, "."]), min_size=2, max_size=5))
            words.append(f"({' '.join(inner)})/2" + draw(st.sampled_from(["", "!"])))
            left -= 2
        else:
            plain = draw(st.sampled_from(FINGERED))
            words.append({"hold": "-", "rest": "."}.get(kind, plain) if begun else plain)
            left -= 1
        begun = True
    return " ".join(words)


@st.composite
def block_texts(draw) -> str:
    meter, slots = draw(st.sampled_from([("4/4", 8), ("3/4", 6), ("6/8", 6), ("2/2", 8)]))
    bars = [draw(bar_texts(slots, index == 0)) for index in range(draw(st.integers(1, 4)))]
    if len(bars) == 4:
        bars = [f"|: {bars[0]}", f"<1> {bars[1]} :|{draw(st.sampled_from(['', 'x3']))}", f"<2> {bars[2]}", bars[3]]
    header = [f"meter: {meter}", f"tempo: {draw(st.sampled_from(['160', '92.5']))}"]
    header += draw(st.lists(st.sampled_from(["id: made", "role: tag", "tempos: [40 %, 88, 100 %]", "labels: [a, b c]",
                                             "tuning: open D", "tuning: G4 C3 G3 B3 D4", "after: D7", "rights: own"]),
                            unique_by=lambda line: line.split(":")[0]))
    joint = draw(st.sampled_from([" | ", "\n", " ||\n# a comment\n"]))
    return "\n".join(header) + "\n---\n" + joint.join(bars)


def block_of(source: str) -> Block:
    return Block("tab", "page.md", 1, 0, source, tuple(source.split("\n")))


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(block_texts())
def test_a_lick_written_back_reads_as_the_same(source):
    read = parse(block_of(source))
    assert read.problems == ()
    assert parse(block_of(write(read.lick))).lick == read.lick


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(block_texts(), st.sampled_from(["", "    ", "> ", "\t"]))
def test_lining_up_changes_spaces_only_and_only_once(source, indent):
    page = "- list\n\n" + "".join(f"{indent}{line}\n" for line in ["```tab", *source.split("\n"), "```"])
    tidied = tidy_page(page, "page.md")
    bare = [["".join(line.split()) for line in text.split("\n")] for text in (tidied, page)]
    assert bare[0] == bare[1]
    assert tidy_page(tidied, "page.md") == tidied
    before, after = (find_fences(text, "page.md").blocks[0] for text in (page, tidied))
    assert parse(after).lick == parse(before).lick


def test_every_lick_of_the_course_writes_back():
    blocks = [block for page in COURSE for block in find_fences(page.read_text(), page.name).blocks]
    library = read_library(blocks, link_up=link_up)
    assert len(library.licks) >= 20
    for lick in library.licks.values():
        if not lick.varies and not lick.chain:
            assert parse(block_of(write(lick))).lick == lick


def test_slots_stand_in_columns_under_chords_and_signs():
    page = """```tab
# keep   me
[G] T3 I2 M1:12=4 - T5+M1 - - - | T3 - - - - - - -
(I2 M1)/2 T3 I2 - - - I2 | T4:2h4 - - - - - - -
```
"""
    assert tidy_page(page, "p") == """```tab
# keep   me
[G] T3 I2     M1:12=4 -  T5+M1 - - -  | T3     - - - - - - -
    (I2 M1)/2 T3      I2 -     - - I2 | T4:2h4 - - - - - - -
```
"""


def test_a_block_with_a_fault_is_left_as_it_stands():
    page = "```tab\nT3   I2\n```\n"
    assert tidy_page(page, "p") == page
