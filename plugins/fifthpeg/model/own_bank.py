"""A teacher's own bank: recordings of single plucks that take the place of the synthesized ones.

A recording of one string at one fret is called a take.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class OwnBank:
    """``files`` maps the names of a folder's files to their bytes; ``key`` stands for all of that, and is empty for none."""

    key: str = ""
    files: Mapping[str, bytes] = field(default_factory=dict, repr=False, compare=False)


NO_OWN_BANK = OwnBank()
