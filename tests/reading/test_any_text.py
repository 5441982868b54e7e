"""Any text at all gives a lick or problems inside the block, never an exception."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from fifthpeg.analysis.chain import link_up
from fifthpeg.model.lick import Lick
from fifthpeg.model.note import written_notes
from fifthpeg.reading.fences import Block
from fifthpeg.reading.library import read_library
from fifthpeg.reading.messages import message
from fifthpeg.reading.parse import parse

PIECES = ["T3", "I2", "M1", "T5", "3:2s5", "h3", "p0", "s7", "b1", "r", "4>h2", "+", "-", ".", "|", "|:", ":|",
          ":|x3",
          "<1>", "<2>", "(", ")", ")/2", "[G]", '"now"', "!", "\n", "\n---\n", "id: a", "title:", "capo: 2",
          "pickup: 1",
          "meter: 3/4", "grid: 16", "- x", "\\", "#", "~", "1:12c", "2:10b1r", "5:7", "=1", "\u00a0", "“"]
ANYTHING = st.one_of(st.text(max_size=120), st.lists(st.sampled_from(PIECES), max_size=40).map(" ".join))
ASKING = ["links: ", "links: [", "links:\n", "- ", "a", "b", "c", ", ", "]", "[", "{", "}", "{id: a", "{id: b}",
          "bars: 1", "bars: 9",
          "repair: hold", "repair: thumb", "repair:", ": ", "\n", "id: c", "id: a", "fill: 4\n", "over: G\n",
          "with: ",
          "{role: tag}", "{key: [G, D]}", "after: a", "after: G", "loop: yes", "exit: no", "tempo: 400",
          "tempos: [50 %, 100, 2]",
          "bounce: 60", "most: 2", "title: <b>", "\n---\n", "T3", "#", "../../x", "<script>", "\u00a0", "“"]
ASKED = st.one_of(st.text(max_size=120), st.lists(st.sampled_from(ASKING), max_size=25).map("".join))
LICKS = ("id: a\ntempo: 208\nexit: 1\n---\n[G] M1 I2 T3 I2 M1 I2 T3 M1 | T3 - - - - - - -",
         "id: b\npickup: 1\n---\n[G] T3 | M1 I2 T3 I2 M1 I2 T3 -")


def block_of(source: str, name: str = "tab", page: str = "page.md") -> Block:
    return Block(name, page, 1, 0, source, tuple(source.split("\n")))


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


@settings(max_examples=600, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.sampled_from(["chain", "fit"]), ASKED)
def test_any_chain_or_fit_is_put_together_or_has_problems_inside_the_block(name, source):
    block = block_of(source, name)
    licks = [block_of(lick, page=f"lick-{number}.md") for number, lick in enumerate(LICKS)]
    library = read_library([*licks, block], link_up=link_up)
    lines = source.split("\n")
    made = block in library.chains or block in library.fits
    assert made or library.problems
    for problem in library.problems:
        assert problem.place.page == "page.md" and 2 <= problem.place.line <= len(lines) + 1
        assert 1 <= problem.place.column <= len(lines[problem.place.line - 2]) + 1
        assert problem.says and problem.hint and message(problem)
    if block in library.chains:
        lick = library.by_block[block]
        assert all(note.length > 0 and note.rings_until > note.start for note in written_notes(lick))
