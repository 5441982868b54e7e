"""Cases read by a person: a block, what it must give, and why."""

from pathlib import Path

from fifthpeg.model.lick import Lick
from fifthpeg.reading.fences import find_fences
from fifthpeg.reading.parse import parse

CASES = Path(__file__).parents[1] / "cases"


def cases_in(folder: str) -> list[Path]:
    return sorted((CASES / folder).glob("*.md"))


def read_case(case: Path) -> tuple[Lick, str]:
    """The lick and what it must give. A case without a reason, or with a fault in its block, fails."""
    page, _, rest = case.read_text(encoding="utf-8").partition("\n==== gives\n")
    expected, _, reason = rest.partition("\n==== because\n")
    assert reason.strip()
    (block,) = find_fences(page, "page.md").blocks
    read = parse(block)
    assert not read.problems
    return read.lick, expected
