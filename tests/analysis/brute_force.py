"""The cost of a fingering, counted the slow way: every pick against its own finger's previous pick."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby, product

from fifthpeg.analysis.grips import discomfort, grips
from fifthpeg.model.lick import Lick
from fifthpeg.model.note import written_notes
from fifthpeg.sound.perform import perform

CLASH_PER_SECOND, TIGHT_PER_SECOND = Fraction(13, 2), 5
CROSSED_NEXT = 3
Cost = tuple[int, ...]
"""Clashes inside, tight inside, discomfort, clashes looped, tight looped, the same finger again: compared in that order."""


@dataclass(frozen=True)
class Struck:
    at: Fraction
    straight: Fraction
    bar: int
    strings: tuple[int, ...]
    written: tuple[str | None, ...]


def struck(lick: Lick) -> list[Struck]:
    """Strikes in written order; bounced times from a performance that never jumps."""
    once = replace(lick, bars=tuple(replace(bar, repeat_times=0) for bar in lick.bars))
    both = [(played, written) for played, written in
            zip(perform(once, {}).notes, written_notes(lick), strict=True) if written.picked]
    strikes = []
    for _, group in groupby(both, key=lambda pair: pair[1].strike):
        pairs = list(group)
        strikes.append(Struck(pairs[0][0].start, pairs[0][1].start, pairs[0][1].bar,
                              tuple(note.string for _, note in pairs), tuple(note.finger for _, note in pairs)))
    return strikes


def all_fingerings(strikes: Sequence[Struck]) -> Iterator[tuple[tuple[str, ...], ...]]:
    return product(*([grip.fingers for grip in grips(strike.strings, strike.written)] for strike in strikes))


def how_many(strikes: Sequence[Struck]) -> int:
    count = 1
    for strike in strikes:
        count *= len(grips(strike.strings, strike.written))
    return count


def cost(lick: Lick, strikes: Sequence[Struck], fingering: Sequence[tuple[str, ...]]) -> Cost:
    in_a_row = {pair for path in _paths(lick, strikes) for pair in _in_a_row(path, fingering)}
    inside = _verdicts(lick, strikes, in_a_row)
    same_again = sum(1 for pair in in_a_row if pair[4] and _verdicts(lick, strikes, [pair]) == ["clean"])
    for first, last, quarters in _repeated_stretches(lick, strikes):
        inside += _verdicts(lick, strikes, _across(fingering, first, last, quarters))
    kept = [index for index, strike in enumerate(strikes) if strike.bar <= lick.bars[-1].number - lick.exit_bars]
    looped = _verdicts(lick, strikes, _across(fingering, 0, kept[-1], _turn(lick))) if kept else []
    comfort = sum(discomfort(strike.strings, fingers) for strike, fingers in zip(strikes, fingering, strict=True))
    comfort += CROSSED_NEXT * _crossed(lick, strikes, fingering)
    return (inside.count("clash"), inside.count("tight"), comfort, looped.count("clash"), looped.count("tight"),
            same_again)


def _crossed(lick: Lick, strikes: Sequence[Struck], fingering: Sequence[tuple[str, ...]]) -> int:
    """Pairs of fingers in neighbouring strikes that lie the other way about than thumb, index, middle from string 5."""
    neighbours = {(i, i + 1) for path in _paths(lick, strikes) for (i, _), (j, _) in zip(path, path[1:], strict=False)
                  if j == i + 1 and strikes[j].straight - strikes[i].straight <= min(lick.slot_quarters, Fraction(1, 2))}
    takes = [list(zip(fingers, strike.strings, strict=True)) for strike, fingers in zip(strikes, fingering, strict=True)]
    return sum(one != other and ("TIM".index(one) < "TIM".index(other)) == (string < other_string)
               and string != other_string
               for i, j in neighbours for one, string in takes[i] for other, other_string in takes[j])


Pair = tuple[str, int, int, Fraction, bool]
"""A finger picks in strike i and, so many quarters later than the clock says, next in strike j; with none between?"""


def _paths(lick: Lick, strikes: Sequence[Struck]) -> list[list[tuple[int, Fraction]]]:
    """Strikes in the order they are met, each with the quarters by which it comes later than written.

    With endings there are two ways: into the first, and past it into the second.
    """
    first_ending = {bar.number: bar for bar in lick.bars if bar.ending == 1}
    second_ending = {bar.number for bar in lick.bars if bar.ending == 2}
    into_first = [(index, Fraction(0)) for index, strike in enumerate(strikes) if strike.bar not in second_ending]
    skipped = sum(bar.slot_count for bar in first_ending.values()) * lick.slot_quarters
    past_it = [(index, -skipped if strike.bar in second_ending else Fraction(0))
               for index, strike in enumerate(strikes) if strike.bar not in first_ending]
    return [into_first, past_it]


def _in_a_row(path: Sequence[tuple[int, Fraction]], fingering: Sequence[tuple[str, ...]]) -> list[Pair]:
    pairs = []
    for finger in "TIM":
        picked = [(step, *met) for step, met in enumerate(path) if finger in fingering[met[0]]]
        pairs += [(finger, i, j, later - earlier, after == before + 1)
                  for (before, i, earlier), (after, j, later) in zip(picked, picked[1:], strict=False)]
    return pairs


def _across(fingering: Sequence[tuple[str, ...]], first: int, last: int, quarters: Fraction) -> list[Pair]:
    pairs = []
    for finger in "TIM":
        picked = [index for index in range(first, last + 1) if finger in fingering[index]]
        if picked:
            pairs.append((finger, picked[-1], picked[0], quarters, picked[-1] == last and picked[0] == first))
    return pairs


def _verdicts(lick: Lick, strikes: Sequence[Struck], pairs: Iterable[Pair]) -> list[str]:
    verdicts = []
    for _, i, j, quarters, successive in pairs:
        written_gap = strikes[j].straight + quarters - strikes[i].straight
        near = successive and written_gap <= min(lick.slot_quarters, Fraction(1, 2))
        verdicts.append(_verdict(lick, strikes[j].at + quarters - strikes[i].at, near))
    return verdicts


def _verdict(lick: Lick, gap: Fraction, near: bool) -> str:
    per_second = lick.quarters_per_minute / 60 / gap
    return "clash" if per_second > CLASH_PER_SECOND else "tight" if per_second > TIGHT_PER_SECOND or near else "clean"


def _repeated_stretches(lick: Lick, strikes: Sequence[Struck]) -> Iterator[tuple[int, int, Fraction]]:
    """(first strike, last strike, quarters) of what each repeat plays again; one begins after the one before."""
    begin = 1
    for bar in lick.bars:
        if bar.repeat_times:
            inside = [index for index, strike in enumerate(strikes) if begin <= strike.bar <= bar.number]
            if inside:
                bars = [each for each in lick.bars if begin <= each.number <= bar.number]
                yield inside[0], inside[-1], sum(each.slot_count for each in bars) * lick.slot_quarters
            begin = bar.number + 1


def _turn(lick: Lick) -> Fraction:
    """Full bars only: a pick-up lies over empty slots where there are enough, else comes after them."""
    bars = lick.bars[:len(lick.bars) - lick.exit_bars]
    quarters = sum(bar.slot_count for bar in bars) * lick.slot_quarters
    tail = bars[-1].cells[len(bars[-1].cells) - lick.pickup:]
    free = all(type(cell).__name__ in ("Hold", "Rest") for cell in tail)
    return quarters - lick.pickup * lick.slot_quarters if lick.pickup and free else quarters


def seam_verdict(before: Lick, after: Lick) -> str:
    """The slow way to a seam: both performed, every pick of one finger held against every pick of the other lick.

    Both have all their fingers and one tempo and bounce; ``after``'s pick-up finds its room.
    """
    ends, starts = played(before), played(after)
    performance = perform(before, {})
    end = performance.quarters if performance.exit_start is None else performance.exit_start
    ends = [strike for strike in ends if strike.straight < end]
    kept = [bar for bar in before.bars if bar.number <= before.bars[-1].number - before.exit_bars]
    if before.pickup and kept[-1].slot_count < before.meter.slots(before.grid) and kept[-1].number > 0:
        end += (before.meter.slots(before.grid) - kept[-1].slot_count) * before.slot_quarters
    shift = end - after.pickup * after.slot_quarters
    verdicts = ["clean"]
    for finger in "TIM":
        last = [index for index, strike in enumerate(ends) if finger in strike.written]
        first = [index for index, strike in enumerate(starts) if finger in strike.written]
        if last and first:
            one, other = ends[last[-1]], starts[first[0]]
            near = (last[-1] == len(ends) - 1 and first[0] == 0
                    and other.straight + shift - one.straight <= min(before.slot_quarters, Fraction(1, 2)))
            verdicts.append(_verdict(before, other.at + shift - one.at, near))
    return max(verdicts, key=("clean", "tight", "clash").index)


def played(lick: Lick) -> list[Struck]:
    """Strikes in the order of play; the straight clock is that of the same lick without bounce."""
    pairs = zip(perform(lick, {}).notes, perform(replace(lick, bounce=50), {}).notes, strict=True)
    strikes = []
    for _, group in groupby([pair for pair in pairs if pair[0].picked], key=lambda pair: pair[1].strike):
        both = list(group)
        strikes.append(Struck(both[0][0].start, both[0][1].start, both[0][1].bar,
                              tuple(note.string for _, note in both), tuple(note.finger for _, note in both)))
    return strikes


def repeats_inside(lick: Lick) -> dict[tuple[Fraction, str], Fraction]:
    """(time as written, finger) -> picks a second, of every tight or clashing repeat as played."""
    found = {}
    strikes = played(lick)
    for finger in "TIM":
        picks = [index for index, strike in enumerate(strikes) if finger in strike.written]
        for before, after in zip(picks, picks[1:], strict=False):
            one, other = strikes[before], strikes[after]
            near = after == before + 1 and other.straight - one.straight <= min(lick.slot_quarters, Fraction(1, 2))
            if _verdict(lick, other.at - one.at, near) != "clean":
                found[other.straight, finger] = lick.quarters_per_minute / 60 / (other.at - one.at)
    return found
