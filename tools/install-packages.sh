#!/bin/sh
# Installs the Debian packages of the named groups that are missing: build, test, package, browser,
# tidy, sanitizers.
#   tools/install-packages.sh build test
# Says what it does on standard error, and asks nothing.
set -eu
list="$(dirname "$0")/packages.txt"

if ! command -v dpkg-query >/dev/null; then
  echo "not a Debian system: install what $list names yourself" >&2
  exit 0
fi

missing=
for group in "$@"; do
  packages=$(sed -n "s/^$group //p" "$list")
  if [ -z "$packages" ]; then
    echo "$list has no group '$group'" >&2
    exit 64
  fi
  for package in $packages; do
    state=$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null || true)
    [ "$state" = installed ] || missing="$missing $package"
  done
done
[ -n "$missing" ] || exit 0

as_root=
if [ "$(id -u)" != 0 ]; then
  if ! command -v sudo >/dev/null; then
    echo "as root, run: apt-get update && apt-get install --no-install-recommends$missing" >&2
    exit 1
  fi
  as_root=sudo
fi
echo "installing:$missing" >&2
export DEBIAN_FRONTEND=noninteractive
{
  $as_root apt-get update
  # shellcheck disable=SC2086 # a list of words
  $as_root apt-get install -y --no-install-recommends $missing
} </dev/null >&2
