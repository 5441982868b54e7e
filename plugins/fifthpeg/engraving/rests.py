"""Rests, in simple shapes, in the middle of the staff."""

from collections.abc import Iterator

from .heights import Rows
from .proportions import STRING_GAP
from .rhythm import Value
from .shapes import Block, Box, Disc, Shape, Stroke

BLOCK_HALF_WIDTH, BLOCK_HEIGHT = 5.0, 5.0
ZIGZAG = ((-3.0, -10.0), (2.5, -4.0), (-2.5, 1.5), (3.0, 8.5))
HOOK_PITCH = 6.0
HOOK_DOT_RADIUS = 2.0


def draw_rest(value: Value, x: float, rows: Rows) -> Iterator[Shape]:
    """A whole rest hangs from the second line, a half rest sits on the third, a quarter zigzags,
    shorter ones are a slanted stem with a dotted hook a flag."""
    middle = rows.string(3)
    if value.halvings == 0:
        yield _block(x, middle - STRING_GAP)
    elif value.halvings == 1:
        yield _block(x, middle - BLOCK_HEIGHT)
    elif not value.flags:
        yield Stroke("rest", tuple((x + dx, middle + dy) for dx, dy in ZIGZAG))
    else:
        yield from _hooks(value.flags, x, middle)
    if value.dotted:
        yield Disc("dot", x + BLOCK_HALF_WIDTH + 2, middle - STRING_GAP / 2, HOOK_DOT_RADIUS)


def _block(x: float, top: float) -> Block:
    return Block("rest", Box(x - BLOCK_HALF_WIDTH, top, x + BLOCK_HALF_WIDTH, top + BLOCK_HEIGHT))


def _hooks(flags: int, x: float, middle: float) -> Iterator[Shape]:
    top = middle - 3 - HOOK_PITCH * flags / 2
    foot = top + HOOK_PITCH * flags + 7
    slant = 1.2 * flags + 2.0
    yield Stroke("rest", ((x + slant, top - 1), (x - slant / 2, foot)))
    for index in range(flags):
        y = top + HOOK_PITCH * index + 1
        right = x + slant - 1.5 * slant * (y + 1 - top) / (foot - top + 1)
        yield Disc("rest", x - slant, y, HOOK_DOT_RADIUS)
        yield Stroke("rest", ((x - slant, y + 1), (right - 1, y + 1), (right, y - 1)))
