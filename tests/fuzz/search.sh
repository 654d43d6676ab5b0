#!/bin/sh
# search.sh TARGET SEEDS...   lets libFuzzer search for RELEAD_FUZZ_SECONDS (default 60). What it finds is left
# beside the target; move it into tests/fuzz/found/NAME, so that it is replayed for ever.
set -eu
target=$1
shift
corpus=$(mktemp -d)
trap 'rm -rf "$corpus"' EXIT
for seeds; do
    [ -d "$seeds" ] && find "$seeds" -type f -size -20k -exec cp {} "$corpus" \;
done
"$target" -max_total_time="${RELEAD_FUZZ_SECONDS:-60}" -timeout=20 -rss_limit_mb=2048 -max_len=20000 \
    -print_final_stats=1 -artifact_prefix="$(dirname "$target")/" "$corpus"
