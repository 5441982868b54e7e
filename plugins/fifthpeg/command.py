"""The command line: ``fifthpeg check | new | tidy | bank | sound | kit | packet | schema``.

Exit status: 0 where all is well, 1 where something in the files wants mending, 2 where the
command itself could not do what it was asked.
"""

import argparse
import json
import re
import sys
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict
from pathlib import Path

from .kit_command import add_kit
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

SITE_FILE = "mkdocs.yml"
_DOCS_DIR = re.compile(r"^docs_dir:[ ]*[\"']?(?P<folder>[^\"'#\n]+?)[\"']?[ ]*(?:#.*)?$", re.MULTILINE)
LESSON = """---
title: {title}
level: 1
needs: []
summary: One sentence on what the student will be able to do.
techniques: []
---

# {heading}

What the phrase is for, and where it goes.

```tab
id: {stem}
title: {plain}
role: lick
tempo: 160
---
[G] T3 I2 M1 T5 I2 M1 T3 M1
```

## What to listen for

## What usually goes wrong
"""


def main(arguments: Sequence[str] | None = None) -> int:
    said = _commands().parse_args(arguments)
    try:
        return said.run(said)
    except (Refusal, OSError) as error:
        print(f"fifthpeg: {in_words(error) if isinstance(error, OSError) else error}", file=sys.stderr)
        return TROUBLE


def check(said: argparse.Namespace) -> int:
    """Problems of the named pages, read as part of their whole course."""
    wanted = _markdown_files(said.paths)
    pages = {_name(path): path for path in [*_course_files(wanted), *wanted]}
    shown = {_name(path) for path in wanted}
    problems = [problem for problem in _problems(pages) if problem.place.page in shown]
    for problem in problems:
        print(json.dumps(_as_object(problem), ensure_ascii=False) if said.format == "json" else message(problem))
    if said.format == "text":
        pages_read = f"{len(shown)} page{'s' * (len(shown) != 1)}"
        print(f"{pages_read} read, {len(problems) or 'nothing'} to mend", file=sys.stderr)
    return TO_MEND if problems else WELL


def new_lesson(said: argparse.Namespace) -> int:
    """A lesson file with front matter and an example to change."""
    stem = _stem(said.title)
    if not stem:
        raise Refusal("a title needs at least one letter or digit to name the file by")
    folder = Path(said.folder) if said.folder else _docs_folder(Path.cwd()) / "lessons"
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{stem}.md"
    needs_quotes = re.search(r"[:#\[\]{}\"'&*!|>%@`,]", said.title)
    title = json.dumps(said.title, ensure_ascii=False) if needs_quotes else said.title
    try:
        with path.open("x", encoding="utf-8") as file:
            file.write(LESSON.format(title=title, heading=said.title.replace("<", "&lt;"), stem=stem,
                                     plain=re.sub(r"[\[\]]", "", said.title)))  # in a header, brackets make a list
    except FileExistsError:
        raise Refusal(f"{path} is there already; give the lesson another title") from None
    print(_name(path))
    return WELL


def tidy(said: argparse.Namespace) -> int:
    """Lines up the slots of every tab block without faults."""
    for path in _markdown_files(said.paths):
        text = _text(path)
        tidied = tidy_page(text, _name(path))
        if tidied != text:
            with path.open("w", encoding="utf-8", newline="") as file:
                file.write(tidied)
            print(f"{_name(path)}: lined up")
    return WELL


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
    making = commands.add_parser("new", help="start a new lesson").add_subparsers(required=True, metavar="WHAT")
    lesson = making.add_parser("lesson", help="a lesson file with an example block")
    lesson.add_argument("title")
    lesson.add_argument("--folder", help="where to; the course's lessons folder if not said")
    lesson.set_defaults(run=new_lesson)
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


def _stem(title: str) -> str:
    """A name for file and lick: accents and apostrophes fall away, all else that is no letter or digit divides."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().replace("'", "")
    return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")


def _problems(pages: dict[str, Path]) -> tuple[Problem, ...]:
    scanned = {name: scan_page(_text(path), name, _no_mark) for name, path in pages.items()}
    return read_course(scanned, Defaults(), parse, _link_up).problems


def _link_up(chain: Chain) -> Chained:
    """At the speeds a site has when it sets none."""
    from .analysis.chain import link_up  # not above: a course without chains is checked without loading numpy
    return link_up(chain)


def _text(path: Path) -> str:
    """The page with its line ends as they are."""
    try:
        with path.open(encoding="utf-8", newline="") as file:
            return file.read()
    except UnicodeDecodeError:
        raise Refusal(f"{path} is not a text in UTF-8; save it as UTF-8 and try again") from None


def _no_mark(_page: str, _line: int) -> str:
    """Nothing is rendered here, so nothing need stand in for a block that is never closed."""
    return ""


def _as_object(problem: Problem) -> dict:
    return {**asdict(problem.place), "kind": problem.kind, "says": problem.says, "quote": problem.quote,
            "hint": problem.hint, "others": [asdict(place) for place in problem.others]}


def _markdown_files(paths: Iterable[str]) -> list[Path]:
    found: list[Path] = []
    for path in [Path(path) for path in paths] or [_docs_folder(Path.cwd())]:
        if path.is_dir():
            found += sorted(path.rglob("*.md"))
        elif path.is_file():
            found.append(path)
        else:
            raise Refusal(f"there is no file or folder {path}")
    return list(dict.fromkeys(found))


def _course_files(wanted: Iterable[Path]) -> Iterator[Path]:
    """All pages of the courses the wanted pages belong to, since a page may use licks of another."""
    folders = dict.fromkeys(_docs_folder(path.resolve().parent) for path in wanted)
    for folder in folders:
        if (_site_root(folder) / SITE_FILE).is_file():
            yield from sorted(folder.rglob("*.md"))


def _site_root(folder: Path) -> Path:
    folder = folder.resolve()
    return next((above for above in (folder, *folder.parents) if (above / SITE_FILE).is_file()), folder)


def _docs_folder(folder: Path) -> Path:
    """Where the course's pages lie, by its mkdocs.yml; the folder itself where there is none."""
    root = _site_root(folder)
    if not (root / SITE_FILE).is_file():
        return folder
    said = _DOCS_DIR.search((root / SITE_FILE).read_text(encoding="utf-8"))
    return root / (said["folder"] if said else "docs")


def _name(path: Path) -> str:
    """A page as messages name it: from the folder one stands in, where it lies below that."""
    resolved = path.resolve()
    return resolved.relative_to(Path.cwd()).as_posix() if resolved.is_relative_to(Path.cwd()) else resolved.as_posix()
