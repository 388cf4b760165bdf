#!/bin/bash
# Ratios, taken side by side in one run, because these machines are noisy. Nothing here fails a build; it prints figures beside what is wanted.
set -eu
cd "$(dirname "$0")/.."
BUILD=${BUILD:-build}
tests/tools.sh hyperfine strace time lua5.4 jq valgrind
here=$(mktemp -d -p /dev/shm)
trap 'rm -rf "$here"' EXIT
export HALFSPLIT_RUNS=$here LC_ALL=C
fell="$BUILD/halfsplit run fell/low-output --unit F-1 --by Maren"
answers=$here/in.answers
sed "s/Maren Aldous/Maren/" tests/golden/fell-limiter/in.answers >"$answers"
: >"$here/none.answers"

echo "== first question on screen, beside an empty Lua (wanted: at most 3)"
# In turns, so that a noisy minute falls on both. Whatever else runs only adds to a time, so a turn has the ratio of its shortest
# times, and the middle one of the turns counts.
turns=9
for turn in $(seq $turns); do
	hyperfine -w 10 -r 60 -i --shell=none --prepare "rm -f $here/first.jsonl" --export-json "$here/start.$turn.json" \
		"lua5.4 -e ''" "$fell --answers $here/none.answers --transcript $here/first.jsonl" >/dev/null 2>&1
done
jq -s '{lua: (map(.results[0].min) | sort), ours: (map(.results[1].min) | sort),
	ratio: (map(.results[1].min / .results[0].min) | sort)}' "$here"/start.*.json >"$here/start.json"
jq -r 'def us: . * 1e6 | round / 1000; def two: . * 100 | round / 100; (.ratio | length / 2 | floor) as $m |
	"empty Lua \(.lua[$m] | us) ms, first question \(.ours[$m] | us) ms, ratio \(.ratio[$m] | two) (\(.ratio[0] | two) to \(.ratio[-1] | two) in \(.ratio | length) turns)"' \
	"$here/start.json"

echo "== from an answer to the next question (wanted: at most 2 ms beside the sync)"
count=$(grep -cvE '^(#|$)' "$answers")
hyperfine -w 3 -r 30 -i --shell=none --prepare "rm -f $here/whole.jsonl" --export-json "$here/whole.json" \
	"$fell --answers $answers --transcript $here/whole.jsonl" >/dev/null 2>&1
first=$(jq '.ours[.ours | length / 2 | floor]' "$here/start.json")
jq -r --argjson n "$count" --argjson f "$first" '"\($n) answers in \(.results[0].min*1e3*100|round/100) ms: \((.results[0].min-$f)*1e3/$n*1000|round/1000) ms each"' "$here/whole.json"

echo "== writes and syncs per answer (wanted: one and one)"
rm -f "$here/traced.jsonl"
strace -f -e trace=openat,write,fdatasync,fsync -o "$here/trace" $fell --answers "$answers" --transcript "$here/traced.jsonl" >/dev/null || true
fd=$(grep -m1 'traced.jsonl.*O_CREAT' "$here/trace" | sed -E 's/.* = ([0-9]+)$/\1/')
writes=$(grep -cE "write\($fd," "$here/trace" || true)
syncs=$(grep -cE "fdatasync\($fd\)" "$here/trace" || true)
events=$(jq -r 'select(.event!=null)|.event' "$here/traced.jsonl" | wc -l)
echo "$events events; $writes writes and $syncs syncs of the transcript, of which 1 and 1 belong to its opening"

echo "== complete simulated Fell runs a second of the processor (wanted: at least 20000), beside nested ifs in plain Lua (wanted: at most 25)"
/usr/bin/time -o "$here/played.time" -f '%U' "$BUILD/halfsplit" prove fell/low-output --seeds 10000 --json >"$here/played.json"
/usr/bin/time -o "$here/ifs.time" -f '%U' lua5.4 tests/measure/walks.lua 10000 >"$here/ifs"
read -r walks wrong <"$here/ifs"
[ "$wrong" = 0 ] || echo "the nested ifs end wrong $wrong times"
jq -r --argjson s "$(cat "$here/played.time")" --argjson l "$(cat "$here/ifs.time")" --argjson w "$walks" \
	'([.faults[].runs] | add) as $n | "\($n) runs in \($s) s: \($n / $s | floor) a second; plain Lua \($w / $l | floor), ratio \(($w / $l) / ($n / $s) * 10 | round / 10)"' \
	"$here/played.json"

echo "== the outcomes of each playbook (wanted: under 2 s for the largest)"
for playbook in fell/low-output copse/no-output garth/low-power linnet/channel-weak sill/weak-or-silent; do
	/usr/bin/time -o "$here/space.time" -f '%e' "$BUILD/halfsplit" prove "$playbook" --seeds 0 --json >"$here/space.json"
	jq -r --arg p "$playbook" --argjson s "$(cat "$here/space.time")" '"\($p): \(.states) states in \($s) s, with three runs of each fault"' "$here/space.json"
done

echo "== memory of a proof by its runs (wanted: the same for all)"
for seeds in 10 1000 10000; do
	/usr/bin/time -f "$seeds draws of each fault: %M KiB at its peak" "$BUILD/halfsplit" prove fell/low-output --seeds $seeds 2>&1 >/dev/null
done

echo "== memory of a whole run (wanted: under 16384 KiB)"
rm -f "$here/whole.jsonl"
/usr/bin/time -f '%M KiB at its peak' $fell --answers "$answers" --transcript "$here/whole.jsonl" 2>&1 >/dev/null | tail -1

echo "== a Touchstone file of 50 MB: loss at 1 GHz, beside counting its words (wanted: ratio at most 1, memory at most 3)"
lead=$here/lead.s2p
awk 'BEGIN {
	print "! a lead, generated\n# Hz S DB R 50"
	for (i = 1; size < 50e6; i++) {
		line = sprintf("%.0f %.6f %.4f %.6f %.4f %.6f %.4f %.6f %.4f", 1000000 + i * 10000, -30 - i % 97 / 10, i % 360 - 180,
			-0.2 - i / 500000, -(i * 7 % 360) / 2, -0.2 - i / 500000, -(i * 7 % 360) / 2, -28 - i % 89 / 10, i % 350 - 170)
		size += length(line) + 1
		print line
	}
}' >"$lead"
hyperfine -w 1 -r 7 --shell=none --export-json "$here/lead.json" "wc -w $lead" "$BUILD/halfsplit loss $lead --at 1GHz" >/dev/null 2>&1
jq -r '.results | "wc -w \(.[0].median*1e3|round) ms, loss \(.[1].median*1e3|round) ms, ratio \(.[1].median/.[0].median*100|round/100)"' "$here/lead.json"
held=$(($(grep -c '^[0-9]' "$lead") * 9))
peak=$(/usr/bin/time -f '%M' "$BUILD/halfsplit" loss "$lead" --at 1GHz 2>&1 >/dev/null | tail -1)
echo "$(stat -c %s "$lead") bytes, $held numbers; $peak KiB at its peak, $(awk "BEGIN { printf \"%.2f\", $peak * 1024 / ($held * 8) }") times what they take"
rm -f "$lead"

echo "== a loss between two of 10,000 points (wanted: under 200 ns of the processor)"
lookup=$here/lookup
make --no-print-directory BUILD="$BUILD" lib >/dev/null
"${CC:-gcc}" -std=c17 -O2 -D_GNU_SOURCE -Iinclude -o "$lookup" tests/measure/lookup.c "$BUILD/libhalfsplit.a" -lm
counted() { # counted WORD COUNT: instructions, as callgrind counts them
	valgrind --tool=callgrind --callgrind-out-file="$here/callgrind.out" "$lookup" "$1" "$2" 2>&1 | sed -n 's/.*Collected : //p'
}
ran=1000
nothing=$(counted loss 0) whole=$(counted loss $ran) plain=$(counted plain $ran)
echo "$("$lookup" time) ns; $(((whole - nothing) / ran)) instructions, a plain binary search over the same points $(((plain - nothing) / ran))"
