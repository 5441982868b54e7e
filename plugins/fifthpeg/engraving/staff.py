"""The five lines and what stands on them: numbers, slides, meter, rests, barlines."""

from collections.abc import Iterator, Sequence

from ..model.note import Note
from .heads import draw_heads
from .heights import Rows
from .lettering import width_of
from .plan import BarPlan, LickPlan
from .proportions import HEAD_CLEARANCE, LINE_CUT, METER_ROOM, METER_SIZE, SLIDE_RISE, STRINGS, WAVE_ROOM
from .reach import Reach, half_width, slides_here
from .shapes import Block, Box, Disc, Head, Shape, Stroke, centred
from .spacing import Spacing

THIN, THICK = 1.0, 3.0
SIGN_GAP = 2.5
REPEAT_DOT_RADIUS = 1.7
OPEN_GAPS = ((2.0, 4.5), (7.0, 9.5))
"""Where a showing cuts into a bar there is no barline: each string comes up out of, or fades into, two dashes."""
SEAM_OVERLAP = 0.5
"""Lines reach so far beyond the bar, or a hairline of page shows between neighbours."""
Cut = tuple[int, float, float]


def draw_staff(
    plan: BarPlan, lick: LickPlan, spacings: Sequence[Spacing], rows: Rows,
) -> tuple[tuple[Head, ...], list[Shape]]:
    """Heads and everything else on the lines of one bar."""
    spacing = spacings[plan.index]
    cuts: list[Cut] = []
    shapes: list[Shape] = []
    for slide, cut in _slides(plan, lick, spacings, rows):
        shapes.append(slide)
        cuts.append(cut)
    for column, x, reach in zip(plan.columns, spacing.xs, spacing.reaches, strict=True):
        cuts += [_cut_for(note, x, reach) for note in column.notes]
    if plan.is_first:
        shapes += _meter(lick, rows)
        cuts += [(string, 1.0, METER_ROOM) for string in (2, 4)]
    cuts += _open_sides(plan, spacing)
    shapes += _barlines(plan, spacing, rows)
    heads = tuple(draw_heads(plan, spacing, rows))
    end = spacing.width + (0 if plan.is_last else SEAM_OVERLAP)
    return heads, [*_lines(cuts, end, rows), *shapes]


def _cut_for(note: Note, x: float, reach: Reach) -> Cut:
    half = half_width(note)
    right = reach.waves + WAVE_ROOM if note.vibrato else half
    return note.string, x - half - LINE_CUT, x + right + LINE_CUT


def _open_sides(plan: BarPlan, spacing: Spacing) -> Iterator[Cut]:
    for string in range(1, STRINGS + 1):
        for near, far in OPEN_GAPS:
            if plan.opens_late:
                yield string, near, far
            if plan.ends_early:
                yield string, spacing.width - far, spacing.width - near


def _lines(cuts: list[Cut], end: float, rows: Rows) -> Iterator[Stroke]:
    for string in range(1, STRINGS + 1):
        y = rows.string(string)
        begin = 0.0
        for _, left, right in sorted(cut for cut in cuts if cut[0] == string):
            if left > begin:
                yield Stroke("staff", ((begin, y), (left, y)))
            begin = max(begin, right)
        if begin < end:
            yield Stroke("staff", ((begin, y), (end, y)))


def _slides(plan: BarPlan, lick: LickPlan, spacings: Sequence[Spacing], rows: Rows) -> Iterator[tuple[Stroke, Cut]]:
    """A slide is the string's own line, tilted, from the last thing before the arrival to the arrival."""
    spacing = spacings[plan.index]
    for column_index, column in enumerate(plan.columns):
        for note in filter(slides_here, column.notes):
            end = spacing.xs[column_index] - spacing.reaches[column_index].left - LINE_CUT
            before = _last_filled(plan, column_index)
            begin = spacing.left if before is None else _clear_of(spacing, before)
            yield _tilted(note, begin, end, rows, half=1 if before is None else 0)
    following = lick.bars[plan.index + 1] if not plan.is_last else None
    for column in following.columns if following else ():
        if not column.is_bare:
            before = _last_filled(plan, len(plan.columns))
            for note in filter(slides_here, column.notes):
                begin = 0.0 if before is None else _clear_of(spacing, before)
                yield _tilted(note, begin, spacing.right, rows, half=-1)
            break


def _last_filled(plan: BarPlan, column_index: int) -> int | None:
    return next((i for i in range(column_index - 1, -1, -1) if not plan.columns[i].is_bare), None)


def _clear_of(spacing: Spacing, column_index: int) -> float:
    return spacing.xs[column_index] + spacing.reaches[column_index].right + HEAD_CLEARANCE


def _tilted(note: Note, begin: float, end: float, rows: Rows, half: int) -> tuple[Stroke, Cut]:
    """``half`` −1 draws the half before a barline, 1 the half after it, 0 the whole."""
    rise = SLIDE_RISE if note.fret >= (note.from_fret or 0) else -SLIDE_RISE
    y = rows.string(note.string)
    at_begin, at_end = (0 if half > 0 else rise), (0 if half < 0 else -rise)
    return Stroke("slide", ((begin, y + at_begin), (end, y + at_end))), (note.string, begin - LINE_CUT, end)


def _meter(lick: LickPlan, rows: Rows) -> Iterator[Shape]:
    middle = METER_ROOM / 2 + 1
    for number, string in ((lick.lick.meter.count, 2), (lick.lick.meter.unit, 4)):
        words = str(number)
        size = min(METER_SIZE, METER_SIZE * (METER_ROOM - 2) / width_of(words, METER_SIZE))
        yield centred("meter", words, middle, rows.string(string), size)


def _barlines(plan: BarPlan, spacing: Spacing, rows: Rows) -> Iterator[Shape]:
    """Each bar draws its own right end; the first one opens the tab with a thin line."""
    top, foot = rows.string(1) - THIN / 2, rows.string(STRINGS) + THIN / 2
    edge = spacing.width
    if plan.bar.opens_repeat:
        begin = spacing.left - 2 * SIGN_GAP - THICK - THIN - REPEAT_DOT_RADIUS
        yield _upright(begin, THICK, top, foot)
        yield _upright(begin + THICK + SIGN_GAP, THIN, top, foot)
        yield from _repeat_dots(spacing.left - REPEAT_DOT_RADIUS, rows)
    if plan.is_first and not plan.opens_late:
        yield _upright(0, THIN, top, foot)
    if plan.ends_early:
        return
    if plan.bar.repeat_times or plan.is_last:
        yield _upright(edge - THICK, THICK, top, foot)
        edge -= THICK + SIGN_GAP
    yield _upright(edge - THIN, THIN, top, foot)
    if plan.bar.repeat_times:
        yield from _repeat_dots(edge - THIN - SIGN_GAP - REPEAT_DOT_RADIUS, rows)


def _upright(left: float, width: float, top: float, foot: float) -> Block:
    return Block("barline", Box(left, top, left + width, foot))


def _repeat_dots(x: float, rows: Rows) -> Iterator[Disc]:
    for above in (2, 3):
        yield Disc("barline", x, (rows.string(above) + rows.string(above + 1)) / 2, REPEAT_DOT_RADIUS)
