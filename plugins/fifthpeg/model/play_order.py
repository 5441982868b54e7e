"""The order in which written bars are played: repeats and endings unfolded."""

from collections.abc import Sequence

from .tab import Bar


def unfold(bars: Sequence[Bar]) -> list[tuple[int, int]]:
    """The order of play: (bar index, pass from 1). The last pass takes the second ending."""
    order: list[tuple[int, int]] = []
    begin = 1 if bars and bars[0].number == 0 else 0
    played_from = 0
    for index, bar in enumerate(bars):
        if bar.opens_repeat:
            begin = index
        if not bar.repeat_times:
            continue
        first_ending = next((i for i in range(begin, index + 1) if bars[i].ending == 1), index + 1)
        order += [(i, 1) for i in range(played_from, begin)]
        for passage in range(1, bar.repeat_times + 1):
            last = passage == bar.repeat_times
            order += [(i, passage) for i in range(begin, first_ending if last else index + 1)]
        begin = played_from = index + 1
    return order + [(i, 1) for i in range(played_from, len(bars))]
