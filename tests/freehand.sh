#!/bin/bash
# Freehand runs from the command line: what begins one, that it pauses and resumes, and that its transcript holds together and nothing else does.
. "$(dirname "$0")/lib.sh"
export HALFSPLIT_PLAYBOOKS=$top/playbooks

refuses "no playbook" 2 "where none fits, halfsplit run --freehand" "$halfsplit" run
refuses "an unknown family" 2 'did you mean garth?' "$halfsplit" run --freehand gart --answers "$top/tests/golden/free-bare/in.answers"
refuses "a playbook is no family" 2 "this is a playbook, and a family was wanted" "$halfsplit" run --freehand "$top/playbooks/fell/low-output.lua" \
	--answers "$top/tests/golden/free-bare/in.answers"
refuses "two families" 2 "run takes PLAYBOOK" "$halfsplit" run --freehand garth fell

# ---- pause and resume ----
head -12 "$top/tests/golden/free-garth/in.answers" | sed "s/stands.pad: 0 dB/stands.pad: unknown/" >part.answers
expect "a freehand run pauses" 4 "halfsplit resume" "$halfsplit" run --freehand garth --unit G-1 --by "Ida Brandt" --answers part.answers --transcript g.jsonl
expect "it is audited" 0 "every decision derives again" "$halfsplit" audit g.jsonl
next=$(tail -2 g.jsonl | head -1 | sed -n 's/.*"ask":"\([^"]*\)".*/\1/p')
printf '%s\n' "gate/off/unkeyed: unkeyed" "gate/off/switch: off" "!redo" "free/4: wiggle the lead" "free/4: saw smoke marks at Q3" "free/5: b q3" \
	"free/6: find q3: burnt" \
	"home/set.band: done" "home/set.pad: done" >more.answers
expect "it is resumed" 0 "Found: q3" "$halfsplit" resume g.jsonl --by "Ben Holt" --answers more.answers
[ -n "$next" ] || no "it is resumed" "nothing was asked at the pause"
expect "and audited whole" 0 "complete" "$halfsplit" audit g.jsonl
expect "the sheet has the evidence" 0 "seen: smoke marks at Q3" "$halfsplit" show g.jsonl
grep -q 'wiggle' out.txt && no "the sheet" "what was not taken floods it"
grep -q '3 lines were typed and not taken; the transcript has them' out.txt || no "the sheet" "it does not say that something was not taken"
grep -q 'wiggle the lead' g.jsonl || no "the transcript" "what was not taken is not there"
expect "the sheet as data" 0 '"freehand' "$halfsplit" show g.jsonl --as json

# ---- what must not hold together ----
# rewrite NAME SED: the chain made good again over changed lines, so that only the fold can tell
rewrite() {
	local prev=0000000000000000000000000000000000000000000000000000000000000000 body
	sed "$2" g.jsonl | while IFS= read -r line; do
		body=$(sed -E "s/\"prev\":\"[0-9a-f]{64}\"/\"prev\":\"$prev\"/; s/,\"hash\":\"[0-9a-f]{64}\"}\$//" <<<"$line")
		prev=$(printf %s "$body" | sha256sum | cut -c1-64)
		printf '%s,"hash":"%s"}\n' "$body" "$prev"
	done >"$1"
}
rewrite same.jsonl ''
cmp -s same.jsonl g.jsonl || no "rewriting" "an unchanged transcript came out otherwise"
rewrite act.jsonl 's/"text":"b q3"/"text":"c q3"/'
expect "another act is found" 1 "does not follow from the answers" "$halfsplit" audit act.jsonl
rewrite guided.jsonl '1s/"freehand":"garth",//'
expect "a freehand run that says it is guided is found" 1 "tampered" "$halfsplit" audit guided.jsonl
rewrite family.jsonl '1s/"freehand":"garth"/"freehand":"fell"/'
expect "another family's name is found" 1 "tampered" "$halfsplit" audit family.jsonl
rewrite none.jsonl '1s/"freehand":"garth"/"freehand":""/'
expect "a family file without its name is found" 1 "tampered" "$halfsplit" audit none.jsonl

# ---- transcripts of older programs ----
# Without its edition of the acts a transcript is of the first, and what was refused then was refused in the words of then.
expect "this edition of the acts is named" 0 '"acts":2' head -1 g.jsonl
rewrite first.jsonl '1s/"acts":2,//; s/no act; help lists the acts/no such act/; /"kind":"noted"/s/"text":"load /"text":"/'
expect "acts of the first edition derive again" 0 "every decision derives again" "$halfsplit" audit first.jsonl
rewrite words.jsonl 's/no act; help lists the acts/no such act/'
expect "a refusal in other words is found" 1 "does not follow from the answers" "$halfsplit" audit words.jsonl
rewrite later.jsonl '1s/"acts":2,/"acts":3,/'
expect "acts of a later edition are not guessed at" 1 "an edition of the acts that this program knows" "$halfsplit" audit later.jsonl
# ---- a tail that never came ----
total=$(wc -l <g.jsonl)
for lines in $(seq 2 "$((total - 1))"); do
	head -"$lines" g.jsonl >cut.jsonl
	"$halfsplit" audit cut.jsonl >out.txt 2>&1 || no "a cut tail" "with $lines lines: $(head -3 out.txt)"
	grep -q ': unfinished' out.txt || no "a cut tail" "with $lines lines: $(head -1 out.txt)"
done
echo "ok a tail cut anywhere is unfinished, never wrong"
# The machine died behind the answer: what follows from it is derived again.
answered=$(grep -n '"text":"b q3"' g.jsonl | cut -d: -f1)
head -"$answered" g.jsonl >died.jsonl
printf '%s\n' "free/6: find q3: burnt" "gate/off/unkeyed: unkeyed" "gate/off/switch: off" "home/set.band: done" "home/set.pad: done" >end.answers
expect "and goes on where it died" 0 "Found: q3" "$halfsplit" resume died.jsonl --by "Ben Holt" --answers end.answers
expect "and is audited whole" 0 "complete" "$halfsplit" audit died.jsonl
grep -q '"implicates":\["q3"\]' died.jsonl || no "it goes on where it died" "what follows from the last answer is not there"

# ---- the kit is told before the first question ----
mkdir nokit
printf 'intake/serial: K-1\n' >nothing.answers
(cd nokit && env -u HALFSPLIT_KIT "$halfsplit" run --freehand --answers ../nothing.answers >../out.txt 2>&1)
head -2 out.txt | grep -q '^No kit: ' || no "no kit" "it begins with: $(head -2 out.txt)"
"$halfsplit" run --freehand --kit "$top/playbooks/garth/kit.lua" --answers nothing.answers >out.txt 2>&1
head -2 out.txt | grep -q '7 hookups; show kit lists them' || no "a kit" "it begins with: $(head -2 out.txt)"

# ---- many acts ----
{
	printf '%s\n' "intake/words: dead" "intake/seen: nothing" "intake/seals: whole" "intake/keep: none" "unit/feeds: none" "unit/outside: none" \
		"unit/cover: none" "unit/stores: none" "unit/fine: yes" "free/1: read volts at TP1 by eye" "f1: 1"
	for i in $(seq 2 1000); do printf 'free/%d: at TP%d\nf%d: %d\n' "$i" "$i" "$i" "$i"; done
	printf '%s\n' "!redo" "f1000: 3" "free/1001: find nothing: all read"
} >many.answers
cd "$work" || exit 1
expect "a thousand acts" 0 "No fault found" "$halfsplit" run --freehand --unit M-1 --by "Ida Brandt" --answers many.answers --transcript many.jsonl
expect "and their audit" 0 "every decision derives again" timeout 20 "$halfsplit" audit many.jsonl

# ---- drafts ----
# What a family's line-up says of faults is nothing to a run that has no suspects yet.
: >fell.answers
expect "a family with faults in its line-up" 4 "" "$halfsplit" run --freehand fell --unit F-1 --by "Ida Brandt" --answers fell.answers --transcript fell.jsonl
mkdir playbooks playbooks/garth
cp -r "$top/playbooks/garth/." playbooks/garth
export HALFSPLIT_PLAYBOOKS=$work/playbooks
# draft NAME KIT: the golden run's draft checks without errors and ends where the run did, with the same answers
draft() {
	local case=$top/tests/golden/$1 file=playbooks/garth/$1.lua
	expect "a draft of $1" 0 "made $file" "$halfsplit" draft "$case/transcript.jsonl" -o "$file"
	expect "it checks clean" 0 "$file: clean" "$halfsplit" check "$file"
	grep -q "id = \"garth/$1\"" "$file" || no "a draft of $1" "its id is not that of its place"
}
draft free-garth
draft free-dc
draft free-bare
# ---- what was taken back, and where a draft lies ----
{
	printf '%s\n' "intake/words: dead" "intake/seen: nothing" "intake/seals: whole" "intake/keep: none" "unit/feeds: none" "unit/outside: J1" \
		"unit/cover: none" "unit/stores: none" "unit/fine: yes" "free/1: read volts at WRONG by eye" "!redo" "free/1: open new hatch" "!redo" \
		"free/1: suspect nobody" "!redo" "free/1: read volts at TP1 by eye" "f3: 5"
} >back.answers
expect "acts are taken back" 4 "taken back: read volts at WRONG by eye (free/1)" "$halfsplit" run --freehand --unit B-1 --by "Ida Brandt" \
	--answers back.answers --transcript back.jsonl
mkdir rf28
expect "a draft outside the library says where it is found" 0 "lies at playbooks/rf28/low-output.lua" "$halfsplit" draft back.jsonl -o rf28/low-output.lua
grep -q 'id = "rf28/low-output"' rf28/low-output.lua || no "a draft outside the library" "its id is not that of the place it is for"
grep -qE 'WRONG|hatch|nobody' rf28/low-output.lua && no "a draft" "what was taken back stands in it"
grep -q 'point "TP1"' rf28/low-output.lua || no "a draft" "what was not taken back is missing"
expect "what is to be filled in is warned about" 0 "still to be filled in (FILL IN)" "$halfsplit" check rf28/low-output.lua
mkdir playbooks/rf28
expect "a draft in the library" 0 "made playbooks/rf28/low-output.lua" "$halfsplit" draft back.jsonl -o playbooks/rf28/low-output.lua
expect "it is found by its id" 0 "rf28/low-output.lua: clean" "$halfsplit" check rf28/low-output

expect "a draft makes the folder it lies in" 0 "made playbooks/wren/low.lua" "$halfsplit" draft back.jsonl -o playbooks/wren/low.lua
refuses "a draft over a file" 2 "a file of this name is there" "$halfsplit" draft "$top/tests/golden/free-dc/transcript.jsonl" -o playbooks/garth/free-dc.lua
refuses "a draft that is no .lua" 2 "does not end in .lua" "$halfsplit" draft "$top/tests/golden/free-dc/transcript.jsonl" -o free-dc.txt
refuses "a draft of a guided run" 2 "a draft is made only from a freehand run" "$halfsplit" draft "$top/tests/golden/keyed/transcript.jsonl"
expect "a draft of what does not hold together" 1 "nothing is drafted" "$halfsplit" draft act.jsonl
expect "a draft on standard output" 0 'step "unclear"' "$halfsplit" draft g.jsonl
# What was typed at the readings is typed again; the draft asks for the rest.
{
	grep -E '^intake/(serial|by)' "$top/tests/golden/free-dc/in.answers"
	printf '%s\n' "intake/first: done"
	grep -E '^intake/(words|seen|seals|keep)' "$top/tests/golden/free-dc/in.answers"
	printf '%s\n' "gate/off/switch: off" "f4/open.lid: done" "f4/join.source: done" "gate/energise/lid: lid" "gate/energise/tools: counted" \
		"gate/energise/people: told" "gate/on/switch: on"
	grep -E '^f4: |^f5: ' "$top/tests/golden/free-dc/in.answers"
	printf '%s\n' "f6: yes" "gate/off/switch: off" "gate/disconnected/dc: out" "gate/disconnected/other: none" "gate/secured/plug: hand" \
		"gate/secured/by: Jonas Reik" "home/part.source: done"
} >drafted.answers
expect "the draft runs to the same finding" 0 "Finding: Found: q3" "$halfsplit" run garth/free-dc --unit L-1 --by "Jonas Reik" --answers drafted.answers
grep -q "cleared: a1" out.txt && grep -q "implicated: q3" out.txt || no "the draft runs" "a1 is not cleared, or q3 not implicated"

# ---- a new family ----
expect "a new family" 0 "made playbooks/wren/family.lua" "$halfsplit" new wren
expect "its playbook checks clean" 0 "playbooks/wren/first.lua: clean" "$halfsplit" check wren/first
refuses "a new family over an old one" 2 "a file of this name is there, and it is not written over" "$halfsplit" new garth
refuses "a family of no name" 2 '"../wren" is no name for a family' "$halfsplit" new ../wren
refuses "a new family nowhere" 3 "the folder cannot be made" "$halfsplit" new wren no/such/folder
expect "a new family elsewhere" 0 "made shop/linnet/kit.lua" "$halfsplit" new linnet shop
head -9 many.answers | grep -v unit/ >wren.answers
expect "a freehand run of it" 4 "What next?" "$halfsplit" run --freehand wren --unit W-1 --by "Ida Brandt" --answers wren.answers

[ $bad = 0 ] || exit 1
