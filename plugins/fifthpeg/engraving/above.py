"""Above the staff: chords, words, arcs and their letters, accents, bar numbers, endings and exits."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from .heights import Rows
from .lanes import Hang
from .lettering import width_of, wrap
from .plan import BarPlan, LickPlan
from .proportions import (
    ARC_RISE, BAR_NUMBER_SIZE, BRACKET_ROW, BRACKET_SIZE, CHORD_SIZE, CROWN, MARK_SIZE, REPEAT_SIZE, TEXT_SIZE,
)
from .shapes import Label, Shape, Stroke, arc, arc_closing, arc_opening
from .spacing import CHORD_INDENT, EDGE, NUMBER_INDENT, Spacing, bar_number_words, repeat_words

ACCENT_HALF_WIDTH, ACCENT_HALF_HEIGHT, ACCENT_DROP = 4.0, 2.6, 5.0
LETTER_STANDOFF = 2.0
"""Between the top of an arc and the foot of its letter."""
HOOK = 8.0
BRACKET_INSET = 2.0


@dataclass(frozen=True)
class TextLine:
    """``level`` 0 is the line nearest to the staff."""

    words: str
    x: float
    level: int


def place_texts(plan: BarPlan, spacing: Spacing) -> tuple[TextLine, ...]:
    """The words of a bar, wrapped to it, each as low as the ones before leave room."""
    at = {column.at: x for column, x in zip(plan.columns, spacing.xs, strict=True)}
    slot_ticks = plan.ticks // plan.bar.slot_count if plan.bar.slot_count else 0
    placed: list[TextLine] = []
    for slot_index, words in plan.bar.texts:
        lines = wrap(words, TEXT_SIZE, spacing.width - 2 * EDGE)
        block = max((width_of(line, TEXT_SIZE) for line in lines), default=0.0)
        x = max(EDGE, min(at[slot_index * slot_ticks] - CHORD_INDENT, spacing.width - EDGE - block))
        level = _free_level(placed, x, block)
        placed += [TextLine(line, x, level + index) for index, line in enumerate(reversed(lines))]
    return tuple(placed)


def draw_above(plan: BarPlan, lick: LickPlan, spacing: Spacing, hangs: Sequence[Hang], texts: Sequence[TextLine],
               rows: Rows) -> Iterator[Shape]:
    yield from _signs(plan, spacing, rows)
    for line in texts:
        yield Label("text", line.words, line.x, rows.texts[line.level], TEXT_SIZE, "start")
    for column, x in zip(plan.columns, spacing.xs, strict=True):
        if column.chord:
            yield Label("chord", column.chord, x - CHORD_INDENT, rows.chord, CHORD_SIZE, "start")
        if any(note.accent for note in column.notes):
            yield _accent(x, rows.first_string - CROWN + ACCENT_DROP - 1)
    for item in hangs:
        if item.first_bar <= plan.index <= item.last_bar:
            yield from _arc_here(item, plan, spacing, rows) if item.is_arc else _words_here(item, rows)
    yield from _brackets(plan, lick, spacing, rows)


def _free_level(placed: list[TextLine], x: float, width: float) -> int:
    crossing = [line.level for line in placed
                if line.x < x + width + EDGE and x < line.x + width_of(line.words, TEXT_SIZE) + EDGE]
    return 1 + max(crossing, default=-1)


def _signs(plan: BarPlan, spacing: Spacing, rows: Rows) -> Iterator[Label]:
    if plan.bar.number:
        yield Label("number", bar_number_words(plan), NUMBER_INDENT, rows.chord, BAR_NUMBER_SIZE, "start")
    if plan.bar.repeat_times:
        yield Label("times", repeat_words(plan), spacing.width - EDGE, rows.chord, REPEAT_SIZE, "end")


def _accent(x: float, y: float) -> Stroke:
    left, right = x - ACCENT_HALF_WIDTH, x + ACCENT_HALF_WIDTH
    return Stroke("accent", ((left, y - ACCENT_HALF_HEIGHT), (right, y), (left, y + ACCENT_HALF_HEIGHT)))


def _words_here(item: Hang, rows: Rows) -> Iterator[Label]:
    yield Label("mark", item.words, item.left, rows.lanes[item.lane] - LETTER_STANDOFF, MARK_SIZE, "start")


def _arc_here(item: Hang, plan: BarPlan, spacing: Spacing, rows: Rows) -> Iterator[Shape]:
    """Whole, or the half that lies in this bar; the letter stands in the bar of the arrival."""
    foot = rows.lanes[item.lane] - 1
    begins, ends = item.first_bar == plan.index, item.last_bar == plan.index
    left, right = item.left if begins else 0.0, item.right if ends else spacing.width
    if begins and ends:
        yield arc("arc", left, right, foot, ARC_RISE)
    elif begins:
        yield arc_opening("arc", left, right, foot, ARC_RISE)
    elif ends:
        yield arc_closing("arc", right, foot, ARC_RISE)
    else:
        yield Stroke("arc", ((left, foot - ARC_RISE), (right, foot - ARC_RISE)))
    if ends:
        yield Label("mark", item.words, (left + right) / 2, foot - ARC_RISE - LETTER_STANDOFF, MARK_SIZE)


def _brackets(plan: BarPlan, lick: LickPlan, spacing: Spacing, rows: Rows) -> Iterator[Shape]:
    before = lick.bars[plan.index - 1] if plan.index else None
    if plan.ending:
        begins = bool(plan.bar.ending)
        closes = bool(plan.bar.repeat_times)
        yield from _bracket("ending", f"{plan.ending}." if begins else "", begins, closes, spacing, rows.ending)
    if plan.exit:
        begins = before is None or not before.exit
        yield from _bracket("exit", "exit" if begins else "", begins, plan.is_last, spacing, rows.exit)


def _bracket(kind: str, words: str, begins: bool, closes: bool, spacing: Spacing, y: float) -> Iterator[Shape]:
    left, right = (BRACKET_INSET if begins else 0.0), spacing.width - (BRACKET_INSET if closes else 0.0)
    down = [(left, y + HOOK)] if begins else []
    up = [(right, y + HOOK)] if closes else []
    yield Stroke(kind, (*down, (left, y), (right, y), *up))
    if words:
        yield Label(f"{kind}-word", words, left + BRACKET_INSET + 1, y + BRACKET_ROW - 4, BRACKET_SIZE, "start")
