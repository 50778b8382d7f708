#!/bin/sh
# Installs what is missing (Debian), builds, and runs every test. The last line says
# `N passed, N failed`; the exit code is 0 only if tests ran and none failed.
#   tools/run-tests.sh                 the release preset, as continuous integration runs it
#   tools/run-tests.sh --preset asan   another preset of CMakePresets.json; fuzz is a minute of each
#                                      fuzz target
#   tools/run-tests.sh --fuzz          then a minute of each fuzz target as well, as continuous
#                                      integration (CI=true) does without being asked
#   tools/run-tests.sh --browser       looks at the pages in Chromium too, which it installs (large);
#                                      so does continuous integration
#   tools/run-tests.sh --full          with many more random scenarios (hours on a small machine)
set -eu
root=$(CDPATH='' cd -- "$(dirname "$0")/.." && pwd)
cd "$root"

preset=release
full=no
fuzz=no
browser=no
while [ $# -gt 0 ]; do
  case $1 in
    --preset)
      [ $# -ge 2 ] || { echo "--preset expects a name" >&2; exit 64; }
      preset=$2
      shift
      ;;
    --full) full=yes ;;
    --fuzz) fuzz=yes ;;
    --browser) browser=yes ;;
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

if [ "${CI:-}" != "" ] && [ "$preset" = release ]; then
  fuzz=yes
  browser=yes
fi

if command -v ccache >/dev/null; then
  export CMAKE_CXX_COMPILER_LAUNCHER=ccache
fi
set --
[ "${CI:-}" = "" ] || set -- "$@" -DCMAKE_COMPILE_WARNING_AS_ERROR=ON
if [ "$full" = yes ]; then
  export LEASTWISE_PEER_SCENARIOS=10000 LEASTWISE_HARD_SCENARIOS=20000
  export LEASTWISE_SENSITIVITY_SCENARIOS=3000 LEASTWISE_FUZZ_SECONDS=1800
  export LEASTWISE_LIMIT_SCENARIOS=2000 LEASTWISE_ROUND_SCENARIOS=2000
  export LEASTWISE_CHANGE_SCENARIOS=5000 LEASTWISE_STOP_SCENARIOS=2000
  set -- "$@" -DLEASTWISE_TEST_TIMEOUT_S=7200
fi

passed=0
failed=0
off=0
started=$(date +%s)
count() { grep -c "$1" "$results" || true; }

# tested PRESET OPTIONS...: installs, builds and runs one preset, and adds up its results from the
# results file. What could not even be built or started has failed; only what a test itself calls
# skipped, or what is switched off, has not.
tested() {
  one=$1
  shift
  groups="build test"
  case $one in
    asan | tsan | fuzz) groups="$groups sanitizers" ;;
    tidy) groups="$groups tidy" ;;
  esac
  results="$root/build/$one/test-results.xml"
  rm -f "$results"
  # The packages for Python are Debian's, and so is the interpreter that they are for.
  [ ! -x /usr/bin/python3 ] || set -- "$@" -DPython3_EXECUTABLE=/usr/bin/python3
  # A module is loaded by an interpreter without sanitizers.
  [ "$one" != release ] || set -- "$@" -DLEASTWISE_BUILD_PYTHON=ON
  # shellcheck disable=SC2086 # a list of words
  if ! { tools/install-packages.sh $groups && cmake --preset "$one" "$@" </dev/null &&
    cmake --build --preset "$one" </dev/null; }; then
    echo "the preset $one could not be built" >&2
    failed=$((failed + 1))
    return
  fi
  finished=0
  at_once=$(nproc)
  # A fuzz target runs for a time, not for a count: all of them at once.
  [ "$one" != fuzz ] || at_once=8
  ctest --preset "$one" --parallel "$at_once" --output-junit "$results" </dev/null || finished=$?
  touch "$results"
  ran=$(count '^[[:space:]]*<testcase .* status="run">$')
  idle=$(count '^[[:space:]]*<skipped message="SKIP_')
  idle=$((idle + $(count '^[[:space:]]*<testcase .* status="disabled">$')))
  bad=$(($(count '^[[:space:]]*<testcase ') - ran - idle))
  # A run that did not end well without a failure to show is one.
  if [ "$finished" != 0 ] && [ "$bad" = 0 ]; then bad=1; fi
  passed=$((passed + ran))
  off=$((off + idle))
  failed=$((failed + bad))
}

if [ "$browser" = yes ]; then
  tools/install-packages.sh browser ||
    echo "no browser could be installed: its test will be skipped" >&2
fi
if [ "$preset" = fuzz ]; then
  tested fuzz "$@"
else
  tested "$preset" -DLEASTWISE_BUILD_BENCH=ON "$@"
  minutes=$((($(date +%s) - started) / 60))
  if [ "$fuzz" = yes ] && [ "${CI:-}" != "" ] && [ "$minutes" -ge 20 ]; then
    echo "the fuzz targets are left out: this machine took $minutes of its 30 minutes already" >&2
    off=$((off + 1))
  elif [ "$fuzz" = yes ]; then
    tested fuzz "$@"
  fi
fi

[ "$off" = 0 ] || echo "$off skipped or switched off"
echo "$passed passed, $failed failed"
[ "$failed" = 0 ] && [ "$passed" -gt 0 ]
