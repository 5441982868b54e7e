"""The standalone drawing: one SVG file, its bars in systems of about even width."""

from collections.abc import Sequence
from itertools import accumulate

from ..model.lick import Lick
from .layout import lay_out
from .lettering import wrap
from .markup import bar_markup, number, plain
from .plan import LickPlan
from .proportions import (
    DETAIL_SIZE, SHEET_MARGIN, SHEET_WIDTH, SYSTEM_GAP, TITLE_SIZE, WIDEST_STRETCH,
)
from .shapes import DrawnBar
from .spacing import Spacing, widen

LINE_HEIGHT = 1.35
BASELINE_SHARE = 0.35
"""Of the letter size, from the foot of a line up to its baseline."""
TRIES = 60
_STYLE = ("svg{color:#111;background:#fff}text{font-family:system-ui,'Helvetica Neue',Arial,sans-serif;"
          "fill:currentColor}")


def draw_sheet(plan: LickPlan, spacings: Sequence[Spacing], description: str = "") -> str:
    """A whole SVG document, dark on white; ``description`` is the tab in words."""
    systems = break_into_systems([spacing.width for spacing in spacings])
    spread = _justify(systems, spacings)
    bars = lay_out(plan, spread)
    widest = max((sum(bars[i].width for i in system) for system in systems), default=0.0)
    width = widest + 2 * SHEET_MARGIN
    heading, y = _heading(plan.lick, widest)
    body = []
    for system in systems:
        body.append(_system([bars[i] for i in system], y))
        y += bars[system[0]].height + SYSTEM_GAP
    size = width, y - SYSTEM_GAP + SHEET_MARGIN
    return _document(plan.lick, size, heading + "".join(body), description)


def break_into_systems(widths: Sequence[float]) -> list[range]:
    """As few systems as fit the sheet, and of those the most even."""
    systems = _fill(widths, SHEET_WIDTH)
    narrowest = max([*widths, sum(widths) / max(1, len(systems))])
    for step in range(TRIES):
        limit = narrowest + (SHEET_WIDTH - narrowest) * step / TRIES
        even = _fill(widths, limit)
        if len(even) <= len(systems):
            return even
    return systems


def _fill(widths: Sequence[float], limit: float) -> list[range]:
    systems, begin, filled = [], 0, 0.0
    for index, width in enumerate(widths):
        if index > begin and filled + width > limit:
            systems.append(range(begin, index))
            begin, filled = index, 0.0
        filled += width
    return [*systems, range(begin, len(widths))] if widths else []


def _justify(systems: Sequence[range], spacings: Sequence[Spacing]) -> list[Spacing]:
    """Systems stretched to the width of the widest, but for a short one."""
    totals = [sum(spacings[i].width for i in system) for system in systems]
    spread = []
    for system, total in zip(systems, totals, strict=True):
        stretch = max(totals) / total
        stretch = stretch if stretch <= WIDEST_STRETCH else 1.0
        spread += [widen(spacings[i], spacings[i].width * stretch) for i in system]
    return spread


def _system(bars: Sequence[DrawnBar], y: float) -> str:
    lefts = accumulate((bar.width for bar in bars), initial=0.0)
    return "".join(f'<g class="fp-bar" transform="translate({number(SHEET_MARGIN + left)} {number(y)})">'
                   f"{bar_markup(bar, with_ids=True)}</g>" for bar, left in zip(bars, lefts, strict=False))


def _heading(lick: Lick, measure: float) -> tuple[str, float]:
    """Title and details, and the y below them."""
    title = wrap(lick.title or lick.id or "", TITLE_SIZE, measure)
    lines = [(line, TITLE_SIZE, ' font-weight="700"') for line in title]
    lines += [(line, DETAIL_SIZE, "") for line in wrap(_details(lick), DETAIL_SIZE, measure)]
    y, found = float(SHEET_MARGIN), []
    for words, size, weight in lines:
        y += size * LINE_HEIGHT
        found.append(f'<text x="{SHEET_MARGIN}" y="{number(y - size * BASELINE_SHARE)}" font-size="{size}"{weight}>'
                     f"{plain(words)}</text>")
    return "".join(found), y + SYSTEM_GAP / 2


def _details(lick: Lick) -> str:
    capo = f" · capo {lick.capo}" if lick.capo else ""
    tempo = float(lick.tempo)
    facts = f"Key of {lick.key} · {lick.tuning.name} tuning{capo} · {number(tempo)} beats a minute"
    if not lick.varies:
        return facts
    return f"{facts} · variant of {lick.varies}" + (", changes underlined" if lick.changed else "")


def _document(lick: Lick, size: tuple[float, float], body: str, description: str) -> str:
    name = plain(lick.title or lick.id or "Tab")
    counted = sum(1 for bar in lick.bars if bar.number)
    bars = f"{counted} bar{'' if counted == 1 else 's'} of {lick.meter}"
    says = plain(" ".join([f"Tab for five-string banjo, {bars}. {_details(lick)}.", *description.split()]))
    width, height = map(number, size)
    return ('<?xml version="1.0" encoding="UTF-8"?>\n'
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}"'
            f' viewBox="0 0 {width} {height}" role="img" aria-labelledby="title desc">'
            f'<title id="title">{name}</title><desc id="desc">{says}</desc><style>{_STYLE}</style>{body}</svg>\n')
