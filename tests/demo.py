"""The demo course, built as `make build` builds it."""

import os
import subprocess
import sys
from pathlib import Path

import yaml

ROOT = Path(__file__).parents[1]


def build_demo(folder: Path, hash_seed: str) -> Path:
    """The course of this project built by the command line, strictly, from a clean cache of its own."""
    config = folder / "mkdocs.yml"
    config.write_text(f"INHERIT: {ROOT / 'mkdocs.yml'}\n" + yaml.safe_dump({
        "docs_dir": str(ROOT / "content"), "site_dir": str(folder / "site"),
        "theme": {"custom_dir": str(ROOT / "overrides")}}))
    environment = os.environ | {"SOURCE_DATE_EPOCH": "1700000000", "PYTHONHASHSEED": hash_seed,
                                "NO_MKDOCS_2_WARNING": "1"}
    done = subprocess.run([sys.executable, "-m", "mkdocs", "build", "--strict", "--quiet", "--config-file", str(config)],
                          env=environment, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    return folder / "site"
