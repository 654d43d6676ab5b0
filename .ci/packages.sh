# Sourced by samples/demo.sh and tests/run.sh: finds what is missing on this machine and installs it with apt.
# POSIX sh. What counts is whether a thing works, not whether a package of some name is installed.

missing=        # Debian packages to install
reasons=        # one line each

# need PACKAGE WHY COMMAND...   notes the package when the command fails
need() {
    need_package=$1 need_why=$2
    shift 2
    "$@" >/dev/null 2>&1 && return 0
    missing="$missing $need_package"
    reasons="$reasons  $need_package: $need_why
"
}

has() { command -v "$1" >/dev/null 2>&1; }

# A header that the C++ compiler finds.
has_header() { printf '#include <%s>\n' "$1" | "${CXX:-g++}" -std=c++20 -E -x c++ - >/dev/null 2>&1; }

# A compiler that builds and links C++20.
compiles() {
    probe=$(mktemp -d) || return 1
    printf '#include <compare>\n#include <span>\n#include <string>\nint main() { return std::string().size() > 0; }\n' \
        >"$probe/a.cpp"
    "$@" -std=c++20 "$probe/a.cpp" -o "$probe/a" && "$probe/a"
    probe_code=$?
    rm -rf "$probe"
    return $probe_code
}

# CMake of at least version 3.25.
has_cmake() {
    has cmake || return 1
    cmake --version | awk 'NR == 1 { split($3, v, "."); exit !(v[1] > 3 || (v[1] == 3 && v[2] >= 25)) }'
}

# What building the program takes.
need_for_building() {
    need g++ 'the C++20 compiler' compiles "${CXX:-g++}"
    need cmake 'configures the build' has_cmake
    need ninja-build 'runs the build' has ninja
    need pkg-config 'finds libraries' has pkg-config
    need libicu-dev 'ICU: Unicode text' has_header unicode/brkiter.h
    need libfmt-dev '{fmt}: formatting, used header-only' has_header fmt/format.h
    need libcli11-dev 'CLI11: the command line' has_header CLI/CLI.hpp
    need nlohmann-json3-dev 'JSON output' has_header nlohmann/json.hpp
    need libpugixml-dev 'pugixml: MusicXML' has_header pugixml.hpp
    need libzip-dev 'libzip: compressed MusicXML' has_header zip.h
    need libxxhash-dev 'xxHash: version stamps' has_header xxhash.h
}

# Installs what need() noted; forgets it afterwards. 0 when nothing is missing or apt succeeded.
install_missing() {
    [ -n "$missing" ] || return 0
    printf 'Missing on this machine, installed now with apt:\n%s' "$reasons"
    as_root=
    if [ "$(id -u)" != 0 ]; then
        as_root=sudo
        has sudo || { cannot_install 'neither root nor sudo is at hand'; return 1; }
    fi
    has apt-get || { cannot_install 'there is no apt-get here'; return 1; }
    apt_log=$(mktemp)
    for attempt in 1 2 3; do
        # shellcheck disable=SC2086  # a list of packages
        if apt_get update >"$apt_log" 2>&1 && apt_get install -y --no-install-recommends $missing >>"$apt_log" 2>&1; then
            rm -f "$apt_log"
            echo 'Installed.'
            missing='' reasons=''
            return 0
        fi
        echo "apt did not succeed (attempt $attempt of 3)."
        [ "$attempt" = 3 ] || sleep $((attempt * 5))
    done
    tail -n 15 "$apt_log"
    rm -f "$apt_log"
    cannot_install 'apt failed'
    return 1
}

# On a machine that is thrown away afterwards (CI) files need not reach the disk one by one.
apt_get() {
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get -q -o DPkg::Lock::Timeout=300 -o Acquire::Retries=3 \
        ${CI:+-o DPkg::Options::=--force-unsafe-io} "$@"
}

cannot_install() {
    echo "Cannot install ($1). Please install these yourself and try again:"
    echo "  apt-get install$missing"
}
