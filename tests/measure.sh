#!/bin/bash
# Ratios, taken side by side in one run, because these machines are noisy. Nothing here fails a build; it prints figures beside what is wanted.
set -eu
cd "$(dirname "$0")/.."
BUILD=${BUILD:-build}
tests/tools.sh hyperfine strace time lua5.4 jq
here=$(mktemp -d -p /dev/shm)
trap 'rm -rf "$here"' EXIT
export HALFSPLIT_RUNS=$here LC_ALL=C
fell="$BUILD/halfsplit run fell/low-output --unit F-1 --by Maren"
answers=$here/in.answers
sed "s/Maren Aldous/Maren/" tests/golden/fell-limiter/in.answers >"$answers"
: >"$here/none.answers"

echo "== first question on screen, beside an empty Lua (wanted: at most 3)"
hyperfine -w 5 -r 60 -i --shell=none --prepare "rm -f $here/first.jsonl" --export-json "$here/start.json" \
	"lua5.4 -e ''" "$fell --answers $here/none.answers --transcript $here/first.jsonl" >/dev/null 2>&1
jq -r '.results | "empty Lua \(.[0].median*1e3*100|round/100) ms, first question \(.[1].median*1e3*100|round/100) ms, ratio \(.[1].median/.[0].median*100|round/100)"' "$here/start.json"

echo "== from an answer to the next question (wanted: at most 2 ms beside the sync)"
count=$(grep -cvE '^(#|$)' "$answers")
hyperfine -w 3 -r 30 -i --shell=none --prepare "rm -f $here/whole.jsonl" --export-json "$here/whole.json" \
	"$fell --answers $answers --transcript $here/whole.jsonl" >/dev/null 2>&1
first=$(jq '.results[1].median' "$here/start.json")
jq -r --argjson n "$count" --argjson f "$first" '"\($n) answers in \(.results[0].median*1e3*100|round/100) ms: \((.results[0].median-$f)*1e3/$n*1000|round/1000) ms each"' "$here/whole.json"

echo "== writes and syncs per answer (wanted: one and one)"
rm -f "$here/traced.jsonl"
strace -f -e trace=openat,write,fdatasync,fsync -o "$here/trace" $fell --answers "$answers" --transcript "$here/traced.jsonl" >/dev/null || true
fd=$(grep -m1 'traced.jsonl.*O_CREAT' "$here/trace" | sed -E 's/.* = ([0-9]+)$/\1/')
writes=$(grep -cE "write\($fd," "$here/trace" || true)
syncs=$(grep -cE "fdatasync\($fd\)" "$here/trace" || true)
events=$(jq -r 'select(.event!=null)|.event' "$here/traced.jsonl" | wc -l)
echo "$events events; $writes writes and $syncs syncs of the transcript, of which 1 and 1 belong to its opening"

echo "== memory of a whole run (wanted: under 16384 KiB)"
rm -f "$here/whole.jsonl"
/usr/bin/time -f '%M KiB at its peak' $fell --answers "$answers" --transcript "$here/whole.jsonl" 2>&1 >/dev/null | tail -1
