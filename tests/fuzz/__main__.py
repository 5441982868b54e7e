"""A long run of blocks that nobody would write, and of good ones spoiled: ``make fuzz``.

Each must give a lick, or problems whose places lie inside the block; licks must perform and be written
back as the same. Prints counts, kinds and the slowest block; any exception or stray place ends it with 1.
"""

import argparse
import random
import time
import traceback
from collections import Counter
from pathlib import Path

from fifthpeg.model.note import written_notes
from fifthpeg.reading.fences import Block, find_fences
from fifthpeg.reading.messages import message
from fifthpeg.reading.parse import parse
from fifthpeg.reading.writing import write
from fifthpeg.sound.perform import perform

ROOT = Path(__file__).parents[2]
BLOCKS = 200_000
LONGEST = 2_000
SLOWEST = 20
REPEATS = 5
"""A busy machine makes any block slow once; timing the slowest again tells the two apart."""
SIGNS = ["T3", "I2", "M1", "T5", "3:2s5", "h3", "p0", "s7", "b1", "r", "4>h2", "+", "-", ".", "|", "|:", ":|", ":|x3", "<1>",
         "<2>", "(", ")", ")/2", "[G]", "[", '"now"', '"', "!", "\n", "\n---\n", "id: a\n", "title:", "capo: 2\n", "fifth: 9\n",
         "pickup: 1\n", "meter: 3/4\n", "meter: 6/8\n", "grid: 16\n", "bounce: 66\n", "exit: 1\n", "- x", "\\\n", "#", "~",
         "1:12c", "5:17c", "2:10b1r", "5:7", "=1", "T2+T3+T4", "\u00a0", "“", "–", "\t", "\r", "\u2028", "é", "T5+M1!", "3:x"]


def main() -> int:
    options = argparse.ArgumentParser()
    options.add_argument("--blocks", type=int, default=BLOCKS)
    options.add_argument("--seed", type=int, default=1)
    said = options.parse_args()
    chance = random.Random(said.seed)
    good = [block.source for page in sorted((ROOT / "content").rglob("*.md"))
            for block in find_fences(page.read_text(), page.name).blocks]
    kinds, outcomes, slowest = Counter(), Counter(), []
    for _ in range(said.blocks):
        source = (_spoiled(chance, good) if chance.random() < 0.5 else _strewn(chance))[:LONGEST]
        started = time.perf_counter()
        try:
            outcome, found = _read(source)
        except Exception:
            print(f"seed {said.seed}: this block broke the reader:\n{source!r}")
            traceback.print_exc()
            return 1
        slowest = sorted([*slowest, (time.perf_counter() - started, source)], reverse=True)[:SLOWEST]
        outcomes[outcome] += 1
        kinds.update(found)
    print(f"{said.blocks} blocks from seed {said.seed}: " + ", ".join(f"{n} {what}" for what, n in outcomes.most_common()))
    print("problems: " + ", ".join(f"{kind} {n}" for kind, n in kinds.most_common()))
    again = max((min(_seconds(source) for _ in range(REPEATS)), source) for _, source in slowest)
    print(f"slowest block {again[0] * 1000:.1f} ms ({len(again[1])} characters), best of {REPEATS} of the {SLOWEST} slowest")
    return 0


def _seconds(source: str) -> float:
    started = time.perf_counter()
    parse(Block("tab", "page.md", 1, 0, source, tuple(source.split("\n"))))
    return time.perf_counter() - started


def _strewn(chance: random.Random) -> str:
    pieces = chance.choices(SIGNS, k=chance.randint(0, 60))
    return chance.choice([" ", " ", ""]).join(pieces)


def _spoiled(chance: random.Random, good: list[str]) -> str:
    source = chance.choice(good)
    for _ in range(chance.randint(0, 4)):
        at = chance.randint(0, len(source))
        source = source[:at] + chance.choice([*SIGNS, "", "", ""]) + source[at + chance.randint(0, 3):]
    return source


def _read(source: str) -> tuple[str, list[str]]:
    """What became of a block and the kinds of its problems; asserts what must hold."""
    block = Block("tab", "page.md", 1, 0, source, tuple(source.split("\n")))
    read = parse(block)
    lines = source.split("\n")
    for problem in read.problems:
        assert 2 <= problem.place.line <= len(lines) + 1, problem
        assert 1 <= problem.place.column <= len(lines[problem.place.line - 2]) + 1, problem
        assert problem.says and problem.hint and message(problem)
    if read.problems:
        return "with problems", [problem.kind for problem in read.problems]
    if read.lick is None:
        return "showings and variants", []
    assert all(note.length > 0 and note.rings_until > note.start for note in written_notes(read.lick)), source
    perform(read.lick, {})
    again = write(read.lick)
    assert parse(Block("tab", "page.md", 1, 0, again, tuple(again.split("\n")))).lick == read.lick, again
    return "licks", []


if __name__ == "__main__":
    raise SystemExit(main())
