"""Shared by the house tests: the files of the project, and how a test reports."""

import pathlib
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
NOT_OURS = {".git", "node_modules", "__pycache__", "build", ".cache"}
TEXT_SUFFIXES = {".cpp", ".h", ".def", ".py", ".sh", ".js", ".mjs", ".cmake", ".txt", ".md", ".json", ".ebnf", ".rules",
                 ".tune", ".lineup", ".book", ".figure", ".html", ".css", ".xml", ".rng", ".rnc", ""}


def files(root: pathlib.Path, *folders: str, suffixes=TEXT_SUFFIXES) -> list:
    """The project's text files below the folders (all of it when none is named), sorted."""
    found = []
    for folder in folders or (".",):
        top = root / folder
        found += [top] if top.is_file() else _below(top, suffixes)
    return sorted(set(found))


def _below(top: pathlib.Path, suffixes) -> list:
    found = []
    for path in sorted(top.iterdir()) if top.is_dir() else []:
        if path.name in NOT_OURS or path.name.startswith("build-"):
            continue
        if path.is_dir():
            found += _below(path, suffixes)
        elif path.is_file() and path.suffix in suffixes:
            found.append(path)
    return found


def read(path: pathlib.Path) -> str:
    return path.read_text(encoding="utf-8", errors="replace")


def report(name: str, problems: list, notes=()) -> int:
    for note in notes:
        print(f"note: {note}")
    for problem in problems:
        print(f"{name}: {problem}")
    print(f"{name}: {len(problems)} problems")
    return 1 if problems else 0


def run(name: str, check) -> None:
    """check(root) -> problems, or (problems, notes)."""
    result = check(ROOT)
    problems, notes = result if isinstance(result, tuple) else (result, [])
    sys.exit(report(name, problems, notes))
