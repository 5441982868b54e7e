"""Geometry -> SVG elements. Colour is always ``currentColor``; widths and sizes are attributes, so that
a drawing without our style sheet still stands."""

from collections.abc import Iterable
from functools import lru_cache
from html import escape

from .proportions import FRET_SIZE, LEFT_HAND_SIZE, SIGN_HEIGHT, SIGN_WIDTH
from .shapes import Block, Box, Curve, Disc, DrawnBar, Head, Label, Shape, Sign, Stroke
from .signs import sign_shapes

_LINE = 'fill="none" stroke="currentColor"'
_LINES = {
    "staff": f'{_LINE} stroke-opacity=".6"',
    **{kind: f'{_LINE} stroke-width="{width}"' for kind, width in {
        "slide": 1.6, "tie": 1.2, "flag": 1.8, "bracket": 1, "rest": 1.8, "arc": 1.2, "accent": 1.5, "ending": 1,
        "cup": 1, "left-cup": 1, "brush": 1.3, "chevron": 1.3, "wave": 1.2, "choke": 1.3, "ring": 0.9}.items()},
    "exit": f'{_LINE} stroke-dasharray="5 3"',
}
"""Attributes of stroked shapes by kind, in drawing order."""
SIGN_STROKE = 1.4
_FILLS = ("barline", "stem", "dot", "rest", "change")
_LABELS = {
    "number": 'fill-opacity=".75"', "chord": 'font-weight="600"', "text": 'font-style="italic"', "mark": "",
    "times": 'font-weight="600"', "meter": 'font-weight="700"', "tuplet": 'font-style="italic"', "ending-word": "",
    "exit-word": 'font-style="italic"', "link": "", "position": 'fill-opacity=".75"',
    "finger": 'font-weight="700"', "chosen": "",
}
_TITLES = {
    "finger": "right hand", "chosen": "right hand; in a cup: suggested, not written", "exit-word": "only a way out",
    "change": "changed", "position": "where the left hand lies",
}
_ILLEGAL_IN_XML = {code: "\N{REPLACEMENT CHARACTER}" for code in (*range(32), 0xFFFE, 0xFFFF, *range(0xD800, 0xE000))}
_ILLEGAL_IN_XML |= {ord(space): " " for space in "\t\n\r"}


def bar_markup(bar: DrawnBar, with_ids: bool = False) -> str:
    """All of a bar but the element that holds it."""
    notes = "".join(_head(head, with_ids) for head in bar.heads)
    return (_lines(bar.shapes) + _filled(bar.shapes) + _labels(bar.shapes) + _signs(bar.shapes)
            + f'<g font-size="{FRET_SIZE}" font-weight="600" text-anchor="middle">{notes}</g>')


def plain(words: str) -> str:
    """Words made safe for element content and attributes; what XML cannot hold is replaced."""
    return escape(words.translate(_ILLEGAL_IN_XML))


@lru_cache(maxsize=1 << 16)
def number(value: float) -> str:
    """At most two decimals, no trailing zeros, no minus zero."""
    return f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")


def _lines(shapes: Iterable[Shape]) -> str:
    paths: dict[str, list[str]] = {kind: [] for kind in _LINES}
    for shape in shapes:
        if isinstance(shape, Stroke | Curve):
            paths[shape.kind].append(_path(shape))
    return "".join(f'<path class="fp-{kind}" {_LINES[kind]} d="{"".join(parts)}"/>'
                   for kind, parts in paths.items() if parts)


def _filled(shapes: Iterable[Shape]) -> str:
    solid = [shape for shape in shapes if isinstance(shape, Block | Disc)]
    found = []
    for kind in _FILLS:
        parts = "".join(_solid(shape) for shape in solid if shape.kind == kind)
        if parts:
            end = f">{_title(kind)}</path>" if kind in _TITLES else "/>"
            found.append(f'<path class="fp-{kind}" d="{parts}"{end}')
    return "".join(found)


def _labels(shapes: Iterable[Shape]) -> str:
    groups: dict[str, list[Label]] = {kind: [] for kind in _LABELS}
    for shape in shapes:
        if isinstance(shape, Label):
            groups[shape.kind].append(shape)
    return "".join(_label_group(kind, labels) for kind, labels in groups.items() if labels)


def _label_group(kind: str, labels: list[Label]) -> str:
    first = labels[0]
    anchor = "" if first.anchor == "start" else f' text-anchor="{first.anchor}"'
    style = f" {_LABELS[kind]}" if _LABELS[kind] else ""
    texts = "".join(_text(label, first) for label in labels)
    return f'<g class="fp-{kind}" font-size="{number(first.size)}"{anchor}{style}>{_title(kind)}{texts}</g>'


def _title(kind: str) -> str:
    return f"<title>{_TITLES[kind]}</title>" if kind in _TITLES else ""


def _text(label: Label, first: Label) -> str:
    size = "" if label.size == first.size else f' font-size="{number(label.size)}"'
    anchor = "" if label.anchor == first.anchor else f' text-anchor="{label.anchor}"'
    text = f'<text x="{number(label.x)}" y="{number(label.y)}"{size}{anchor}>{plain(label.words)}</text>'
    return f"<g><title>{plain(label.says)}</title>{text}</g>" if label.says else text


def _signs(shapes: Iterable[Shape]) -> str:
    return "".join(_sign(shape) for shape in shapes if isinstance(shape, Sign))


def _sign(sign: Sign) -> str:
    """With a blank behind it, since its lines are too thin to be pointed at."""
    verdict = f' data-verdict="{sign.verdict}"' if sign.verdict else ""
    drawn = "".join(_solid(shape) if isinstance(shape, Disc) else _path(shape)
                    for shape in sign_shapes(sign.verdict, sign.x, sign.y))
    shaft = _path(sign.shaft) if sign.shaft else ""
    return (f'<g class="fp-{sign.kind}"{verdict}><title>{plain(sign.says)}</title>'
            f'<rect x="{number(sign.x - SIGN_WIDTH / 2)}" y="{number(sign.y - SIGN_HEIGHT / 2)}"'
            f' width="{SIGN_WIDTH}" height="{SIGN_HEIGHT}" fill="none" pointer-events="all"/>'
            f'<path {_LINE} stroke-width="{SIGN_STROKE}" d="{drawn}{shaft}"/></g>')


def _head(head: Head, with_id: bool) -> str:
    identity = f' id="{head.mark}"' if with_id else ""
    label = head.label
    return (f'<g class="fp-note"{identity} data-mark="{head.mark}" data-string="{head.string}"'
            f' data-fret="{head.fret}"><title>{plain(head.says)}</title>{_halo(head.halo)}'
            f'<text x="{number(label.x)}" y="{number(label.y)}">{plain(label.words)}</text>'
            f"{''.join(_ornament(shape) for shape in head.ornaments)}</g>")


def _halo(box: Box) -> str:
    return (f'<rect class="fp-halo" x="{number(box.left)}" y="{number(box.top)}"'
            f' width="{number(box.right - box.left)}" height="{number(box.bottom - box.top)}" rx="5" fill="none"/>')


def _ornament(shape: Shape) -> str:
    if isinstance(shape, Label):
        weight = ' font-weight="400"' if shape.kind == "left-chosen" else ""
        return (f'<text class="fp-{shape.kind}" x="{number(shape.x)}" y="{number(shape.y)}"'
                f' font-size="{LEFT_HAND_SIZE}"{weight}>{plain(shape.words)}</text>')
    if isinstance(shape, Disc):
        return (f'<circle class="fp-{shape.kind}" cx="{number(shape.x)}" cy="{number(shape.y)}"'
                f' r="{number(shape.radius)}" {_LINES[shape.kind]}/>')
    return f'<path class="fp-{shape.kind}" {_LINES[shape.kind]} d="{_path(shape)}"/>'


def _path(shape: Stroke | Curve) -> str:
    if isinstance(shape, Curve):
        return f"M{_point(shape.start)}Q{_point(shape.control)} {_point(shape.end)}"
    (_, y), *rest = shape.points
    if len(rest) == 1 and rest[0][1] == y:
        return f"M{_point(shape.points[0])}H{number(rest[0][0])}"
    return f"M{_point(shape.points[0])}L{' '.join(_point(point) for point in rest)}"


def _solid(shape: Block | Disc) -> str:
    if isinstance(shape, Block):
        box = shape.box
        return f"M{number(box.left)} {number(box.top)}H{number(box.right)}V{number(box.bottom)}H{number(box.left)}z"
    radius = number(shape.radius)
    across = number(2 * shape.radius)
    return (f"M{number(shape.x - shape.radius)} {number(shape.y)}a{radius} {radius} 0 1 0 {across} 0"
            f"a{radius} {radius} 0 1 0 -{across} 0z")


def _point(point: tuple[float, float]) -> str:
    return f"{number(point[0])} {number(point[1])}"
