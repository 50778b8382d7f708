#!/bin/sh
# Installs what is missing (Debian), builds, and runs every test. The last line says
# `N passed, N failed`; the exit code is 0 only if tests ran and none failed.
#   tools/run-tests.sh                 the release preset, as continuous integration runs it
#   tools/run-tests.sh --preset asan   another preset of CMakePresets.json; fuzz is a minute of each
#                                      fuzz target
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

groups="build test"
case $preset in
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

cmake --preset "$preset" "$@" </dev/null
cmake --build --preset "$preset" </dev/null

results="$root/build/$preset/test-results.xml"
rm -f "$results"
finished=0
ctest --preset "$preset" --parallel "$(nproc)" --output-junit "$results" </dev/null || finished=$?

# Counted from the results file. What could not even be started has failed; only what a test itself
# calls skipped, or what is switched off, has not.
touch "$results"
count() { grep -c "$1" "$results" || true; }
total=$(count '^[[:space:]]*<testcase ')
passed=$(count '^[[:space:]]*<testcase .* status="run">$')
skipped=$(count '^[[:space:]]*<skipped message="SKIP_')
off=$(count '^[[:space:]]*<testcase .* status="disabled">$')
failed=$((total - passed - skipped - off))
[ $((skipped + off)) = 0 ] || echo "$((skipped + off)) skipped or switched off"
echo "$passed passed, $failed failed"
[ "$finished" = 0 ] && [ "$failed" = 0 ] && [ "$passed" -gt 0 ]
