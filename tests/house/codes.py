#!/usr/bin/env python3
"""Every diagnostic code is emitted by the compiler and provoked by a test (a golden case or a unit test that
names its slug or its enumerator).
"""

import re

import common

ROW = re.compile(r"^RELEAD_CODE\((\w+),", re.MULTILINE)


def text_of(root, *folders, skip=()) -> str:
    paths = [p for p in common.files(root, *folders) if not any(part in skip for part in p.relative_to(root).parts)]
    return "\n".join(common.read(path) for path in paths)


def words(text: str) -> set:
    """Slugs and names, whole."""
    return set(re.findall(r"[A-Za-z0-9_]+(?:-[A-Za-z0-9_]+)*", text))


def check(root) -> list:
    table = root / "compiler/text/codes.def"
    names = ROW.findall(common.read(table)) if table.is_file() else []
    if not names:
        return ["no codes found in compiler/text/codes.def"]
    compiler = words(text_of(root, "compiler", skip=("codes.def",)))
    tests = words(text_of(root, "tests", skip=("house", "node_modules")))
    problems = [f"{name} stands twice in the table" for name in sorted(set(names)) if names.count(name) > 1]
    for name in names:
        slug = name.replace("_", "-")
        if name not in compiler:
            problems.append(f"{slug}: nothing in compiler/ emits it")
        if slug not in tests and name not in tests:
            problems.append(f"{slug}: no test provokes it")
    return problems


if __name__ == "__main__":
    common.run("codes", check)
