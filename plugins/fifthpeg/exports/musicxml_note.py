"""One note of MusicXML: pitch, value, ties, and what both hands do to it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from ..model.lick import Lick
from ..model.note import Note, moments_of
from ..model.tab import CHOKE, HAMMER_ON, PULL_OFF, SLIDE
from .musicxml_rhythm import Piece, in_ticks

PLUCKS = {"T": "p", "I": "i", "M": "m"}
"""Right-hand fingers -> the letters the standard's ``pluck`` uses (pulgar, indice, medio)."""
LETTERS = {HAMMER_ON: "H", PULL_OFF: "P"}
IN_PARENTHESES = '<notehead parentheses="yes">normal</notehead>'
"""The standard has no brackets round a fret; a head in parentheses is its nearest sign for a note carried over."""
CONNECTING = (SLIDE, HAMMER_ON, PULL_OFF)


@dataclass(frozen=True)
class Joined:
    """Notes that belong together, by mark.

    ``leaves_by`` is the touch by which a note's string goes on to its next fret; ``arrives`` the
    notes so reached. A choke with a slot of its own is one sound with the note it bends:
    ``ties_on`` and ``tied_from``. ``bent`` is how far a note's string is choked before it;
    ``accented`` holds the notes that begin what an accent is written on.
    """

    leaves_by: Mapping[str, str]
    arrives: frozenset[str]
    ties_on: frozenset[str]
    tied_from: frozenset[str]
    bent: Mapping[str, Fraction]
    accented: frozenset[str]

    @classmethod
    def of(cls, lick: Lick, notes: Sequence[Note]) -> "Joined":
        by_mark = {note.mark: note for note in notes}
        reached = [note for note in notes if note.touch in CONNECTING and note.source in by_mark]
        bending = [(by_mark[note.source], note) for note in notes
                   if note.touch == CHOKE and not note.picked and note.source in by_mark]
        tied = [(before, note) for before, note in bending
                if before.start + before.length == note.start and before.midi == note.midi]
        return cls(
            leaves_by={note.source: note.touch for note in reached}, arrives=frozenset(note.mark for note in reached),
            ties_on=frozenset(before.mark for before, _ in tied), tied_from=frozenset(note.mark for _, note in tied),
            bent={note.mark: before.bend for before, note in bending if not before.release},
            accented=frozenset(_accented(lick, notes)))


def note_xml(note: Note, piece: Piece, pitch: str, joined: Joined, per_quarter: int, chord: bool) -> str:
    start = in_ticks(note.start, per_quarter)
    first = piece.at == start
    last = piece.end == start + in_ticks(note.length, per_quarter)
    stops = not first or note.mark in joined.tied_from
    starts = not last or note.mark in joined.ties_on
    ties = '<tie type="stop"/>' * stops + '<tie type="start"/>' * starts
    tied = '<tied type="stop"/>' * stops + '<tied type="start"/>' * starts
    notations = tied + ("" if chord else tuplet_marks(piece)) + _notations(note, joined, first, last)
    head = "<notehead>x</notehead>" if note.midi is None else IN_PARENTHESES if note.carried else ""
    return (f"<note>{'<chord/>' * chord}{pitch}<duration>{piece.ticks}</duration>{ties}{value_xml(piece)}{head}"
            f"<notations>{notations}</notations></note>")


def rest_xml(piece: Piece, whole_bar: bool) -> str:
    if whole_bar:
        return f'<note><rest measure="yes"/><duration>{piece.ticks}</duration><voice>1</voice></note>'
    marks = tuplet_marks(piece)
    notations = f"<notations>{marks}</notations>" if marks else ""
    return f"<note><rest/><duration>{piece.ticks}</duration>{value_xml(piece)}{notations}</note>"


def value_xml(piece: Piece) -> str:
    kind = f"<type>{piece.kind}</type>" if piece.kind else ""
    ratio = ""
    if piece.tuplet:
        ratio = (f"<time-modification><actual-notes>{piece.tuplet.count}</actual-notes>"
                 f"<normal-notes>{piece.tuplet.normal}</normal-notes></time-modification>")
    return f"<voice>1</voice>{kind}{'<dot/>' * piece.dotted}{ratio}"


def tuplet_marks(piece: Piece) -> str:
    tuplet = piece.tuplet
    if tuplet is None:
        return ""
    start = '<tuplet type="start" number="1" bracket="yes"/>' if piece.at == tuplet.start else ""
    return start + ('<tuplet type="stop" number="1"/>' if piece.end == tuplet.end else "")


def _notations(note: Note, joined: Joined, first: bool, last: bool) -> str:
    """Each string has its own number, so that what it starts and stops never meets another's."""
    leaving = joined.leaves_by.get(note.mark) if last else None
    arriving = note.touch if first and note.mark in joined.arrives else None
    slides = _line(SLIDE, "stop", note) * (arriving == SLIDE) + _line(SLIDE, "start", note) * (leaving == SLIDE)
    wave = ""
    if note.vibrato and (first or last):
        marks = _line("wavy-line", "start", note) * first + _line("wavy-line", "stop", note) * last
        wave = f"<ornaments>{marks}</ornaments>"
    accent = "<articulations><accent/></articulations>" if first and note.mark in joined.accented else ""
    technical = "".join(_technical(note, joined, first, arriving, leaving))
    return f"{slides}{wave}<technical>{technical}</technical>{accent}"


def _technical(note: Note, joined: Joined, first: bool, arriving: str | None, leaving: str | None) -> Iterator[str]:
    if first and note.touch == "chime":
        yield "<harmonic><natural/><sounding-pitch/></harmonic>"
    if first and note.left and note.left_given:
        yield f"<fingering>{note.left}</fingering>"
    if first and note.picked and note.finger:
        yield f"<pluck>{PLUCKS[note.finger]}</pluck>"
    yield f"<string>{note.string}</string><fret>{note.fret}</fret>"
    if arriving in LETTERS:
        yield _line(arriving, "stop", note)
    if leaving in LETTERS:
        yield _line(leaving, "start", note, LETTERS[leaving])
    if first:
        yield from _bends(note, joined.bent.get(note.mark, Fraction(0)))


def _line(name: str, kind: str, note: Note, text: str = "") -> str:
    end = f">{text}</{name}>" if text else "/>"
    return f'<{name} type="{kind}" number="{note.string}"{end}'


def _bends(note: Note, before: Fraction) -> Iterator[str]:
    """From where the string is bent to already; a release is negative, as the standard wants it."""
    if note.bend and note.bend != before:
        yield f"<bend><bend-alter>{float(note.bend - before):g}</bend-alter></bend>"
    if note.release and (note.bend or before):
        yield f"<bend><bend-alter>{float(-(note.bend or before)):g}</bend-alter><release/></bend>"


def _accented(lick: Lick, notes: Sequence[Note]) -> Iterator[str]:
    """A strike's plucks and landings, not the arrivals inside its slot."""
    if not any(note.accent for note in notes):
        return
    begins, at = set(), Fraction(0)
    for index, bar in enumerate(lick.bars):
        begins |= {moment.at for moment in moments_of(bar, index, at, lick.slot_quarters)}
        at += bar.slot_count * lick.slot_quarters
    yield from (note.mark for note in notes if note.accent and (note.picked or note.start in begins))
