#!/bin/bash
# Builds the fuzz targets with clang and runs each over its corpus and new inputs.
#     run.sh check BUILD_DIR           sanitizers, 15 s for each target: part of the tests
#     run.sh long BUILD_DIR SECONDS    optimised, memory limit of 200 MB, SECONDS for each target
# New inputs that reach new code are kept in BUILD_DIR/new; what fails is written to BUILD_DIR.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
mode=$1
build=$2
case $mode in
  # The sanitizers take most of the memory, and other tests that run beside it the time of the clock.
  check) sanitize=ON seconds=15 megabytes=400 slowest=5 ;;
  long) sanitize=OFF seconds=$3 megabytes=200 slowest=1 ;;
  *) sed -n '2,6p' "$0" >&2; exit 2 ;;
esac

mkdir -p "$build"
cmake -S "$here" -B "$build" -G Ninja -DCMAKE_CXX_COMPILER=clang++ \
  -DCMAKE_CXX_COMPILER_LAUNCHER=ccache -DRIBBAY_SANITIZE=$sanitize >"$build/configure.log" ||
  { cat "$build/configure.log" >&2; exit 1; }
cmake --build "$build" --parallel 2

status=0
for target in reader evaluator vehicle; do
  mkdir -p "$build/new/$target"
  echo "== $target"
  if ! "$build/${target}_fuzz" -seed=1 -entropic=0 -max_len=3000 -max_total_time="$seconds" \
      -timeout=$slowest -rss_limit_mb=$megabytes -artifact_prefix="$build/$target-" -print_final_stats=1 \
      "$build/new/$target" "$here/corpus/$target" >"$build/$target.log" 2>&1; then
    grep -vE '^#[0-9]' "$build/$target.log" >&2
    status=1
  fi
  grep -E 'cov: [0-9]+' "$build/$target.log" | tail -1 || true
  grep -E '^stat::(number_of_executed_units|slowest_unit_time_sec|peak_rss_mb)' "$build/$target.log" || true
done
exit $status
