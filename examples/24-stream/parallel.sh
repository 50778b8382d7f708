#!/bin/sh
# Answers a file of questions in pieces with GNU parallel, and puts the answers together.
#
#     parallel.sh BASE QUESTIONS ANSWERS [LINES [JOBS]]
#
# Started again after a crash it does what is missing: a piece that is there is left alone, and half a
# piece goes on where it ended. LINES is the size of a piece (default 10000), JOBS how many run at
# once (default: one a processor), each on one thread.
set -eu
base=$1 questions=$2 answers=$3 size=${4:-10000} jobs=${5:-$(nproc)}
tool=${LEASTWISE:-leastwise}
pieces=$answers.pieces
mkdir -p "$pieces"
lines=$(awk 'END { print NR }' "$questions")

seq 1 "$size" "$lines" | parallel --jobs "$jobs" --halt soon,fail=1 --retries 3 \
  "$tool" stream --threads 1 --base "$base" --resume \
  --lines '{= $_ = "$_-" . ($_ + '"$size"' - 1) =}' \
  --output "$pieces/{}.jsonl" "$questions"
# Only the pieces of this size: one of another run may lie beside them.
set --
for first in $(seq 1 "$size" "$lines"); do set -- "$@" "$pieces/$first.jsonl"; done
"$tool" stream --merge --output "$answers" "$questions" "$@"
