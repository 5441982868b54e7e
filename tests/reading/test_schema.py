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
from fifthpeg.reading.chain_keys import CHAIN_KEYS, FIT_KEYS
from fifthpeg.reading.keys import KEYS
from fifthpeg.reading.lesson import LESSON_KEYS, lesson_problems
from fifthpeg.reading.parse import parse
from fifthpeg.reading.schema import SCHEMAS, chain_schema, fit_schema, header_schema, lesson_schema
from jsonschema import Draft202012Validator

ROOT = Path(__file__).parents[2]
SHIPPED = ROOT / "plugins" / "fifthpeg" / "reading"
COURSE = sorted((ROOT / "content").rglob("*.md"))


@pytest.mark.parametrize("name", SCHEMAS)
def test_what_ships_is_what_the_tables_make(name):
    made = SCHEMAS[name]()
    Draft202012Validator.check_schema(made)
    assert json.loads((SHIPPED / f"{name}.schema.json").read_text()) == made


def header_of(block: Block) -> dict:
    rows = block.source.split("\n")
    faults = Faults(block)
    return {key: entry.items if entry.is_list else entry.text
            for key, entry in read_header(rows, divide(rows, faults), faults).items()}


def test_every_header_of_the_course_is_valid():
    validator = Draft202012Validator(header_schema())
    headers = [header_of(block) for page in COURSE for block in find_fences(page.read_text(), page.name).blocks
               if block.name == "tab"]
    assert sum(1 for header in headers if header) > 50
    assert [error.message for header in headers for error in validator.iter_errors(header)] == []


def test_every_front_matter_of_the_course_is_valid():
    validator = Draft202012Validator(lesson_schema())
    matters = [yaml.safe_load("\n".join(lines[1:-1])) for page in COURSE if (lines := front_matter(page.read_text()))]
    assert len(matters) >= 8
    assert [error.message for matter in matters for error in validator.iter_errors(matter)] == []


@pytest.mark.parametrize("key", [key for key in KEYS if key.lick and key.name not in ("exit", "pickup")],
                         ids=lambda key: key.name)
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


ASKED = {"chain": ("links: [a]", CHAIN_KEYS, chain_schema()), "fit": ("fill: 4\nover: G", FIT_KEYS, fit_schema())}


def said(header: str) -> dict:
    """As an editor reads a header: by YAML 1.1, ``yes`` and ``no`` as truths."""
    return yaml.safe_load(header) or {}


@pytest.mark.parametrize("name, key", [(name, key) for name, (_, keys, _) in ASKED.items() for key in keys],
                         ids=lambda given: getattr(given, "name", given))
def test_an_example_of_a_chain_or_fit_is_good_for_reader_and_schema_and_nonsense_for_neither(name, key):
    needed, _, schema = ASKED[name]
    others = [line for line in needed.split("\n") if not line.startswith(f"{key.name}:")]

    def reads(value: str) -> bool:
        source = "\n".join([*others, f"{key.name}: {value}"])
        return not parse(Block(name, "p", 1, 0, source, tuple(source.split("\n")))).problems

    def fits(value: str) -> bool:
        return Draft202012Validator(schema).is_valid(said("\n".join(others)) | said(f"{key.name}: {value}"))

    assert reads(key.example) and fits(key.example)
    assert not reads("") and not fits("")


@pytest.mark.parametrize("header", [
    "links: [a, {id: b, bars: 1-2, repair: hold}]\nexit: no", "links: [{id: a, bars: 2}]\nloop: yes\ncontext: no"])
def test_links_in_braces_are_good_for_reader_and_schema(header):
    assert Draft202012Validator(chain_schema()).is_valid(said(header))
    assert not parse(Block("chain", "p", 1, 0, header, tuple(header.split("\n")))).problems


@pytest.mark.parametrize("wrong", [
    "title: x", "links: [{bars: 1}]", "links: [{id: a, repair: hld}]", "links: [a]\nmeter: 4/4",
    "links: [a]\nexit: 1",
    "links: [{id: a, colour: red}]"])
def test_what_the_reader_refuses_in_a_chain_the_schema_refuses(wrong):
    assert not Draft202012Validator(chain_schema()).is_valid(said(wrong))
    assert parse(Block("chain", "p", 1, 0, wrong, tuple(wrong.split("\n")))).problems


@pytest.mark.parametrize("wrong", ["fill: 4", "over: G", "fill: 65\nover: G", "fill: 4\nover: G\nwith: {rol: tag}"])
def test_what_the_reader_refuses_in_a_fit_the_schema_refuses(wrong):
    assert not Draft202012Validator(fit_schema()).is_valid(said(wrong))
    assert parse(Block("fit", "p", 1, 0, wrong, tuple(wrong.split("\n")))).problems
