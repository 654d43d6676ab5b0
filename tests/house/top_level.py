#!/usr/bin/env python3
"""The top level is fixed: whoever opens the project sees the pipeline's folders and nothing that a run left there.

Only what is tracked counts; sheets that a command wrote beside the project are nobody's business until they are
committed.
"""

import subprocess

import common

FOLDERS = {".ci", "compiler", "grammar", "include", "samples", "schemas", "tests"}
FILES = {".clang-format", ".clang-tidy", ".gitignore", "CMakeLists.txt", "CMakePresets.json", "DEVELOPERS.md", "LICENSE",
         "README.md"}


def tracked(root) -> list:
    """Paths that git knows; none outside a repository."""
    done = subprocess.run(["git", "-C", str(root), "ls-files", "-z"], capture_output=True, text=True, check=False)
    return [path for path in done.stdout.split("\0") if path] if done.returncode == 0 else []


def check(root, paths=None) -> list:
    paths = tracked(root) if paths is None else paths
    tops = sorted({path.split("/", 1)[0] + ("/" if "/" in path else "") for path in paths})
    allowed = {folder + "/" for folder in FOLDERS} | FILES
    return [f"{top}: does not belong on the top level" for top in tops if top not in allowed]


if __name__ == "__main__":
    common.run("top_level", check)
