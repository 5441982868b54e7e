"""The rules of the house, read from the sources themselves: who imports whom, how long a module may be."""

import ast
import sys
from pathlib import Path

import pytest

import fifthpeg

PACKAGE = Path(fifthpeg.__file__).parent
MAX_LINES = 300
MODULES = sorted(PACKAGE.rglob("*.py"))
STAGES = ("reading", "analysis", "engraving", "sound", "exports")
MAY_IMPORT = {
    "model": {"model"},
    **{stage: {stage, "model"} for stage in STAGES},
    "compiled": {"model"},
    "companions": {"model", "compiled", "reading", "analysis"},
    "pipeline": {"model", "compiled", "companions", *STAGES},
    "pages": {"pages", "model", "compiled"},
    "doors": None,
    "command": {"model", "reading", "analysis", "refusal", "course_files", "kit_command", "lesson_command", "packet_command",
                "sound_command"},
    "course_files": {"refusal"},
    "kit_command": {"pages", "refusal", "course_files", "settings"},
    "lesson_command": {"refusal", "course_files"},
    "packet_command": {"pages", "refusal", "course_files", "kit_command"},
    "refusal": set(),
    "sound_command": {"model", "pages", "pipeline", "refusal", "sound_report"},
    "sound_report": {"model", "compiled", "sound", "exports", "pages", "pipeline"},
    "plugin": None,
    "settings": None,
    "setting_values": {"reading"},
    "__init__": set(),
}
"""Room -> the rooms of the package it may import; None for those that may import any."""
DISK_MODULES = {"os", "pathlib", "shutil", "tempfile", "glob", "subprocess"}
PUBLISHING_MODULES = {"pages/answers.py", "pages/shelf.py", "pages/publish.py", "pages/fingerprint.py", "pages/assets.py", "pages/kit.py",
                      "pages/own_recordings.py", "pages/readings.py"}
MAY_NAME_PATHS = {"pages/published.py"}
"""It holds the place of a shelf's entry, and opens nothing."""
DISKLESS_ROOMS = {"model", *STAGES, "companions", "pipeline", "compiled", "pages"}


def room_of(path: Path) -> str:
    """The folder a module lies in, or its own name at the top."""
    parts = path.relative_to(PACKAGE).parts
    return parts[0] if len(parts) > 1 else path.stem


def imports_of(path: Path) -> list[tuple[str, ...]]:
    """Every module imported anywhere in a file, as its parts; those of the package from its own name on."""
    return imports_in(path.read_text(encoding="utf-8"), path.relative_to(PACKAGE).parent.parts)


def imports_in(source: str, here: tuple[str, ...]) -> list[tuple[str, ...]]:
    """``here`` is the folder of the module, from the package's own."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found += [tuple(alias.name.split(".")) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            module = tuple(node.module.split(".")) if node.module else ()
            found.append(("fifthpeg", *here[:len(here) - node.level + 1], *module) if node.level else module)
    return found


def own_imports(path: Path) -> set[str]:
    return {parts[1] for parts in imports_of(path) if parts[0] == "fifthpeg" and len(parts) > 1}


def names(paths: list[Path]) -> list[str]:
    return [path.relative_to(PACKAGE).as_posix() for path in paths]


@pytest.mark.parametrize("path", MODULES, ids=names(MODULES))
def test_a_module_imports_only_rooms_it_may(path):
    allowed = MAY_IMPORT[room_of(path)]
    assert allowed is None or own_imports(path) - allowed == set()


def test_the_model_rests_on_the_standard_library_alone():
    outside = {(path.name, parts[0]) for path in (PACKAGE / "model").glob("*.py") for parts in imports_of(path)
               if parts[0] != "fifthpeg" and parts[0] not in sys.stdlib_module_names}
    assert outside == set()


def test_only_the_plugin_and_its_settings_know_mkdocs():
    assert {room_of(path) for path in MODULES for parts in imports_of(path) if parts[0] == "mkdocs"} <= {"plugin", "settings"}


def test_only_publishing_modules_touch_the_disk():
    touching = {path.relative_to(PACKAGE).as_posix() for path in MODULES if room_of(path) in DISKLESS_ROOMS
                for parts in imports_of(path) if parts[0] in DISK_MODULES}
    assert touching - PUBLISHING_MODULES - MAY_NAME_PATHS == set()


def test_nobody_but_a_publishing_module_opens_a_file():
    opening = {
        path.relative_to(PACKAGE).as_posix() for path in MODULES if room_of(path) in DISKLESS_ROOMS
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "open"
    }
    assert opening - PUBLISHING_MODULES == set()


@pytest.mark.parametrize("path", MODULES, ids=names(MODULES))
def test_a_module_is_short_enough_to_read_in_one_sitting(path):
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MAX_LINES


@pytest.mark.parametrize("kind", ["js", "css"])
def test_the_browser_s_files_are_short_enough_too(kind):
    long = {path.name for path in (PACKAGE / "assets").glob(f"*.{kind}") if len(path.read_text().splitlines()) > MAX_LINES}
    assert long == set()


def test_every_script_and_style_of_the_package_is_published():
    from fifthpeg.pages.assets import OFFLINE_SCRIPT, OWN_SCRIPTS, PACKET_STYLE, SCRIPTS, STYLES
    published = [*SCRIPTS, *STYLES, OFFLINE_SCRIPT, PACKET_STYLE, *(name for names in OWN_SCRIPTS.values() for name in names)]
    assert sorted(published) == sorted(path.name for path in (PACKAGE / "assets").iterdir() if path.suffix)


def test_an_import_is_seen_however_it_is_written():
    """What all the tests above lean on."""
    source = "def late():\n    from ..sound.mix import mix\nimport mkdocs.plugins\nfrom .pitch import name_of\n"
    assert set(imports_in(source, ("model",))) == {
        ("fifthpeg", "sound", "mix"), ("mkdocs", "plugins"), ("fifthpeg", "model", "pitch")}
