"""Where the columns of a bar stand. Nothing that shares a row ever comes closer than its clearance."""

from dataclasses import dataclass, replace

from .columns import Column
from .lettering import width_of
from .plan import BarPlan
from .proportions import (
    BAR_LEFT, BAR_NUMBER_SIZE, BAR_RIGHT, CHORD_SIZE, CLOSE_REPEAT_ROOM, EIGHTH_GAP, END_SHARE, FINAL_ROOM,
    FINGER_SIZE, FLAG_WIDTH, FRET_SIZE, HEAD_CLEARANCE, LETTER_CLEARANCE, LINK_MEASURE, LINK_SIZE, METER_ROOM,
    NARROWEST_BAR, OPEN_REPEAT_ROOM, PHONE_BAR_WIDTH, PIN_ROOM, REPEAT_SIZE, SIGN_GAP, SIGN_WIDTH, SLIDE_LENGTH,
    SPACING_POWER, SQUEEZES, STEM_CLEARANCE, TEXT_MEASURE, TEXT_SIZE,
)
from .reach import Reach, reach_of, slides_here
from .words import link_words

REST_HALF_WIDTH = 6.0
CHORD_INDENT = width_of("0", FRET_SIZE) / 2
"""Chord names start flush with the left edge of a one-digit number."""
NUMBER_INDENT = 3.0
EDGE = 3.0
EIGHTH_QUARTERS = 0.5
MOST_FOR_NAMES = 2 * LINK_MEASURE
"""Two links may begin in a bar and have room for their names."""


@dataclass(frozen=True)
class Spacing:
    """``xs`` and ``reaches`` belong to the bar's columns in order; ``left`` is where music may begin,
    ``right`` where it must end."""

    xs: tuple[float, ...]
    reaches: tuple[Reach, ...]
    left: float
    right: float
    width: float


def space(plan: BarPlan) -> Spacing:
    """The bar at its natural width, or squeezed towards a phone's width where it is wider."""
    reaches = tuple(reach_of(column) for column in plan.columns)
    for squeeze in SQUEEZES:
        spacing = _space(plan, reaches, squeeze)
        if spacing.width <= PHONE_BAR_WIDTH:
            break
    return spacing


def widen(spacing: Spacing, width: float) -> Spacing:
    """The same columns spread evenly over a wider bar."""
    first = spacing.xs[0] if spacing.xs else spacing.left
    end = spacing.right
    share = (width - spacing.width) / (end - first)
    return replace(spacing, xs=tuple(x + (x - first) * share for x in spacing.xs),
                   right=end + width - spacing.width, width=width)


def bar_number_words(plan: BarPlan) -> str:
    return str(plan.bar.number) if plan.bar.number else ""


def repeat_words(plan: BarPlan) -> str:
    return f"×{plan.bar.repeat_times}" if plan.bar.repeat_times else ""


def left_of(column: Column, reach: Reach) -> float:
    """How far a number or a rest reaches to the left; 0 where neither stands."""
    if column.notes:
        return reach.left
    return REST_HALF_WIDTH if column.piece and column.piece.silent else 0.0


def _space(plan: BarPlan, reaches: tuple[Reach, ...], squeeze: float) -> Spacing:
    left = (METER_ROOM if plan.is_first else 0) + (OPEN_REPEAT_ROOM if plan.bar.opens_repeat else 0)
    ends = {"chord": NUMBER_INDENT + width_of(bar_number_words(plan), BAR_NUMBER_SIZE), "head": left + EDGE,
            "letter": left, "stem": left}
    xs: list[float] = []
    x = left + BAR_LEFT
    for index, column in enumerate(plan.columns):
        if xs:
            x = xs[-1] + squeeze * _natural_gap(plan, plan.columns[index - 1].at, column.at)
        rows = _rows(column, reaches[index])
        x = max([x, *(ends[row] + clearance + before for row, before, _, clearance in rows)])
        for row, _, after, _ in rows:
            ends[row] = max(ends[row], x + after)
        xs.append(x)
    right = _end(plan, xs, ends, squeeze)
    signs = CLOSE_REPEAT_ROOM if plan.bar.repeat_times else FINAL_ROOM if plan.is_last else 0
    width = max(right + signs, NARROWEST_BAR, _room_for_text(plan))
    return Spacing(tuple(xs), reaches, left, width - signs, width)


def _rows(column: Column, reach: Reach) -> list[tuple[str, float, float, float]]:
    """(row, reach to the left, reach to the right, clearance) of what the column has in each row."""
    rows = []
    pin = PIN_ROOM if column.pinned else 0
    if column.notes:
        clearance = SLIDE_LENGTH + HEAD_CLEARANCE if any(map(slides_here, column.notes)) else HEAD_CLEARANCE
        rows.append(("head", reach.left + pin, reach.right, clearance))
    if column.letters:
        half = max(width_of(letter, FINGER_SIZE) for letter, _ in column.letters) / 2
        sign = SIGN_WIDTH + SIGN_GAP if column.repeats else 0
        rows.append(("letter", half + sign, half, LETTER_CLEARANCE))
    if column.chord:
        rows.append(("chord", CHORD_INDENT, width_of(column.chord, CHORD_SIZE) - CHORD_INDENT, HEAD_CLEARANCE * 2))
    if column.piece and column.piece.silent:
        rows.append(("head", REST_HALF_WIDTH + pin, REST_HALF_WIDTH, HEAD_CLEARANCE))
    elif column.piece:
        extra = FLAG_WIDTH if column.flagged or column.piece.value.dotted else 0
        rows.append(("stem", STEM_CLEARANCE, STEM_CLEARANCE + extra, 0))
    if pin and column.is_bare:
        rows.append(("head", pin, 0, HEAD_CLEARANCE))
    return rows


def _natural_gap(plan: BarPlan, begin: int, end: int) -> float:
    return EIGHTH_GAP * ((end - begin) / plan.quarter_ticks / EIGHTH_QUARTERS) ** SPACING_POWER


def _end(plan: BarPlan, xs: list[float], ends: dict[str, float], squeeze: float) -> float:
    natural = xs[-1] + squeeze * END_SHARE * _natural_gap(plan, plan.columns[-1].at, plan.ticks) if xs else 0.0
    repeat = repeat_words(plan)
    chord_row = ends["chord"] + (HEAD_CLEARANCE * 2 + width_of(repeat, REPEAT_SIZE) if repeat else 0) + EDGE
    return max(natural, chord_row, *(ends[row] + BAR_RIGHT for row in ("head", "letter", "stem")))


def _room_for_text(plan: BarPlan) -> float:
    widest = max((width_of(words, TEXT_SIZE) for _, words in plan.bar.texts), default=0.0)
    names = [min(width_of(link_words(start), LINK_SIZE), LINK_MEASURE) + 2 * EDGE for start in plan.links]
    texts = min(widest, TEXT_MEASURE) + 2 * EDGE if widest else 0.0
    return max(texts, min(sum(names), MOST_FOR_NAMES))
