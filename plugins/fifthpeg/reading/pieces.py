"""Lists in square brackets and pairs in braces, cut into pieces that know where they stand.

A comma within braces or inner brackets parts nothing: ``a, {id: b, bars: 1-2}`` are two pieces.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

_OPEN, _CLOSE = "{[", "}]"


@dataclass(frozen=True)
class Piece:
    """``span`` is (row, column, width) in the block's source."""

    text: str
    span: tuple[int, int, int]

    def part(self, begin: int, end: int) -> "Piece":
        """The letters from ``begin`` to ``end``, without the spaces around them."""
        text = self.text[begin:end]
        lead = len(text) - len(text.lstrip())
        row, column, _ = self.span
        return Piece(text.strip(), (row, column + begin + lead, max(1, len(text.strip()))))

    @property
    def is_bracketed(self) -> bool:
        return self.text.startswith("[") and self.text.endswith("]") and len(self.text) > 1


@dataclass(frozen=True)
class Slip:
    """A fault within a value, with a place and words of its own."""

    span: tuple[int, int, int]
    kind: str
    says: str
    hint: str


class Slips(ValueError):
    """All that is wrong within one value."""

    def __init__(self, *slips: Slip):
        super().__init__(*(slip.says for slip in slips))
        self.slips = slips


def split_pieces(whole: Piece) -> list[Piece]:
    """What stands between the commas, empty pieces left out."""
    return [piece for piece in _split(whole) if piece.text]


def list_pieces(whole: Piece) -> list[Piece]:
    """The same with the brackets around it taken off, where there are any. Raises Slips where they never close."""
    if whole.is_bracketed:
        return split_pieces(whole.part(1, len(whole.text) - 1))
    if whole.text.startswith("["):
        raise Slips(Slip(whole.span, "unclosed", "this list is never closed", "end it with `]` on the same line"))
    return split_pieces(whole)


def brace_pairs(whole: Piece, example: str) -> list[tuple[Piece, Piece]]:
    """Key and value of ``{key: value, …}``, in the order written. Raises Slips."""
    if not whole.text.endswith("}"):
        raise Slips(Slip(whole.span, "unclosed", "these braces are never closed",
                         f"end them with `}}` on the same line, such as `{example}`"))
    pairs = [_pair(piece, example) for piece in split_pieces(whole.part(1, len(whole.text) - 1))]
    _refuse(pair for pair in pairs if isinstance(pair, Slip))
    seen: dict[str, Piece] = {}
    for key, _ in pairs:
        if key.text in seen:
            _refuse([Slip(key.span, "bad-header", f"`{key.text}` stands here a second time", "keep one of the two")])
        seen[key.text] = key
    return pairs


def _refuse(slips: Iterable[Slip]) -> None:
    slips = tuple(slips)
    if slips:
        raise Slips(*slips)


def _pair(piece: Piece, example: str) -> tuple[Piece, Piece] | Slip:
    at = piece.text.find(":")
    if at < 1:
        return Slip(piece.span, "bad-header", f"`{piece.text}` is no word with a colon",
                    f"inside braces all goes in pairs, such as `{example}`")
    return piece.part(0, at), piece.part(at + 1, len(piece.text))


def _split(whole: Piece) -> Iterator[Piece]:
    begin, depth = 0, 0
    for at, letter in enumerate(whole.text):
        if letter in _OPEN:
            depth += 1
        elif letter in _CLOSE:
            depth = max(0, depth - 1)
        elif letter == "," and not depth:
            yield whole.part(begin, at)
            begin = at + 1
    yield whole.part(begin, len(whole.text))
