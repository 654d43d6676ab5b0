#!/usr/bin/env python3
"""Installs the build into a folder of its own, lets a stranger's project find and use it, and makes the .deb.

    install.py BUILD-FOLDER
"""

import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

import common

CONSUMER_SAYS = """Pier Light, C major, 4 bars
A:2: G7 -> Db7 (Tritone substitute)
pier.musicxml
"""
IN_THE_PACKAGE = ["./usr/bin/relead", "./usr/include/relead/relead.h", "./usr/share/doc/relead/samples/tunes/",
                  "cmake/relead/relead-config.cmake"]


def run(*command, cwd=None) -> str:
    done = subprocess.run(list(map(str, command)), cwd=cwd, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
                          check=False)
    if done.returncode != 0:
        raise RuntimeError(f"{' '.join(map(str, command))}: exit code {done.returncode}\n{done.stdout[-4000:]}")
    return done.stdout


def consumer_problems(build: pathlib.Path, folder: pathlib.Path) -> list:
    run("cmake", "--install", build, "--prefix", folder / "prefix")
    shutil.copytree(common.ROOT / "tests/house/consumer", folder / "consumer")
    run("cmake", "-S", folder / "consumer", "-B", folder / "out", "-G", "Ninja", f"-DCMAKE_PREFIX_PATH={folder / 'prefix'}")
    run("cmake", "--build", folder / "out")
    said = run(folder / "out/consumer")
    problems = [] if said == CONSUMER_SAYS else [f"the consumer said:\n{said}"]
    version = run(folder / "prefix/bin/relead", "--version")
    if not re.search(r"\d+\.\d+\.\d+", version):
        problems.append(f"the installed program said: {version}")
    return problems


def package_problems(build: pathlib.Path, folder: pathlib.Path) -> list:
    run("cpack", "--config", build / "CPackConfig.cmake", "-B", folder / "package", cwd=folder)
    packages = list((folder / "package").glob("*.deb"))
    if len(packages) != 1:
        return [f"cpack made {len(packages)} packages"]
    listing = run("dpkg-deb", "--contents", packages[0])
    problems = [f"{name} is not in the package" for name in IN_THE_PACKAGE if name not in listing]
    fields = run("dpkg-deb", "--field", packages[0], "Depends")
    problems += [f"the package does not depend on {name}" for name in ("libicu", "libpugixml", "libzip") if name not in fields]
    return problems


def check(build: pathlib.Path) -> list:
    with tempfile.TemporaryDirectory(prefix="install-") as folder:
        try:
            return consumer_problems(build, pathlib.Path(folder)) + package_problems(build, pathlib.Path(folder))
        except RuntimeError as error:
            return [str(error)]


if __name__ == "__main__":
    sys.exit(common.report("install", check(pathlib.Path(sys.argv[1]).resolve())))
