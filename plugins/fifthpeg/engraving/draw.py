"""A lick as a picture: the one door to this folder."""

from collections.abc import Sequence
from dataclasses import dataclass

from ..model.findings import Findings
from ..model.lick import Lick
from ..model.note import Note
from .layout import lay_out
from .markup import bar_markup, number
from .plan import plan_bars
from .shapes import DrawnBar
from .sheet import draw_sheet
from .spacing import space


@dataclass(frozen=True)
class Drawing:
    """``inline`` is a run of one ``<svg class="fp-bar">`` a bar, for a container that wraps them as
    words are wrapped; ``standalone`` is a whole SVG document."""

    inline: str
    standalone: str


def draw(lick: Lick, notes: Sequence[Note], description: str = "", findings: Findings | None = None) -> Drawing:
    """``notes`` are the written notes of ``lick``; those with ``given`` or ``left_given`` False carry suggested
    fingers. Of ``findings`` are drawn the seams, the repeated fingers and the left hand's positions.

    ``description`` is the tab in words, for readers of the standalone file who cannot see it.
    """
    plan = plan_bars(lick, notes, findings)
    spacings = [space(bar) for bar in plan.bars]
    bars = lay_out(plan, spacings)
    return Drawing("".join(_inline(bar) for bar in bars), draw_sheet(plan, spacings, description))


def _inline(bar: DrawnBar) -> str:
    width, height = number(bar.width), number(bar.height)
    return (f'<svg class="fp-bar" data-bar="{bar.number}" width="{width}" height="{height}"'
            f' viewBox="0 0 {width} {height}" style="--fp-width:{width}" fill="currentColor" overflow="visible">'
            f"{bar_markup(bar)}</svg>")
