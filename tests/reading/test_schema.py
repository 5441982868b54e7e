"""The schemas that ship are the ones the reader's tables make, and they agree with the reader.

Validator: jsonschema (JSON Schema draft 2020-12).
"""

import json
from pathlib import Path

import pytest
import yaml
from fifthpeg.reading.faults import Faults
from fifthpeg.reading.fences import Block, find_fences, front_matter
from fifthpeg.reading.header import divide, read_header
from fifthpeg.reading.keys import KEYS
from fifthpeg.reading.lesson import LESSON_KEYS, lesson_problems
from fifthpeg.reading.parse import parse
from fifthpeg.reading.schema import header_schema, lesson_schema
from jsonschema import Draft202012Validator

ROOT = Path(__file__).parents[2]
SHIPPED = ROOT / "plugins" / "fifthpeg" / "reading"
COURSE = sorted((ROOT / "content").rglob("*.md"))


@pytest.mark.parametrize("name, made", [("header", header_schema()), ("lesson", lesson_schema())])
def test_what_ships_is_what_the_tables_make(name, made):
    Draft202012Validator.check_schema(made)
    assert json.loads((SHIPPED / f"{name}.schema.json").read_text()) == made


def header_of(block: Block) -> dict:
    rows = block.source.split("\n")
    faults = Faults(block)
    return {key: entry.items if entry.is_list else entry.text
            for key, entry in read_header(rows, divide(rows, faults), faults).items()}


def test_every_header_of_the_course_is_valid():
    validator = Draft202012Validator(header_schema())
    headers = [header_of(block) for page in COURSE for block in find_fences(page.read_text(), page.name).blocks]
    assert sum(1 for header in headers if header) > 50
    assert [error.message for header in headers for error in validator.iter_errors(header)] == []


def test_every_front_matter_of_the_course_is_valid():
    validator = Draft202012Validator(lesson_schema())
    matters = [yaml.safe_load("\n".join(lines[1:-1])) for page in COURSE if (lines := front_matter(page.read_text()))]
    assert len(matters) >= 8
    assert [error.message for matter in matters for error in validator.iter_errors(matter)] == []


@pytest.mark.parametrize("key", [key for key in KEYS if key.lick and key.name not in ("exit", "pickup")], ids=lambda key: key.name)
def test_an_example_is_good_for_reader_and_schema_and_nonsense_for_neither(key):
    def reads(value: str) -> bool:
        source = f"{key.name}: {value}\n---\nT3 - - - - - - -"
        problems = parse(Block("tab", "p", 1, 0, source, tuple(source.split("\n")))).problems
        return not any(problem.kind == "bad-value" and problem.place.line == 2 for problem in problems)

    def fits(value: str) -> bool:
        words = [item.strip() for item in value[1:-1].split(",")] if value.startswith("[") else value
        return Draft202012Validator(header_schema()).is_valid({key.name: words})

    assert reads(key.example) and fits(key.example)
    assert not reads("") and (fits("") is False or key.name in ("tempos", "labels"))


def test_a_lesson_key_with_a_wrong_value_is_told_on_its_line():
    page = "---\ntitle: Weir\nlevel: three\nneeds: one.md\nhide: [toc]\n---\n"
    problems = lesson_problems(page, "p.md")
    assert [(problem.kind, problem.place.line) for problem in problems] == [("bad-value", 3), ("bad-value", 4)]
    assert not Draft202012Validator(lesson_schema()).is_valid(yaml.safe_load(page.strip("-\n")))


def test_front_matter_that_is_no_front_matter_is_told():
    (problem,) = lesson_problems("---\ntitle: Weir: a run\n---\n", "p.md")
    assert problem.place.line == 2 and "quotes" in problem.hint


def test_lesson_keys_name_each_thing_once():
    assert len({key.name for key in LESSON_KEYS}) == len(LESSON_KEYS)
