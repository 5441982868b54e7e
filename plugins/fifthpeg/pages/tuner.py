"""The page to tune by: the open strings of every tuning in the course, steady and plucked.

Each sound stands there as a recording that loops by itself; where scripts run, a button takes its place.
"""

from collections.abc import Sequence

from ..model.pitch import name_of
from ..model.tuner import OpenString, Raised, TunerSection
from ..model.tuning import short_string_stop
from .addresses import TUNER_PAGE, page_url, relative
from .html import markdown_text, text

TITLE = "Tuner"
HOW = ("Press a string and tune yours to it. The sound goes on until you press again, press another string, or press "
       "Escape. Turn the peg *up* to the note; if you overshoot, go well below and come up again.")
CARE = ("Turn the volume down before the first tone, above all with headphones: a tone that never stops tires the ears "
        "sooner than playing does. Stop as soon as it tires yours. Ringing or dull hearing that lasts or comes back is a matter for an "
        "audiologist or a doctor.")
SHORT_STRING = ("String 5 is the short one, nearest to your chin. Its peg sits at the fifth fret, where the string "
                "begins, so it is the highest although tab has it at the bottom. Tune it last. In open G it "
                "sounds an octave above string 3.")
PLUCKED = "plucked"


def tuner_markdown(sections: Sequence[TunerSection], folder: str, rate_hz: int, directory_urls: bool) -> str:
    """``folder`` is the address of the sounds, from the site's root, ending in a slash."""
    there = relative(folder, page_url(TUNER_PAGE, directory_urls))
    made = "\n\n".join(_section(section, there, rate_hz) for section in sections)
    return f"# {TITLE}\n\n{HOW}\n\n{CARE}\n\n{SHORT_STRING}\n\n{made}\n"


def _section(section: TunerSection, there: str, rate_hz: int) -> str:
    name = section.tuning.name[:1].upper() + section.tuning.name[1:]
    pitches = " ".join(name_of(pitch) for pitch in section.tuning.pitches)
    spelt = "" if name == pitches else f"From string 5 to string 1: {markdown_text(pitches)}.\n\n"
    rows = "\n".join(_row(string, there) for string in section.strings)
    capos = "".join(f"\n\n{_capo(section, raised, titles)}" for raised, titles in section.raised)
    return (f'## {markdown_text(name)}\n\n{spelt}<div class="fp-tuner" data-fp-sounds="{text(there)}" '
            f'data-fp-rate="{rate_hz}" data-search-exclude>\n{rows}\n</div>{capos}')


def _row(string: OpenString, there: str) -> str:
    return (f'<div class="fp-open-string">{_sound(string.words, string.words, string.tone, there)}'
            f"{_sound(PLUCKED, f'{string.words}, {PLUCKED}', string.pluck, there)}</div>")


def _sound(shown: str, name: str, sound: str, there: str) -> str:
    return (f'<div data-fp-sound="{sound}"><span>{text(shown)}</span><audio controls loop preload="none" '
            f'aria-label="{text(name)}" src="{text(there)}{sound}.wav"></audio></div>')


def _capo(section: TunerSection, raised: Raised, titles: tuple[str, ...]) -> str:
    """What a capo makes of the strings: they are tuned without it."""
    sounding = markdown_text(" ".join(name_of(midi) for midi in section.sounding(raised)))
    stop = short_string_stop(raised.capo, raised.fifth)
    where = f"the capo at fret {raised.capo}" + ("" if raised.fifth == 0 else f" and the short string at fret {stop}")
    used = ", as in " + ", ".join(f"*{markdown_text(title)}*" for title in titles) + "," if titles else ""
    return f"Tune without a capo. With {where}{used} the open strings sound {sounding}."
