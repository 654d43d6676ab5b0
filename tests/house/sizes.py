#!/usr/bin/env python3
"""File and function sizes. Files: never above 600 lines, those above 400 are named. Functions in compiler/ and
include/: never above 60 lines, nine of ten at most 30. A function above the cap passes only with a line
`// long: REASON` straight above it.
"""

import ast
import re
import subprocess

import common

FILE_CAP, FILE_AIM = 600, 400
FUNCTION_CAP, FUNCTION_P90 = 60, 30
CODE = {".cpp", ".h", ".def", ".py", ".sh", ".js", ".mjs", ".cmake"}


def check_files(root) -> tuple:
    problems, notes = [], []
    for path in common.files(root, suffixes=CODE):
        lines = common.read(path).count("\n")
        place = path.relative_to(root).as_posix()
        if lines > FILE_CAP:
            problems.append(f"{place}: {lines} lines, at most {FILE_CAP}")
        elif lines > FILE_AIM:
            notes.append(f"{place}: {lines} lines; aim below {FILE_AIM}")
    return problems, notes


def cpp_functions(root) -> list:
    """(place, name, first line, lines) of every function with a body."""
    folders = [str(root / f) for f in ("compiler", "include") if (root / f).is_dir()]
    if not folders:
        return []
    done = subprocess.run(["ctags", "-R", "--languages=C++", "--langmap=C++:.cpp.h", "--c++-kinds=f", "--fields=+ne",
                           "--sort=no", "-f", "-", *folders], capture_output=True, text=True, check=True)
    found = []
    for row in done.stdout.splitlines():
        name, path, rest = row.split("\t", 2)
        first, last = re.search(r"\tline:(\d+)", rest), re.search(r"\tend:(\d+)", rest)
        if first and last:
            begin, end = int(first.group(1)), int(last.group(1))
            found.append((path, name, begin, end - begin + 1))
    return found


def python_functions(root) -> list:
    found = []
    for path in common.files(root, suffixes={".py"}):
        for node in ast.walk(ast.parse(common.read(path))):
            if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
                found.append((str(path), node.name, node.lineno, node.end_lineno - node.lineno + 1))
    return found


def has_reason(path: str, line: int) -> bool:
    lines = common.read(common.pathlib.Path(path)).splitlines()
    return line >= 2 and bool(re.match(r"\s*(//|#) long: \w+", lines[line - 2]))


def percentile(values: list, share: float) -> int:
    values = sorted(values)
    return values[min(len(values) - 1, int(len(values) * share))]


def check_functions(root) -> tuple:
    problems = []
    cpp = cpp_functions(root)
    for path, name, line, length in cpp + python_functions(root):
        if length > FUNCTION_CAP and not has_reason(path, line):
            place = common.pathlib.Path(path).relative_to(root).as_posix()
            problems.append(f"{place}:{line}: {name} has {length} lines, at most {FUNCTION_CAP}")
    if not cpp:
        return problems + ["no functions found: is universal-ctags installed?"], []
    p90 = percentile([length for *_, length in cpp], 0.9)
    if p90 > FUNCTION_P90:
        problems.append(f"nine of ten functions have up to {p90} lines, aim for {FUNCTION_P90}")
    return problems, [f"{len(cpp)} functions, nine of ten at most {p90} lines"]


def check(root) -> tuple:
    files, functions = check_files(root), check_functions(root)
    return files[0] + functions[0], files[1] + functions[1]


if __name__ == "__main__":
    common.run("sizes", check)
