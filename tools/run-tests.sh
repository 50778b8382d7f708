#!/bin/sh
# Installs what is missing (Debian), builds, and runs every test. The last line says
# `N passed, N failed`; the exit code is 0 only if tests ran and none failed.
#   tools/run-tests.sh                 the release preset and a minute of each fuzz target, as
#                                      continuous integration runs it (without the fuzz targets
#                                      when all else took over 18 minutes)
#   tools/run-tests.sh --preset asan   another preset of CMakePresets.json
#   tools/run-tests.sh --full          with many more random scenarios (hours on a small machine)
set -eu
root=$(CDPATH='' cd -- "$(dirname "$0")/.." && pwd)
cd "$root"

preset=release
full=no
while [ $# -gt 0 ]; do
  case $1 in
    --preset)
      [ $# -ge 2 ] || { echo "--preset expects a name" >&2; exit 64; }
      preset=$2
      shift
      ;;
    --full) full=yes ;;
    -h | --help)
      sed -n '2,/^set/{/^set/d;s/^# \{0,1\}//;p;}' "$root/tools/run-tests.sh"
      exit 0
      ;;
    *)
      echo "unknown option '$1'; see --help" >&2
      exit 64
      ;;
  esac
  shift
done

presets=$preset
groups="build test"
case $preset in
  release) presets="release fuzz" groups="$groups fuzz" ;;
  fuzz) groups="$groups fuzz" ;;
  tidy) groups="$groups tidy" ;;
esac
# shellcheck disable=SC2086 # a list of words
tools/install-packages.sh $groups

if command -v ccache >/dev/null; then
  export CMAKE_CXX_COMPILER_LAUNCHER=ccache
fi
set -- -DLEASTWISE_BUILD_BENCH=ON
[ "$preset" != fuzz ] || set --
[ "${CI:-}" = "" ] || set -- "$@" -DCMAKE_COMPILE_WARNING_AS_ERROR=ON
if [ "$full" = yes ]; then
  export LEASTWISE_PEER_SCENARIOS=10000 LEASTWISE_HARD_SCENARIOS=20000
  export LEASTWISE_SENSITIVITY_SCENARIOS=3000 LEASTWISE_FUZZ_SECONDS=1800
  set -- "$@" -DLEASTWISE_TEST_TIMEOUT_S=7200
fi

# Counted from the results files. What could not even be started has failed; only what a test itself
# calls skipped, or what is switched off, has not.
started=$(date +%s)
total=0 passed=0 skipped=0 finished=0
count() { grep -c "$1" "$results" || true; }
for preset in $presets; do
  # On a slow machine the minutes of fuzzing would come on top of many: then they wait for another.
  if [ "$presets" = "release fuzz" ] && [ "$preset" = fuzz ] && [ "$full" = no ] &&
    [ $(($(date +%s) - started)) -gt 1080 ]; then
    echo "the fuzz targets are left out: all else took over 18 minutes (run them with --preset fuzz)"
    continue
  fi
  cmake --preset "$preset" "$@" </dev/null
  cmake --build --preset "$preset" </dev/null
  results="$root/build/$preset/test-results.xml"
  rm -f "$results"
  ctest --preset "$preset" --parallel "$(nproc)" --output-junit "$results" </dev/null || finished=$?
  touch "$results"
  total=$((total + $(count '^[[:space:]]*<testcase ')))
  passed=$((passed + $(count '^[[:space:]]*<testcase .* status="run">$')))
  skipped=$((skipped + $(count '^[[:space:]]*<skipped message="SKIP_')))
  skipped=$((skipped + $(count '^[[:space:]]*<testcase .* status="disabled">$')))
  set -- # what is set above is for the first of them
done
failed=$((total - passed - skipped))
[ $skipped = 0 ] || echo "$skipped skipped or switched off"
echo "$passed passed, $failed failed"
[ "$finished" = 0 ] && [ "$failed" = 0 ] && [ "$passed" -gt 0 ]
