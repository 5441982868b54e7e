"""A fault an author can mend, and the place it stands at."""

from dataclasses import dataclass


@dataclass(frozen=True, order=True)
class Place:
    """A stretch of one line of one page; ``line`` and ``column`` count from 1."""

    page: str
    line: int
    column: int
    width: int = 1


@dataclass(frozen=True, order=True)
class Problem:
    """One fault: ``says`` in musical words, ``quote`` the author's line as it stands.

    ``others`` names further places that have a part in it (where an id was first taken).
    """

    place: Place
    kind: str
    says: str
    quote: str = ""
    hint: str = ""
    others: tuple[Place, ...] = ()
