"""Prints every bench beside its goal: `make bench`. Figures are of one run on one machine, as ratios where they can be."""

import importlib
import sys
from pathlib import Path


def main(names: list[str]) -> None:
    """Runs the benches named, or all in this folder."""
    for name in names or sorted(path.stem for path in Path(__file__).parent.glob("*_bench.py")):
        for what, value, goal, *at_most in importlib.import_module(f"tests.bench.{name}").measure():
            print(f"{what:<45} {value:>12,.2f}   {_verdict(value, goal, bool(at_most))}", flush=True)


def _verdict(value: float, goal: float | None, at_most: bool) -> str:
    if goal is None:
        return ""
    met = value <= goal if at_most else value >= goal
    return f"{'at most' if at_most else 'at least'} {goal:,.2f}: {'met' if met else 'MISSED'}"


if __name__ == "__main__":
    main(sys.argv[1:])
