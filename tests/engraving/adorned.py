"""Licks with everything that can hang on a note, and words no one should have to draw; for hypothesis."""

from dataclasses import replace
from fractions import Fraction

from fifthpeg.engraving.layout import lay_out
from fifthpeg.engraving.plan import plan_bars
from fifthpeg.engraving.shapes import DrawnBar
from fifthpeg.engraving.spacing import space
from fifthpeg.model.lick import Lick
from fifthpeg.model.note import Note, with_fingers, written_notes
from fifthpeg.model.tab import CHOKE, HAMMER_ON, RELEASE, SLIDE, Bar, Group, Hold, Landing, Pluck, Rest, Strike
from hypothesis import strategies as st
from tests.generated import licks, strikes

MARKUP = ("<b>&amp;</b>", "]]>", "\"'&", "</svg>", "a\x00b\x0bc\ud800", "ﷺ漢字🪕", "&#0;", "W" * 60,
          "slowly, and then twice as slowly")
WORDS = st.one_of(st.sampled_from(MARKUP), st.text(max_size=30))
LEFTS = st.sampled_from((None, None, "1", "2", "3", "4", "T"))


@st.composite
def adorned(draw) -> Lick:
    lick = draw(licks(most_bars=4))
    bars = tuple(draw(_bars(bar, bool(index) and not bar.repeat_times)) for index, bar in enumerate(lick.bars))
    slots = [(bar.number, slot) for bar in bars for slot in range(1, bar.slot_count + 1)]
    changed = draw(st.lists(st.sampled_from(slots), max_size=6, unique=True)) if slots else []
    return replace(lick, bars=bars, title=draw(WORDS), key=draw(st.sampled_from(("G", "<Gm>"))), changed=tuple(changed))


def drawn(lick: Lick) -> tuple[DrawnBar, ...]:
    """The geometry of the bars at their natural widths."""
    plan = plan_bars(lick, suggested(lick))
    return lay_out(plan, [space(bar) for bar in plan.bars])


def suggested(lick: Lick) -> tuple[Note, ...]:
    """The lick's notes, with some finger for every pluck that has none."""
    notes = written_notes(lick)
    return with_fingers(notes, {note.mark: "MITTT"[note.string - 1] for note in notes if note.picked})


@st.composite
def _bars(draw, bar: Bar, may_open: bool) -> Bar:
    cells = []
    for cell in bar.cells:
        cells.append(draw(_cells(cell, cells[-1] if cells else None)))
    slots = range(sum(cell.slots if isinstance(cell, Group) else 1 for cell in cells))
    placed = st.lists(st.sampled_from(slots), max_size=2, unique=True) if slots else st.just([])
    return replace(
        bar, cells=tuple(cells), opens_repeat=may_open and draw(st.booleans()),
        chords=tuple((slot, draw(st.one_of(st.sampled_from(("G", "D7", "C#m7b5/G")), st.text(max_size=6))))
                     for slot in sorted(draw(placed))),
        texts=tuple((slot, draw(WORDS)) for slot in sorted(draw(placed))),
        ending=draw(st.sampled_from((0, 0, 0, 1, 2))))


@st.composite
def _cells(draw, cell, before):
    if isinstance(cell, Hold) and isinstance(before, Strike) and before.plucks and draw(st.booleans()):
        return Strike(draw(st.sampled_from(((), (Pluck(5, finger="T"),)))) if before.plucks[-1].string != 5 else (),
                      (draw(_landings(before.plucks[-1])),))
    if isinstance(cell, Group):
        inner = tuple(draw(st.lists(st.one_of(strikes(1), st.just(Hold()), st.just(Rest())), min_size=2, max_size=8)))
        return replace(cell, cells=inner)
    if isinstance(cell, Strike):
        return replace(cell, plucks=tuple(replace(pluck, left=draw(LEFTS)) for pluck in cell.plucks))
    return cell


@st.composite
def _landings(draw, pluck: Pluck) -> Landing:
    touch = draw(st.sampled_from((SLIDE, HAMMER_ON, CHOKE, RELEASE)))
    fret = pluck.fret if touch in (CHOKE, RELEASE) else pluck.fret + 2
    return Landing(pluck.string, touch, fret, draw(LEFTS), Fraction(3, 2) if touch == CHOKE else Fraction(0))
