#!/bin/bash
# What a technician sees: a Fell that gives no output, isolated from the answers in examples/fell-demo.answers.
set -eu
cd "$(dirname "$0")/.."
halfsplit=${BUILD:-build}/halfsplit
runs=${HALFSPLIT_RUNS:-${XDG_STATE_HOME:-$HOME/.local/state}/halfsplit/demo}
mkdir -p "$runs"
transcript=$runs/demo-$(date -u +%Y%m%dT%H%M%SZ)-$$.jsonl

echo "A Tarnbeck Fell stands on the bench and gives no output. The answers are played from examples/fell-demo.answers;"
echo "everything else is what you would see yourself."
echo
"$halfsplit" run fell/low-output --unit F-0417 --by "Maren Aldous" --answers examples/fell-demo.answers --transcript "$transcript"

echo
echo "== The report of that run =="
"$halfsplit" show "$transcript" --as text

echo
echo "== The audit: is every line whole, and does every decision follow from the answers? =="
"$halfsplit" audit "$transcript"

echo
echo "The transcript is $transcript"
echo "To do the same yourself, at this terminal:  $halfsplit run fell/low-output"
