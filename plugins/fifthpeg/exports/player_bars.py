"""Where every slot of a performance begins: what a student picks a loop from and counts in by."""

from fractions import Fraction

from ..model.bounce import bounced
from ..model.lick import Lick
from ..model.performance import BarPass, Performance


def player_bars(lick: Lick, performance: Performance) -> list[dict]:
    """A JSON value: bars as played, in order, repeats unfolded; times are [numerator, denominator] in quarter notes.

    ``first`` is the number, from 1, of the bar's first slot shown; ``slots`` are the starts of those shown, bounce
    in them; ``barline`` is where the bar's beats are counted from.
    """
    written = {bar.number: bar for bar in lick.bars}
    return [{"bar": played.bar, "pass": played.passage, "barline": _pair(played.barline),
             "first": written[played.bar].first_slot_index + 1,
             "slots": [_pair(at) for at in _slots(lick, played, written[played.bar].slot_count)]}
            for played in performance.bar_map]


def _slots(lick: Lick, played: BarPass, count: int) -> list[Fraction]:
    straight = (played.start + index * lick.slot_quarters for index in range(count))
    return [played.barline + bounced(at - played.barline, lick.bounce) for at in straight]


def _pair(value: Fraction) -> list[int]:
    return [value.numerator, value.denominator]
