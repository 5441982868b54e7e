"""What is to be said of a teacher's own bank, in a musician's words: file by file, string by string."""

from collections.abc import Iterator
from dataclasses import dataclass

from ..model.own_bank import OwnBank
from ..model.pitch import name_of
from ..model.take_names import EXAMPLE, TakeName, all_take_names, frets_of
from ..model.tuning import STRING_NUMBERS
from .own_bank import nearest
from .take_stock import NO_PITCH, SHORT, SHORTEST_SECONDS, SILENT, TWICE, UNREADABLE, WRONG_NOTE, Heard, Refused, Stock, take_stock
from .touches import TOUCHES

AUDIBLY_OFF_CENTS = 5.0
"""About the smallest difference between two tones in turn that is heard (common practice, no source)."""
NOISY_ABOVE_DB = -30.0
FAR_HALF_STEPS = 3
"""Read faster or slower by more than this, a string begins to sound like another (common practice, no source)."""
UNUSABLE = "can't be used"
REFUSALS = {
    UNREADABLE: "it can't be read as a WAV file; save it again from your recording program",
    SILENT: "it is silent: nothing in it is loud enough to be a pluck",
    SHORT: f"it rings for less than {SHORTEST_SECONDS} seconds; let the string ring",
    NO_PITCH: "it sounds no steady note; record one string by itself, plucked once",
}


@dataclass(frozen=True)
class Remark:
    """``says`` goes on from the file's name. ``unusable``: no note can be made of the file."""

    file_name: str
    says: str
    unusable: bool = False


@dataclass(frozen=True)
class Report:
    """``recorded`` counts the notes that are there; ``strings`` says for each string what is missing and where it comes
    from; ``summary`` is one line."""

    remarks: tuple[Remark, ...]
    recorded: int
    strings: tuple[str, ...]
    summary: str

    @property
    def unusable(self) -> int:
        return sum(remark.unusable for remark in self.remarks)


def report_on(own: OwnBank) -> Report:
    stock = take_stock(own)
    remarks = [*(Remark(one.file_name, f"{UNUSABLE}: {_why(one, stock)}", unusable=True) for one in stock.refused),
               *(Remark(heard.file_name, says) for heard in stock.heard.values() for says in _flaws(heard))]
    return Report(tuple(remarks), len(stock.heard), tuple(_string(number, stock) for number in STRING_NUMBERS), _summary(stock))


def _why(one: Refused, stock: Stock) -> str:
    if one.why == TWICE:
        return f"it names {one.name.words}, and so does `{stock.heard[one.name].file_name}`; keep the better of the two"
    if one.why == WRONG_NOTE:
        return _wrong_note(one)
    if one.name:
        return REFUSALS[one.why]
    return f"{one.why}; {_right_name(one.midi)}"


def _wrong_note(one: Refused) -> str:
    wanted, sounds = one.name.midi, round(one.midi)
    if wanted == sounds:
        return (f"it is {_off(100 * (one.midi - wanted))}, nearer to another note than to the {name_of(wanted)} of "
                f"{one.name.words}; tune the string and record it again")
    same_string = [name for name in _names_of(sounds) if name.string == one.name.string]
    rename = f"if that is {same_string[0].words}, name it `{same_string[0].file_name}`" if same_string else _right_name(sounds)
    return f"it sounds {name_of(sounds)}, and {one.name.words} is {name_of(wanted)} in open G; {rename}"


def _right_name(midi: float | None) -> str:
    """A hint: the names by which what is heard would be right."""
    names = _names_of(round(midi)) if midi is not None else []
    if not names:
        return f"name it by string and fret, such as `{EXAMPLE}` for string 3, fret 2"
    return f"it sounds {name_of(round(midi))}: name it {' or '.join(f'`{name.file_name}` ({name.words})' for name in names)}"


def _names_of(midi: int) -> list[TakeName]:
    return [name for name in all_take_names() if name.midi == midi]


def _flaws(heard: Heard) -> Iterator[str]:
    """Of a take that is used all the same."""
    if abs(heard.cents_off) > AUDIBLY_OFF_CENTS:
        yield f"is {_off(heard.cents_off)}; it is brought into tune"
    if heard.clipped:
        yield "is clipped: its loudest moments are cut off flat, and sound harsh; record it again at a lower level"
    if -heard.noise_db > NOISY_ABOVE_DB:
        yield (f"is noisy: the noise lies only {heard.noise_db:.0f} decibels below the note; record it again in a "
               "quieter room or nearer to the banjo")
    if heard.seconds < TOUCHES["pick"].seconds:
        yield (f"rings for {heard.seconds:.1f} seconds, and a note of the bank for up to {TOUCHES['pick'].seconds:g}; "
               "slow notes will end early")


def _off(cents: float) -> str:
    return f"{abs(cents):.0f} cents {'sharp' if cents > 0 else 'flat'}"


def _string(number: int, stock: Stock) -> str:
    frets, there = frets_of(number), {heard.name.fret for heard in stock.of_string(number)}
    missing = [fret for fret in frets if fret not in there]
    if not there:
        return f"String {number}: no recording that can be used; the synthesized sound stands in for the whole string"
    if not missing:
        return f"String {number}: every fret is there"
    by_source: dict[int, list[int]] = {}
    for fret in missing:
        by_source.setdefault(nearest(stock, number, TakeName(number, fret).midi).name.fret, []).append(fret)
    derived = "; ".join(f"{_frets(made, frets)} from {_fret(source)}" for source, made in by_source.items())
    far = [fret for source, made in by_source.items() for fret in made
           if abs(TakeName(number, fret).midi - TakeName(number, source).midi) > FAR_HALF_STEPS]
    warning = f". More than {FAR_HALF_STEPS} half steps away, and changed in sound: {_frets(far, frets)}" if far else ""
    return f"String {number}: {len(there)} of {len(frets)} recorded; {derived}{warning}"


def _frets(made: list[int], on_the_string: tuple[int, ...]) -> str:
    """``fret 3``, ``frets 3 and 4``, ``frets open, 3 and 7 to 9``: three neighbours or more run together."""
    runs: list[list[int]] = []
    for fret in made:
        follows = runs and on_the_string.index(fret) == on_the_string.index(runs[-1][-1]) + 1
        if follows and runs[-1][0] != 0:
            runs[-1].append(fret)
        else:
            runs.append([fret])
    said = [word for run in runs for word in ([f"{run[0]} to {run[-1]}"] if len(run) > 2 else map(_fret_number, run))]
    listed = said[0] if len(said) == 1 else ", ".join(said[:-1]) + " and " + said[-1]
    return "open" if made == [0] else f"fret{'s' if len(made) > 1 else ''} {listed}"


def _fret(fret: int) -> str:
    return f"fret {fret}" if fret else "the open string"


def _fret_number(fret: int) -> str:
    return str(fret) if fret else "open"


def _summary(stock: Stock) -> str:
    refused = len(stock.refused)
    says = f"{len(stock.heard)} of {len(all_take_names())} notes recorded"
    if stock.heard:
        says += f", the farthest {max(abs(one.cents_off) for one in stock.heard.values()):.0f} cents out of tune"
    return f"{says}; {refused} file{'s' * (refused > 1)} can't be used" if refused else f"{says}; every file can be used"
