#!/bin/bash
# One deliberately wrong playbook for each class of mistake: prove (or check, before it) finds it, with the shortest answers file that shows it; and
# that file, run, shows it.
. "$(dirname "$0")/lib.sh"

# A chain of three stages, 10 dB each, from -40 dBm: -30 dBm behind the first, -20 dBm behind the second, -10 dBm at the end.
mkdir amp
cat >amp/kit.lua <<'END'
lead "L1" {} lead "L2" {} lead "L3" {}
instrument "M" { reads = "power", from = "-80 dBm", to = "20 dBm", freq = "1 MHz .. 1 GHz", u = "0.2 dB", impedance = "50 ohm", max = { rf = "27 dBm" } }
instrument "G" { gives = { from = "-60 dBm", to = "0 dBm", freq = "1 MHz .. 1 GHz", u = "0.2 dB" }, impedance = "50 ohm" }
instrument "D" { reads = { volts = { from = "-600 V", to = "600 V", u = "1 %" } } }
hookup "source" { "L1", "G" }
hookup "meter"  { "L2", "M" }
hookup "prods"  { "L3", "D" }
END
cat >amp/right.lua <<'END'
playbook { id = "right", title = "Output low", family = "Tarnbeck Fell", first = { "Take the aerial off." } }
unit { supply = { dc = "15 V" }, parts = { lid = { fixings = "4 x M3" } }, switch = "the rocker" }
point "J1" { accepts = "0 dBm", impedance = "50 ohm" }
point "TP1" { behind = { "lid" }, impedance = "50 ohm" }
point "TP2" { behind = { "lid" }, impedance = "50 ohm" }
point "TP9" { behind = { "lid" }, dc = "15 V" }
point "J2" { gives = "0 dBm", impedance = "50 ohm" }
suspect "a1" { modes = { "dead", "weak" } }
suspect "a2" { modes = { "dead", "weak" } }
suspect "a3" { modes = { "dead", "weak" } }
lineup "chain" { impedance = "50 ohm",
  port  { "J1" },
  stage { "a1", gain = "10 dB +/- 0.5 dB", faults = { weak = "gain -6 dB" } }, point { "TP1" },
  stage { "a2", gain = "10 dB +/- 0.5 dB", faults = { weak = "gain -6 dB" } }, point { "TP2" },
  stage { "a3", gain = "10 dB +/- 0.5 dB", faults = { weak = "gain -6 dB" } }, port { "J2" },
}
step "output" {
  power = "on", inject = { "-40 dBm", at = "J1", freq = "100 MHz", hookup = "source" }, minutes = 2,
  read  = { "power", at = "J2", hookup = "meter" }, expect = { "chain", worst = true, wider = "1 dB" },
  ok = "fine", low = "middle", otherwise = "unclear",
}
step "middle" {
  power = "on", open = { "lid" }, inject = { "-40 dBm", at = "J1", freq = "100 MHz", hookup = "source" }, minutes = 5,
  read  = { "power", at = "TP1", hookup = "meter" }, expect = { "chain", worst = true, wider = "1 dB" },
  ok = { to = "behind", clears = { "a1" } }, low = "found-a1", otherwise = "unclear",
}
step "behind" {
  power = "on", open = { "lid" }, inject = { "-40 dBm", at = "J1", freq = "100 MHz", hookup = "source" }, minutes = 5,
  read  = { "power", at = "TP2", hookup = "meter" }, limits = "-20 dBm +/- 3 dB",
  ok = { to = "found-a3", clears = { "a2" } }, low = "found-a2", otherwise = "unclear",
}
step "fine"     { finding = "nothing is wrong with it", suspects = {} }
step "found-a1" { finding = { "a1" } }
step "found-a2" { finding = { "a2" } }
step "found-a3" { finding = { "a3" } }
step "unclear"  { finding = { "a1", "a2", "a3" }, separated = false }
END
expect "the right one" 0 "0 wrong, 0 too wide" "$halfsplit" prove amp/right.lua --seeds 200
grep -q "not told apart" out.txt && no "the right one" "$(grep told out.txt)"

wrong() { # wrong NAME SED: the chain, spoiled in one place
	sed "s/id = \"right\"/id = \"wrong\"/;$2" amp/right.lua >amp/wrong.lua
	cmp -s <(sed 's/id = "right"/id = "wrong"/' amp/right.lua) amp/wrong.lua && no "$1" "nothing was spoiled"
}
# shows NAME FAULT FINDING: prove says that this fault ends there, and the answers it gives, run, end there too.
shows() {
	expect "$1" 1 "end wrong: at $3" "$halfsplit" prove amp/wrong.lua --seeds 20
	awk -v fault="  $2 " 'substr($0, 1, length(fault)) == fault { on = 1; next } /^  [^ ]/ && !/shortest answers/ { on = 0 } on && /shortest/ { take = 1; next } on && take && /^    / { print substr($0, 5) }' out.txt >wrong.answers
	[ -s wrong.answers ] || no "$1" "there is no answers file: $(cat out.txt)"
	expect "$1: its answers, run" 0 "Finding: $3" "$halfsplit" run amp/wrong.lua --unit F-1 --by Proof --answers wrong.answers
}

wrong "two branches swapped" 's/ok = { to = "behind", clears = { "a1" } }, low = "found-a1"/ok = "found-a1", low = { to = "behind" }/'
shows "two branches swapped" a1/dead found-a2
[ "$(grep -c '^[a-z].*/\|^[a-z-]*: ' wrong.answers)" -ge 5 ] || no "two branches swapped" "the file is no run"

# 6 dB are missing there, and the limits, 3 dB lower and so much wider, still hold it.
wrong "a limit 3 dB off" 's/limits = "-20 dBm +\/- 3 dB"/limits = "-23 dBm +\/- 4 dB"/'
shows "a limit 3 dB off" a2/weak found-a3
grep -q '^behind: -26' wrong.answers || no "a limit 3 dB off" "$(cat wrong.answers)"
# The line-up says it too, before anything is played: both numbers.
wrong "a limit far off" 's/limits = "-20 dBm +\/- 3 dB"/limits = "-27 dBm +\/- 3 dB"/'
expect "a limit the line-up contradicts" 0 "-27 dBm" "$halfsplit" check amp/wrong.lua
grep -q -- "-20" out.txt || no "a limit the line-up contradicts" "$(cat out.txt)"

# Nothing between TP1 and the end can be read: a2 and a3 look alike, and the finding names one of them.
wrong "a pair not separable" 's/ok = { to = "behind", clears = { "a1" } }/ok = { to = "found-a3", clears = { "a1" } }/;/^step "behind"/,/^}/d;/^step "found-a2"/d'
shows "a pair not separable" a2/dead found-a3
wrong "a pair that is named" 's/ok = { to = "behind", clears = { "a1" } }/ok = { to = "found-a3", clears = { "a1" } }/;/^step "behind"/,/^}/d;/^step "found-a2"/d;s/finding = { "a3" }/finding = { "a2", "a3" }, separated = false/'
expect "a pair that is named" 0 "not told apart: a2/dead and a3/dead (found-a3)" "$halfsplit" prove amp/wrong.lua
expect "a pair as data" 0 '{"one":"a2/dead","other":"a3/dead","finding":"found-a3"}' "$halfsplit" prove amp/wrong.lua --json

# These never come as far as a proof.
wrong "no power said" '/^step "middle"/,/^}/s/power = "on", //'
expect "no power said" 1 "wrong.lua:22: error:" "$halfsplit" prove amp/wrong.lua
grep -qi 'power' out.txt || no "no power said" "$(cat out.txt)"
wrong "an undeclared hazard" 's/dc = "15 V" }$/dc = "400 V" }/'
expect "an undeclared hazard" 1 'wrong.lua:6: error: the point "TP9" is at 400 V, and the unit declares nothing in that zone' "$halfsplit" prove amp/wrong.lua
exit $bad
