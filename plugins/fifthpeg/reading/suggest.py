"""The nearest thing that can be read, for a word that can't: one table of slips and what to type instead."""

import re
from collections.abc import Callable

from .messages import nearest

Hint = Callable[[re.Match], str]
_COMMON = ("T3", "I2", "M1", "T5", "T3:2", "T3:2s5", "T3:2h3", "T3:2p0", "T5+M1", "s5", "h3", "p0", "-", ".",
           "2:10b1",
           "3:2~", "1:12c", "3:x")
_ORDER = "the parts of a pluck go in this order: finger, string, `:` fret, `=` left finger, arrivals, choke, `c`, `~`"


def _two_readings(match: re.Match) -> str:
    finger, first, second = match["finger"], match["first"], match["second"]
    apart = f"; two slots are `{finger}{first} {second}`" if second in tuple("12345") else ""
    return f"string {first} at fret {second} is `{finger}{first}:{second}`{apart}"


SLIPS: tuple[tuple[str, Hint], ...] = (
    (r"\+", lambda m: "a `+` joins two plucks of one strike, such as `T5+M1`"),
    (r"-{2,}", lambda m: f"put a space between holds: `{' '.join(m[0])}`"),
    (r"_+", lambda m: "a hold is `-`, a rest is `.`"),
    (r"[tim][1-5].*", lambda m: f"fingers are capitals: `{m[0][0].upper()}{m[0][1:]}`"),
    (r"(?P<letter>[A-Z])[1-5].*", lambda m: "the right hand's letters are T, I and M, for thumb, index and middle"
        if m["letter"] not in "TIM" else ""),
    (r"(?P<head>.+)o", lambda m: f"a chime is written with c: `{m['head']}c`"),
    (r"(?P<chord>[A-G][#b]?(m|maj|min)?7?):?", lambda m: f"a chord stands in square brackets: `[{m['chord']}]`"),
    (r"[TIM]", lambda m: f"finger and string are one word: `{m[0]}3`"),
    (r"(?P<head>[TIM]?[1-5]):|:\d.*", lambda m: f"no space stands inside a pluck: `{m['head'] or 'T3'}:2`"),
    (r"=[1-4T].*", lambda m: f"a left-hand finger stands straight after its fret: `3:2{m[0]}`"),
    (r"[^,]+(,[^,]*)+", lambda m: f"slots stand apart by spaces: `{' '.join(filter(None, m[0].split(',')))}`"),
    (r"(?P<head>[TIM]?[1-5](:\d+)?)-(?P<tail>[TIM].*)",
     lambda m: f"put a space on both sides of a hold: `{m['head']} - {m['tail']}`"),
    (r"(?P<head>.*):", lambda m: "signs of repeat stand between spaces: ` |: ` and ` :| `"),
    (r":.*|x\d+", lambda m: "signs of repeat stand between spaces: ` |: `, ` :| ` or ` :|x3 `"),
    (r"[12]\.", lambda m: f"an ending is written `<{m[0][0]}>`, straight after a barline"),
    (r"'.*|.*'", lambda m: "words above the tab stand in double quotes: `\"slowly\"`"),
    (r"[xX]", lambda m: "a damped string is named before its x: `3:x`"),
    (r"[a-g]|-(?=.*\d)[-\d]{3,}", lambda m: "write one slot after another, not a line for each string: `T3:2 I2 M1`"),
    (r"(?P<head>[TIM]?[1-5]:)X", lambda m: f"a damped string has a small x: `{m['head']}x`"),
    (r"(?P<head>[TIM]?[1-5](:\d+)?)[/\\](?P<fret>\d+)",
     lambda m: f"a slide is written with s: `{m['head']}s{m['fret']}`"),
    (r"(?P<head>.*[1-5]:\d+)b", lambda m: f"say how far: `{m['head']}b1` is a half step up"),
    (r"[Ss]lide", lambda m: "a slide stands after the fret it leaves: `3:2s4`"),
    (r"[Hh]ammer(-?on)?", lambda m: "a hammer-on stands after the fret it leaves: `3:2h3`"),
    (r"[Pp]ull(-?off)?", lambda m: "a pull-off stands after the fret it leaves: `3:2p0`"),
    (r"(?P<head>.*)(?P<touch>[shp])", lambda m: f"say to which fret, such as `{m['touch']}3`"),
    (r"[TIM]?[1-5].*=.*", lambda m: "after `=` stands a left-hand finger: 1 to 4, or T for the thumb"
        if re.search(r"=(?![1-4T])", m[0]) else ""),
    (r".*!.*", lambda m: "an accent `!` stands once, after the whole strike or group"),
    (r"(?P<finger>[TIM]?)(?P<first>[1-5])(?P<second>\d{1,2})", _two_readings),
    (r"(?P<head>[TIM]?[1-5]):?b(?P<amount>[\d.]+r?)",
     lambda m: f"say which fret is choked: `{m['head']}:10b{m['amount']}`"),
    (r"(?P<head>[TIM]?[1-5])[-.,](?P<fret>\d{1,2})",
     lambda m: f"string and fret are joined by a colon: `{m['head']}:{m['fret']}`"),
    (r"[TIM]?[1-5][:=shpbrcx~0-9.T]+", lambda m: _ORDER),
)
_TABLE = tuple((re.compile(pattern), hint) for pattern, hint in SLIPS)


def suggestion(word: str) -> tuple[str, str]:
    """The sort of slip it is ("" where it is none that is known), and a hint: always something a teacher can type."""
    for pattern, hint in _TABLE:
        match = pattern.fullmatch(word)
        if match and (says := hint(match)):
            return pattern.pattern, says
    like = nearest(word, _COMMON)
    return "", (f"do you mean something like `{like}`?" if like
                else "a pluck is a string, perhaps with a fret: `3` or `T3:2`")
