#!/bin/bash
# halfsplit run --sim: a simulated unit answers to a finding; the same seed gives the same run; what it is asked to be must be possible.
. "$(dirname "$0")/lib.sh"
command -v jq >/dev/null || "$top/tests/tools.sh" jq || { echo "not ok simulated: jq is not installed"; exit 1; }
export HALFSPLIT_PLAYBOOKS=$top/playbooks

expect "to the finding" 0 "Finding: Oscillator level, brought back with R12" "$halfsplit" run fell/low-output --sim lo-buffer/sunk --seed 7 --transcript one.jsonl
mv out.txt one.txt
grep -q "^REHEARSAL: the answers come from a simulated unit lo-buffer/sunk, seed 7; no unit is touched" one.txt || no "to the finding" "$(head -1 one.txt)"
grep -q '"rehearsal":{"by":"simulated unit lo-buffer/sunk, seed 7"}' one.jsonl || no "to the finding" "the transcript does not say who answered"
grep -q "The run is closed" one.txt || no "to the finding" "it is not closed"
expect "derives again" 0 "every decision derives again from the answers" "$halfsplit" audit one.jsonl
grep -q "REHEARSAL" out.txt || no "derives again" "it could pass as real"

"$halfsplit" run fell/low-output --sim lo-buffer/sunk --seed 7 --transcript two.jsonl >two.txt 2>err.txt
cmp -s one.jsonl two.jsonl && [ "$(sed 's/two.jsonl/one.jsonl/' two.txt)" = "$(cat one.txt)" ] && echo "ok the same seed twice" ||
	no "the same seed twice" "two runs differ"
"$halfsplit" run fell/low-output --sim lo-buffer/sunk --seed 8 --transcript three.jsonl >three.txt 2>err.txt
read_values() { jq -r 'select(.kind == "corrected") | .value' "$1"; }
[ "$(read_values one.jsonl)" != "$(read_values three.jsonl)" ] && echo "ok another seed is another unit" || no "another seed is another unit" "it reads the same"
"$halfsplit" run fell/low-output --sim lo-buffer/sunk --transcript nominal.jsonl >nominal.txt 2>err.txt
"$halfsplit" run fell/low-output --sim lo-buffer/sunk --seed 0 --transcript zero.jsonl >zero.txt 2>err.txt
cmp -s nominal.jsonl zero.jsonl && echo "ok seed 0 unless given" || no "seed 0 unless given" "they differ"

expect "a unit in order" 0 "The fault does not show" "$halfsplit" run copse/no-output --sim none --seed 3 --transcript four.jsonl
expect "of a name and a serial" 0 "unit CP-9" "$halfsplit" run copse/no-output --sim c7/dried --unit CP-9 --by Ada --transcript five.jsonl
expect "from a step" 0 "It begins at the step output-level" \
	"$halfsplit" run fell/low-output --sim mixer --seed 2 --from output-level --transcript six.jsonl
expect "one that is keyed" 0 "Finding: Q3, final, weak" "$halfsplit" run garth/low-power --sim "q3/low gain" --seed 5 --transcript seven.jsonl

refuses "no such suspect" 2 'this playbook has no suspect "fuze"' "$halfsplit" run fell/low-output --sim fuze --transcript no.jsonl
refuses "no such mode" 2 'the suspect "fuse" has no mode "shut"' "$halfsplit" run fell/low-output --sim fuse/shut --transcript no.jsonl
refuses "two who answer" 2 "--sim and --answers do not go together" "$halfsplit" run fell/low-output --sim fuse --answers one.txt --transcript no.jsonl
refuses "without a playbook" 2 "--sim and --freehand do not go together" "$halfsplit" run --freehand --sim fuse --transcript no.jsonl
refuses "a seed alone" 2 "--seed draws a simulated unit, and there is none" "$halfsplit" run fell/low-output --seed 3 --transcript no.jsonl
refuses "a seed that is none" 2 "--seed many is no number" "$halfsplit" run fell/low-output --sim fuse --seed many --transcript no.jsonl
[ -e no.jsonl ] && no "refused" "a transcript was begun all the same"

# What cannot be there is not taken at the bench either: a sentence, and no loop.
cp -r "$top/playbooks/fell" fell
sed -i 's/C1 = "12 ohm"/TP6 = "40 V"/; s/shows = { short = { \["intake\/entry"\] = "nothing", \["power-lamp"\] = "dark", \["fuse-reading"\] = "OL", TP6/shows = { short = { TP6/' fell/low-output.lua
expect "an answer that is not taken" 2 'The simulated unit has "40.00 V" typed at rails/p5, and that is not taken there.' \
	timeout 20 "$halfsplit" run fell/low-output.lua --sim primary/short --transcript eight.jsonl
sed -i 's/settings = "right", //' fell/low-output.lua
expect "a look of which nothing is said" 2 "nothing says what a unit in order shows at settings" \
	timeout 20 "$halfsplit" run fell/low-output.lua --sim lna/dead --transcript nine.jsonl

# A grid by its line-up: limits and what each row goes through come from it, the source stands at the column, and a pattern points at one element.
mkdir bank
cat >bank/kit.lua <<'END'
lead "L1" {} lead "L2" {}
instrument "M" { reads = "power", from = "-90 dBm", to = "20 dBm", freq = "1 MHz .. 1 GHz", u = "0.2 dB", impedance = "50 ohm", max = { rf = "27 dBm" } }
instrument "G" { gives = { from = "-60 dBm", to = "0 dBm", freq = "1 MHz .. 1 GHz", u = "0.2 dB" }, impedance = "50 ohm" }
hookup "source" { "L1", "G" }
hookup "meter"  { "L2", "M" }
END
cat >bank/bank.lua <<'END'
playbook { id = "bank", title = "Weak", family = "Tarnbeck Fell", first = { "Take the aerial off." } }
unit { supply = { dc = "15 V" }, controls = { band = { "low", "high" } }, switch = "the rocker" }
point "J1" { accepts = "0 dBm", impedance = "50 ohm" }
point "J2" { gives = "0 dBm", impedance = "50 ohm" }
suspect "fl-low"  { modes = { "dead", "lossy" } }
suspect "fl-high" { modes = { "dead", "open" } }
suspect "a1"      { modes = { "weak" } }
lineup "way" { impedance = "50 ohm",
  port { "J1" },
  switch { "bank", by = "band", loss = "0.3 dB +/- 0.1 dB", ways = {
    low  = { stage { "fl-low", loss = "1 dB +/- 0.3 dB", faults = { lossy = "resistive 200 ohm" } } },
    high = { stage { "fl-high", loss = "2 dB +/- 0.3 dB", faults = { open = "open 1 pF" } } },
  } },
  stage { "a1", gain = { ["10 MHz"] = "20 dB", ["500 MHz"] = "16 dB" }, tolerance = "0.5 dB", faults = { weak = "gain -8 dB" } },
  port { "J2" },
}
step "bands" {
  power = "on", inject = { "-40 dBm", at = "J1", freq = "30 MHz", hookup = "source" },
  grid = {
    columns = { "20 MHz", "60 MHz", "200 MHz" }, through = "way", expect = { "way", worst = true, wider = "0.5 dB" },
    rows = { { "low", set = { band = "low" } }, { "high", set = { band = "high" } } },
    read = { "power", at = "J2", hookup = "meter" },
  },
  ok = "fine", low = "found", otherwise = "found",
}
step "found" { finding = {}, separated = false, title = "see what is implicated" }
step "fine"  { finding = "nothing is wrong with it", suspects = {} }
END
sed -i 's/step "found" .*/step "found" { finding = { "fl-low", "fl-high", "a1" }, separated = false }/' bank/bank.lua
points() { # points FAULT IMPLICATED CLEARED
	rm -f bank.jsonl
	expect "a grid and $1" 0 "Finding: " "$halfsplit" run bank/bank.lua --sim "$1" --seed 3 --transcript bank.jsonl
	local says
	says=$(jq -r 'select(.kind == "moved" and .from == "bands") | "\((.implicates // []) | join(",")) \((.clears // []) | join(","))"' bank.jsonl)
	[ "$says" = "$2 $3" ] || no "a grid and $1" "implicated and cleared: $says"
}
points fl-low/dead fl-low fl-high,a1
points fl-low/lossy fl-low fl-high,a1
points fl-high/open fl-high fl-low,a1
points none "" fl-low,fl-high,a1
# 8 dB lost in both rows: nothing is cleared, and all three are left.
points a1/weak fl-low,fl-high,a1 ""
sed 's/through = "way"/through = "road"/' bank/bank.lua >bank/road.lua
expect "a way nobody declared" 1 'there is no line-up "road"' "$halfsplit" check bank/road.lua
# By a law: 1 dB that goes with the root, 0.5 dB with frequency, at 80 MHz. At 20 MHz 0.5 + 0.125 dB; -40 - 0.3 - 0.625 + 19.918 dB of A1 = -21.007 dBm.
sed 's/"fl-low", loss = "1 dB +\/- 0.3 dB"/"fl-low", law = { root = "1 dB", linear = "0.5 dB", at = "80 MHz" }, tolerance = "0.3 dB"/' bank/bank.lua >bank/law.lua
sed -i 's/id = "bank"/id = "law"/' bank/law.lua
expect "a law of loss" 0 "bands/low.1: -21.01 dBm" "$halfsplit" prove bank/law.lua --fault none
# A gap with 1 pF across it: about 20 dB less is missing for each decade, and the slope says so where it was read.
"$halfsplit" prove bank/bank.lua --fault fl-high/open | awk '/^[a-z].*: / && !/^bank: / { print } /^bands\/high\.3: / { print "!show" }' >gap.answers
expect "the slope of a gap" 0 "is falling with" "$halfsplit" run bank/bank.lua --unit F-1 --by Proof --answers gap.answers --transcript gap.jsonl
grep -q "frequency by 19.9 dB a decade, as of a gap" out.txt || no "the slope of a gap" "$(grep -A1 missing out.txt)"
exit $bad
