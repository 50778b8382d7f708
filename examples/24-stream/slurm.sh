#!/bin/sh
#SBATCH --job-name=leastwise
#SBATCH --array=1-100
#SBATCH --ntasks=1
#SBATCH --cpus-per-task=4
#SBATCH --requeue
# One task of the array answers LINES lines of the questions, on its processors. A task that was
# killed and runs again goes on where it ended; one that is done does nothing.
#
#     lines=$(awk 'END { print NR }' questions.jsonl)
#     sbatch --array=1-$(((lines + 9999) / 10000)) slurm.sh scenario.yaml questions.jsonl pieces
#     leastwise stream --merge --output answers.jsonl questions.jsonl pieces/*.jsonl
set -eu
base=$1 questions=$2 pieces=$3
size=${LINES_PER_TASK:-10000}
first=$(((SLURM_ARRAY_TASK_ID - 1) * size + 1))
mkdir -p "$pieces"
exec "${LEASTWISE:-leastwise}" stream --threads "${SLURM_CPUS_PER_TASK:-1}" --base "$base" --resume \
  --lines "$first-$((first + size - 1))" \
  --output "$pieces/$(printf %06d "$SLURM_ARRAY_TASK_ID").jsonl" "$questions"
