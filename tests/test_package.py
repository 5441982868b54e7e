"""The package as a wheel: what a teacher's own site installs."""

import os
import shutil
import subprocess
import sys
from pathlib import Path
from zipfile import ZipFile

import pytest

from tests.sites import ONE_LICK, write_course

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "plugins" / "fifthpeg"


def pip(*arguments: str) -> None:
    subprocess.run([sys.executable, "-m", "pip", "--quiet", "--disable-pip-version-check", *arguments], check=True)


@pytest.fixture(scope="module")
def wheel(tmp_path_factory) -> Path:
    """Built from a copy, so that nothing is left behind among the sources."""
    folder = tmp_path_factory.mktemp("wheel")
    shutil.copytree(ROOT / "plugins", folder / "source/plugins", ignore=shutil.ignore_patterns("__pycache__", "*.egg-info"))
    for name in ("pyproject.toml", "README.md"):
        shutil.copy(ROOT / name, folder / "source")
    pip("wheel", "--no-deps", "--no-build-isolation", "--wheel-dir", str(folder), str(folder / "source"))
    return next(folder.glob("*.whl"))


def test_the_wheel_holds_every_file_of_the_package(wheel):
    ours = {path.relative_to(PACKAGE.parent).as_posix() for path in PACKAGE.rglob("*")
            if path.is_file() and "__pycache__" not in path.parts}
    packed = set(ZipFile(wheel).namelist())
    assert any(name.endswith(".js") for name in packed)
    assert ours - packed == set()


def test_a_site_builds_with_the_wheel_alone(wheel, tmp_path):
    pip("install", "--no-deps", "--target", str(tmp_path / "installed"), str(wheel))
    config = write_course(tmp_path, {"index.md": ONE_LICK})
    tell = "import fifthpeg.plugin, mkdocs.__main__ as m; print(fifthpeg.plugin.__file__); m.cli(['build', '--strict', '-q'])"
    done = subprocess.run([sys.executable, "-c", tell], cwd=config.parent, capture_output=True, text=True, check=True,
                          env=os.environ | {"PYTHONPATH": str(tmp_path / "installed")})
    assert done.stdout.strip().startswith(str(tmp_path / "installed"))
    assert (tmp_path / "site/media/licks/weir-run/weir-run-full.wav").is_file()
    assert "fifthpeg.bank" in (tmp_path / "site/assets/fifthpeg.js").read_text()
