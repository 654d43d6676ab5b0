#!/bin/sh
# Builds Relead and reharmonises a sample tune: old and new changes one above the other, a reason for each change.
#
#   sh samples/demo.sh [TUNE]      the tune to take; a ballad-tempo AABA from samples/tunes otherwise
#
# Installs what building takes with apt when it is missing (as root or through sudo), builds into build/ and writes
# the sheets into build/demo. A second run finds everything in place and only shows the result.
set -eu
export LC_ALL=C.UTF-8
case ${1:-} in
    /* | '') tune=${1:-} ;;
    *) tune=$(pwd)/$1 ;;
esac
cd "$(dirname "$0")/.."
: "${tune:=samples/tunes/ferry-at-first-light.tune}"
. .ci/packages.sh

need_for_building
install_missing || exit 1

mkdir -p build
log=build/demo.log
quietly() {
    "$@" >"$log" 2>&1 && return 0
    tail -n 40 "$log"
    echo "This failed: $*"
    exit 1
}

# A build/ that somebody made keeps its settings; one that belongs to another copy of the project does not.
if [ ! -e build/build.ninja ] && [ ! -e build/Makefile ] ||
    ! grep -qsxF "CMAKE_HOME_DIRECTORY:INTERNAL=$(pwd -P)" build/CMakeCache.txt; then
    rm -rf build/CMakeCache.txt build/CMakeFiles
    quietly cmake -S . -B build -G Ninja -DCMAKE_BUILD_TYPE=Release -DRELEAD_TESTS=OFF
fi
echo 'Building Relead (Release) into build/ …'
quietly cmake --build build --target relead --parallel "$(nproc)"

echo
build/relead reharm "$tune" --midi -o build/demo
echo
echo 'Old and new side by side, on paper, in the browser and for the ear:'
build/relead compare "$tune" -o build/demo | sed -n 's/^wrote /  /p'
