"""Nothing written touches anything else: geometry of generated licks, by the sizes the drawing assumes."""

from itertools import combinations

from fifthpeg.engraving.proportions import SIGN_HEIGHT, SIGN_WIDTH
from fifthpeg.engraving.shapes import Block, Box, Curve, Disc, DrawnBar, Label, Sign, Stroke
from fifthpeg.engraving.signs import sign_shapes
from hypothesis import given, settings
from tests.engraving.adorned import Told, drawn, told

SLACK = 0.01
ALLOWED = ("ring",)
"""The one shape that is drawn round a number."""
CURVE_STEPS = 24


def labels_of(bar: DrawnBar) -> list[Label]:
    shapes = (*bar.shapes, *(shape for head in bar.heads for shape in head.ornaments))
    return [*(head.label for head in bar.heads), *(shape for shape in shapes if isinstance(shape, Label))]


def drawn_lines(bar: DrawnBar) -> list[Stroke | Curve | Block | Disc]:
    inside = [shape for head in bar.heads for shape in head.ornaments]
    lines = [shape for shape in (*bar.shapes, *inside) if not isinstance(shape, Label | Sign)]
    return [*lines, *(part for sign in signs_of(bar) for part in parts_of(sign))]


def signs_of(bar: DrawnBar) -> list[Sign]:
    return [shape for shape in bar.shapes if isinstance(shape, Sign)]


def parts_of(sign: Sign) -> list[Stroke | Curve | Disc]:
    return [*sign_shapes(sign.verdict, sign.x, sign.y), *([sign.shaft] if sign.shaft else [])]


def box_of(sign: Sign) -> Box:
    return Box(sign.x - SIGN_WIDTH / 2, sign.y - SIGN_HEIGHT / 2, sign.x + SIGN_WIDTH / 2, sign.y + SIGN_HEIGHT / 2)


def shrunk(box: Box) -> Box:
    return Box(box.left + SLACK, box.top + SLACK, box.right - SLACK, box.bottom - SLACK)


def touches(shape: Stroke | Curve | Block | Disc, box: Box) -> bool:
    if isinstance(shape, Block):
        return shape.box.overlaps(box)
    if not span(shape).overlaps(box):
        return False
    points = samples(shape)
    return any(box.left < x < box.right and box.top < y < box.bottom for x, y in points)


def span(shape: Stroke | Curve | Disc) -> Box:
    """A box that surely holds the shape."""
    if isinstance(shape, Disc):
        return Box(shape.x - shape.radius, shape.y - shape.radius, shape.x + shape.radius, shape.y + shape.radius)
    points = (shape.start, shape.control, shape.end) if isinstance(shape, Curve) else shape.points
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Box(min(xs) - SLACK, min(ys) - SLACK, max(xs) + SLACK, max(ys) + SLACK)


def samples(shape: Stroke | Curve | Disc) -> list[tuple[float, float]]:
    """Points along a line, closer together than any number is wide."""
    if isinstance(shape, Disc):
        return [(shape.x, shape.y), (shape.x - shape.radius, shape.y), (shape.x + shape.radius, shape.y)]
    if isinstance(shape, Curve):
        shares = [step / CURVE_STEPS for step in range(CURVE_STEPS + 1)]
        corners = zip(shape.start, shape.control, shape.end, strict=True)
        xs, ys = ([(1 - t) ** 2 * a + 2 * t * (1 - t) * b + t * t * c for t in shares] for a, b, c in corners)
        return list(zip(xs, ys, strict=True))
    found = []
    for (x1, y1), (x2, y2) in zip(shape.points, shape.points[1:], strict=False):
        steps = max(1, int(max(abs(x2 - x1), abs(y2 - y1))))
        found += [(x1 + (x2 - x1) * i / steps, y1 + (y2 - y1) * i / steps) for i in range(steps + 1)]
    return found


@settings(max_examples=60, deadline=None)
@given(told())
def test_no_two_words_overlap(made: Told):
    for bar in drawn(made.lick, made.notes, made.findings):
        for one, other in combinations(labels_of(bar), 2):
            assert not shrunk(one.box).overlaps(shrunk(other.box)), (one, other)


@settings(max_examples=60, deadline=None)
@given(told())
def test_no_word_leaves_its_bar(made: Told):
    for bar in drawn(made.lick, made.notes, made.findings):
        for label in labels_of(bar):
            box = shrunk(label.box)
            assert box.left >= 0 and box.right <= bar.width and box.top >= 0 and box.bottom <= bar.height, label


@settings(max_examples=60, deadline=None)
@given(told())
def test_no_line_runs_through_a_number_or_a_word(made: Told):
    """Staff lines stop before numbers; stems, arcs, slides and arrows keep clear of all that is read."""
    for bar in drawn(made.lick, made.notes, made.findings):
        for label in labels_of(bar):
            for shape in drawn_lines(bar):
                assert shape.kind in ALLOWED or not touches(shape, shrunk(label.box)), (label, shape)


@settings(max_examples=60, deadline=None)
@given(told())
def test_bars_of_a_lick_are_of_one_height(made: Told):
    assert len({bar.height for bar in drawn(made.lick, made.notes, made.findings)}) == 1


@settings(max_examples=60, deadline=None)
@given(told())
def test_no_sign_leaves_its_bar_or_touches_a_word_or_another_sign(made: Told):
    for bar in drawn(made.lick, made.notes, made.findings):
        signs = [shrunk(box_of(sign)) for sign in signs_of(bar)]
        words = [shrunk(label.box) for label in labels_of(bar)]
        for box in signs:
            assert box.left >= 0 and box.right <= bar.width and box.top >= 0 and box.bottom <= bar.height
            assert not any(box.overlaps(word) for word in words)
        assert not any(one.overlaps(other) for one, other in combinations(signs, 2))
