#!/bin/sh
# Builds everything and runs every test. The last line says "N passed, N failed".
#
#   sh tests/run.sh           g++ Release with all tests, then clang with address and undefined-behaviour sanitizers
#   sh tests/run.sh --deep    also clang-tidy over the whole tree, coverage, and fuzzing for longer
#
# Installs what is missing with apt (as root or through sudo) and npm packages from the committed lock file into
# tests/external/node_modules. Builds into build-test/ and build-asan/. With CI set a skipped suite counts as failed;
# only the MusicXML schema, which cannot be part of this project, may be absent (RELEAD_MUSICXML_XSD names it).
set -u
export LC_ALL=C.UTF-8
deep=
for argument; do
    case $argument in
        --deep) deep=yes ;;
        *) echo "usage: sh tests/run.sh [--deep]"; exit 2 ;;
    esac
done
cd "$(dirname "$0")/.." || exit 2
. .ci/packages.sh

passed=0
failed=0
skips=
failures=
jobs=$(nproc)
started=$(date +%s)

say() { printf '\n== %s (%s s)\n' "$1" $(($(date +%s) - started)); }

note_failure() {
    failed=$((failed + 1))
    failures="$failures  $1
"
}

# note_skip NAME REASON
note_skip() {
    skips="$skips  $1: $2
"
    [ -n "${CI:-}" ] || return 0
    case $1 in
        *xsd*) ;;
        *) note_failure "$1 (skipped, which CI does not allow)" ;;
    esac
}

# step NAME LOG COMMAND...   one command with its output in LOG, shown when it fails
step() {
    step_name=$1 step_log=$2
    shift 2
    "$@" >"$step_log" 2>&1 && return 0
    grep -E '(error|Error|FAILED)' "$step_log" | head -n 20
    echo '...'
    tail -n 60 "$step_log"
    echo "$step_name failed; the whole log is $step_log"
    return 1
}

# build FOLDER CMAKE-OPTIONS...
build() {
    build_folder=$1
    shift
    mkdir -p "$build_folder"
    if ! grep -qsxF "CMAKE_HOME_DIRECTORY:INTERNAL=$(pwd -P)" "$build_folder/CMakeCache.txt"; then
        rm -rf "$build_folder/CMakeCache.txt" "$build_folder/CMakeFiles"
    fi
    step "configuring $build_folder" "$build_folder/configure.log" cmake -S . -B "$build_folder" -G Ninja \
        -DRELEAD_TESTS=ON -DRELEAD_WERROR=ON -DPython3_EXECUTABLE="$python" "$@" &&
        step "building $build_folder" "$build_folder/build.log" ninja -C "$build_folder" -j "$jobs" -k 20
}

# run_ctest FOLDER PREFIX CTEST-OPTIONS...   each test counts as one
run_ctest() {
    ctest_folder=$1 ctest_prefix=$2
    shift 2
    rm -f "$ctest_folder/junit.xml"
    ctest --test-dir "$ctest_folder" -j "$jobs" --timeout 900 --output-on-failure --no-tests=error \
        --output-junit junit.xml "$@" >"$ctest_folder/test.log" 2>&1
    if ! verdicts=$("$python" tests/support/count_tests.py "$ctest_prefix" "$ctest_folder/junit.xml"); then
        tail -n 40 "$ctest_folder/test.log"
        note_failure "${ctest_prefix}ctest"
        return
    fi
    while IFS= read -r verdict; do
        case $verdict in
            passed*) passed=$((passed + 1)) ;;
            skipped*) verdict=${verdict#skipped }; note_skip "${verdict%%: *}" "${verdict#*: }" ;;
            *) note_failure "${verdict#failed }" ;;
        esac
    done <<VERDICTS
$verdicts
VERDICTS
    grep -E 'tests passed|tests failed|Total Test time' "$ctest_folder/test.log"
    case $verdicts in
        *'failed '*) grep -vE '(Passed|Start) +|^ +Start ' "$ctest_folder/test.log" | tail -n 200 ;;
    esac
}

# check NAME LOG COMMAND...   a test that is one command (a subshell where it calls step itself)
check() {
    check_name=$1
    if step "$@"; then passed=$((passed + 1)); else note_failure "$check_name"; fi
}

finish() {
    say 'Done'
    [ -z "$failures" ] || printf 'Failed:\n%s' "$failures"
    [ -z "$skips" ] || printf 'Skipped:\n%s' "$skips"
    echo "$passed passed, $failed failed"
    [ "$failed" = 0 ] && [ "$passed" -gt 0 ]
    exit
}

# --- what this machine lacks

with_modules() {
    for candidate in python3 /usr/bin/python3; do
        "$candidate" -c 'import jsonschema, mido' >/dev/null 2>&1 && python=$(command -v "$candidate") && return 0
    done
    return 1
}
has_ctags() { ctags --version | grep -qi universal; }
has_catch() { has_header catch2/catch_all.hpp || has_header catch2/catch.hpp; }
has_letters() { fc-list | grep -qi dejavu; }
has_sanitizers() { compiles clang++ -fsanitize=address,undefined; }

say 'Looking for what is needed'
need_for_building
need catch2 'Catch2: the unit tests' has_catch
need 'python3 python3-jsonschema python3-mido' 'the golden cases, house rules, JSON schemas, MIDI files' with_modules
need universal-ctags 'measures functions' has_ctags
need 'clang libclang-rt-dev' 'the sanitizers' has_sanitizers
need 'dpkg-dev file' 'makes the Debian package' has dpkg-shlibdeps
need libxml2-utils 'xmllint: XML schemas' has xmllint
need ca-certificates 'npm over https' test -s /etc/ssl/certs/ca-certificates.crt
has node || need nodejs 'the checks from npm' has node
has npm || need npm 'the checks from npm' has npm
need chromium 'the listening page in a browser' has "${CHROMIUM:-chromium}"
need 'fontconfig fonts-dejavu-core' 'letters for the browser' has_letters
if [ -n "$deep" ]; then
    need clang-tidy 'the linter' has clang-tidy
    need gcovr 'coverage' has gcovr
fi
if ! install_missing || ! with_modules; then
    note_failure 'what is needed could not be installed'
    finish
fi
echo 'Everything is there.'

# --- checks from npm and the MusicXML schema

say 'Packages from npm (tests/external)'
npm_packages() {
    cmp -s package-lock.json node_modules/.installed-lock && return 0
    for attempt in 1 2 3; do
        npm ci --ignore-scripts --no-audit --no-fund && cp package-lock.json node_modules/.installed-lock && return 0
        sleep $((attempt * 5))
    done
    return 1
}
if [ -f tests/external/package-lock.json ]; then
    npm_log=$(mktemp)
    if (cd tests/external && npm_packages >"$npm_log" 2>&1); then
        echo 'Installed.'
    else
        tail -n 20 "$npm_log"
        note_skip 'npm packages' 'npm ci failed; the checks that need them skip themselves'
    fi
    rm -f "$npm_log"
fi
if [ -z "${RELEAD_MUSICXML_XSD:-}" ] && [ -f ../shared/musicxml-4.0-xsd/musicxml.xsd ]; then
    RELEAD_MUSICXML_XSD=$(cd ../shared/musicxml-4.0-xsd && pwd)/musicxml.xsd
    export RELEAD_MUSICXML_XSD
fi
if [ -n "${RELEAD_MUSICXML_XSD:-}" ] && [ ! -f "$RELEAD_MUSICXML_XSD" ]; then
    note_failure "RELEAD_MUSICXML_XSD names $RELEAD_MUSICXML_XSD, which is not there"
fi

# --- g++, optimised: everything

say 'g++, Release: build'
if build build-test -DCMAKE_BUILD_TYPE=Release -DCMAKE_CXX_COMPILER="${CXX:-g++}"; then
    passed=$((passed + 1))
    say 'g++, Release: all tests'
    run_ctest build-test ''
else
    note_failure 'build with g++'
fi

# --- clang with sanitizers: units, properties, goldens

say 'clang, address and undefined-behaviour sanitizers: build'
if build build-asan -DCMAKE_BUILD_TYPE=Debug -DRELEAD_SANITIZE=ON -DCMAKE_CXX_COMPILER=clang++ \
    -DCMAKE_CXX_FLAGS_DEBUG=-gline-tables-only; then
    passed=$((passed + 1))
    say 'clang, sanitizers: units, properties, golden cases'
    ASAN_OPTIONS=abort_on_error=1:detect_leaks=1:strict_string_checks=1:detect_stack_use_after_return=1 \
        UBSAN_OPTIONS=abort_on_error=1:print_stacktrace=1 run_ctest build-asan 'sanitized ' -E '^(house|external|golden-runner)'
else
    note_failure 'build with clang and sanitizers'
fi

# --- only with --deep

lint() {
    find compiler -name '*.cpp' -print0 | xargs -0 -n 2 -P "$jobs" clang-tidy -p build-asan --quiet
}
coverage() {
    (build build-coverage -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_COMPILER="${CXX:-g++}" -DCMAKE_CXX_FLAGS=--coverage) &&
        ctest --test-dir build-coverage -j "$jobs" -E '^(house|external)' &&
        gcovr --root . --object-directory build-coverage --filter compiler/ --filter include/ --print-summary \
            --fail-under-line 85
}
if [ -n "$deep" ]; then
    say 'clang-tidy over the whole tree'
    check 'clang-tidy' build-asan/tidy.log lint
    say 'Coverage'
    mkdir -p build-coverage
    check 'coverage of lines' build-coverage/coverage.log coverage
    grep -E '^(lines|branches):' build-coverage/coverage.log
    say 'Fuzzing'
    RELEAD_FUZZ_SECONDS=${RELEAD_FUZZ_SECONDS:-300}
    export RELEAD_FUZZ_SECONDS
    if build build-fuzz -DCMAKE_BUILD_TYPE=Debug -DRELEAD_SANITIZE=ON -DRELEAD_FUZZ=ON \
        -DCMAKE_CXX_COMPILER=clang++ -DCMAKE_CXX_FLAGS=-fsanitize=fuzzer-no-link; then
        run_ctest build-fuzz '' -R '^fuzz-'
    else
        note_failure 'build of the fuzz targets'
    fi
fi

finish
