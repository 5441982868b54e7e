"""Names that a Windows machine and a USB stick (FAT32, exFAT) take as they are.

Rules: Microsoft, "Naming Files, Paths, and Namespaces" (learn.microsoft.com, Win32 file systems).
"""

import unicodedata
from collections.abc import Iterable, Iterator

MAX_PATH_CHARACTERS = 199
"""Windows takes 259 from the drive's letter on; the rest is left to the folder a student puts the kit in."""
MAX_NAME_CHARACTERS = 255
"""UTF-16 units in one name, on NTFS and exFAT alike."""
_FORBIDDEN = set('<>:"\\|?*') | {chr(code) for code in range(32)}
_RESERVED = {"con", "prn", "aux", "nul", "conin$", "conout$",
             *(f"{port}{number}" for port in ("com", "lpt") for number in "123456789¹²³")}


def unsafe_names(paths: Iterable[str]) -> list[str]:
    """A sentence for each path that would not arrive, in order; ``paths`` with ``/`` between their names."""
    paths = sorted(paths)
    return [f"{path}: {fault}" for path in paths for fault in _faults(path)] + list(_clashes(paths))


def _faults(path: str) -> Iterator[str]:
    for name in dict.fromkeys(path.split("/")):
        yield from _name_faults(name)
    if _length(path) > MAX_PATH_CHARACTERS:
        yield f"{_length(path)} characters are too long a path for Windows; keep it to {MAX_PATH_CHARACTERS} by shorter names"


def _name_faults(name: str) -> Iterator[str]:
    if name.split(".")[0].rstrip(" ").lower() in _RESERVED:
        yield f"Windows keeps the name `{name.split('.')[0]}` for itself; give the page or the lick another one"
    if name.endswith((".", " ")):
        yield f"`{name}` ends with a {'dot' if name.endswith('.') else 'space'}, which Windows drops; take it off"
    if found := sorted(_FORBIDDEN & set(name)):
        yield f"`{name}` has {' '.join(map(ascii, found))} in it, which Windows does not allow; leave it out"
    if _length(name) > MAX_NAME_CHARACTERS:
        yield f"one name has {_length(name)} characters, and {MAX_NAME_CHARACTERS} is the most"


def _clashes(paths: Iterable[str]) -> Iterator[str]:
    """Names that differ in capitals or in how an accent is stored only: of two such files one would be lost."""
    seen: dict[str, str] = {}
    for path in paths:
        for way in _ways(path):
            first = seen.setdefault(unicodedata.normalize("NFC", way).casefold(), way)
            if first != way:
                yield f"{way}: on Windows this is the same name as {first}; rename one of them"
                break


def _ways(path: str) -> Iterator[str]:
    """The path's folders from the top, then itself."""
    names = path.split("/")
    return ("/".join(names[:count]) for count in range(1, len(names) + 1))


def _length(name: str) -> int:
    return len(name.encode("utf-16-le", "surrogatepass")) // 2
