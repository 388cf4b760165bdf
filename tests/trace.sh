#!/bin/bash
# A trace held against a mask: each outcome, what is refused, what the transcript keeps, and at a terminal.
set -u
. "$(dirname "$0")/lib.sh"

mkdir masks
cat >if.lua <<'LUA'
playbook { id = "if", title = "IF response", family = "Tarnbeck Sill", first = { "Take the feed off." } }
unit { supply = { dc12 = "12 V" } }
point "J2" { gives = "+5 dBm", impedance = "50 ohm" }
suspect "fl2" { title = "FL2", modes = { "detuned" } }
step "shape" {
  power = "on", read = { "trace", at = "J2", hookup = "lead", mask = "masks/if.csv" },
  ok = { to = "is-ok", clears = { "fl2" } }, low = { to = "is-low", implicates = { "fl2" } }, high = "is-high", unsure = "is-unsure", unread = "is-unread",
}
for _, word in ipairs { "ok", "low", "high", "unsure", "unread" } do step("is-" .. word) { finding = word, suspects = {} } end
LUA
cat >masks/if.csv <<'CSV'
frequency,min,max
60 MHz,-30 dBm,-10 dBm
70 MHz,-20 dBm,-10 dBm
80 MHz,-30 dBm,-10 dBm
CSV
cat >kit.lua <<'LUA'
cable "K1" { type = "RG-58C/U", length = "20 m", u = "0.1 dB" }
instrument "S1" { reads = { "power" }, from = "-100 dBm", to = "20 dBm", freq = "1 MHz .. 1 GHz", u = "0.4 dB", max = { rf = "1 W" }, impedance = "50 ohm" }
hookup "lead" { "K1", "S1" }
LUA
printf '%s\n' 'intake/first: done' 'intake/words: dull' 'intake/seen: nothing' 'intake/seals: none' 'intake/keep: none' 'gate/off/switch: off' \
	'gate/energise/people: told' 'gate/on/switch: on' >begin.answers

sweep() { printf 'MHz\n60,%s\n65,%s\n70,%s\n75,%s\n80,%s\n' "$@" >t.csv; } # the levels at 60, 65, 70, 75, 80 MHz as the analyser shows them
outcome() { # outcome WORD WHERE
	{ cat begin.answers; echo "shape: ${file:-t.csv}"; echo '!why'; } >run.answers
	rm -f run.jsonl
	expect "$1" 4 "$1, so the search ends: is-$1" "$halfsplit" run if.lua --unit 1 --by "Ada Wren" --answers run.answers --transcript run.jsonl
	grep -qF -- "$2" out.txt || no "$1" "no \"$2\" in: $(grep -A3 'read ' out.txt | head -8)"
	"$halfsplit" audit run.jsonl >audit.txt 2>&1 || no "$1" "$(cat audit.txt)"
}
# The cable takes about 2.2 dB at 70 MHz, so -17 is about -14.8 at J2.
sweep -20 -20 -17 -20 -20
outcome ok "the worst point, at 70 MHz"
grep -q '"text":"trace t.csv [0-9a-f]*\\n60000000 -20\\n' run.jsonl || no ok "the transcript does not hold the trace"
grep -q "\"trace\":\"t.csv, 5 points, SHA-256 $(sha256sum <t.csv | cut -c1-64)\"" run.jsonl || no ok "the digest is not that of the file"
"$halfsplit" show run.jsonl >sheet.txt
grep -q 'typed trace t.csv' sheet.txt || no ok "the job sheet does not name the file"
grep -q '65000000' sheet.txt && no ok "the job sheet holds the whole trace"
sweep -20 -20 -24 -20 -20
outcome low "the worst point, at 70 MHz"
sweep -20 -20 -17 -20 -8
outcome high "the worst point, at 80 MHz"
sweep -20 -20 -17 -20 -12.4
outcome unsure "the worst point, at 80 MHz"
# The loss is that of each frequency: at one for all, this would pass.
grep -q 'K1, RG-58C/U' out.txt || no unsure "why does not name the cable"
file='not read: no analyser here' outcome unread "no analyser here"

refused() { # refused NAME TEXT LINE...: the file has these lines
	local what=$1 text=$2
	shift 2
	printf '%s\n' "$@" >bad.csv
	{ cat begin.answers; echo "shape: bad.csv"; } >run.answers
	rm -f run.jsonl
	expect "$what" 2 "$text" "$halfsplit" run if.lua --unit 1 --by "Ada Wren" --answers run.answers --transcript run.jsonl
	grep -q '"ask":"shape","text"' run.jsonl && no "$what" "something was recorded for it"
}
refused "a comma" "bad.csv:2: commas and semicolons" "60e6;-20" "60,5e6;-20"
refused "no numbers" "it has 0 rows" "hello"
refused "an unknown line" "bad.csv:3: this line is no row of a trace" "60e6,-20" "70e6,-20" "end"
falls_short() { # the file is good and does not fit the mask: asked again, and recorded
	local what=$1 text=$2
	shift 2
	printf '%s\n' "$@" >bad.csv
	{ cat begin.answers; echo "shape: bad.csv"; } >run.answers
	rm -f run.jsonl
	expect "$what" 4 "$text" "$halfsplit" run if.lua --unit 1 --by "Ada Wren" --answers run.answers --transcript run.jsonl
	grep -q '"ask":"shape","text".*"accepted":false' run.jsonl || no "$what" "it is not recorded as not taken"
	"$halfsplit" audit run.jsonl >audit.txt 2>&1 || no "$what" "$(cat audit.txt)"
}
falls_short "too short" "the trace goes from 60000000 Hz" "60e6,-20" "70e6,-20" "79e6,-20"
falls_short "with a gap" "the trace has no point from 60000000 Hz to 70000000 Hz" "59e6,-20" "71e6,-20" "81e6,-20"

# At a terminal a wrong name is one sentence, and it is asked again.
mapfile -t words < <(sed 's/^[^:]*: /|/' begin.answers)
person "${words[@]}" "|none.csv" "none.csv|12" "|t.csv" "|!pause" -- "$halfsplit" run if.lua --unit 1 --by Ada --transcript typed.jsonl >out.txt
grep -q 'the trace "none.csv" cannot be opened' screen.txt || no "a missing file" "$(tail -5 screen.txt)"
grep -q '"step":"shape".*"trace":"t.csv, 5 points' typed.jsonl || no "typed" "$(tail -5 screen.txt)"
grep -q 'none.csv' typed.jsonl && no "a missing file" "its name is recorded as an answer"
echo "ok typed at a terminal"
exit $bad
