#!/usr/bin/env python3
"""Runs golden cases: one text file holds a command, its input and all that it should say and write.

    golden.py [--update] [--list] FILE-OR-FOLDER...

The format is described in tests/README.md. The program under test is the file that RELEAD_BINARY names.
--update rewrites what differs; read the diff before committing it. Exit 0: all cases hold, 1: some do not.
"""

import argparse
import concurrent.futures
import dataclasses
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
import expect  # noqa: E402

ROOT = pathlib.Path(__file__).resolve().parents[2]
TIMEOUT_SECONDS = 180
KINDS = {"run", "file", "copy", "stdin", "stdout", "stderr", "exit", "wrote", "absent"}
NAMED = {"file", "copy", "wrote", "absent"}
UNFINISHED = " (no line end)"
HEADER = re.compile(r"^## (\w+)(?: (.*?))??( \(no line end\))?$")


class BadCase(Exception):
    """The golden file itself is wrong."""


@dataclasses.dataclass
class Section:
    kind: str
    name: str
    text: str


@dataclasses.dataclass
class Case:
    about: str
    sections: list

    def first(self, kind: str):
        return next((s for s in self.sections if s.kind == kind), None)

    def all(self, kind: str) -> list:
        return [s for s in self.sections if s.kind == kind]


def parse(text: str) -> Case:
    about, sections, lines, header = [], [], [], None

    def close():
        if header is None:
            return
        body = lines[:-1] if lines and lines[-1] == "" else lines
        content = "".join(unescape(line) + "\n" for line in body)
        if header.group(3):
            content = content[:-1]
        sections.append(Section(header.group(1), header.group(2) or "", content))

    for line in text.split("\n")[:-1] if text.endswith("\n") else text.split("\n"):
        found = HEADER.match(line)
        if line.startswith("## ") and not found:
            raise BadCase(f"cannot read the header '{line}'")
        if found:
            close()
            header, lines = found, []
        elif header is None:
            about.append(line)
        else:
            lines.append(line)
    # The last section has no blank line behind it; add one so that closing treats all alike.
    lines.append("")
    close()
    check(sections)
    return Case("\n".join(about).strip("\n"), sections)


def check(sections: list) -> None:
    for section in sections:
        if section.kind not in KINDS:
            raise BadCase(f"there is no section '{section.kind}'")
        if (section.kind in NAMED) != bool(section.name):
            raise BadCase(f"section '{section.kind}' {'needs' if section.kind in NAMED else 'takes no'} name")
        parts = pathlib.PurePosixPath(section.name).parts
        if section.name.startswith("/") or ".." in parts:
            raise BadCase(f"'{section.name}' leaves the case's folder")
    if sum(section.kind == "run" for section in sections) != 1:
        raise BadCase("there must be one section 'run'")


def unescape(line: str) -> str:
    return line[1:] if re.match(r"^\\+## ", line) else line


def escape(line: str) -> str:
    return "\\" + line if re.match(r"^\\*## ", line) else line


def write(case: Case) -> str:
    out = [case.about + "\n"] if case.about else []
    for section in case.sections:
        name = f" {section.name}" if section.name else ""
        finished = section.text == "" or section.text.endswith("\n")
        head = f"## {section.kind}{name}{'' if finished else UNFINISHED}\n"
        body = section.text if finished else section.text + "\n"
        out.append(head + "".join(escape(line) + "\n" for line in body.split("\n")[:-1]))
    return "\n".join(out)


@dataclasses.dataclass
class Result:
    stdout: str
    stderr: str
    code: int
    files: dict
    folder: str


def environment(folder: str, binary: pathlib.Path) -> dict:
    keep = {k: v for k, v in os.environ.items() if k.startswith(("ASAN_", "UBSAN_", "LSAN_", "LLVM_PROFILE"))}
    path = os.pathsep.join([str(binary.parent), "/usr/local/bin", "/usr/bin", "/bin"])
    return keep | {"PATH": path, "LC_ALL": "C.UTF-8", "HOME": folder, "TERM": "dumb", "TZ": "UTC"}


def run(case: Case, binary: pathlib.Path) -> Result:
    with tempfile.TemporaryDirectory(prefix="golden-") as folder:
        top = pathlib.Path(folder)
        for section in case.all("file"):
            target = top / section.name
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(section.text.encode())
        for section in case.all("copy"):
            target = top / pathlib.PurePosixPath(section.name).name
            shutil.copyfile(ROOT / section.name, target)
        stdin = case.first("stdin")
        done = subprocess.run(["sh", "-c", case.first("run").text], cwd=folder, env=environment(folder, binary),
                              input=stdin.text.encode() if stdin else b"", capture_output=True,
                              timeout=TIMEOUT_SECONDS, check=False)
        files = {s.name: read(top / s.name) for s in case.all("wrote") + case.all("absent")}
        return Result(decode(done.stdout, folder), decode(done.stderr, folder), done.returncode, files, folder)


def read(path: pathlib.Path):
    return decode(path.read_bytes(), "") if path.is_file() else None


def decode(data: bytes, folder: str) -> str:
    text = data.decode("utf-8", errors="backslashreplace")
    return text.replace(folder, "FOLDER") if folder else text


def outcome(case: Case, result: Result) -> list:
    """(kind, name, expected, real) of every expectation; what a case leaves out is expected to be nothing."""
    rows = [("stdout", "", text_of(case, "stdout"), result.stdout),
            ("stderr", "", text_of(case, "stderr"), result.stderr),
            ("exit", "", text_of(case, "exit") or "0\n", f"{result.code}\n")]
    for section in case.all("wrote"):
        real = result.files[section.name]
        rows.append(("wrote", section.name, section.text, "(the file is missing)\n" if real is None else real))
    for section in case.all("absent"):
        there = result.files[section.name] is not None
        rows.append(("absent", section.name, "", "(the file is there)\n" if there else ""))
    return rows


def text_of(case: Case, kind: str) -> str:
    section = case.first(kind)
    return section.text if section else ""


def updated(case: Case, rows: list) -> Case:
    sections = list(case.sections)
    for kind, name, expected, real in rows:
        if kind == "absent" or expect.matches(expected, real):
            continue
        at = next((i for i, s in enumerate(sections) if s.kind == kind and s.name == name), None)
        fresh = Section(kind, name, real)
        default = "0\n" if kind == "exit" else ""
        if at is not None:
            sections[at: at + 1] = [] if real == default and kind != "wrote" else [fresh]
        elif real != default:
            sections.append(fresh)
    order = ["run", "copy", "file", "stdin", "stdout", "stderr", "exit", "wrote", "absent"]
    return Case(case.about, sorted(sections, key=lambda s: order.index(s.kind)))


def judge(path: pathlib.Path, binary: pathlib.Path, update: bool) -> str:
    """Empty when the case holds, else what is wrong."""
    try:
        case = parse(path.read_bytes().decode("utf-8"))
        result = run(case, binary)
    except BadCase as error:
        return f"the golden file is wrong: {error}"
    except subprocess.TimeoutExpired:
        return f"still running after {TIMEOUT_SECONDS} s"
    except (OSError, UnicodeDecodeError) as error:
        return str(error)
    if not binary.is_file():
        return "the program vanished while the case ran"
    rows = outcome(case, result)
    wrong = [row for row in rows if not expect.matches(row[2], row[3])]
    if wrong and update:
        path.write_bytes(write(updated(case, rows)).encode())
        return "".join(f"absent {r[1]}: the file is there\n" for r in wrong if r[0] == "absent")
    return "\n".join(expect.difference(r[2], r[3], f"{r[0]} {r[1]}".strip()) for r in wrong)


def find_cases(places: list) -> list:
    cases = []
    for place in map(pathlib.Path, places):
        found = (path for path in place.rglob("*.txt") if path.name != "CMakeLists.txt")
        cases += sorted(found) if place.is_dir() else [place]
    return cases


def main(arguments: list) -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--update", action="store_true", help="rewrite what differs")
    parser.add_argument("--list", action="store_true", help="name the cases and stop")
    parser.add_argument("places", nargs="+", metavar="FILE-OR-FOLDER")
    options = parser.parse_args(arguments)
    cases = find_cases(options.places)
    if options.list:
        print("\n".join(map(str, cases)))
        return 0
    binary = pathlib.Path(os.environ.get("RELEAD_BINARY", "")).absolute()
    if not os.access(binary, os.X_OK) or not binary.is_file():
        print("RELEAD_BINARY does not name a program", file=sys.stderr)
        return 2
    if not cases:
        print("no golden cases found", file=sys.stderr)
        return 1
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        verdicts = list(pool.map(lambda path: judge(path, binary, options.update), cases))
    failed = [(path, verdict) for path, verdict in zip(cases, verdicts) if verdict]
    for path, verdict in failed:
        print(f"{path}: does not hold\n{verdict}\n")
    print(f"golden: {len(cases) - len(failed)} hold, {len(failed)} do not")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
