#!/bin/bash
# The command line: help, exit statuses, and bad input of every kind, each with one sentence.
. "$(dirname "$0")/lib.sh"

first=$top/examples/first.lua
kit=$top/examples/kit.lua
cp "$top/tests/golden/first-broken-fuse/in.answers" whole.answers
head -12 whole.answers >part.answers
run() { "$halfsplit" run "$first" --unit LB-7 --by "Ada Wren" "$@"; }

# ---- words ----
expect "help" 0 "usage: halfsplit VERB" "$halfsplit" --help
expect "version" 0 "halfsplit 0." "$halfsplit" --version
for verb in run resume audit show check list; do
	expect "help of $verb" 0 "usage: halfsplit $verb" "$halfsplit" $verb --help
done
refuses "no command" 2 "a command is wanted" "$halfsplit"
refuses "unknown command" 2 "did you mean audit?" "$halfsplit" audti
refuses "unknown option" 2 "did you mean --answers?" "$halfsplit" run "$first" --anwsers x
refuses "option without its argument" 2 "--unit needs an argument" "$halfsplit" run "$first" --unit
refuses "option given twice" 2 "--unit is given twice" "$halfsplit" run "$first" --unit a --unit b
refuses "flag with an argument" 2 "--json takes no argument" "$halfsplit" audit --json=yes x
refuses "no operand" 2 "run needs PLAYBOOK" "$halfsplit" run
refuses "too many operands" 2 "run takes PLAYBOOK and nothing more, but 2 were given" "$halfsplit" run a b
refuses "unknown format" 2 'there is no format "pdf"' "$halfsplit" show x --as pdf

# ---- a run, its status, its report ----
refuses "no terminal" 2 "there is no terminal to ask at, and no --answers" run
expect "paused" 4 "transcript: part.jsonl" run --answers part.answers --transcript part.jsonl
expect "to its end" 0 "To write on the job sheet" run --answers whole.answers --transcript whole.jsonl
expect "the same again" 0 "transcript: again.jsonl" run --answers whole.answers --transcript again.jsonl
if cmp -s whole.jsonl again.jsonl; then echo "ok same bytes"; else no "same bytes" "two rehearsals with the same inputs differ"; fi
refuses "never written over" 2 "part.jsonl" run --answers part.answers --transcript part.jsonl
refuses "no folder for it" 2 "no/such/t.jsonl" run --answers part.answers --transcript no/such/t.jsonl
refuses "blank serial" 2 "the serial number given with --unit is empty" "$halfsplit" run "$first" --unit " " --by x --answers part.answers
refuses "nobody named" 2 "intake/by is asked first" "$halfsplit" run "$first" --unit x --answers part.answers
expect "default place" 4 "/runs/LB-7-20260101T090000Z-" run --answers part.answers
expect "default place taken" 4 "-2.jsonl" run --answers part.answers
expect "and taken again" 4 "-3.jsonl" run --answers part.answers
[ "$(cat runs/LB-7-20260101T090000Z-*.jsonl | sort | uniq -c | awk '$1 != 3' | wc -l)" = 0 ] || no "default place taken" "the same rehearsal has other lines"
refuses "control character in a name" 2 "the name given with --by holds a control character" "$halfsplit" run "$first" --unit x --by $'Ada\eWren' \
	--answers part.answers
refuses "control character in a serial" 2 "holds a control character" "$halfsplit" run "$first" --unit $'a\nb' --by x --answers part.answers
expect "serial made fit for a file name" 4 "/runs/_.._x__y-2026" "$halfsplit" run "$first" --unit "/../x; y" --by Ada --answers part.answers
printf 'intake/first: done\nlamp-volts: 3\n' >wrong.answers
expect "another ask" 2 "The next answer is for lamp-volts, but intake/words is asked" run --answers wrong.answers --transcript wrong.jsonl
expect "what was answered stays" 0 "unfinished" "$halfsplit" audit wrong.jsonl
{ cat whole.answers; echo "fuse-look: whole"; } >more.answers
expect "answers left over" 0 "line 26 of more.answers" run --answers more.answers --transcript more.jsonl
expect "full disk for the screen" 3 "could not be written" bash -c '"$@" >/dev/full' - "$halfsplit" --help
expect "full disk for a report" 3 "could not be written" bash -c '"$@" >/dev/full' - "$halfsplit" show whole.jsonl
expect "report to a full disk" 3 "the report cannot be written" "$halfsplit" show whole.jsonl -o /dev/full
expect "full disk under a run" 3 "could not be written" bash -c '"$@" >/dev/full' - "$halfsplit" run "$first" --unit a --by "Ada Wren" --answers whole.answers \
	--transcript unseen.jsonl
expect "file too large" 3 "large.jsonl" bash -c 'ulimit -f 12; "$@"' - "$halfsplit" run "$first" --unit a --by "Ada Wren" --answers whole.answers \
	--transcript large.jsonl
left=$top/tests/golden/garth-final/transcript.jsonl
expect "leads left on" 0 "still joined pin lead at TP7" "$halfsplit" show "$left"
sed '/^output-level: /q' "$top/tests/golden/fell-band/in.answers" >turned.answers
expect "a run that ends in the middle" 4 "" "$halfsplit" run "$top/playbooks/fell/low-output.lua" --unit F-0467 --by "Maren Aldous" \
	--answers turned.answers --transcript turned.jsonl
expect "controls left turned" 0 "turned       the channel stood at 1450 at the start; it now stands at 1500" "$halfsplit" show turned.jsonl
expect "the same as data" 0 '"turned":["the channel' "$halfsplit" show turned.jsonl --as json
expect "leads as data" 0 '"joined":["pin lead at TP7","clamp at P1","power lead at J2"]' "$halfsplit" show "$left" --as json
expect "text report" 0 "REHEARSAL: answered without a person" "$halfsplit" show whole.jsonl --as text
expect "report to a file" 0 '{"rehearsal":true,"unit":"LB-7"' bash -c '"$@" && cat report.json' - "$halfsplit" show whole.jsonl --as json -o report.json
refuses "report over its transcript" 2 "written over its own transcript" "$halfsplit" show whole.jsonl -o whole.jsonl
refuses "report to a folder" 2 "this is a folder" "$halfsplit" show whole.jsonl -o "$top"

# ---- audit ----
expect "complete" 0 "whole.jsonl: complete" "$halfsplit" audit whole.jsonl
expect "never authentic" 0 "consistent with itself, not anchored" "$halfsplit" audit whole.jsonl
anchor=$(sed -n 's/^  anchor: //p' <(run --answers whole.answers --transcript third.jsonl))
expect "anchored" 0 "${anchor%%:*}" "$halfsplit" audit whole.jsonl --anchor "$anchor"
expect "another anchor" 1 "tampered" "$halfsplit" audit whole.jsonl --anchor "${anchor%%:*}:0000000000000000"
head -40 whole.jsonl >short.jsonl
expect "shorter than its anchor" 1 "shorter than its anchor" "$halfsplit" audit short.jsonl --anchor "$anchor"
expect "tail dropped" 0 "short.jsonl: unfinished" "$halfsplit" audit short.jsonl
refuses "no anchor" 2 "anchor" "$halfsplit" audit whole.jsonl --anchor 12
refuses "one anchor, two files" 2 "an anchor belongs to one transcript, but 2 were named" "$halfsplit" audit whole.jsonl short.jsonl --anchor "$anchor"
sed '20s/true/fals/' whole.jsonl >flip.jsonl
expect "a byte changed" 1 "flip.jsonl: tampered" "$halfsplit" audit flip.jsonl
grep -q "line 20" out.txt || no "a byte changed" "the line is not named: $(cat out.txt)"
sed 's/^{"seq":0/{"sex":0/' whole.jsonl >flip0.jsonl
expect "a byte of the first line changed" 1 "flip0.jsonl: tampered" "$halfsplit" audit flip0.jsonl
expect "no report from it" 1 "does not hold together" "$halfsplit" show flip.jsonl
refuses "no going on with it" 2 "flip.jsonl" "$halfsplit" resume flip.jsonl --answers part.answers
sed 's/$/\r/' whole.jsonl >crlf.jsonl
expect "line endings converted" 0 "complete, transport-converted" "$halfsplit" audit crlf.jsonl
{ printf '\357\273\277'; cat whole.jsonl; } >bom.jsonl
expect "byte-order mark" 0 "transport-converted" "$halfsplit" audit bom.jsonl
expect "audit as data" 1 '"verdict":"tampered"' "$halfsplit" audit --json whole.jsonl flip.jsonl
sed 's/"format":1/"format":7/' whole.jsonl >v7.jsonl
expect "audit of several" 1 "whole.jsonl: complete" "$halfsplit" audit flip.jsonl whole.jsonl

# ---- torn, repaired, gone on with ----
head -c -40 part.jsonl >torn.jsonl
expect "torn" 1 "torn.jsonl: torn" "$halfsplit" audit torn.jsonl
expect "torn report" 0 "is torn" "$halfsplit" show torn.jsonl
: >none.answers
expect "repair is said" 4 "The last line of the transcript was torn" "$halfsplit" resume torn.jsonl --answers none.answers
expect "repair is recorded" 0 "torn.jsonl: unfinished, repaired" "$halfsplit" audit torn.jsonl
ls torn.jsonl.torn-* >/dev/null 2>&1 || no "repair is recorded" "the bytes were not kept"
cp whole.jsonl beside.jsonl
printf anything >"beside.jsonl.torn-$(wc -l <beside.jsonl)"
refuses "a stray file beside" 2 "this run is closed" "$halfsplit" resume beside.jsonl --answers none.answers
printf '{"seq":%d,"prev":"%s' "$(wc -l <beside.jsonl)" "$(tail -c 67 beside.jsonl | head -c 64)" >"beside.jsonl.torn-$(wc -l <beside.jsonl)"
refuses "a beginning beside a closed run" 2 "this run is closed" "$halfsplit" resume beside.jsonl --answers none.answers
cmp beside.jsonl whole.jsonl || no "a stray file beside" "the transcript changed"
head -40 whole.jsonl >lacks.jsonl
expect "missing lines" 0 "missing at the end; resume adds" "$halfsplit" audit lacks.jsonl
{ cat lacks.jsonl; head -20 whole.jsonl | tail -1; } >promised.jsonl
expect "tampered behind missing lines" 1 "promised.jsonl: tampered" "$halfsplit" audit promised.jsonl
grep -q "resume adds" out.txt && no "tampered behind missing lines" "a repair is promised"
sed 's/$/\r/' lacks.jsonl >lacks-crlf.jsonl
expect "converted and missing lines" 0 "unfinished, transport-converted" "$halfsplit" audit lacks-crlf.jsonl
grep -q "resume adds" out.txt && no "converted and missing lines" "a repair is promised"
cat >rest.answers <<'END'
gate/off/switch: off
gate/energise/back: back
gate/energise/tools: counted
gate/energise/people: told
gate/on/switch: on
lamp-volts: 11.9
gate/off/switch: off
gate/disconnected/dc12: out
gate/disconnected/other: none
gate/secured/plug: hand
gate/secured/by: Ben Holt
END
cp part.jsonl rest.jsonl
expect "resumed, gates asked anew" 0 "The lamp is open" "$halfsplit" resume rest.jsonl --answers rest.answers --by "Ben Holt"
expect "resumed is complete" 0 "rest.jsonl: complete" "$halfsplit" audit rest.jsonl
refuses "a closed run is closed" 2 "this run is closed" "$halfsplit" resume whole.jsonl --answers part.answers
refuses "resume without a terminal" 2 "there is no terminal" "$halfsplit" resume part.jsonl

# ---- bad files ----
mkdir folder
: >empty
seq 1 3000 | gzip -n | head -c 3000 >binary
truncate -s 100M huge
ln -s nowhere link
head -c 700 "$first" >cut.lua
cp empty empty.lua; cp binary binary.lua; cp huge huge.lua; mkdir folder.lua; mkfifo pipe.lua
expect "playbook missing" 2 "no.lua" "$halfsplit" run no.lua --answers part.answers
for kind in empty binary huge folder pipe cut; do
	expect "playbook $kind" 2 "$kind.lua" "$halfsplit" run $kind.lua --unit a --by b --answers part.answers --kit "$kit"
	[ -s out.txt ] && no "playbook $kind" "something was printed"
done
for kind in no binary huge folder link; do
	refuses "answers $kind" 2 "$kind" run --answers $kind --transcript answers-$kind.jsonl
done
expect "answers empty" 4 "transcript: answers-empty.jsonl" run --answers empty --transcript answers-empty.jsonl
rm -f answers-empty.jsonl
for kind in no binary huge folder pipe.lua; do
	expect "kit $kind" 2 "$kind" run --kit $kind --answers part.answers --transcript kit.jsonl
	[ -e kit.jsonl ] && no "kit $kind" "a transcript was made"
done
for kind in no empty binary huge folder link; do
	refuses "audit $kind" 2 "$kind" "$halfsplit" audit $kind
	refuses "show $kind" 2 "$kind" "$halfsplit" show $kind
	refuses "resume $kind" 2 "$kind" "$halfsplit" resume $kind --answers part.answers
done
sed 's/$/\r/' "$first" >crlf.lua
{ printf '\357\273\277'; cat "$first"; } >bom.lua
expect "playbook with CRLF" 0 "crlf.lua: clean" "$halfsplit" check crlf.lua --kit "$kit"
expect "playbook with a byte-order mark" 0 "bom.lua: clean" "$halfsplit" check bom.lua --kit "$kit"
sed 's/$/\r/' whole.answers >crlf.answers
expect "answers with CRLF" 0 "Fuse F1 is open" run --answers crlf.answers --transcript crlf-answers.jsonl
expect "run of a CRLF playbook" 0 "Fuse F1 is open" "$halfsplit" run crlf.lua --kit "$kit" --unit a --by "Ada Wren" --answers whole.answers --transcript crlf-run.jsonl
expect "audit of it" 0 "every decision derives again" "$halfsplit" audit crlf-run.jsonl
refuses "a hookup nobody binds" 2 "the playbook asks for hookups that no kit gives: meter lead" "$halfsplit" run crlf.lua --unit a --by b --answers part.answers
expect "check says what is not bound" 0 "no kit was given, so these hookups are not bound" "$halfsplit" check crlf.lua

# ---- check, and the library ----
sed 's/low = { to = "fuse-look"/low = { to = "fuse-lok"/' "$first" >slip.lua
expect "check finds a slip" 1 "fuse-look" "$halfsplit" check slip.lua --kit "$kit"
grep -qE '^slip.lua:[0-9]+: error: ' out.txt || no "check finds a slip" "no file and line: $(cat out.txt)"
expect "check as data" 1 '"severity":"error"' "$halfsplit" check --json slip.lua --kit "$kit"
expect "run refuses it" 2 "a playbook with errors is not run" "$halfsplit" run slip.lua --kit "$kit" --unit a --by b --answers part.answers
mkdir -p lib/linnet other/linnet
sed 's/id = "first"/id = "linnet\/first"/' "$first" >lib/linnet/first.lua
cp "$kit" lib/linnet/kit.lua
export HALFSPLIT_PLAYBOOKS=$work/lib
expect "looked up by id" 0 "clean" "$halfsplit" check linnet/first
expect "listed" 0 "linnet/first" "$halfsplit" list lamp
expect "not listed" 0 "no playbook found" "$halfsplit" list nothing-of-the-kind
refuses "nearest id" 2 "did you mean linnet/first?" "$halfsplit" run linnet/frist --answers part.answers
refuses "last part alone" 2 "did you mean linnet/first?" "$halfsplit" run first --answers part.answers
cp lib/linnet/first.lua other/linnet/first.lua
export HALFSPLIT_PLAYBOOKS=$work/lib:$work/other
refuses "two holders" 2 'two files hold the playbook "linnet/first"' "$halfsplit" check linnet/first
export HALFSPLIT_PLAYBOOKS=$work/lib
cp "$first" lib/linnet/first.lua
expect "id and place disagree" 1 'declares the id "first", but it lies where "linnet/first" is looked for' "$halfsplit" check linnet/first

# ---- a rehearsal from the middle ----
cat >middle.answers <<'A'
intake/first: done
intake/words: dark
intake/seen: nothing
intake/seals: none
intake/keep: nothing
gate/off/switch: off
A
expect "begun in the middle" 4 "It begins at the step fuse-look." run --answers middle.answers --from fuse-look --transcript middle.jsonl
grep -q '"rehearsal":{"by":"answers","from":"fuse-look"}' middle.jsonl || no "begun in the middle" "the transcript does not say so"
grep -q '"ask":"gate/disconnected/dc12"' middle.jsonl || no "begun in the middle" "a gate is left out"
grep -q 'lamp-volts' out.txt && no "begun in the middle" "an earlier step is asked"
expect "derives from the middle" 0 "it began at the step fuse-look" "$halfsplit" audit middle.jsonl
expect "sheet from the middle" 0 "It began at the step fuse-look" "$halfsplit" show middle.jsonl
printf 'gate/disconnected/dc12: out\n' >next.answers
expect "resumed from the middle" 2 "gate/off/switch is asked" "$halfsplit" resume middle.jsonl --answers next.answers
expect "real from the middle" 2 "--from is for rehearsals" "$halfsplit" run "$first" --from fuse-look
refuses "from nowhere" 2 'has no step "fuse-lock"' run --answers middle.answers --from fuse-lock --transcript no.jsonl
grep -q 'did you mean "fuse-look"' err.txt || no "from nowhere" "no hint"
refuses "from a finding" 2 "is a finding" run --answers middle.answers --from fuse-open --transcript no.jsonl

# ---- checked again after a change ----
mkdir watched && cp "$first" watched/first.lua
watches() { # types q once what is wanted has come
	( exec "$halfsplit" check watched/first.lua --watch ) < <(
		for ((i = 0; i < 600; i++)); do grep -q clean watch.txt && break; sleep 0.05; done
		sed -i 's/to = "lamp-dead"/to = "lamp-ded"/' watched/first.lua
		for ((i = 0; i < 600; i++)); do grep -q '1 error' watch.txt && break; sleep 0.05; done
		echo q) >watch.txt 2>&1
}
: >watch.txt
watches
[ $? = 1 ] || no "watch" "the status is not that of the last check"
[ "$(grep -c '^---- [0-9][0-9]:[0-9][0-9]:[0-9][0-9]$' watch.txt)" = 2 ] || no "watch" "not two checks: $(cat watch.txt)"
grep -q 'did you mean "lamp-dead"' watch.txt || no "watch" "the slip is not found: $(cat watch.txt)"
echo "ok watch"
refuses "watch as data" 2 "give one of them" "$halfsplit" check watched/first.lua --watch --json

# ---- pictures: the digest is kept, the text is not, and another picture today is told ----
cp -r "$top/playbooks/fell" shelf-fell && mkdir shelf && mv shelf-fell shelf/fell
export HALFSPLIT_PLAYBOOKS=$work/shelf
head -12 "$top/tests/golden/fell-trim/in.answers" >seen.answers
expect "run with pictures" 4 "transcript: seen.jsonl" "$halfsplit" run fell/low-output --unit F-1 --by "Maren Aldous" --answers seen.answers --transcript seen.jsonl
expect "the same pictures" 0 "seen.jsonl: unfinished" "$halfsplit" audit seen.jsonl
grep -q "picture" out.txt && no "the same pictures" "it speaks of them: $(grep picture out.txt)"
head -1 seen.jsonl | grep -qF "{\"path\":\"pictures/board.svg\",\"sha256\":\"$(sha256sum <shelf/fell/pictures/board.svg | cut -c1-64)\"}" || no "run with pictures" "the digest is not that of the file"
head -1 seen.jsonl | grep -q '<svg' && no "run with pictures" "the text of a picture is kept"
echo '<!-- moved -->' >>shelf/fell/pictures/board.svg
expect "another picture today" 0 "the picture pictures/board.svg is another today than in this run" "$halfsplit" audit seen.jsonl
expect "another picture as data" 0 '"other_pictures":["pictures/board.svg"]' "$halfsplit" audit --json seen.jsonl
rm -r shelf/fell/pictures
expect "resumed without its pictures" 4 "Going on with unit F-1" "$halfsplit" resume seen.jsonl --answers empty
refuses "begun without its pictures" 2 'there is no file "pictures/blocks.svg"' "$halfsplit" run fell/low-output --unit F-1 --by "Maren Aldous" --answers seen.answers --transcript blind.jsonl
unset HALFSPLIT_PLAYBOOKS

# ---- a person at a terminal ----
typed() { # typed TEXT COMMAND...: types the lines at a terminal of its own
	local text=$1
	shift
	printf '%b' "$text" | script -qec "$(printf '%q ' "$@")" /dev/null
}
expect "asked who and what" 4 "Who is at the bench?" typed 'LB-8\nLB-9\n\nBen Holt\n\nno light\n!pause lunch\n' "$halfsplit" run "$first" --transcript real.jsonl
bells() { tr -cd '\a' <out.txt | wc -c; }
expect "a bell" 4 "Do what is listed first" typed 'no\n1\n0\n1\n2\n3\n' "$halfsplit" run "$first" --unit LB-1 --by "Ada Wren" --bell --transcript rung.jsonl
[ "$(bells)" = 2 ] || no "a bell" "$(bells) bells, and one for the refusal and one for the gate were wanted"
expect "no bell" 4 "Do what is listed first" typed 'no\n1\n0\n1\n2\n3\n' "$halfsplit" run "$first" --unit LB-1 --by "Ada Wren" --transcript still.jsonl
[ "$(bells)" = 0 ] || no "no bell" "$(bells) bells"
expect "large from the start" 4 "F I R S T   O F   A L L" typed '!pause\n' "$halfsplit" run "$first" --unit LB-1 --by "Ada Wren" --large --transcript wide.jsonl
expect "large when resumed" 4 "F I R S T   O F   A L L" typed '/5\n' "$halfsplit" resume wide.jsonl --by "Ada Wren" --large
expect "a real run says nothing of a rehearsal" 0 '"rehearsal":false' "$halfsplit" audit --json real.jsonl
refuses "no answers file into a real run" 2 "this is the transcript of a real run" "$halfsplit" resume real.jsonl --answers part.answers
expect "nothing begun" 4 "nothing was begun" typed '!pause\n' "$halfsplit" run "$first" --transcript never.jsonl
[ -e never.jsonl ] && no "nothing begun" "a transcript was made"
# meddled COMMAND: types on, runs the command on the transcript under the run, and types on again
meddled() {
	{
		printf 'LB-8\nLB-9\n\nBen Holt\n\nno light\n'
		for ((i = 0; i < 600; i++)); do grep -q '"text":"no light"' meddled.jsonl 2>/dev/null && break; sleep 0.05; done
		sh -c "$1" >&2
		printf 'smells\n!pause\n'
	} | script -qec "$(printf '%q ' "$halfsplit" run "$first" --transcript meddled.jsonl)" /dev/null
}
expect "deleted under the run" 3 'the transcript "meddled.jsonl" was deleted by somebody else' meddled "rm meddled.jsonl"
[ ! -e meddled.jsonl ] || no "deleted under the run" "it was made again"
expect "written into under the run" 3 "somebody else changed it" meddled "echo more >>meddled.jsonl"
[ "$(tail -1 meddled.jsonl)" = more ] || no "written into under the run" "something was written behind it"
expect "resumed by another" 4 "Going on with unit LB-9" typed '!pause\n' "$halfsplit" resume real.jsonl --by "Cleo Marsh"
grep -q '"kind":"resumed","event":"resume".*"by":"Cleo Marsh"' real.jsonl || no "resumed by another" "the line is not there"
expect "asked who goes on, and told why it stopped" 4 "Who is at the bench?" typed 'Dora Lund\n\n!stop smoke from the tray\n!leave\n!pause\n' "$halfsplit" resume real.jsonl
grep -q "At the bench then: Cleo Marsh" out.txt || no "asked who goes on" "the last person is not told"
expect "the stop is told" 4 "Stopped by Dora Lund: smoke from the tray. That stop goes" typed 'Eva Sand\n\n!pause\n' "$halfsplit" resume real.jsonl
grep -q "It stopped by" out.txt && no "the stop is told" "it is told twice"
grep -q "After the stop\|Cut the power" out.txt || no "the stop is told" "the run goes on with something else"
grep -q '"kind":"resumed","event":"resume".*"by":"Dora Lund"' real.jsonl || no "asked who goes on" "the line is not there"
cp "$top/tests/golden/fell-pause/transcript.jsonl" open.jsonl
expect "what is open stands there before anybody is named" 4 "Who is at the bench?" typed '!pause\n' "$halfsplit" resume open.jsonl
grep -q "power unknown.*open: top-cover" out.txt || no "what is open stands there before anybody is named" "$(grep 'unit F-' out.txt | head -2)"
expect "still whole" 0 "real.jsonl: unfinished" "$halfsplit" audit real.jsonl

exit $bad
