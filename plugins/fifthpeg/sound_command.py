"""The part of the command line that is about sound: ``fifthpeg bank check`` and ``fifthpeg sound report``."""

import argparse
from importlib.util import find_spec
from pathlib import Path

from .model.own_bank import NO_OWN_BANK, OwnBank
from .pages.own_recordings import read_own_bank
from .refusal import TO_MEND, WELL, Refusal

NO_RECORDING = ("there is no recording in {folder}; put WAV files there, named by string and fret: "
                "3-2.wav is string 3, fret 2")
NO_PICTURES = 'the pictures of the report need matplotlib; install it with: python -m pip install "fifthpeg[report]"'
REPORT_FILE = "sound-report.html"


def add_bank(commands: argparse._SubParsersAction) -> None:
    bank = commands.add_parser("bank", help="look after recordings of your own banjo")
    checking = bank.add_subparsers(required=True, metavar="WHAT").add_parser(
        "check", help="say what is missing, out of tune, clipped, noisy or wrongly named",
        description="Listen to a folder of recordings, one pluck a file, made in open G without a capo and named by "
                    "string and fret, such as 3-2.wav; say what is wrong with them and what is made from what. "
                    "The exit status is 1 only where a file can't be used.")
    checking.add_argument("folder", metavar="FOLDER")
    checking.set_defaults(run=check_bank)


def check_bank(said: argparse.Namespace) -> int:
    from .pipeline import report_on  # not above: most commands need no numpy
    folder = Path(said.folder)
    report = report_on(_own_bank(folder))
    if not report.recorded and not report.unusable:
        raise Refusal(NO_RECORDING.format(folder=folder))
    for remark in report.remarks:
        print(f"{folder / remark.file_name} {remark.says}")
    print(*report.strings, report.summary, sep="\n")
    return TO_MEND if report.unusable else WELL


def add_sound(commands: argparse._SubParsersAction) -> None:
    sound = commands.add_parser("sound", help="show how the notes sound")
    reporting = sound.add_subparsers(required=True, metavar="WHAT").add_parser(
        "report", help="write a page with pictures and figures of every note",
        description="Write one page with waveforms, spectrograms, and tables of pitch, decay and level of every note of the bank.")
    reporting.add_argument("--to", metavar="FILE", default=REPORT_FILE, help=f"the page to write; {REPORT_FILE} if not said")
    reporting.add_argument("--against", metavar="EARLIER", help="an earlier report: say what has changed since")
    reporting.add_argument("--bank", metavar="FOLDER", help="recordings of your own banjo instead of the synthesized notes")
    reporting.set_defaults(run=report_sound)


def report_sound(said: argparse.Namespace) -> int:
    if find_spec("matplotlib") is None:
        raise Refusal(NO_PICTURES)
    from .pages.report_page import report_html
    from .sound_report import sound_report  # not above: most commands need no numpy
    before = _earlier(said.against) if said.against else None
    report = sound_report(_own_bank(Path(said.bank)) if said.bank else NO_OWN_BANK)
    Path(said.to).write_text(report_html(report, before), encoding="utf-8")
    print(said.to)
    return WELL


def _earlier(path: str) -> dict:
    from .pages.report_page import earlier_figures
    try:
        return earlier_figures(Path(path).read_text(encoding="utf-8"))
    except ValueError as error:
        raise Refusal(f"{path} can't be held against the new report: {error}") from None


def _own_bank(folder: Path) -> OwnBank:
    if not folder.is_dir():
        raise Refusal(f"there is no folder {folder}")
    return read_own_bank(folder)
