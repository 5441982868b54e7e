"""The order in which written bars are played: repeats and endings unfolded."""

from .lick import Lick


def unfold(lick: Lick) -> list[tuple[int, int]]:
    """The order of play: (bar index, pass from 1). The last pass takes the second ending.

    A pick-up is played once, before a repeat from bar 1; where the bar before ``:|`` is left short by as
    much, each turn back plays it again.
    """
    bars = lick.bars
    order: list[tuple[int, int]] = []
    has_pickup = bool(bars) and bars[0].number == 0
    begin, from_bar_one = (1 if has_pickup else 0), True
    played_from = 0
    for index, bar in enumerate(bars):
        if bar.opens_repeat:
            begin, from_bar_one = index, False
        if not bar.repeat_times:
            continue
        first_ending = next((i for i in range(begin, index + 1) if bars[i].ending == 1), index + 1)
        calls_pickup = has_pickup and from_bar_one and bar.slot_count < lick.meter.slots(lick.grid)
        order += [(i, 1) for i in range(played_from, begin)]
        for passage in range(1, bar.repeat_times + 1):
            last = passage == bar.repeat_times
            order += [(0, passage)] if calls_pickup and passage > 1 else []
            order += [(i, passage) for i in range(begin, first_ending if last else index + 1)]
        begin = played_from = index + 1
        from_bar_one = False
    return order + [(i, 1) for i in range(played_from, len(bars))]


def kept_order(lick: Lick, with_exit: bool) -> tuple[int, ...]:
    """Bar indices as played, up to where the exit begins, or to the end."""
    order = [index for index, _ in unfold(lick)]
    first_exit_bar = len(lick.bars) - (0 if with_exit else lick.exit_bars)
    return tuple(order[:next((at for at, index in enumerate(order) if index >= first_exit_bar), len(order))])
