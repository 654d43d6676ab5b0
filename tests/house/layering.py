#!/usr/bin/env python3
"""Reads every #include in compiler/ and include/ and proves the layers.

A file includes its own folder and folders to the left only; some folders see less than that. Each
third-party library stays where the table below says.
"""

import fnmatch
import re

import common

LAYERS = ["base", "text", "theory", "syntax", "tune", "analysis", "rules", "reharm", "voicing", "lines", "score",
          "arrange", "report", "formats", "pipeline", "book", "serve", "cli"]

# Folders that see only these (and themselves), although more stands to their left.
ONLY = {
    "base": set(),
    "text": {"base"},
    "theory": {"base"},
    "score": {"base", "text", "theory"},
    "formats": {"base", "text", "theory", "score", "report"},
}

# Header -> places that may include it, and in how many files at most.
LIBRARIES = [
    ("unicode/*", ["compiler/text/*.cpp", "compiler/book/*.cpp"], None),
    ("pugixml.hpp", ["compiler/formats/musicxml/*.cpp"], None),
    ("zip.h", ["compiler/formats/musicxml/*.cpp"], None),
    ("nlohmann/*", ["compiler/formats/json/*.cpp"], 2),
    ("CLI/*", ["compiler/cli/*.cpp"], 1),
    ("fmt/*", ["compiler/base/fmt.h"], None),
    ("xxhash.h", ["compiler/*.cpp"], None),
    ("unistd.h", ["compiler/cli/*.cpp"], None),
    ("fcntl.h", ["compiler/cli/*.cpp"], None),
    ("sys/*", ["compiler/cli/*.cpp"], None),
]

STANDARD = set("""algorithm any array atomic barrier bit bitset cassert cctype cerrno cfenv cfloat charconv chrono cinttypes
climits clocale cmath compare complex concepts condition_variable coroutine csetjmp csignal cstdarg cstddef cstdint cstdio
cstdlib cstring ctime cuchar cwchar cwctype deque exception execution filesystem forward_list fstream functional future
initializer_list iomanip ios iosfwd iostream istream iterator latch limits list locale map memory memory_resource mutex new
numbers numeric optional ostream queue random ranges ratio regex scoped_allocator semaphore set shared_mutex span sstream
stack stdexcept stop_token streambuf string string_view system_error thread tuple type_traits typeindex typeinfo
unordered_map unordered_set utility valarray variant vector version""".split())

INCLUDE = re.compile(r'^\s*#\s*include\s*(?:"([^"]+)"|<([^>]+)>)', re.MULTILINE)


def includes(text: str) -> list:
    """(line number, quoted name or None, bracketed name or None)"""
    return [(text.count("\n", 0, m.start()) + 1, m.group(1), m.group(2)) for m in INCLUDE.finditer(text)]


def check_quoted(layer: str, name: str) -> str:
    target = name.split("/")[0]
    if "/" not in name or target not in LAYERS:
        return f'"{name}" is not written from the compiler/ root'
    if target == layer:
        return ""
    if LAYERS.index(target) > LAYERS.index(layer):
        return f'"{name}" lies to the right of {layer}'
    if layer in ONLY and target not in ONLY[layer]:
        return f'"{name}": {layer} sees only {", ".join(sorted(ONLY[layer])) or "itself"}'
    return ""


def check_bracketed(place: str, name: str) -> str:
    if name in STANDARD or name.startswith("relead/"):
        return ""
    for pattern, allowed, _ in LIBRARIES:
        if fnmatch.fnmatchcase(name, pattern):
            return "" if any(fnmatch.fnmatchcase(place, a) for a in allowed) else f"<{name}> belongs in {allowed[0]}"
    return f"<{name}> is neither standard nor one of our libraries"


def check_file(place: str, text: str) -> list:
    problems = []
    public = place.startswith("include/")
    for line, quoted, bracketed in includes(text):
        if public:
            fine = bracketed is not None and (bracketed in STANDARD or bracketed.startswith("relead/"))
            wrong = "" if fine else f"{quoted or bracketed}: public headers include the standard library and themselves"
        elif quoted is not None:
            wrong = check_quoted(place.split("/")[1], quoted)
            if quoted == "base/fmt.h" and place.endswith(".h"):
                wrong = "base/fmt.h is for .cpp files, it costs compile time"
        else:
            wrong = check_bracketed(place, bracketed)
        if wrong:
            problems.append(f"{place}:{line}: {wrong}")
    return problems


def check(root) -> list:
    problems, users = [], {}
    sources = common.files(root, "compiler", "include", suffixes={".cpp", ".h", ".def", ".inc"})
    if not sources:
        return ["no sources found"]
    for path in sources:
        place = path.relative_to(root).as_posix()
        text = common.read(path)
        problems += check_file(place, text)
        for _, _, bracketed in includes(text):
            for pattern, _, most in LIBRARIES:
                if bracketed and most and fnmatch.fnmatchcase(bracketed, pattern):
                    users.setdefault((pattern, most), set()).add(place)
    for (pattern, most), places in sorted(users.items()):
        if len(places) > most:
            problems.append(f"<{pattern}> is included by {len(places)} files, {most} allowed: {', '.join(sorted(places))}")
    return problems


if __name__ == "__main__":
    common.run("layering", check)
