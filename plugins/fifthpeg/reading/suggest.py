"""The nearest thing that can be read, for a word that can't."""

import re

from .messages import nearest

_LOWER_FINGER = re.compile(r"(?P<finger>[tim])(?P<rest>[1-5].*)\Z")
_SPACED_FRET = re.compile(r"(?P<head>[TIM]?[1-5])[-.,/](?P<fret>\d{1,2})\Z")
_GLUED = re.compile(r"(?P<finger>[TIM]?)(?P<first>[1-5])(?P<second>\d{1,2})\Z")
_CHOKE = re.compile(r"(?P<head>[TIM]?[1-5]):?b(?P<amount>[\d.]+r?)\Z")
_PARTS = re.compile(r"[TIM]?[1-5][:=shpbrcx~0-9.T]+\Z")
ORDER = "the parts of a pluck go in this order: finger, string, `:` fret, `=` left finger, arrivals, choke, `c`, `~`"
_COMMON = ("T3", "I2", "M1", "T5", "T3:2", "T3:2s5", "T3:2h3", "T3:2p0", "T5+M1", "s5", "h3", "p0", "-", ".", "2:10b1",
           "3:2~", "1:12c", "3:x")


def suggestion(word: str) -> str:
    """A hint, always something a teacher can type."""
    if word == "+":
        return "a `+` joins two plucks of one strike, such as `T5+M1`"
    if set(word) == {"-"}:
        return f"put a space between holds: `{' '.join(word)}`"
    lower = _LOWER_FINGER.match(word)
    if lower:
        return f"fingers are capitals: `{lower['finger'].upper()}{lower['rest']}`"
    if word.endswith("o") and word[:-1]:
        return f"a chime is written with c: `{word[:-1]}c`"
    if word.endswith(":"):
        return "a repeat sign stands between spaces: ` :| `"
    if "!" in word:
        return "an accent `!` stands once, behind the whole strike or group"
    glued = _GLUED.match(word)
    if glued:
        finger, first, second = glued["finger"], glued["first"], glued["second"]
        apart = f"; two slots are `{finger}{first} {second}`" if second in "12345" else ""
        return f"string {first} at fret {second} is `{finger}{first}:{second}`{apart}"
    choke = _CHOKE.match(word)
    if choke:
        return f"say which fret is choked: `{choke['head']}:10b{choke['amount']}`"
    spaced = _SPACED_FRET.match(word)
    if spaced:
        return f"string and fret are joined by a colon: `{spaced['head']}:{spaced['fret']}`"
    if _PARTS.match(word):
        return ORDER
    like = nearest(word, _COMMON)
    return f"do you mean something like `{like}`?" if like else "a pluck is a string, perhaps with a fret: `3` or `T3:2`"
