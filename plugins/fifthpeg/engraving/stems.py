"""Below the staff: stems, beams, flags, dots, ties, tuplets; and rests on the staff."""

from collections.abc import Iterator

from .beams import Beam
from .heights import Rows
from .lettering import width_of
from .plan import BarPlan
from .proportions import (
    BEAM_PITCH, BEAM_THICKNESS, DOT_DROP, DOT_OFFSET, DOT_RADIUS, FLAG_HEIGHT, FLAG_WIDTH, HALF_STEM_LENGTH,
    STEM_CLEARANCE, STUB_LENGTH, TIE_DROP, TUPLET_SIZE,
)
from .rests import draw_rest
from .rhythm import QUARTER_HALVINGS, Piece, Tuplet
from .shapes import Block, Box, Curve, Disc, Shape, Stroke, arc, arc_closing, arc_opening, centred
from .spacing import Spacing

STEM_THICKNESS = 1.3
"""Stems and beams are one kind of shape, filled together: a half-transparent ink would show every crossing."""
FLAG_THICKNESS = 1.8
TIE_INSET = 1.5
BRACKET_HOOK = 3.0
NUMBER_MARGIN = 2.0


def draw_stems(plan: BarPlan, spacing: Spacing, rows: Rows, tie_on: bool) -> Iterator[Shape]:
    """``tie_on``: the next bar begins with a value tied to this one's last."""
    at = {column.at: x for column, x in zip(plan.columns, spacing.xs, strict=True)}
    xs = [at[piece.at] for piece in plan.pieces]
    for index, (piece, x) in enumerate(zip(plan.pieces, xs, strict=True)):
        if piece.silent:
            whole_bar = len(plan.pieces) == 1
            yield from draw_rest(piece.value, (spacing.left + spacing.right) / 2 if whole_bar else x, rows)
            continue
        yield from _stem(piece, x, rows)
        if piece.tied:
            yield _tie(xs[index - 1] if index else None, x, rows)
    if tie_on and xs:
        yield arc_opening("tie", xs[-1] + TIE_INSET, spacing.width, rows.stem_top, -TIE_DROP)
    for beam in plan.beaming.beams:
        yield _beam(beam, xs, rows)
    for index in plan.beaming.flagged:
        yield from _flags(plan.pieces[index].value.flags, xs[index], rows)
    yield from _tuplets(plan, xs, rows)


def _stem(piece: Piece, x: float, rows: Rows) -> Iterator[Shape]:
    """Whole notes have none, half notes a short one."""
    halvings = piece.value.halvings
    if halvings:
        foot = rows.stem_foot if halvings >= QUARTER_HALVINGS else rows.stem_top + HALF_STEM_LENGTH
        yield Block("stem", Box(x - STEM_THICKNESS / 2, rows.stem_top, x + STEM_THICKNESS / 2, foot))
    if piece.value.dotted:
        yield Disc("dot", x + DOT_OFFSET, rows.stem_top + DOT_DROP, DOT_RADIUS)


def _tie(before: float | None, x: float, rows: Rows) -> Shape:
    if before is None:
        return arc_closing("tie", x - TIE_INSET, rows.stem_top, -TIE_DROP)
    return arc("tie", before + TIE_INSET, x - TIE_INSET, rows.stem_top, -TIE_DROP)


def _beam(beam: Beam, xs: list[float], rows: Rows) -> Block:
    foot = rows.stem_foot - BEAM_PITCH * (beam.level - 1)
    left = xs[beam.first] - STEM_THICKNESS / 2 - (STUB_LENGTH if beam.stub < 0 else 0)
    right = xs[beam.last] + STEM_THICKNESS / 2 + (STUB_LENGTH if beam.stub > 0 else 0)
    return Block("stem", Box(left, foot - BEAM_THICKNESS, right, foot))


def _flags(count: int, x: float, rows: Rows) -> Iterator[Curve]:
    for index in range(count):
        foot = rows.stem_foot - BEAM_PITCH * index - FLAG_THICKNESS / 2
        yield Curve("flag", (x, foot), (x + FLAG_WIDTH, foot - 1), (x + FLAG_WIDTH - 1, foot - FLAG_HEIGHT))


def _tuplets(plan: BarPlan, xs: list[float], rows: Rows) -> Iterator[Shape]:
    """Inner tuplets nearest to the stems."""
    spans: dict[Tuplet, list[float]] = {}
    depth_below: dict[Tuplet, int] = {}
    for piece, x in zip(plan.pieces, xs, strict=True):
        for depth, tuplet in enumerate(piece.tuplets):
            spans.setdefault(tuplet, []).append(x)
            depth_below[tuplet] = max(depth_below.get(tuplet, 0), len(piece.tuplets) - 1 - depth)
    for tuplet, covered in spans.items():
        yield from _bracket(str(tuplet.count), covered, rows.tuplets[depth_below[tuplet]])


def _bracket(number: str, covered: list[float], y: float) -> Iterator[Shape]:
    left, right = covered[0] - STEM_CLEARANCE + 1, covered[-1] + STEM_CLEARANCE - 1
    middle = (left + right) / 2
    gap = width_of(number, TUPLET_SIZE) / 2 + NUMBER_MARGIN
    yield centred("tuplet", number, middle, y, TUPLET_SIZE)
    if middle - gap > left:
        yield Stroke("bracket", ((left, y - BRACKET_HOOK), (left, y), (middle - gap, y)))
        yield Stroke("bracket", ((middle + gap, y), (right, y), (right, y - BRACKET_HOOK)))
