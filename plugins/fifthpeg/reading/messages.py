"""Problems in words: place, what is wrong, the line quoted, a caret, a hint."""

from difflib import get_close_matches

from ..model.problem import Problem

QUOTE_INDENT = "  "
MAX_QUOTE = 160
NEAR_ENOUGH = 0.6


def message(problem: Problem) -> str:
    """The text a teacher reads, several lines long, the first as ``page:line:column: kind: …``."""
    place = problem.place
    lines = [f"{place.page}:{place.line}:{place.column}: {problem.kind}: {problem.says}"]
    if problem.quote.strip():
        lines += _quoted(problem)
    lines += [f"{QUOTE_INDENT}see also: {other.page}:{other.line}:{other.column}" for other in problem.others]
    if problem.hint:
        lines.append(f"{QUOTE_INDENT}hint: {problem.hint}")
    return "\n".join(lines)


def nearest(word: str, known: "list[str] | tuple[str, ...]") -> str | None:
    """The known word most like the one written, if any is like it."""
    found = get_close_matches(word, known, n=1, cutoff=NEAR_ENOUGH)
    return found[0] if found else None


def listed(words: "list[str] | tuple[str, ...]", last: str = "or") -> str:
    """``a, b or c``."""
    words = [str(word) for word in words]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}"


def _quoted(problem: Problem) -> list[str]:
    """The line without its indentation, cut to a window around the fault, and its carets."""
    indent = len(problem.quote) - len(problem.quote.lstrip())
    start = max(indent, problem.place.column - 1 - MAX_QUOTE // 2) if len(problem.quote) > MAX_QUOTE else indent
    quote = problem.quote[start:start + MAX_QUOTE].rstrip()
    column = max(0, problem.place.column - 1 - start)
    width = max(1, min(problem.place.width, len(quote) - column))
    lead = "".join("\t" if character == "\t" else " " for character in quote[:column])
    return [QUOTE_INDENT + quote, QUOTE_INDENT + lead.ljust(column) + "^" * width]
