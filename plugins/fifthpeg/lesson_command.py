"""``fifthpeg new lesson``: a lesson to begin with."""

import argparse
import json
import re
import unicodedata
from pathlib import Path

from .course_files import docs_folder, page_name
from .refusal import WELL, Refusal

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


def add_new(commands: argparse._SubParsersAction) -> None:
    making = commands.add_parser("new", help="start a new lesson").add_subparsers(required=True, metavar="WHAT")
    lesson = making.add_parser("lesson", help="a lesson file with an example block")
    lesson.add_argument("title")
    lesson.add_argument("--folder", help="where to; the course's lessons folder if not said")
    lesson.set_defaults(run=new_lesson)


def new_lesson(said: argparse.Namespace) -> int:
    """A lesson file with front matter and an example to change."""
    stem = _stem(said.title)
    if not stem:
        raise Refusal("a title needs at least one letter or digit to name the file by")
    folder = Path(said.folder) if said.folder else docs_folder(Path.cwd()) / "lessons"
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
    print(page_name(path))
    return WELL


def _stem(title: str) -> str:
    """A name for file and lick: accents and apostrophes fall away, all else that is no letter or digit divides."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().replace("'", "")
    return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")
