"""A long run of blocks that nobody would write, and of good ones spoiled: ``make fuzz``.

Each must give a lick, or problems whose places lie inside the block; licks must perform and be written
back as the same. Prints counts, kinds and the slowest block; any exception or stray place ends it with 1.
"""

import argparse
import random
import time
import traceback
from collections import Counter
from collections.abc import Iterable, Sequence
from pathlib import Path

from fifthpeg.analysis.chain import link_up
from fifthpeg.model.note import written_notes
from fifthpeg.model.problem import Problem
from fifthpeg.reading.fences import Block, find_fences
from fifthpeg.reading.library import read_library
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
CHAINS_IN = 10
"""One block in so many is a chain or fit."""
ASKING = ["links: ", "[", "]", "{", "}", ",", " a", " b", "id: a", "id: z\n", "bars: 1", "bars: 2-9", "repair: hold",
          "repair:", ": ",
          "\n", "- ", "fill: 6\n", "over: G\n", "over:", "with: ", "{role: tag}", "label: [x, y]", "after: a\n",
          "exit: no\n",
          "loop: yes\n", "bounce: 70\n", "tempo: 400\n", "tempos: [1, 2", "\n---\n", "T3", "#", "../", "<b>", "\t",
          "\r", "“", "é"]
KNOWN = ("id: a\ntempo: 208\nexit: 1\n---\n[G] M1 I2 T3 I2 M1 I2 T3 M1 | T3 - - - - - - -",
         "id: b\npickup: 1\n---\n[G] T3 | M1 I2 T3 I2 M1 I2 T3 -")
GOOD_ASKED = ("links: [a, {id: b, bars: 1, repair: hold}]\nexit: no\nloop: yes",
              "links:\n  - a\n  - {id: a, repair: hold}\n",
              "fill: 6\nover: G\nafter: a\nwith: {role: [lick, tag], key: G}\nmost: 5",
              "fill: 2\nover: D7\nwith: [a, b]")
SIGNS = ["T3", "I2", "M1", "T5", "3:2s5", "h3", "p0", "s7", "b1", "r", "4>h2", "+", "-", ".", "|", "|:", ":|", ":|x3",
         "<1>",
         "<2>", "(", ")", ")/2", "[G]", "[", '"now"', '"', "!", "\n", "\n---\n", "id: a\n", "title:", "capo: 2\n",
         "fifth: 9\n",
         "pickup: 1\n", "meter: 3/4\n", "meter: 6/8\n", "grid: 16\n", "bounce: 66\n", "exit: 1\n", "- x", "\\\n", "#",
         "~",
         "1:12c", "5:17c", "2:10b1r", "5:7", "=1", "T2+T3+T4", "\u00a0", "“", "–", "\t", "\r", "\u2028", "é",
         "T5+M1!", "3:x"]


def main() -> int:
    options = argparse.ArgumentParser()
    options.add_argument("--blocks", type=int, default=BLOCKS)
    options.add_argument("--seed", type=int, default=1)
    said = options.parse_args()
    chance = random.Random(said.seed)
    good = [block.source for page in sorted((ROOT / "content").rglob("*.md"))
            for block in find_fences(page.read_text(), page.name).blocks if block.name == "tab"]
    kinds, outcomes, slowest = Counter(), Counter(), []
    for _ in range(said.blocks):
        asks = chance.random() < 1 / CHAINS_IN
        signs, kept = (ASKING, GOOD_ASKED) if asks else (SIGNS, good)
        source = (_spoiled(chance, kept, signs) if chance.random() < 0.5 else _strewn(chance, signs))[:LONGEST]
        started = time.perf_counter()
        try:
            outcome, found = _ask(source, chance.choice(["chain", "fit"])) if asks else _read(source)
        except Exception:
            print(f"seed {said.seed}: this block broke the reader:\n{source!r}")
            traceback.print_exc()
            return 1
        if not asks:
            slowest = sorted([*slowest, (time.perf_counter() - started, source)], reverse=True)[:SLOWEST]
        outcomes[outcome] += 1
        kinds.update(found)
    print(f"{said.blocks} blocks from seed {said.seed}: " + ", ".join(f"{n} {what}" for what,
                                                                      n in outcomes.most_common()))
    print("problems: " + ", ".join(f"{kind} {n}" for kind, n in kinds.most_common()))
    again = max((min(_seconds(source) for _ in range(REPEATS)), source) for _, source in slowest)
    print(f"slowest block {again[0] * 1000:.1f} ms ({len(again[1])} characters), "
          f"best of {REPEATS} of the {SLOWEST} slowest")
    return 0


def _seconds(source: str) -> float:
    started = time.perf_counter()
    parse(Block("tab", "page.md", 1, 0, source, tuple(source.split("\n"))))
    return time.perf_counter() - started


def _strewn(chance: random.Random, signs: Sequence[str]) -> str:
    pieces = chance.choices(signs, k=chance.randint(0, 60))
    return chance.choice([" ", " ", ""]).join(pieces)


def _spoiled(chance: random.Random, good: Sequence[str], signs: Sequence[str]) -> str:
    source = chance.choice(good)
    for _ in range(chance.randint(0, 4)):
        at = chance.randint(0, len(source))
        source = source[:at] + chance.choice([*signs, "", "", ""]) + source[at + chance.randint(0, 3):]
    return source


def _read(source: str) -> tuple[str, list[str]]:
    """What became of a block and the kinds of its problems; asserts what must hold."""
    block = Block("tab", "page.md", 1, 0, source, tuple(source.split("\n")))
    read = parse(block)
    _check_places(read.problems, source)
    if read.problems:
        return "with problems", [problem.kind for problem in read.problems]
    if read.lick is None:
        return "showings and variants", []
    assert all(note.length > 0 and note.rings_until > note.start for note in written_notes(read.lick)), source
    perform(read.lick, {})
    again = write(read.lick)
    assert parse(Block("tab", "page.md", 1, 0, again, tuple(again.split("\n")))).lick == read.lick, again
    return "licks", []


def _ask(source: str, name: str) -> tuple[str, list[str]]:
    """The same of a chain or fit among two known licks."""
    block = Block(name, "page.md", 1, 0, source, tuple(source.split("\n")))
    known = [Block("tab", f"{number}.md", 1, 0, lick, tuple(lick.split("\n"))) for number, lick in enumerate(KNOWN)]
    library = read_library([*known, block], link_up=link_up)
    _check_places(library.problems, source)
    if block in library.chains:
        lick = library.by_block[block]
        assert all(note.length > 0 and note.rings_until > note.start for note in written_notes(lick))
        perform(lick, {})
        return "chains", [problem.kind for problem in library.problems]
    assert library.problems or block in library.fits, source
    return ("with problems" if library.problems else "fits"), [problem.kind for problem in library.problems]


def _check_places(problems: Iterable[Problem], source: str) -> None:
    lines = source.split("\n")
    for problem in problems:
        assert problem.place.page == "page.md", problem
        assert 2 <= problem.place.line <= len(lines) + 1, problem
        assert 1 <= problem.place.column <= len(lines[problem.place.line - 2]) + 1, problem
        assert problem.says and problem.hint and message(problem)


if __name__ == "__main__":
    raise SystemExit(main())
