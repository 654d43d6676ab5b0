#!/usr/bin/env python3
"""Runs the commands that README.md shows and compares what they really say.

A fenced `console` block holds `$ command` lines, each followed by its output; a fenced `sh` block holds commands
whose output is not shown. All run one after the other in a fresh copy of the project, with the built program
(RELEAD_BINARY) on the path. A line `…` stands for any lines. The two commands on top of the README, which build and
test everything, are left out: they would run this test again. A command may fail only where the shown output speaks
of an error.
"""

import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

import common

sys.path.insert(0, str(common.ROOT / "tests/support"))
import expect  # noqa: E402

TOP_COMMANDS = ["sh samples/demo.sh", "sh tests/run.sh"]
FENCE = re.compile(r"^```(\w*)[^\n]*\n(.*?)^```\s*$", re.MULTILINE | re.DOTALL)
TIMEOUT_SECONDS = 300


def commands(readme: str) -> list:
    """(command, shown output or None) in the order of the text."""
    found = []
    for language, body in FENCE.findall(readme):
        if language == "console":
            found += console(body)
        elif language in ("sh", "bash", "shell"):
            found += [(line, None) for line in joined(body) if line.strip() and not line.startswith("#")]
    return found


def joined(body: str) -> list:
    return body.replace("\\\n", "").splitlines()


def console(body: str) -> list:
    found = []
    for line in joined(body):
        if line.startswith("$ "):
            found.append([line[2:], ""])
        elif found:
            found[-1][1] += line + "\n"
    return [(command, output.rstrip("\n") + "\n" if output.strip() else "") for command, output in found]


def is_top(command: str) -> bool:
    return any(command.strip().startswith(top) for top in TOP_COMMANDS)


def copy_project(root: pathlib.Path, folder: pathlib.Path) -> pathlib.Path:
    target = folder / "project"
    shutil.copytree(root, target, ignore=shutil.ignore_patterns(".git", "build", "build-*", "node_modules", "__pycache__"))
    return target


def judge(command: str, shown, folder: pathlib.Path, binary: pathlib.Path) -> str:
    path = os.pathsep.join([str(binary.parent), os.environ.get("PATH", "/usr/bin:/bin")])
    environment = os.environ | {"PATH": path, "LC_ALL": "C.UTF-8", "TERM": "dumb", "COLUMNS": "100"}
    done = subprocess.run(["sh", "-c", command], cwd=folder, env=environment, stdin=subprocess.DEVNULL,
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=TIMEOUT_SECONDS, check=False)
    real = done.stdout.decode("utf-8", errors="backslashreplace")
    if done.returncode != 0 and "error" not in (shown or ""):
        return f"exit code {done.returncode}:\n{real}"
    if shown is not None and not expect.matches(shown, real):
        return expect.difference(shown, real, "output")
    return ""


def check(root) -> list:
    readme = root / "README.md"
    binary = pathlib.Path(os.environ.get("RELEAD_BINARY", "")).absolute()
    if not readme.is_file():
        return ["there is no README.md"]
    if not binary.is_file():
        return ["RELEAD_BINARY does not name a program"]
    text = common.read(readme)
    problems = [f"README.md does not show `{top}`" for top in TOP_COMMANDS if top not in text]
    todo = [(command, shown) for command, shown in commands(text) if not is_top(command)]
    if not todo:
        problems.append("README.md shows no commands")
    with tempfile.TemporaryDirectory(prefix="readme-") as folder:
        project = copy_project(root, pathlib.Path(folder))
        for command, shown in todo:
            if wrong := judge(command, shown, project, binary):
                problems.append(f"$ {command}\n{wrong}")
    return problems


if __name__ == "__main__":
    common.run("readme", check)
