"""The numbers, and what belongs to one note: ring, chevrons, wave, choke arrow, brush."""

from collections.abc import Iterator

from ..model.note import Note
from .columns import Column
from .heights import Rows
from .plan import BarPlan
from .proportions import (
    ARROW_ROOM, CHEVRON_ROOM, CUP_DROP, CUP_HALF_WIDTH, FRET_SIZE, HALO_HALF_HEIGHT, HALO_LEAST_HALF_WIDTH,
    HALO_MARGIN, LEFT_HAND_SIZE, RELEASE_ROOM, RING_RADIUS, STRING_GAP, WAVE_ROOM,
)
from .reach import Reach, brushed_strings, half_width, head_words, is_let_down
from .shapes import Box, Curve, Disc, Head, Shape, Stroke, arc, centred
from .spacing import Spacing
from .words import says

RING_OFFSET = 0.6
LEFT_LIFT, LEFT_CUP_DROP = 1.3, 3.0
"""A chosen finger of the left hand stands above, its cup below the middle of the gap between two strings."""
CHEVRON_HEIGHT, CHEVRON_DEPTH, CHEVRON_GAP = 4.6, 3.4, 1.2
WAVES, WAVE_HEIGHT, WAVE_GAP = 3, 2.6, 2.0
ARROW_GAP = 2.0
ARROW_HEAD = 2.6
ARROW_TURN = 3.5
TIP_DROP = 3.0
"""Choke arrows end so far below the top of the crown."""
BRUSH_HOOK = 2.5
BRUSH_OVERHANG = 4.0


def draw_heads(plan: BarPlan, spacing: Spacing, rows: Rows) -> Iterator[Head]:
    for column, x, reach in zip(plan.columns, spacing.xs, spacing.reaches, strict=True):
        arrows = iter(reach.arrows)
        for note in column.notes:
            arrow_at = x + next(arrows) if note.bend > 0 else None
            ornaments = (*_finger(note, column, x + reach.half, rows), *_ornaments(note, x, reach, arrow_at, rows))
            yield _head(note, _said(note, column, plan), x, rows, ornaments)


def draw_brush(column: Column, x: float, reach: Reach, rows: Rows) -> Iterator[Stroke]:
    """A hooked upright to the left of strings stroked by one finger."""
    brushed = brushed_strings(column.notes)
    if brushed:
        left = x - reach.left + (RELEASE_ROOM if any(map(is_let_down, column.notes)) else 0) + 1
        top, foot = rows.string(brushed[0]) - BRUSH_OVERHANG, rows.string(brushed[1]) + BRUSH_OVERHANG
        yield Stroke("brush", ((left + BRUSH_HOOK, top), (left, top), (left, foot), (left + BRUSH_HOOK, foot)))


def _head(note: Note, said: str, x: float, rows: Rows, ornaments: tuple[Shape, ...]) -> Head:
    y = rows.string(note.string)
    words = head_words(note)
    half = max(half_width(note) + HALO_MARGIN, HALO_LEAST_HALF_WIDTH)
    halo = Box(x - half, y - HALO_HALF_HEIGHT, x + half, y + HALO_HALF_HEIGHT)
    fret = "x" if note.touch == "damped" else str(note.fret)
    return Head(note.mark, note.string, fret, said, centred("fret", words, x, y, FRET_SIZE), halo, ornaments)


def _said(note: Note, column: Column, plan: BarPlan) -> str:
    position = f", {column.position.name}" if column.position and note.left else ""
    return says(note) + position + (", changed" if note.slot in plan.changed_slots else "")


def _finger(note: Note, column: Column, left: float, rows: Rows) -> Iterator[Shape]:
    """A written finger of the left hand stands in a ring; a chosen one, where the hand moves, lies in a cup."""
    finger = column.left_finger(note)
    if not finger:
        return
    middle, level = left + RING_RADIUS + RING_OFFSET, rows.string(note.string) - STRING_GAP / 2
    if note.left_given:
        yield Disc("ring", middle, level, RING_RADIUS)
        yield centred("left", finger, middle, level, LEFT_HAND_SIZE)
    else:
        yield centred("left-chosen", finger, middle, level - LEFT_LIFT, LEFT_HAND_SIZE)
        yield arc("left-cup", middle - CUP_HALF_WIDTH, middle + CUP_HALF_WIDTH, level + LEFT_CUP_DROP, -CUP_DROP)


def _ornaments(note: Note, x: float, reach: Reach, arrow_at: float | None, rows: Rows) -> Iterator[Shape]:
    y = rows.string(note.string)
    half = half_width(note)
    if note.touch == "chime":
        yield from _chevrons(x, y, half)
    if note.vibrato:
        yield _wave(x + reach.waves + WAVE_GAP, y)
    if arrow_at is not None:
        yield from _choke(arrow_at + ARROW_ROOM / 2, y, rows.crown + TIP_DROP, note.release)
    if is_let_down(note):
        yield from _fall(x - reach.left + RELEASE_ROOM / 2 - 1, y, rows.crown + TIP_DROP)


def _chevrons(x: float, y: float, half: float) -> Iterator[Stroke]:
    inner = half - CHEVRON_ROOM + CHEVRON_GAP
    for side in (-1, 1):
        near, far = x + side * inner, x + side * (inner + CHEVRON_DEPTH)
        yield Stroke("chevron", ((near, y - CHEVRON_HEIGHT), (far, y), (near, y + CHEVRON_HEIGHT)))


def _wave(left: float, y: float) -> Stroke:
    step = (WAVE_ROOM - WAVE_GAP) / (2 * WAVES)
    return Stroke("wave", tuple((left + i * step, y + (WAVE_HEIGHT if i % 2 else -WAVE_HEIGHT) * 0.8)
                                for i in range(2 * WAVES)))


def _choke(upright: float, y: float, tip: float, lets_down: bool) -> Iterator[Shape]:
    """Off the string, past the number and its ring, to above the staff; let down, a second arrow falls beside it."""
    yield Curve("choke", (upright - ARROW_TURN, y), (upright, y), (upright, tip))
    yield _arrow_head(upright, tip, ARROW_HEAD)
    if lets_down:
        fall = upright + RELEASE_ROOM
        yield Curve("choke", (upright + ARROW_HEAD, tip), (fall, tip), (fall, y - ARROW_GAP))
        yield _arrow_head(fall, y - ARROW_GAP, -ARROW_HEAD)


def _fall(upright: float, y: float, tip: float) -> Iterator[Shape]:
    yield Stroke("choke", ((upright, tip), (upright, y - ARROW_GAP)))
    yield _arrow_head(upright, y - ARROW_GAP, -ARROW_HEAD)


def _arrow_head(x: float, y: float, size: float) -> Stroke:
    return Stroke("choke", ((x - abs(size), y + 1.5 * size), (x, y), (x + abs(size), y + 1.5 * size)))
