"""Licks with everything that can hang on a note, and words no one should have to draw; for hypothesis."""

from dataclasses import dataclass, replace
from fractions import Fraction

from fifthpeg.engraving.layout import lay_out
from fifthpeg.engraving.plan import plan_bars
from fifthpeg.engraving.shapes import DrawnBar
from fifthpeg.engraving.spacing import space
from fifthpeg.model.findings import CLASH, CLEAN, TIGHT, Findings, Join, Repair, RepeatedFinger, Seam
from fifthpeg.model.left_hand import LeftHand, Position
from fifthpeg.model.lick import Lick, Linked
from fifthpeg.model.note import Note, with_fingers, with_left_fingers, written_notes
from fifthpeg.model.tab import CHOKE, HAMMER_ON, RELEASE, SLIDE, Bar, Group, Hold, Landing, Pluck, Rest, Strike
from hypothesis import strategies as st
from tests.generated import licks, strikes

MARKUP = ("<b>&amp;</b>", "]]>", "\"'&", "</svg>", "a\x00b\x0bc\ud800", "ﷺ漢字🪕", "&#0;", "W" * 60,
          "slowly, and then twice as slowly")
WORDS = st.one_of(st.sampled_from(MARKUP), st.text(max_size=30))
NOT_SHOWN = (-1, 1)
"""Where a link begins that a showing is in the middle of."""
LEFTS = st.sampled_from((None, None, "1", "2", "3", "4", "T"))


@st.composite
def adorned(draw) -> Lick:
    lick = draw(licks(most_bars=4))
    bars = tuple(draw(_bars(bar, bool(index) and not bar.repeat_times)) for index, bar in enumerate(lick.bars))
    slots = [(bar.number, slot) for bar in bars for slot in range(1, bar.slot_count + 1)]
    changed = draw(st.lists(st.sampled_from(slots), max_size=6, unique=True)) if slots else []
    firsts = draw(st.lists(st.sampled_from([NOT_SHOWN, *slots]), max_size=5, unique=True))
    return replace(lick, bars=bars, title=draw(WORDS), key=draw(st.sampled_from(("G", "<Gm>"))),
                   changed=tuple(changed),
                   links=tuple(Linked("made", draw(WORDS), first) for first in sorted(firsts)))


@dataclass(frozen=True)
class Told:
    """A lick, its notes with both hands' fingers chosen where none is written, and what was found about them."""

    lick: Lick
    notes: tuple[Note, ...]
    findings: Findings


@st.composite
def told(draw) -> Told:
    lick = draw(adorned())
    notes = suggested(lick)
    held = {note.mark: draw(st.sampled_from("1234")) for note in notes if note.fret}
    places = sorted({(note.bar, note.slot) for note in notes})
    some = st.lists(st.sampled_from(places), max_size=5, unique=True) if places else st.just([])
    findings = Findings(
        {}, repeats=tuple(draw(_repeats(notes, *place)) for place in draw(some)),
        seams=tuple(draw(_seams(link)) for link in range(len(lick.links) - 1)),
        left=LeftHand(held, tuple(Position(*place, draw(st.integers(1, 14))) for place in sorted(draw(some))), ()))
    return Told(lick, with_left_fingers(notes, held), findings)


def drawn(lick: Lick, notes: tuple[Note, ...] | None = None,
          findings: Findings | None = None) -> tuple[DrawnBar, ...]:
    """The geometry of the bars at their natural widths."""
    plan = plan_bars(lick, suggested(lick) if notes is None else notes, findings)
    return lay_out(plan, [space(bar) for bar in plan.bars])


def suggested(lick: Lick) -> tuple[Note, ...]:
    """The lick's notes, with some finger for every pluck that has none."""
    notes = written_notes(lick)
    return with_fingers(notes, {note.mark: "MITTT"[note.string - 1] for note in notes if note.picked})


@st.composite
def _repeats(draw, notes: tuple[Note, ...], bar: int, slot: int) -> RepeatedFinger:
    """Of one or all of the fingers that pick there, or of one that does not."""
    picking = sorted({note.finger for note in notes if (note.bar, note.slot) == (bar, slot) and note.finger}) or ["T"]
    fingers = draw(st.sampled_from((tuple(picking), (picking[0],), ("I",))))
    return RepeatedFinger(fingers, bar, slot, 6.9, draw(st.sampled_from((TIGHT, CLASH))), 195.0)


@st.composite
def _seams(draw, link: int) -> Seam:
    verdict = draw(st.sampled_from((CLEAN, TIGHT, CLASH)))
    join = Join(verdict, has_room=draw(st.booleans())) if verdict == CLEAN else Join(verdict, ("M",), 6.9, 195.0)
    return Seam(link, "made", "made", Fraction(0), join, draw(st.sampled_from((None, Repair("hold", "<hold> it")))))


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
