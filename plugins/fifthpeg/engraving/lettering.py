"""How wide words come out, without asking a font."""

from functools import lru_cache

_EM = {
    " ": 0.35, "!": 0.46, '"': 0.53, "'": 0.31, "(": 0.46, ")": 0.46, ",": 0.38, "-": 0.42, ".": 0.38, "/": 0.37,
    ":": 0.4, ";": 0.4, "[": 0.46, "]": 0.46, "I": 0.38, "J": 0.55, "f": 0.44, "i": 0.35, "j": 0.35, "l": 0.35,
    "r": 0.5, "t": 0.48, "M": 1.0, "W": 1.11, "m": 1.05, "w": 0.93, "%": 1.0, "&": 0.88, "@": 1.05,
}
"""Advance widths in em, of the bold of the widest common sans-serif faces, rounded up."""
_DIGIT, _CAPITAL, _SMALL, _BEYOND_LATIN = 0.6, 0.86, 0.73, 1.4
"""Digits are nearly alike everywhere: numbers on strings keep LINE_CUT on either side for the widest."""
_LATIN_END = 0x0250
ELLIPSIS = "…"


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


def shorten(words: str, size: float, measure: float) -> str:
    """The words, cut to ``measure`` with an ellipsis where they are wider; empty where nothing of them fits."""
    words = " ".join(words.split())
    if width_of(words, size) <= measure:
        return words
    while words and width_of(words + ELLIPSIS, size) > measure:
        words = words[:-1].rstrip()
    return words + ELLIPSIS if words else ""


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
