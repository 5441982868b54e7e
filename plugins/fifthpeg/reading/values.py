"""A header's entries through a table of keys."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from .faults import Faults
from .header import Entry
from .keys import Key
from .messages import listed, nearest
from .pieces import Slips


def read_values(entries: Mapping[str, Entry], keys: Sequence[Key], faults: Faults,
                report_unknown: Callable[[Entry], None]) -> dict[str, Any]:
    """The value of each key that can be read; all that can't is reported."""
    known = {key.name: key for key in keys}
    values = {}
    for entry in entries.values():
        if entry.key not in known:
            report_unknown(entry)
            continue
        try:
            values[entry.key] = known[entry.key].read(entry)
        except Slips as wrong:
            for slip in wrong.slips:
                faults.add(slip.span, slip.kind, slip.says, slip.hint)
        except ValueError:
            _report_value(entry, known[entry.key], faults)
    return values


def report_unknown_key(entry: Entry, where: str, known: Sequence[str], faults: Faults,
                       hint: str = "", also: Sequence[str] = ()) -> None:
    """``also`` are keys that would do in another block of the kind."""
    like = nearest(entry.key, (*known, *also))
    hint = hint or (f"do you mean `{like}`?" if like else f"it knows {listed(tuple(known), 'and')}")
    faults.add(entry.key_span, "unknown-key", f"{where} has no key `{entry.key}`", hint)


def _report_value(entry: Entry, key: Key, faults: Faults) -> None:
    says = f"`{entry.key}` can't be `{entry.text}`" if entry.text else f"`{entry.key}` says nothing"
    faults.add(entry.span if entry.text else entry.key_span, "bad-value", says,
               f"it takes {key.allowed}; for example `{entry.key}: {key.example}`")
