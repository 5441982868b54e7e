"""The command line: ``fifthpeg check | new | tidy | bank | sound | kit | packet | schema``.

Exit status: 0 where all is well, 1 where something in the files wants mending, 2 where the
command itself could not do what it was asked.
"""

import argparse
import json
import os
import sys
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from pathlib import Path

from .course_files import course_files, markdown_files, page_name, text_of
from .kit_command import add_kit
from .lesson_command import add_new
from .model.chain import Chain, Chained
from .model.problem import Problem
from .packet_command import add_packet
from .reading.course import read_course
from .reading.lost_fences import scan_page
from .reading.messages import message
from .reading.parse import Defaults, parse
from .reading.schema import SCHEMAS
from .reading.tidying import tidy_page
from .refusal import TO_MEND, TROUBLE, WELL, Refusal, in_words
from .sound_command import add_bank, add_sound


def main(arguments: Sequence[str] | None = None) -> int:
    said = _commands().parse_args(arguments)
    try:
        status = said.run(said)
        sys.stdout.flush()
        return status
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # or Python complains when it closes it
        return TROUBLE
    except (Refusal, OSError) as error:
        _say(error)
        return TROUBLE


def check(said: argparse.Namespace) -> int:
    """Problems of the named pages, read as part of their whole course."""
    wanted = markdown_files(said.paths)
    pages = {page_name(path): path for path in [*course_files(wanted), *wanted]}
    texts, unread = _texts(pages)
    shown = {page_name(path) for path in wanted} & texts.keys()
    problems = [problem for problem in _problems(texts) if problem.place.page in shown]
    for problem in problems:
        print(json.dumps(_as_object(problem), ensure_ascii=False) if said.format == "json" else message(problem))
    if said.format == "text":
        pages_read = f"{len(shown)} page{'s' * (len(shown) != 1)}"
        print(f"{pages_read} read, {len(problems) or 'nothing'} to mend", file=sys.stderr)
    if unread:
        return TROUBLE
    return TO_MEND if problems else WELL


def tidy(said: argparse.Namespace) -> int:
    """Lines up the slots of every tab block without faults."""
    files = {page_name(path): path for path in markdown_files(said.paths)}
    texts, unread = _texts(files)
    for page, text in texts.items():
        tidied = tidy_page(text, page)
        if tidied != text:
            with files[page].open("w", encoding="utf-8", newline="") as file:
                file.write(tidied)
            print(f"{page}: lined up")
    return TROUBLE if unread else WELL


def schema(said: argparse.Namespace) -> int:
    print(json.dumps(SCHEMAS[said.what](), indent=2, ensure_ascii=False))
    return WELL


def _commands() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="fifthpeg", description="Look after the tab blocks of a Markdown course.")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    checking = commands.add_parser(
        "check", help="say what is wrong in Markdown files, without building",
        description="Say what is wrong in Markdown files, without building. Seams are judged at the "
                    "speeds a site has when it sets none of its own.")
    checking.add_argument("paths", nargs="*", metavar="PATH",
                          help="files or folders; the course's own folder if none")
    checking.add_argument("--format", choices=("text", "json"), default="text", 
                          help="json: one object a problem, one a line")
    checking.set_defaults(run=check)
    add_new(commands)
    tidying = commands.add_parser("tidy", help="line up the slots of tab blocks in columns")
    tidying.add_argument("paths", nargs="*", metavar="PATH", help="files or folders; the course's own folder if none")
    tidying.set_defaults(run=tidy)
    add_bank(commands)
    add_sound(commands)
    add_kit(commands)
    add_packet(commands)
    describing = commands.add_parser("schema", help="print a JSON Schema for editors")
    describing.add_argument("what", choices=tuple(SCHEMAS))
    describing.set_defaults(run=schema)
    return parser


def _texts(pages: Mapping[str, Path]) -> tuple[dict[str, str], bool]:
    """Of the pages that can be read, and whether there are others; each of those is named, and stops none of the rest."""
    texts = {}
    for name, path in pages.items():
        try:
            texts[name] = text_of(path)
        except (Refusal, OSError) as error:
            _say(error)
    return texts, len(texts) < len(pages)


def _say(error: Exception) -> None:
    print(f"fifthpeg: {in_words(error) if isinstance(error, OSError) else error}", file=sys.stderr)


def _problems(texts: Mapping[str, str]) -> tuple[Problem, ...]:
    scanned = {name: scan_page(text, name, _no_mark) for name, text in texts.items()}
    return read_course(scanned, Defaults(), parse, _link_up).problems


def _link_up(chain: Chain) -> Chained:
    """At the speeds a site has when it sets none."""
    from .analysis.chain import link_up  # not above: a course without chains is checked without loading numpy
    return link_up(chain)


def _no_mark(_page: str, _line: int) -> str:
    """Nothing is rendered here, so nothing need stand in for a block that is never closed."""
    return ""


def _as_object(problem: Problem) -> dict:
    return {**asdict(problem.place), "kind": problem.kind, "says": problem.says, "quote": problem.quote,
            "hint": problem.hint, "others": [asdict(place) for place in problem.others]}
