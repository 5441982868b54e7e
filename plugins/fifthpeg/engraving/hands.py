"""What was found about the hands, put to the columns it concerns."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace

from ..model.findings import Findings, RepeatedFinger
from .columns import Column


def with_hands(columns: tuple[Column, ...], bar_number: int, findings: Findings) -> tuple[Column, ...]:
    """The columns of bar ``bar_number`` with their repeated fingers and the left hand's positions."""
    repeats = [repeat for repeat in findings.repeats if repeat.bar == bar_number]
    positions = [position for position in findings.left.positions if position.bar == bar_number]
    if not repeats and not positions:
        return columns
    changed = list(columns)
    for repeat in repeats:
        for index in _first(_repeating(changed, repeat)):
            changed[index] = replace(changed[index], repeats=(*changed[index].repeats, repeat))
    for position in positions:
        for index in _first(_in_slot(changed, position.slot, _is_fretted)):
            changed[index] = replace(changed[index], position=position)
    return tuple(changed)


def _repeating(columns: Sequence[Column], repeat: RepeatedFinger) -> Iterator[int]:
    """Columns of the slot that the finger picks and no sign has yet: first those it picks twice in a row, since a
    slot may be divided."""
    fingers = set(repeat.fingers)
    picked = list(_in_slot(columns, repeat.slot, lambda column: fingers <= _letters(column)))
    free = [index for index in picked if not any(map(columns[index].repeat_of, fingers))]
    yield from (index for index in free if fingers & _letters_before(columns, index))
    yield from free


def _in_slot(columns: Sequence[Column], slot: int, wanted: Callable[[Column], bool]) -> Iterator[int]:
    return (index for index, column in enumerate(columns)
            if column.notes and column.notes[0].slot == slot and wanted(column))


def _is_fretted(column: Column) -> bool:
    return any(note.fret and note.touch not in ("chime", "damped") for note in column.notes)


def _letters(column: Column) -> set[str]:
    return {letter for letter, _ in column.letters}


def _letters_before(columns: Sequence[Column], index: int) -> set[str]:
    return next((_letters(column) for column in reversed(columns[:index]) if column.letters), set())


def _first(indices: Iterable[int]) -> Sequence[int]:
    return [index for index, _ in zip(indices, range(1), strict=False)]
