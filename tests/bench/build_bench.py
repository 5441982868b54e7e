"""What a big course costs to build: against plain pages, from nothing, and in memory."""

import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from tests.bench.course import LICKS_A_PAGE, PAGES, write_plain, write_with_tabs

ROUNDS = 3
WARM_GOAL, COLD_GOAL, MEMORY_GOAL_MB = 1.25, 20.0, 600.0
AT_MOST = "at most"


@dataclass(frozen=True)
class Cost:
    seconds: float
    megabytes: float


def measure() -> list[tuple]:
    """Rows of (what, value, goal, at most?); the goal is None where a figure is only told."""
    with TemporaryDirectory() as folder:
        tabs = write_with_tabs(Path(folder, "tabs"))
        plain = write_plain(Path(folder, "plain"), with_lick_pages=True)
        bare = write_plain(Path(folder, "bare"), with_lick_pages=False)
        cold = cost(tabs)
        rounds = [(cost(tabs), cost(plain), cost(bare)) for _ in range(ROUNDS)]
    warm_seconds = median(warm.seconds for warm, _, _ in rounds)
    licks = PAGES * LICKS_A_PAGE
    memory = max(cold.megabytes, *(warm.megabytes for warm, _, _ in rounds))
    return [
        ("warm build, times the same pages plain", median(w.seconds / p.seconds for w, p, _ in rounds), WARM_GOAL, AT_MOST),
        ("warm build, times the lessons alone", median(w.seconds / b.seconds for w, _, b in rounds), None),
        ("warm build, processor seconds", warm_seconds, None),
        ("more than plain, milliseconds a page",
         1000 * median(w.seconds - p.seconds for w, p, _ in rounds) / (PAGES + licks + 1), None),
        ("cold build, licks a second", licks / cold.seconds, COLD_GOAL),
        ("most memory, MB", memory, MEMORY_GOAL_MB, AT_MOST),
    ]


def cost(config_file: Path) -> Cost:
    """Of one build in a process of its own."""
    told = subprocess.run([sys.executable, "-m", "tests.bench.one_build", str(config_file)], check=True, text=True,
                          stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
                          env=os.environ | {"OPENBLAS_NUM_THREADS": "1"}).stdout
    return Cost(*map(float, told.split()))
