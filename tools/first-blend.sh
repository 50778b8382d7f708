#!/bin/sh
# From a fresh copy to a first blend: installs what is missing (Debian), builds the library and the
# tool in build/tool, and blends the first example. The report goes to standard output, the rest to
# standard error.
set -eu
root=$(CDPATH='' cd -- "$(dirname "$0")/.." && pwd)
cd "$root"

tools/install-packages.sh build
if command -v ccache >/dev/null; then
  export CMAKE_CXX_COMPILER_LAUNCHER=ccache
fi
{
  cmake -G Ninja -S . -B build/tool -DCMAKE_BUILD_TYPE=Release -DCMAKE_UNITY_BUILD=ON \
    -DLEASTWISE_BUILD_TESTS=OFF -DLEASTWISE_BUILD_EXAMPLES=OFF
  cmake --build build/tool
} </dev/null >&2

cd examples/01-first-grade
exec "$root/build/tool/tools/leastwise" blend scenario.yaml
