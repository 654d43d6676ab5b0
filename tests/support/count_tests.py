#!/usr/bin/env python3
"""Reads a JUnit file that ctest wrote and prints one line for each test: passed|failed|skipped NAME [REASON].

    count_tests.py PREFIX FILE

A test skips itself with exit code 77 and says why on a line that begins with "skipped: ".
"""

import re
import sys
import xml.etree.ElementTree as ElementTree


def verdict(case) -> str:
    status = case.get("status")
    if status == "run":
        return "passed"
    return "skipped" if status in ("notrun", "disabled") and is_skip(case) else "failed"


def is_skip(case) -> bool:
    """Only what the test itself asked for; a test whose program is missing did not run and has failed."""
    skipped = case.find("skipped")
    return skipped is not None and "SKIP" in (skipped.get("message") or "").upper()


def reason(case) -> str:
    output = case.findtext("system-out") or ""
    said = re.search(r"^skipped: (.*)$", output, re.MULTILINE)
    return said.group(1).strip() if said else "no reason given"


def lines(prefix: str, path: str) -> list:
    found = []
    for case in ElementTree.parse(path).getroot().iter("testcase"):
        kind = verdict(case)
        found.append(f"{kind} {prefix}{case.get('name')}" + (f": {reason(case)}" if kind == "skipped" else ""))
    return found


if __name__ == "__main__":
    print("\n".join(lines(sys.argv[1], sys.argv[2])))
