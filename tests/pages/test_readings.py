"""What blocks were read as outlasts a build, and nothing else comes back from the file it lies in."""

import os
import pickle
from pathlib import Path
from zlib import crc32

import pytest

from fifthpeg.pages.readings import Readings
from fifthpeg.reading.fences import Block, find_fences
from fifthpeg.reading.parse import Defaults, parse

COURSE = Path(__file__).parents[2] / "content"


class Reader:
    """Reads, and counts how often."""

    def __init__(self) -> None:
        self.times = 0

    def __call__(self, block: Block, defaults: Defaults):
        self.times += 1
        return parse(block, defaults)


def every_block() -> list[Block]:
    """Of the demo course: licks, variants, showings, chains and fits."""
    return [block for page in sorted(COURSE.rglob("*.md"))
            for block in find_fences(page.read_text(encoding="utf-8"), page.name).blocks]


def built(path: Path, blocks: list[Block], salt: str = "one", defaults: Defaults = Defaults()) -> tuple[list, int]:
    """What a build of a process of its own reads, and how many blocks it had to read."""
    reader = Reader()
    readings = Readings(reader)
    readings.open(path, salt)
    found = [readings.read(block, defaults) for block in blocks]
    readings.keep()
    return found, reader.times


@pytest.fixture
def kept(tmp_path) -> Path:
    path = tmp_path / "cache" / "readings"
    built(path, every_block())
    return path


def test_a_second_build_reads_nothing_and_has_the_same(kept):
    assert {block.name for block in every_block()} == {"tab", "chain", "fit"}
    assert built(kept, every_block()) == ([parse(block, Defaults()) for block in every_block()], 0)


def test_places_come_back_too(kept):
    """Values are equal wherever they stand, so places are looked at by themselves."""
    (block, *_) = every_block()
    (found, *_), _ = built(kept, [block])
    assert found.lick.place == parse(block, Defaults()).lick.place


def test_a_changed_block_is_read_again_and_no_other(kept):
    first, *rest = every_block()
    changed = Block(first.name, first.page, first.line + 1, first.indent, first.source, first.raw)
    assert built(kept, [changed, *rest])[1] == 1


def test_other_defaults_or_another_program_read_all_again(kept):
    blocks = every_block()
    assert built(kept, blocks, salt="two")[1] == len(blocks)
    assert built(kept, blocks, "two", Defaults(key="D"))[1] == len(blocks)


def test_the_same_preview_reads_only_what_is_new(tmp_path):
    reader, blocks = Reader(), every_block()
    readings = Readings(reader)
    for times in (len(blocks) - 1, len(blocks), len(blocks)):
        readings.open(tmp_path / "readings", "one")
        for block in blocks[len(blocks) - times:]:
            readings.read(block, Defaults())
        readings.keep()
    assert reader.times == len(blocks)


@pytest.mark.parametrize("harm", [lambda path: path.unlink(), lambda path: path.write_bytes(b""),
                                  lambda path: path.write_bytes(path.read_bytes()[:-9])], ids=["gone", "empty", "cut"])
def test_a_harmed_file_is_read_past_and_mended(kept, harm):
    harm(kept)
    blocks = every_block()
    assert built(kept, blocks)[1] == len(blocks)
    assert built(kept, blocks)[1] == 0


class Trap:
    def __init__(self, *what: object):
        self.what = what

    def __reduce__(self):
        return self.what


@pytest.mark.parametrize("called", [os.mkdir, parse, Reader], ids=["system", "own function", "a class from elsewhere"])
def test_a_file_laid_there_by_another_calls_nothing(tmp_path, called):
    content = pickle.dumps({"trap": Trap(called, (str(tmp_path / "made"),))})
    path = tmp_path / "readings"
    path.write_bytes(f"{crc32(content):08x} one\n".encode() + content)
    blocks = every_block()[:1]
    assert built(path, blocks)[1] == 1
    assert not (tmp_path / "made").exists()
