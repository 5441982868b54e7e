"""The tab itself: tokens into bars, each filled and checked against the meter."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from ..model.chord import chord_pitch_classes
from ..model.lick import MAX_BARS, Lick
from ..model.tab import Bar, Cell, Group, cell_slots
from .cells import Word, join_words, read_cell
from .faults import Faults
from .note_words import NOTE_WORDS
from .plucks import Span
from .repeats import check_repeats
from .sounding import Sounding
from .turns import check_turns_back
from .tokens import BARLINE, CHORD, CLOSE, ENDING, LINE_END, OPEN, REPEAT_CLOSE, REPEAT_OPEN, TEXT, Token, cut

MAX_GROUP = 8
MAX_REPEATS = 16


def read_body(rows: Sequence[str], row_indices: Sequence[int], frame: Lick, faults: Faults) -> tuple[Bar, ...]:
    """The bars of a body under ``frame``'s meter, grid, pick-up, tuning and capo."""
    reader = _BarReader(frame, faults)
    for item in join_words(cut(rows, row_indices, faults)):
        reader.take(item)
        if len(reader.bars) > MAX_BARS:
            faults.add(item.span, "bar-length", f"a lick has at most {MAX_BARS} bars", "split it into several licks")
            break
    reader.finish()
    check_repeats(reader.bars, reader.bar_spans, frame, faults)
    if not faults.problems:
        check_turns_back(replace(frame, bars=tuple(reader.bars)), faults)
    return tuple(reader.bars)


class _BarReader:
    """Takes items in order. ``at`` is the time in slots from the start."""

    def __init__(self, frame: Lick, faults: Faults):
        self.frame, self.faults = frame, faults
        self.sounding = Sounding(frame)
        self.bars: list[Bar] = []
        self.bar_spans: list[Span] = []
        self.full_slots = int(frame.meter.slots(frame.grid))
        self.at = Fraction(0)
        self.last_span: Span = (0, 0, 1)
        self.waiting_chords: list[tuple[str, Span]] = []
        self.waiting_texts: list[str] = []
        self.group: list[Word] | None = None
        self.group_span: Span = (0, 0, 1)
        self.opens_repeat = False
        self.short_bar: tuple[int, Span, int] | None = None
        self._begin_bar()

    def _begin_bar(self) -> None:
        self.cells: list[Cell] = []
        self.spans: list[Span] = []
        self.chords: list[tuple[int, str]] = []
        self.texts: list[tuple[int, str]] = []
        self.slot_index = 0
        self.ending = 0
        self.unreadable_before = self.faults.unreadable_words

    def take(self, item: Token | Word) -> None:
        if isinstance(item, Word):
            self._word(item)
        elif self.group is not None and item.kind != CLOSE:
            self._inside_group(item)
        else:
            getattr(self, "_" + item.kind.replace("-", "_"))(item)

    def finish(self) -> None:
        self._end_bar()
        for name, span in self.waiting_chords:
            self.faults.add(span, "bad-chord", f"no slot comes after the chord {name}",
                            "put it before the slot it begins with")
        if not self.bars and not self.faults.problems:
            self.faults.add((0, 0, 1), "bar-length", "there is no tab in this block",
                            "write at least one bar, such as `T3 I2 M1 T5 I2 M1 T3 M1`")

    def _word(self, word: Word) -> None:
        if self.group is not None:
            self.group.append(word)
            return
        cell = read_cell(word, self.at, self.frame, self.sounding, self.faults)
        self._add(cell, word.span)

    def _add(self, cell: Cell, span: Span) -> None:
        self.chords += [(self.slot_index, name) for name, _ in self.waiting_chords]
        self.texts += [(self.slot_index, text) for text in self.waiting_texts]
        self.waiting_chords, self.waiting_texts = [], []
        self.cells.append(cell)
        self.spans.append(span)
        self.slot_index += cell_slots(cell)
        self.at += cell_slots(cell)

    def _chord(self, token: Token) -> None:
        try:
            chord_pitch_classes(token.value)
        except ValueError:
            self.faults.add(token.span, "bad-chord", f"`{token.value}` is no chord that can be read",
                            "a capital letter and perhaps m, 7 or the like: `[G]`, `[D7]`, `[Em]`, `[F#m7]`")
            return
        self.waiting_chords = [(token.value, token.span)]

    def _text(self, token: Token) -> None:
        self.waiting_texts.append(token.value)

    def _open(self, token: Token) -> None:
        self.group, self.group_span = [], token.span

    def _close(self, token: Token) -> None:
        if self.group is None:
            self.faults.add(token.span, "bad-group", "this `)` closes nothing",
                            "open the group with `(` before its first slot")
            return
        words, self.group = self.group, None
        span = self._reach_to(self.group_span, token)
        slots = int(token.value)
        if not 1 <= len(words) <= MAX_GROUP or not 1 <= slots <= MAX_GROUP:
            self.faults.add(span, "bad-group", f"a group of {len(words)} in {slots}",
                            f"a group holds from 1 to {MAX_GROUP} slots and shares from 1 to {MAX_GROUP}")
            slots, words = max(1, min(slots, MAX_GROUP)), words[:MAX_GROUP]
        share = Fraction(slots, max(1, len(words)))
        cells = tuple(read_cell(word, self.at + index * share, self.frame, self.sounding, self.faults)
                      for index, word in enumerate(words))
        self._add(Group(cells, slots, token.accent, self.faults.place(span)), span)

    def _inside_group(self, item: Token) -> None:
        if item.kind == OPEN:
            self.faults.add(item.span, "bad-group", "a group can't stand inside a group", "close the first with `)`")
        elif item.kind in (CHORD, TEXT):
            self.faults.add(item.span, "bad-group", "a chord or text can't stand inside a group",
                            "put it before the `(`")
        else:
            self.faults.add(self.group_span, "bad-group", "this group doesn't close before the bar ends",
                            "close it with `)`; a group can't go over a barline")
            words, self.group = self.group, None
            for word in words:
                self._word(word)
            self.take(item)

    def _reach_to(self, start: Span, token: Token) -> Span:
        row, column, width = start
        return (row, column, token.column + token.width - column) if token.row == row else start

    def _barline(self, token: Token) -> None:
        self._end_bar()

    def _line_end(self, token: Token) -> None:
        self._end_bar()

    def _repeat_open(self, token: Token) -> None:
        self._end_bar()
        self.opens_repeat = True

    def _repeat_close(self, token: Token) -> None:
        times = int(token.value)
        if not 2 <= times <= MAX_REPEATS:
            self.faults.add(token.span, "bad-repeat",
                            f"a repeat can't be played {times} time{'s' * (times != 1)} in all",
                            f"say from 2 to {MAX_REPEATS}: `:|` is twice, `:|x3` three times")
            times = 2
        if self.cells:
            self._end_bar(times)
        elif self.bars and not self.bars[-1].repeat_times:
            last, self.short_bar = self.bars.pop(), None
            self.bars.append(replace(last, repeat_times=times))
        else:
            self.faults.add(token.span, "bad-repeat", "this `:|` has no bar to go back over",
                            "put it after the last bar to repeat")

    def _ending(self, token: Token) -> None:
        if self.cells or int(token.value) not in (1, 2):
            self.faults.add(token.span, "bad-repeat", f"an ending `<{token.value}>` can't begin here",
                            "endings are `<1>` and `<2>`, each straight after a barline")
            return
        self.ending = int(token.value)

    def _end_bar(self, repeat_times: int = 0) -> None:
        if not self.cells:
            return
        number = len(self.bars) + (0 if self.frame.pickup else 1)
        span = self._bar_span()
        if self.short_bar:
            self._check_length(*self.short_bar, excused=True)
        self.short_bar = None
        if self.faults.unreadable_words == self.unreadable_before:  # else nobody knows how many slots were meant
            self._check_length(number, span, self.slot_index, repeat_times)
        self.bars.append(Bar(number, tuple(self.cells), tuple(self.chords), tuple(self.texts), self.opens_repeat,
                             repeat_times, self.ending))
        self.bar_spans.append(span)
        self.opens_repeat = False
        self._begin_bar()

    def _bar_span(self) -> Span:
        row, end_column, width = self.spans[-1]
        column = next(span[1] for span in self.spans if span[0] == row)
        return row, column, end_column + width - column

    def _check_length(self, number: int, span: Span, has: int, repeat_times: int = 0, excused: bool = False) -> None:
        """A bar short by the pick-up waits as ``short_bar`` until it is known to be the last, or ends a repeat."""
        frame = self.frame
        counted = f"{has} slot{'' if has == 1 else 's'}"
        if number == 0:
            if has != frame.pickup:
                self.faults.add(span, "bad-pickup", f"the pick-up has {counted}; the header says {frame.pickup}",
                                "make `pickup:` and the first bar agree")
            return
        if has == self.full_slots or self.faults.spoils(span[0]):
            return
        if frame.pickup and has == self.full_slots - frame.pickup and not excused:
            self.short_bar = None if repeat_times else (number, span, has)
            return
        self.faults.add(span, "bar-length", f"bar {number} has {counted}; {frame.meter} in {NOTE_WORDS[frame.grid]} "
                        f"takes {self.full_slots}", _length_hint(has, self.full_slots))


def _length_hint(has: int, takes: int) -> str:
    if has < takes:
        return "add a slot, or hold the last one with `-`"
    return ("take a slot out, or begin a new bar with `|`" if has < 2 * takes
            else f"begin a new bar with `|` after every {takes} slots")


