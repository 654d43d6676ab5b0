"""Comparing shown output with real output. A line that holds only "…" stands for any lines."""

import difflib

ELISION = "…"


def matches(expected: str, actual: str) -> bool:
    """True when the outputs are equal, line by line, with elisions allowed in `expected`."""
    return _match(expected.splitlines(), actual.splitlines()) and _same_end(expected, actual)


def _same_end(expected: str, actual: str) -> bool:
    if expected.rstrip("\n").endswith(ELISION):
        return True
    return expected.endswith("\n") == actual.endswith("\n")


def _match(expected: list, actual: list) -> bool:
    # Each elision takes as little as it can; with only "any lines" as wild card that is exact.
    pieces = _split(expected)
    if len(pieces) == 1:
        return pieces[0] == actual
    first, last = pieces[0], pieces[-1]
    if len(first) + len(last) > len(actual):
        return False
    if actual[: len(first)] != first or (last and actual[-len(last):] != last):
        return False
    at, end = len(first), len(actual) - len(last)
    for piece in pieces[1:-1]:
        found = next((i for i in range(at, end - len(piece) + 1) if actual[i: i + len(piece)] == piece), None)
        if found is None:
            return False
        at = found + len(piece)
    return True


def _split(lines: list) -> list:
    pieces = [[]]
    for line in lines:
        if line.strip() == ELISION:
            pieces.append([])
        else:
            pieces[-1].append(line)
    return pieces


def difference(expected: str, actual: str, name: str) -> str:
    """A unified diff for a person to read."""
    lines = difflib.unified_diff(expected.splitlines(), actual.splitlines(), f"{name} expected", f"{name} real",
                                 lineterm="", n=2)
    text = "\n".join(lines)
    return text or f"{name}: the two differ only in the line end at the very end"
