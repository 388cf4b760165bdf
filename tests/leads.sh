#!/bin/bash
# What was measured of the leads themselves: what it does to readings, for how long it counts, and what an instrument that drifted takes
# with it.
. "$(dirname "$0")/lib.sh"
book=$top/examples/leads.lua kit=$top/examples/leads-kit.lua

# begun LINE...: answers up to the first step, and then these
begun() {
	printf 'intake/first: done\nintake/words: weak\nintake/seen: nothing\nintake/seals: none\nintake/keep: nothing\n'
	printf '%s\n' "$@"
}
# rehearse BOOK TRANSCRIPT [KIT]: with in.answers; the screen goes to out.txt
rehearse() { "$halfsplit" run "$1" --kit "${3:-$kit}" --unit SL-3 --by Ada --answers in.answers --transcript "$2" >out.txt 2>err.txt; }
# shows NAME TEXT: the last screen has it
shows() { if tr -s ' \n' '  ' <out.txt | grep -qF -- "$2"; then echo "ok $1"; else no "$1" "no \"$2\" in: $(tail -20 out.txt | tr '\n' ' ') $(cat err.txt)"; fi; }
shows_not() { if tr -s ' \n' '  ' <out.txt | grep -qF -- "$2"; then no "$1" "there is \"$2\""; else echo "ok $1"; fi; }
derives() { if "$halfsplit" audit "$1" 2>&1 | grep -q 'every decision derives again'; then echo "ok $2 audited"; else no "$2" "$("$halfsplit" audit "$1" 2>&1 | head -4)"; fi; }

power=("gate/off/switch: off" "gain/join.source: done" "gate/energise/people: told" "gate/on/switch: on")

# ---- both leads end to end ----
# 1.12 dB together, 0.48 dB of it by the source's table: the meter's lead counts for 0.64 dB, where its own table says 0.37 dB.
begun "meter-good: -0.32" "through: -1.12" "${power[@]}" "gain: -0.53" "!why" >in.answers
rehearse "$book" straight.jsonl
shows "the measured loss goes before the tables" "read -0.53 dBm + straight-through 0.64 dB = 0.11 dBm at J2, U 0.26 dB"
shows "why says where it came from" "straight-through, measured by through: both take 1.12 dB, the source was set 0.48 dB higher"
derives straight.jsonl "the measured loss"
grep -q '"label":"straight-through"' straight.jsonl || no "the transcript names it" "no label"
begun "meter-good: -0.32" "through: not read: no joiner" >in.answers
rehearse "$book" unread.jsonl
shows "leads that could not be joined" "Finding: A lead is bad"
begun "meter-good: -0.32" "through: -3.5" >in.answers
rehearse "$book" bad.jsonl
shows "a lead that takes more than its table" "low: by their tables the meter shows -1.84 dBm to 0.16 dBm"
# The frequency is another one, so the tables stand.
sed 's/straight = { "source lead", "meter lead", level = "0 dBm", freq = "145 MHz" }/straight = { "source lead", "meter lead", level = "0 dBm", freq = "146 MHz" }/' "$book" >other.lua
begun "meter-good: -0.32" "through: -1.12" "${power[@]}" "gain: -0.53" >in.answers
rehearse other.lua other.jsonl
shows "another frequency: the tables stand" "read -0.53 dBm + K2 0.37 dB"
# A break: nobody watched the leads.
begun "meter-good: -0.32" "through: -1.12" "!pause" >in.answers
rehearse "$book" paused.jsonl
printf '%s\n' "gate/off/switch: off" "gain/join.source: done" "gate/energise/people: told" "gate/on/switch: on" "gain: -0.53" >in.answers
"$halfsplit" resume paused.jsonl --answers in.answers >out.txt 2>err.txt
shows "after a resume the tables stand again" "read -0.53 dBm + K2 0.37 dB = -0.16 dBm"
derives paused.jsonl "after a resume"
begun "meter-good: -0.32" "through: -1.12" "gate/off/switch: off" "@+20 min" "gain/join.source: done" "gate/off/switch: off" "gain/join.source: done" "gate/energise/people: told" "gate/on/switch: on" "gain: -0.53" >in.answers
rehearse "$book" break.jsonl
shows "after a break of twenty minutes too" "read -0.53 dBm + K2 0.37 dB"
# A part of the unit leaves the leads as they were; a piece of the leads does not.
for part in A1 K2; do
	sed "s/ok = \"gain\", otherwise = \"bad-lead\",/ok = \"new\", otherwise = \"bad-lead\",/; s/^step \"gain\" {/step \"new\" { replace = \"$part\", outside = true, next = \"gain\" }\n&/" "$book" >new.lua
	begun "meter-good: -0.32" "through: -1.12" "new: a new one" "${power[@]}" "gain: -0.53" >in.answers
	rehearse new.lua "new-$part.jsonl"
	case $part in
	A1) shows "a new part of the unit" "+ straight-through 0.64 dB" ;;
	K2) shows "a new piece of the leads" "read -0.53 dBm + K2 0.37 dB" ;;
	esac
	derives "new-$part.jsonl" "a new $part"
done
# Taken back, it no longer counts; measured again, the new one does.
begun "meter-good: -0.32" "through: -1.12" "!redo" "through: -1.32" "${power[@]}" "gain: -0.53" >in.answers
rehearse "$book" redone.jsonl
shows "measured again" "+ straight-through 0.84 dB"
derives redone.jsonl "measured again"

# ---- zeroed ----
begun "meter-good: -0.32" "through: -1.12" "${power[@]}" "gain: -0.53" "prods: 0.31" "fuse-ohms: 0.42" >in.answers
rehearse "$book" zero.jsonl
shows "their own resistance is taken off" "read 0.42 ohm - 0.31 ohm leads zeroed = 0.11 ohm at F1 against its other end"
derives zero.jsonl "zeroed"
begun "meter-good: -0.32" "through: -1.12" "${power[@]}" "gain: -0.53" "prods: 3" >in.answers
rehearse "$book" long.jsonl
shows "prods that are bad are not taken off" "Finding: A lead is bad"
begun "meter-good: -0.32" "through: -1.12" "${power[@]}" "gain: -0.53" "prods: < 0.1" "fuse-ohms: 0.35" >in.answers
rehearse "$book" bound.jsonl
shows_not "a bound is no number to take off" "leads zeroed ="

# ---- shown good ----
begun "meter-good: -2" >in.answers
rehearse "$book" drifted.jsonl
shows "one that is off at once" "M1 is not shown good. Nothing it said about the unit counts."
shows "blames nobody" "No suspect is implicated."
begun "meter-good: -0.32" "through: -1.12" "${power[@]}" "gain: -3.6" "meter-still-good: -3.3" >in.answers
rehearse "$book" after.jsonl
shows "what it said since is void" "void is through, gain, and what they said of suspects"
shows "suspects are open again" "Neither cleared nor implicated: amp, fuse"
derives after.jsonl "a drifted instrument"
# Shown good in between: what it said before stays.
sed 's/^  low = { to = "meter-still-good", implicates = { "amp" } },/  low = { to = "between", implicates = { "amp" } },/; s/^step "prods"/step "between" { prove = { "meter lead", "power" }, ok = "meter-still-good", otherwise = "drifted" }\n&/' "$book" >between.lua
begun "meter-good: -0.32" "through: -1.12" "${power[@]}" "gain: -3.6" "between: -0.32" "meter-still-good: -3.3" "gate/off/switch: off" "home/part.source: done" >in.answers
rehearse between.lua between.jsonl
shows "shown good in between, what was said before stays" "M1 is not shown good. Nothing it said about the unit counts."
"$halfsplit" show between.jsonl >out.txt
shows "and so does what it said of suspects" "implicated"
grep -v '^known' "$kit" >no-known.lua
begun "meter-good: -0.32" >in.answers
refuses "without a known source" 2 "that no kit gives: a known source of power" "$halfsplit" run "$book" --kit no-known.lua --unit SL-3 --by Ada --answers in.answers
expect "prepare misses it" 1 "a known source, to show meter lead good for power" "$halfsplit" prepare "$book" --kit no-known.lua
expect "prepare lists it" 0 "CS1, the reference at the meter's front, 0 dBm at 100 MHz, for meter lead" "$halfsplit" prepare "$book" --kit "$kit"
sed 's/reads = "power", from = "-60 dBm", to = "20 dBm", freq = "10 MHz/reads = "power", from = "-60 dBm", to = "-5 dBm", freq = "10 MHz/' "$kit" >low-kit.lua
expect "one that the meter cannot read is none" 1 "a known source, to show meter lead good for power" "$halfsplit" prepare "$book" --kit low-kit.lua
sed 's/level = "0 dBm", freq = "145 MHz"/level = "30 dBm", freq = "145 MHz"/' "$book" >strong.lua
expect "more than the meter stands" 1 'puts 30 dBm straight into M1, which stands 27 dBm' "$halfsplit" check strong.lua --kit "$kit"
exit $bad
