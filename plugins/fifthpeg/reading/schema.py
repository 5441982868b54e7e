"""JSON Schemas for editors, made from the tables the reader itself uses."""

from collections.abc import Iterable
from typing import Any

from .chain_keys import CHAIN_KEYS, FIT_KEYS
from .keys import KEYS, Key
from .lesson import LESSON_KEYS, LessonKey

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def header_schema() -> dict[str, Any]:
    """The header of a tab block: a lick, a variant or a showing."""
    return {
        "$schema": DIALECT, "title": "Header of a tab block", "type": "object",
        "anyOf": [
            {"required": ["show"], "properties": _properties("showing"), "additionalProperties": False},
            {"required": ["from"], "properties": _properties("variant"), "additionalProperties": False},
            {"not": {"anyOf": [{"required": ["show"]}, {"required": ["from"]}]}, "properties": _properties("lick"),
             "additionalProperties": False},
        ],
    }


def chain_schema() -> dict[str, Any]:
    return _block_schema("chain", CHAIN_KEYS, ["links"])


def fit_schema() -> dict[str, Any]:
    return _block_schema("fit", FIT_KEYS, ["fill", "over"])


def lesson_schema() -> dict[str, Any]:
    """The front matter of a lesson; keys of MkDocs and its themes may stand beside these."""
    return {"$schema": DIALECT, "title": "Front matter of a lesson", "type": "object",
            "properties": _described(LESSON_KEYS)}


SCHEMAS = {"header": header_schema, "chain": chain_schema, "fit": fit_schema, "lesson": lesson_schema}
"""By the name each is asked for and shipped under."""


def _block_schema(kind: str, keys: Iterable[Key], required: list[str]) -> dict[str, Any]:
    return {"$schema": DIALECT, "title": f"Header of a {kind} block", "type": "object", "required": required,
            "properties": _described(keys), "additionalProperties": False}


def _properties(kind: str) -> dict[str, Any]:
    return _described(key for key in KEYS if getattr(key, kind))


def _described(keys: Iterable[Key | LessonKey]) -> dict[str, Any]:
    return {key.name: {"description": key.allowed, "examples": [key.example], **key.schema} for key in keys}
