"""The part of the command line that is about sound: ``fifthpeg bank check``."""

import argparse
from pathlib import Path

from .pages.own_recordings import read_own_bank

WELL, TO_MEND = 0, 1
NO_RECORDING = ("there is no recording in {folder}; put WAV files there, named by string and fret: "
                "3-2.wav is string 3, fret 2")


class Refusal(Exception):
    """What the command can't do, in a sentence for whoever typed it."""


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
    if not folder.is_dir():
        raise Refusal(f"there is no folder {folder}")
    report = report_on(read_own_bank(folder))
    if not report.recorded and not report.unusable:
        raise Refusal(NO_RECORDING.format(folder=folder))
    for remark in report.remarks:
        print(f"{folder / remark.file_name} {remark.says}")
    print(*report.strings, report.summary, sep="\n")
    return TO_MEND if report.unusable else WELL
