"""JSON Schemas for editors, made from the tables the reader itself uses."""

from typing import Any

from .keys import KEYS
from .lesson import LESSON_KEYS

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


def lesson_schema() -> dict[str, Any]:
    """The front matter of a lesson; keys of MkDocs and its themes may stand beside these."""
    return {
        "$schema": DIALECT, "title": "Front matter of a lesson", "type": "object",
        "properties": {key.name: {"description": key.allowed, "examples": [key.example], **key.schema} for key in LESSON_KEYS},
    }


def _properties(kind: str) -> dict[str, Any]:
    return {key.name: {"description": key.allowed, "examples": [key.example], **key.schema}
            for key in KEYS if getattr(key, kind)}
