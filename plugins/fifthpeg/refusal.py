"""What a command can't do, and how each command ends."""

WELL, TO_MEND, TROUBLE = 0, 1, 2


_DISK_WORDS: tuple[tuple[type[OSError], str], ...] = (
    (FileNotFoundError, "there is no file or folder {}"),
    (PermissionError, "{} may not be read or written by you"),
    (IsADirectoryError, "{} is a folder, and a file is wanted"),
    (NotADirectoryError, "{} leads through a file, and a folder is wanted"),
    (FileExistsError, "{} is there already, and is no folder"),
)


class Refusal(Exception):
    """What the command can't do, in a sentence for whoever typed it."""


def in_words(error: OSError) -> str:
    """What the disk said no to, for whoever typed the command."""
    if not error.filename:
        return str(error)
    said = next((words for kind, words in _DISK_WORDS if isinstance(error, kind)), f"{{}}: {error.strerror}")
    return said.format(error.filename)
