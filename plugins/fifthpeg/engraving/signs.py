"""Signs of the hands: a shape for each verdict, the same at a seam and at a letter, so that none needs its colour."""

from collections.abc import Iterator

from ..model.findings import CLASH, REPAIRED, TIGHT
from .proportions import SIGN_HEIGHT, SIGN_WIDTH
from .shapes import Curve, Disc, Stroke

BOW_DEPTH = 1.5
"""How far each of two bows leans towards the other."""
EYE_RADIUS = 1.5


def sign_shapes(verdict: str, x: float, y: float) -> Iterator[Stroke | Curve | Disc]:
    """Around (x, y). Two bows that nearly touch are tight; a ragged tear is a clash; a patch is repaired; anything
    else has an eye, hardly to be seen."""
    half, rise = SIGN_WIDTH / 2, SIGN_HEIGHT / 2
    if verdict == TIGHT:
        for side in (-1, 1):
            outer, middle = x + side * half, x + side * (half - 2 * BOW_DEPTH)
            yield Curve("sign", (outer, y - rise), (middle, y), (outer, y + rise))
    elif verdict == CLASH:
        yield Stroke("sign", ((x - half, y - rise), (x + half, y - rise / 3), (x - half, y + rise / 3),
                              (x + half, y + rise)))
    elif verdict == REPAIRED:
        top, foot = y + rise - SIGN_WIDTH, y + rise
        yield Stroke("sign", ((x - half, top), (x + half, top), (x + half, foot), (x - half, foot), (x - half, top)))
        yield Stroke("sign", ((x - half, foot), (x + half, top)))
    else:
        yield Disc("sign", x, y + rise - EYE_RADIUS, EYE_RADIUS)
