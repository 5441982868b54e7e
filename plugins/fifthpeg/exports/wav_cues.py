"""Where a recording can be jumped to: the counted bar, and the bars as played, with their names."""

from fractions import Fraction

from ..model.performance import BarPass, Performance

COUNT_LABEL = "Count"
"""Of what is counted before quarter 0, at a recording's first frame."""


def bar_labels(performance: Performance) -> list[tuple[Fraction, str]]:
    """(quarters from the start, name) of each bar, repeats unfolded."""
    return [(played.start, _name(played)) for played in performance.bar_map]


def _name(played: BarPass) -> str:
    name = f"Bar {played.bar}" if played.bar else "Pick-up"
    return name if played.passage == 1 else f"{name}, time {played.passage}"
