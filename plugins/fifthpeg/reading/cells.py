"""Words of a body as cells: strikes, holds, rests and groups."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from ..model.hands import FINGER_WORDS
from ..model.lick import Lick
from ..model.tab import Hold, Pluck, Rest, Strike
from .faults import Faults
from .plucks import Part, Reach, Span, read_part
from .sounding import Sounding
from .tokens import WORD, Token


@dataclass(frozen=True)
class Word:
    """A strike's parts, or a single ``-`` or ``.``."""

    parts: tuple[Part, ...]
    span: Span
    accent: bool = False


def join_words(tokens: Iterable[Token]) -> Iterator[Token | Word]:
    """The tokens with the words of one strike put together over ``+``, spaces or not."""
    pending: list[Token] = []
    for token in tokens:
        if token.kind == WORD:
            if pending and not (pending[-1].value.endswith("+") or token.value.startswith("+")):
                yield _word(pending)
                pending = []
            pending.append(token)
            continue
        if pending:
            yield _word(pending)
            pending = []
        yield token
    if pending:
        yield _word(pending)


def read_cell(word: Word, at: Fraction, frame: Lick, sounding: Sounding, faults: Faults) -> Strike | Hold | Rest:
    """The cell a word means at a time (slots from the start). After a fault, a hold keeps its place."""
    text = word.parts[0].text if len(word.parts) == 1 else ""
    if text == "-":
        return _hold(word, sounding, faults)
    if text == ".":
        sounding.silence()
        sounding.begun = True
        return Rest(faults.place(word.span))
    return _strike(word, at, frame, sounding, faults)


def _word(tokens: Sequence[Token]) -> Word:
    parts = []
    for token in tokens:
        column = token.column
        for piece in token.value.split("+"):
            if piece:
                parts.append(Part(piece, (token.row, column, len(piece))))
            column += len(piece) + 1
    first, last = tokens[0], tokens[-1]
    width = last.column + last.width - first.column if last.row == first.row else first.width
    span = (first.row, first.column, width)
    if not parts or tokens[-1].value.endswith("+") or tokens[0].value.startswith("+"):
        return Word((Part("+", span),), span)
    accent = parts[-1].text.endswith("!")
    if accent:
        row, column, length = parts[-1].span
        parts[-1] = Part(parts[-1].text[:-1], (row, column, max(1, length - 1)))
    return Word(tuple(parts), span, accent)


def _hold(word: Word, sounding: Sounding, faults: Faults) -> Hold:
    if not sounding.begun:
        faults.add(word.span, "nothing-to-hold", "nothing has been picked yet, so there is nothing to hold",
                   "write `.` for silence")
        sounding.begun = True
    return Hold(faults.place(word.span))


def _strike(word: Word, at: Fraction, frame: Lick, sounding: Sounding, faults: Faults) -> Strike | Hold:
    sounding.begun = True
    read = [(part, read_part(part, frame, faults)) for part in word.parts]
    plucks = tuple(thing for _, thing in read if isinstance(thing, Pluck))
    reaches = [thing for _, thing in read if isinstance(thing, Reach)]
    good = _strings_differ(read, faults) and _fingers_differ(plucks, word, faults)
    if plucks:
        sounding.strike(at, {reach.string for reach in reaches if reach.string is not None})
    landings = tuple(landing for reach in reaches if (landing := sounding.land(reach, at, faults)))
    for pluck in plucks:
        sounding.pluck(pluck)
    if not good or not (plucks or landings):
        return Hold()
    return Strike(plucks, landings, word.accent, faults.place(word.span))


def _strings_differ(read: Sequence[tuple[Part, Pluck | Reach | None]], faults: Faults) -> bool:
    seen: set[int] = set()
    for part, thing in read:
        if thing is None or thing.string is None:
            continue
        if thing.string in seen:
            faults.add(part.span, "same-string-twice", f"string {thing.string} stands twice in this strike",
                       "a string sounds one note at a time: use another string, or two slots")
            return False
        seen.add(thing.string)
    return True


def _fingers_differ(plucks: tuple[Pluck, ...], word: Word, faults: Faults) -> bool:
    fingers = [pluck.finger for pluck in plucks if pluck.finger]
    twice = next((finger for finger in fingers if fingers.count(finger) > 1), None)
    if twice is None or Strike(plucks).is_brush:
        return True
    faults.add(word.span, "same-finger-twice", f"the {FINGER_WORDS[twice]} can't pick two strings at once",
               "give one of them another finger; one finger may only brush three or more strings side by side")
    return False


