#!/usr/bin/env python3
"""Every .cpp file is named in the nearest CMakeLists.txt above it: a test that is never built proves nothing.
What several tests share (tests/support) may be named in any of theirs.
"""

import common


def nearest_list(root, path):
    for folder in path.parents:
        if (folder / "CMakeLists.txt").is_file():
            return folder / "CMakeLists.txt"
        if folder == root:
            return None
    return None


def names(listing) -> list:
    return common.read(listing).replace("(", " ").replace(")", " ").split()


def shared(root) -> set:
    listings = common.files(root, "tests", suffixes={".txt"})
    every = {name for listing in listings if listing.name == "CMakeLists.txt" for name in names(listing)}
    return {name.rsplit("/", 1)[-1] for name in every if "support/" in name}


def check(root) -> list:
    problems = []
    in_support = shared(root)
    for path in common.files(root, "compiler", "tests", suffixes={".cpp"}):
        place = path.relative_to(root).as_posix()
        if place.startswith("tests/support/") and path.name in in_support:
            continue
        listing = nearest_list(root, path)
        if listing is None:
            problems.append(f"{place}: there is no CMakeLists.txt above it")
        elif path.relative_to(listing.parent).as_posix() not in names(listing):
            problems.append(f"{place}: not named in {listing.relative_to(root).as_posix()}")
    return problems


if __name__ == "__main__":
    common.run("sources", check)
