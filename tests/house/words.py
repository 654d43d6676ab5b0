#!/usr/bin/env python3
"""Words that no file of ours may hold: absolute machine paths, notes to do something later, merge marks, and
documents and links that are not in the project.
"""

import re

import common

# Written in pieces so that this file does not match itself.
MACHINE = re.compile(r"(?<![\w.\-~/<$}])/(?:wo" r"rk|ho" r"me|ro" r"ot|t" r"mp|Us" r"ers)(?=[/\s\"'`),;:]|$)")
LATER = re.compile(r"\b(?:TO" r"DO|FIX" r"ME|HA" r"CK|XX" r"X)\b")
MERGE = re.compile(r"^(?:<{7} |={7}$|>{7} )")
NEIGHBOUR = re.compile(r"\.\./sha" r"red/(?!musicxml-4\.0-xsd\b)")
DOCUMENT = re.compile(r"(?<![\w/.\-:}])([\w./\-]+\.md)\b")
LINK = re.compile(r"\]\(([^)#\s]+)(?:#[^)]*)?\)")

PLAIN = [(MACHINE, "an absolute machine path"), (LATER, "a note to do something later"), (MERGE, "a merge mark"),
         (NEIGHBOUR, "a folder outside the project")]


def exists(root, path, name: str) -> bool:
    return (root / name).exists() or (path.parent / name).exists()


def check_line(root, path, line: str) -> list:
    wrong = [f"{what}: '{found.group(0)}'" for pattern, what in PLAIN if (found := pattern.search(line))]
    wrong += [f"'{name}' is not in the project" for name in DOCUMENT.findall(line)
              if "://" not in line and not exists(root, path, name)]
    if path.suffix == ".md":
        wrong += [f"the link to '{target}' leads nowhere" for target in LINK.findall(line)
                  if "://" not in target and not exists(root, path, target)]
    return wrong


def check(root) -> list:
    problems = []
    for path in common.files(root):
        if path.name == "package-lock.json":
            continue
        for number, line in enumerate(common.read(path).splitlines(), 1):
            place = f"{path.relative_to(root).as_posix()}:{number}"
            problems += [f"{place}: {wrong}" for wrong in check_line(root, path, line)]
    return problems


if __name__ == "__main__":
    common.run("words", check)
