"""One measure: its barlines, repeats and endings, attributes, directions, chord names and notes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from xml.sax.saxutils import escape

from ..model.bounce import STRAIGHT
from ..model.lick import Lick
from ..model.note import Note
from ..model.tab import Bar
from ..model.tuning import STRING_NUMBERS
from .links import link_places
from .musicxml_note import Joined, note_xml, rest_xml
from .musicxml_pitch import harmony_xml, key_of, pitch_xml, tuning_xml
from .musicxml_rhythm import TYPES, Piece, in_ticks

LINES = 5
TWICE = 2
TEMPO_DIGITS = 6
WAY_OUT = "exit"
CHORD, REHEARSAL, WORDS = "harmony", "rehearsal", "words"
"""The standard's elements for what stands above the staff."""


@dataclass(frozen=True)
class Sign:
    """``at`` in divisions from the start of the score; ``kind`` is the element it is written as."""

    at: int
    kind: str
    text: str


@dataclass(frozen=True)
class Score:
    lick: Lick
    per_quarter: int
    joined: Joined

    @cached_property
    def key(self) -> tuple[int, bool, int]:
        return key_of(self.lick.key, self.lick.capo)

    @cached_property
    def links(self) -> dict[int, list[tuple[int, str]]]:
        """Bar number -> (slot index, title) of the links that begin in it."""
        found: dict[int, list[tuple[int, str]]] = {}
        for place in link_places(self.lick):
            if place.begins and place.link.title:
                number = self.lick.bars[place.bar_index].number
                found.setdefault(number, []).append((place.slot_index, place.link.title))
        return found

    @cached_property
    def repeats(self) -> dict[int, tuple[int, int]]:
        """Index of the bar a repeat begins with -> (index of the bar that closes it, times in all)."""
        found, begin = {}, 1 if self.lick.bars[0].number == 0 else 0
        for index, bar in enumerate(self.lick.bars):
            begin = index if bar.opens_repeat else begin
            if bar.repeat_times and begin <= index:
                found[begin] = (index, bar.repeat_times)
                begin = index + 1
        return found

    @cached_property
    def endings(self) -> dict[int, tuple[int, str]]:
        """Index of the bar an ending begins with -> (index of its last bar, the passes it is for)."""
        found, times = {}, TWICE
        for index, bar in enumerate(self.lick.bars):
            if bar.ending == 1:
                closing = (i for i, later in enumerate(self.lick.bars) if i >= index and later.repeat_times)
                last = next(closing, index)
                times = max(TWICE, self.lick.bars[last].repeat_times)
                found[index] = (last, ",".join(map(str, range(1, times))))
            elif bar.ending:
                found[index] = (index, str(times))
        return found


def measure(score: Score, index: int, pieces: Sequence[Piece]) -> str:
    bar = score.lick.bars[index]
    implicit = ' implicit="yes"' if bar.number == 0 or score.lick.is_cut(bar) else ""
    parts = [f'<measure number="{bar.number}"{implicit}>', *_left_barline(score, index)]
    if index == 0:
        parts += [_attributes(score), _tempo(score.lick)]
    if score.lick.exit_bars and bar.number == score.lick.bars[-1].number - score.lick.exit_bars + 1:
        parts.append(_words(WAY_OUT, ""))
    parts += _music(score, bar, pieces)
    parts += [*_right_barline(score, index), "</measure>"]
    return "\n".join(parts)


def _left_barline(score: Score, index: int) -> Iterator[str]:
    """A forward sign stands wherever a repeat begins, also where the tab leaves it to be understood."""
    repeats, ends = index in score.repeats, index in score.endings
    if repeats or ends:
        style = "<bar-style>heavy-light</bar-style>" if repeats else ""
        ending = f'<ending number="{score.endings[index][1]}" type="start"/>' if ends else ""
        sign = '<repeat direction="forward"/>' if repeats else ""
        yield f'<barline location="left">{style}{ending}{sign}</barline>'


def _right_barline(score: Score, index: int) -> Iterator[str]:
    """``times`` is said only where no ending says it by its numbers."""
    times = next((times for last, times in score.repeats.values() if last == index), 0)
    number = next((number for last, number in score.endings.values() if last == index), None)
    is_last = index == len(score.lick.bars) - 1
    if not (times or number or is_last):
        return
    is_open = score.lick.ends_early(score.lick.bars[index])
    style = "light-heavy" if times or is_last and not is_open else "none" if is_open else "regular"
    ending = f'<ending number="{number}" type="stop"/>' if number else ""
    said = f' times="{times}"' if times > TWICE and not number else ""
    sign = f'<repeat direction="backward"{said}/>' if times else ""
    yield f'<barline location="right"><bar-style>{style}</bar-style>{ending}{sign}</barline>'


def _attributes(score: Score) -> str:
    lick, (fifths, is_minor, _) = score.lick, score.key
    tunings = "".join(
        tuning_xml(lick.midi(string_number, 0) - lick.capo, LINES + 1 - string_number, fifths, is_minor)
        for string_number in reversed(STRING_NUMBERS))
    capo = f"<capo>{lick.capo}</capo>" if lick.capo else ""
    return (f"<attributes><divisions>{score.per_quarter}</divisions>"
            f"<key><fifths>{fifths}</fifths><mode>{'minor' if is_minor else 'major'}</mode></key>"
            f"<time><beats>{lick.meter.count}</beats><beat-type>{lick.meter.unit}</beat-type></time>"
            "<clef><sign>TAB</sign><line>5</line></clef>"
            f"<staff-details><staff-lines>{LINES}</staff-lines>{tunings}{capo}</staff-details></attributes>")


def _tempo(lick: Lick) -> str:
    """The mark in the lick's own beats, the sound in quarters; bounce as the standard's ``swing``."""
    dotted = lick.meter.is_compound
    plain_quarters = lick.meter.beat_quarters * (Fraction(2, 3) if dotted else 1)
    unit = TYPES[(4 / plain_quarters).numerator.bit_length() - 1]
    swing = ""
    if lick.bounce != STRAIGHT:
        share = Fraction(lick.bounce, 100 - lick.bounce)
        swing = (f"<swing><first>{share.numerator}</first><second>{share.denominator}</second>"
                 "<swing-type>eighth</swing-type></swing>")
    mark = (f"<beat-unit>{unit}</beat-unit>{'<beat-unit-dot/>' * dotted}"
            f"<per-minute>{_decimal(lick.tempo)}</per-minute>")
    return (f'<direction placement="above"><direction-type><metronome>{mark}</metronome></direction-type>'
            f'<sound tempo="{_decimal(lick.quarters_per_minute)}">{swing}</sound></direction>')


def _music(score: Score, bar: Bar, pieces: Sequence[Piece]) -> Iterator[str]:
    """Chord names and words stand before the piece they begin in or with, shifted by an offset if need be."""
    if bar.number and not score.lick.is_cut(bar) and not any(piece.notes for piece in pieces):
        pieces = [Piece(pieces[0].at, pieces[-1].end - pieces[0].at, None, False, (), None)]
        whole_bar = True
    else:
        whole_bar = False
    waiting = sorted(_signs(score, bar, pieces[0].at), key=lambda sign: sign.at)
    for piece in pieces:
        while waiting and waiting[0].at < piece.end:
            sign = waiting.pop(0)
            offset = f"<offset>{sign.at - piece.at}</offset>" if sign.at > piece.at else ""
            yield (harmony_xml(sign.text, score.key[2], offset) if sign.kind == CHORD else
                   _words(sign.text, offset, sign.kind))
        if not piece.notes:
            yield rest_xml(piece, whole_bar)
        for index, note in enumerate(piece.notes):
            yield note_xml(note, piece, _pitch(score, note), score.joined, score.per_quarter, index > 0)


def _signs(score: Score, bar: Bar, start: int) -> Iterator[Sign]:
    """A link's name is a rehearsal mark, which the standard has for names of sections."""
    slot = in_ticks(score.lick.slot_quarters, score.per_quarter)
    for kind, entries in ((REHEARSAL, score.links.get(bar.number, ())), (CHORD, bar.chords), (WORDS, bar.texts)):
        for slot_index, text in entries:
            yield Sign(start + slot_index * slot, kind, text)


def _words(text: str, offset: str, element: str = WORDS) -> str:
    return (f'<direction placement="above"><direction-type><{element}>{escape(text)}</{element}></direction-type>'
            f"{offset}</direction>")


def _pitch(score: Score, note: Note) -> str:
    """A damped pluck stands at the pitch its string has there; its cross says that it does not sound."""
    midi = score.lick.midi(note.string, note.fret) if note.midi is None else note.midi
    return pitch_xml(midi, score.key[0], score.key[1])


def _decimal(number: Fraction) -> str:
    return f"{float(number):.{TEMPO_DIGITS}f}".rstrip("0").rstrip(".")
