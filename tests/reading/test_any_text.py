"""Any text at all gives a lick or problems inside the block, never an exception."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from fifthpeg.model.lick import Lick
from fifthpeg.model.note import written_notes
from fifthpeg.reading.fences import Block
from fifthpeg.reading.messages import message
from fifthpeg.reading.parse import parse

PIECES = ["T3", "I2", "M1", "T5", "3:2s5", "h3", "p0", "s7", "b1", "r", "4>h2", "+", "-", ".", "|", "|:", ":|", ":|x3",
          "<1>", "<2>", "(", ")", ")/2", "[G]", '"now"', "!", "\n", "\n---\n", "id: a", "title:", "capo: 2", "pickup: 1",
          "meter: 3/4", "grid: 16", "- x", "\\", "#", "~", "1:12c", "2:10b1r", "5:7", "=1", "\u00a0", "“"]
ANYTHING = st.one_of(st.text(max_size=120), st.lists(st.sampled_from(PIECES), max_size=40).map(" ".join))


def block_of(source: str) -> Block:
    return Block("tab", "page.md", 1, 0, source, tuple(source.split("\n")))


@settings(max_examples=600, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(ANYTHING)
def test_any_text_gives_a_lick_or_problems_inside_the_block(source):
    read = parse(block_of(source))
    lines = source.count("\n") + 1
    assert (read.lick or read.showing) if not read.problems else read.lick is None
    for problem in read.problems:
        assert 2 <= problem.place.line <= lines + 1
        assert problem.says and problem.hint and message(problem)
    if isinstance(read.lick, Lick):
        assert all(note.length > 0 and note.rings_until > note.start for note in written_notes(read.lick))
