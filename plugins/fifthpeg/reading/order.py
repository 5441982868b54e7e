"""What needs what: an order in which everything comes after all it needs, and the circles that have none."""

from collections.abc import Callable, Iterable
from typing import TypeVar

Thing = TypeVar("Thing")


def in_order(things: Iterable[Thing], needs: Callable[[Thing], Iterable[Thing]]) -> tuple[
        list[Thing], list[tuple[Thing, ...]]]:
    """The things in an order they can be made in, and each circle from the thing it comes back to onwards.

    Those of a circle are in the order too. No recursion: a row of things that need each other may be of any length.
    """
    order: list[Thing] = []
    circles: list[tuple[Thing, ...]] = []
    seen: set[Thing] = set()
    for start in things:
        if start in seen:
            continue
        seen.add(start)
        path, waiting = {start: None}, [iter(dict.fromkeys(needs(start)))]
        while waiting:
            needed = next(waiting[-1], None)
            if needed is None:
                waiting.pop()
                order.append(path.popitem()[0])
            elif needed in path:
                way = list(path)
                circles.append(tuple(way[way.index(needed):]))
            elif needed not in seen:
                seen.add(needed)
                path[needed] = None
                waiting.append(iter(dict.fromkeys(needs(needed))))
    return order, circles
