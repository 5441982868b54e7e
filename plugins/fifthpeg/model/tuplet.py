"""Uneven groups, as the drawing and MusicXML both write them."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Tuplet:
    """``count`` values in the time of ``normal``, over the ticks from ``start`` to ``end``."""

    start: int
    end: int
    count: int
    normal: int
