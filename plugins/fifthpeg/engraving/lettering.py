"""How wide words come out, without asking a font."""

from functools import lru_cache

_EM = {
    " ": 0.3, "!": 0.34, '"': 0.46, "'": 0.27, "(": 0.38, ")": 0.38, ",": 0.32, "-": 0.4, ".": 0.32, "/": 0.36,
    ":": 0.34, ";": 0.34, "[": 0.38, "]": 0.38, "I": 0.36, "J": 0.55, "i": 0.3, "j": 0.3, "l": 0.3, "f": 0.37,
    "r": 0.42, "t": 0.4, "M": 0.92, "W": 1.02, "m": 0.95, "w": 0.85, "%": 0.95, "@": 1.05, "&": 0.78,
}
"""Advance widths in em, the widest of the common sans-serif faces, rounded up."""
_DIGIT, _CAPITAL, _SMALL, _BEYOND_LATIN = 0.6, 0.76, 0.62, 1.4
_LATIN_END = 0x0250


@lru_cache(maxsize=4096)
def width_of(words: str, size: float) -> float:
    """A generous estimate, in the unit of ``size``."""
    return size * sum(_em(letter) for letter in words)


def wrap(words: str, size: float, measure: float) -> tuple[str, ...]:
    """The words in lines no wider than ``measure``; a word wider than that is cut."""
    lines: list[str] = []
    for word in _short_words(words.split(), size, measure):
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(joined, size) <= measure:
            lines[-1] = joined
        else:
            lines.append(word)
    return tuple(lines)


def _short_words(words: list[str], size: float, measure: float) -> list[str]:
    short = []
    for word in words:
        while word:
            length = len(word)
            while length > 1 and width_of(word[:length], size) > measure:
                length -= 1
            short.append(word[:length])
            word = word[length:]
    return short


def _em(letter: str) -> float:
    known = _EM.get(letter)
    if known is not None:
        return known
    if "0" <= letter <= "9":
        return _DIGIT
    if ord(letter) >= _LATIN_END:
        return _BEYOND_LATIN
    return _CAPITAL if letter.isupper() else _SMALL
