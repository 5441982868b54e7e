"""The front matter of a lesson: what it may say, held by one table, and the faults in it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import yaml

from ..model.problem import Place, Problem
from .fences import front_matter, split_lines

LEVELS = (1, 2, 3)


@dataclass(frozen=True)
class LessonKey:
    """``holds`` says whether a value will do; ``schema`` says the same to an editor."""

    name: str
    holds: Callable[[Any], bool]
    allowed: str
    example: str
    schema: Mapping[str, Any]


def _is_text(value: Any) -> bool:
    return isinstance(value, str) and bool(value.strip())


def _is_list_of_texts(value: Any) -> bool:
    return isinstance(value, list) and all(_is_text(item) for item in value)


_TEXTS = {"type": "array", "items": {"type": "string", "minLength": 1}}
LESSON_KEYS = (
    LessonKey("title", _is_text, "a few words", "A first tag", {"type": "string", "minLength": 1}),
    LessonKey("level", lambda value: value in LEVELS and not isinstance(value, bool), "1, 2 or 3", "2",
              {"enum": list(LEVELS)}),
    LessonKey("needs", _is_list_of_texts, "the file names of lessons that come first", "[02-rolls.md]", _TEXTS),
    LessonKey("summary", _is_text, "a sentence", "Two bars and an exit.", {"type": "string", "minLength": 1}),
    LessonKey("techniques", _is_list_of_texts, "a list of words", "[hammer-on, pull-off]", _TEXTS),
)


def lesson_problems(text: str, page: str) -> tuple[Problem, ...]:
    """What a lesson's own keys say that they can't; keys of MkDocs and its themes are left alone."""
    lines = front_matter(text)
    if not lines:
        return ()
    try:
        said = yaml.load("\n".join(lines[1:-1]),
                         yaml.CSafeLoader if hasattr(yaml, "CSafeLoader") else yaml.SafeLoader)
    except yaml.MarkedYAMLError as error:
        line = 2 + (error.problem_mark.line if error.problem_mark else 0)
        return (_problem(page, split_lines(text), min(line, len(lines)), 1, "these lines can't be read",
                         "write `key: words`; words with a colon in them go in quotes"),)
    except yaml.YAMLError:
        return (_problem(page, split_lines(text), 1, 1, "these lines can't be read", "write `key: words`"),)
    return tuple(_key_problems(said, lines, page)) if isinstance(said, dict) else ()


def _key_problems(said: Mapping[str, Any], lines: list[str], page: str):
    for key in LESSON_KEYS:
        if key.name not in said or key.holds(said[key.name]):
            continue
        line = next((n for n, row in enumerate(lines, 1) if row.startswith(f"{key.name}:")), 1)
        written = said[key.name]
        says = f"`{key.name}` says nothing" if written in (None, "", []) else f"`{key.name}` can't be `{written}`"
        yield _problem(page, lines, line, 1, says, f"it takes {key.allowed}; for example `{key.name}: {key.example}`")


def _problem(page: str, lines: list[str], line: int, column: int, says: str, hint: str) -> Problem:
    quote = lines[line - 1]
    return Problem(Place(page, line, column, max(1, len(quote))), "bad-value", says, quote, hint)
