#!/bin/bash
# What a transcript must survive: kill -9 at every write, full disks, failing syncs, torn tails, flipped bytes, missing rights.
#
# tests/fault/shim.c is preloaded to count the calls that reach the transcript and to make a chosen one go wrong.
set -u
cd "$(dirname "$0")/.."
top=$PWD
halfsplit=$top/${BUILD:-build}/halfsplit
case ${BUILD:-} in /*) halfsplit=$BUILD/halfsplit ;; esac
[ -x "$halfsplit" ] || { echo "not ok faults: there is no $halfsplit; make builds it"; exit 1; }
unset HALFSPLIT_KIT HALFSPLIT_PLAYBOOKS
export LC_ALL=C NO_COLOR=1
export ASAN_OPTIONS=verify_asan_link_order=0:${ASAN_OPTIONS:-}
# In memory where that can be, because nothing here tests the disk, and a sync of a real one takes long.
work=$(mktemp -d -p /dev/shm 2>/dev/null || mktemp -d)
mounted=
cleanup() {
	[ -z "$mounted" ] || umount "$work/disk"
	rm -rf "$work"
}
trap cleanup EXIT
cd "$work" || exit 1
export HALFSPLIT_RUNS=$work/runs HOME=$work/home
bad=0

no() { # no NAME WHY
	echo "not ok faults: $1: $2"
	bad=$((bad + 1))
}

begin() { before=$bad; }
ok() { # ok NAME: unless something went wrong since `begin`
	[ $bad -ne "$before" ] || echo "ok $1"
}

shim=$work/shim.so
if ! ${CC:-cc} -O1 -Wall -Wextra -Werror -fPIC -shared -D_GNU_SOURCE -o "$shim" "$top/tests/fault/shim.c" >cc.txt 2>&1; then
	no "shim" "it does not compile: $(head -3 cc.txt)"
	exit 1
fi

cp "$top/tests/golden/first-broken-fuse/in.answers" whole.answers
run() { # run TRANSCRIPT [COMMAND...]: the rehearsal of the whole run
	"$halfsplit" run "$top/examples/first.lua" --unit LB-7 --by "Ada Wren" --answers whole.answers --transcript "$1"
}
under() { # under FAULT COMMAND...: with one call gone wrong, and a log of those that did not
	local fault=$1
	shift
	rm -f log
	# A shell of its own, so that what it says of a killed process lands in a file.
	bash -c 'export LD_PRELOAD=$1 HS_SHIM_LOG=$2 HS_SHIM_FAULT=$3; shift 3; exec "$@"' - "$shim" "$work/log" "$fault" "$@"
}
faulty() { # faulty FAULT TRANSCRIPT: the whole run under a fault; screen.txt, err.txt, its status
	under "$1" "$halfsplit" run "$top/examples/first.lua" --unit LB-7 --by "Ada Wren" --answers whole.answers \
		--transcript "$2" >screen.txt 2>err.txt </dev/null
}
verdict() { # verdict FILE WORDS STATUS NAME: of an audit
	"$halfsplit" audit "$1" >audit.txt 2>&1
	local status=$?
	[ $status -eq "$3" ] && head -1 audit.txt | grep -qxF -- "$1: $2" || no "$4" "audit: status $status, $(head -3 audit.txt)"
}
size() { stat -c %s "$1"; }
answered() { head -n "$(wc -l <"$1")" "$1" | grep -c '"event":"answer"'; }

# ---- one write and one sync an answer ----
begin
faulty none whole.jsonl || no "whole run" "$(head -3 err.txt)"
cp screen.txt whole.txt
grep -v '^fsync$' log >calls
writes=$(grep -c '^write' calls)
[ "$writes" -eq $(($(answered whole.jsonl) + 1)) ] || no "writes" "$writes writes for $(answered whole.jsonl) answers and the opening"
paste -d' ' - - <calls | grep -vE '^write [0-9]+ fdatasync$' && no "writes" "a write without its sync, or a sync without a write"
[ "$(head -1 log)" = fsync ] || no "writes" "the new file is not synced before anything is written"
# Where each batch ends: what was acknowledged when call N was reached.
mapfile -t ends < <(sed -n 's/^write //p' log | awk '{ s += $1; print s }')
[ "${ends[-1]}" = "$(size whole.jsonl)" ] || no "writes" "the writes are not the file"
ok "one write and one sync an answer"

# ---- kill -9 at every write and every sync ----
gate_answer() { # gate_answer ASK: as the whole run answers it
	sed -n "s,^$1: ,,p" whole.answers | head -1
}
last_asked() { # last_asked TRANSCRIPT
	grep '"kind":"asked"' "$1" | tail -1 | sed -E 's/.*"ask":"([^"]*)".*/\1/'
}
# The first ask behind the answers already there that is no gate: what a resumed run must come to.
next_step() { # next_step COUNT
	grep -vE '^(#|!|@|$)' whole.answers | tail -n +$(($1 + 1)) | sed -E 's/^([^:]*): .*/\1/' | grep -v '^gate/' | head -1
}
come_to() { # come_to TRANSCRIPT: resumes, answers gates only, and prints "GATES ASK"
	local gates=0 asked
	: >more.answers
	while :; do
		rm -f resumed.jsonl*
		cp "$1" resumed.jsonl
		"$halfsplit" resume resumed.jsonl --answers more.answers >resume.txt 2>&1
		local status=$?
		[ $status -eq 4 ] || { echo "status $status: $(tail -2 resume.txt)"; return; }
		asked=$(last_asked resumed.jsonl)
		case $asked in gate/*) ;; *) break ;; esac
		gates=$((gates + 1))
		[ $gates -lt 40 ] || break
		echo "$asked: $(gate_answer "$asked")" >>more.answers
	done
	echo "$gates $asked"
}
powered() { # powered COUNT: was the unit switched on or off within the first answers?
	grep -vE '^(#|!|@|$)' whole.answers | sed -n "1,$1p" | grep -qE '^gate/(on|off)/'
}

killed() { # killed CALL N WHAT: what is on disk, and what comes next
	local name="kill $1 $2 $3" end=${ends[$(($2 - 2))]} whole=0 have came
	rm -f kill.jsonl
	faulty "$1:$2:$3" kill.jsonl
	[ $? -eq 137 ] || { no "$name" "it was not killed: $(head -2 err.txt)"; return; }
	cmp -n "$(size kill.jsonl)" kill.jsonl whole.jsonl || no "$name" "the bytes are not those of the whole run"
	[ "$(size kill.jsonl)" -ge "$end" ] || no "$name" "an acknowledged answer is not there"
	# What was shown was on disk before: an ask on the screen stands in a line that was synced.
	[ "$(grep -c '^  wanted: ' screen.txt)" -le "$(head -c "$end" whole.jsonl | grep -c '"kind":"asked"')" ] ||
		no "$name" "something is shown that was not on disk"
	[ "$(tail -c 1 kill.jsonl)" = "" ] && whole=1
	have=$(answered kill.jsonl)
	if [ $whole = 1 ]; then verdict kill.jsonl "unfinished" 0 "$name"; else verdict kill.jsonl "torn" 1 "$name"; fi
	came=$(come_to kill.jsonl)
	[ $whole = 1 ] || grep -q "The last line of the transcript was torn" resume.txt || no "$name" "the repair is not said"
	[ "${came#* }" = "$(next_step "$have")" ] || no "$name" "after the resume comes $came, and $(next_step "$have") was wanted"
	if powered "$have" && [ "${came%% *}" = 0 ]; then no "$name" "the power state is unknown, and no gate is asked"; fi
	if [ $whole = 1 ]; then verdict resumed.jsonl "unfinished" 0 "$name"; else verdict resumed.jsonl "unfinished, repaired" 0 "$name"; fi
}
# The last answer closes the run: nothing is left to go on with, so the one before it is the last that is killed.
last=$((writes - 1))
for what in "write before" "write half" "fdatasync after"; do
	begin
	for ((n = 2; n <= last; n += ${HS_SHIM_STEP:-1})); do
		killed "${what% *}" $n "${what#* }"
		[ $bad = "$before" ] || break
	done
	ok "kill -9, $what, at each of $((last - 1)) answers"
done

begin
for what in write:1:before write:1:half; do
	rm -f young.jsonl
	faulty $what young.jsonl
	"$halfsplit" audit young.jsonl >audit.txt 2>&1 && no "killed at its opening" "the audit of it is good"
	"$halfsplit" resume young.jsonl --answers whole.answers >out.txt 2>err.txt
	[ $? -eq 2 ] && grep -q "start a new run" err.txt || no "killed at its opening" "$(head -2 err.txt)"
done
ok "killed at its opening"

begin
"$halfsplit" run "$top/examples/first.lua" --unit LB-7 --by "Ada Wren" --answers whole.answers --transcript closed.jsonl >out.txt 2>&1
head -c $(($(size closed.jsonl) - 30)) closed.jsonl >closing.jsonl
verdict closing.jsonl torn 1 "killed at its close"
: >none.answers
"$halfsplit" resume closing.jsonl --answers none.answers >out.txt 2>err.txt
[ $? -eq 0 ] && grep -q "was torn" out.txt && grep -q "This run is closed" out.txt || no "killed at its close" "$(head -2 err.txt)"
verdict closing.jsonl "complete, repaired" 0 "killed at its close"
head -n -1 closed.jsonl >closing.jsonl
rm closing.jsonl.torn-*
"$halfsplit" resume closing.jsonl --answers none.answers >out.txt 2>err.txt
[ $? -eq 0 ] || no "killed at its close" "$(head -2 err.txt)"
verdict closing.jsonl complete 0 "killed at its close"
cmp closing.jsonl closed.jsonl || no "killed at its close" "other lines were added than were lost"
"$halfsplit" resume closing.jsonl --answers none.answers >out.txt 2>err.txt
[ $? -eq 2 ] && grep -q "this run is closed" err.txt || no "killed at its close" "$(head -2 err.txt)"
ok "killed at its close"

# ---- kill -9 at every system call there is ----
# Minutes, so only with HS_SLOW=1; a sanitizer's own calls would be most of them.
swept() { # swept CALL N: killed as it makes that call for the Nth time
	local name="kill at $1 $2" have came
	rm -f sweep.jsonl
	bash -c '"$@"; exit' - strace -o /dev/null -e "inject=$1:signal=KILL:when=$2" "$halfsplit" run "$top/examples/first.lua" --unit LB-7 \
		--by "Ada Wren" --answers whole.answers --transcript sweep.jsonl >screen.txt 2>err.txt </dev/null
	[ -s sweep.jsonl ] || { [ ! -s screen.txt ] || no "$name" "something is shown and nothing is on disk"; return; }
	cmp -n "$(size sweep.jsonl)" sweep.jsonl whole.jsonl || no "$name" "the bytes are not those of the whole run"
	have=$(answered sweep.jsonl)
	"$halfsplit" audit sweep.jsonl >audit.txt 2>&1
	if grep -q ': complete$' audit.txt; then
		cmp -s sweep.jsonl whole.jsonl || no "$name" "it is called complete and is not"
		return
	fi
	grep -qE ': (unfinished|torn)$' audit.txt || no "$name" "audit: $(head -2 audit.txt)"
	[ "$(grep -c '^  wanted: ' screen.txt)" -le "$(grep -c '"kind":"asked"' sweep.jsonl)" ] || no "$name" "an answer that was acknowledged is not there"
	came=$(come_to sweep.jsonl)
	[ "${came#* }" = "$(next_step "$have")" ] || no "$name" "after the resume comes $came, and $(next_step "$have") was wanted"
	if powered "$have" && [ "${came%% *}" = 0 ]; then no "$name" "the power state is unknown, and no gate is asked"; fi
}
if [ -n "${HS_SLOW:-}" ] && command -v strace >/dev/null && ! grep -aq __asan_init "$halfsplit"; then
	begin
	rm -f sweep.jsonl
	strace -o calls.txt "$halfsplit" run "$top/examples/first.lua" --unit LB-7 --by "Ada Wren" --answers whole.answers \
		--transcript sweep.jsonl >screen.txt 2>err.txt </dev/null
	cmp sweep.jsonl whole.jsonl || no "every call" "the traced run is another"
	sed -nE 's/^([a-z0-9_]+)\(.*/\1/p' calls.txt | grep -vE '^(execve|exit_group)$' | sort | uniq -c >counts.txt
	total=0
	while read -r count call; do
		for ((n = 1; n <= count; n++)); do
			swept "$call" $n
			total=$((total + 1))
		done
	done <counts.txt
	[ $total -gt 100 ] || no "every call" "only $total were found"
	ok "kill -9 at each of $total system calls"
fi

# ---- short and interrupted writes go on ----
for fault in write:5:short write:5:intr fdatasync:5:intr; do
	begin
	rm -f on.jsonl
	faulty "$fault" on.jsonl || no "$fault" "$(head -2 err.txt)"
	cmp on.jsonl whole.jsonl || no "$fault" "the file differs"
	ok "$fault goes on"
done

# ---- calls that fail ----
fails() { # fails FAULT STATUS TEXT: no answer is acknowledged from there on, and resume goes on later
	begin
	rm -f fail.jsonl
	faulty "$1" fail.jsonl
	local status=$? call=${1%%:*} n
	n=${1#*:}
	n=${n%%:*}
	[ $status -eq "$2" ] || no "$1" "exit status $status, and $2 was wanted"
	grep -qF -- "fail.jsonl" err.txt && grep -qF -- "$3" err.txt || no "$1" "not said: $(head -2 err.txt)"
	[ "$(grep -c '^halfsplit: ' err.txt)" = 1 ] || no "$1" "not one sentence: $(cat err.txt)"
	if [ "$call" = openat ] || [ "$call" = flock ]; then
		[ ! -e fail.jsonl ] || no "$1" "the empty file is left"
	elif [ "$n" -gt 1 ]; then
		[ "$(grep -c '^  wanted: ' screen.txt)" -le "$(head -c "${ends[$((n - 2))]}" whole.jsonl | grep -c '"kind":"asked"')" ] ||
			no "$1" "something is shown that was not on disk"
		[ "$(size fail.jsonl)" -ge "${ends[$((n - 2))]}" ] || no "$1" "an acknowledged answer is lost"
		local came
		came=$(come_to fail.jsonl)
		[ "${came#* }" = "$(next_step "$(answered fail.jsonl)")" ] || no "$1" "after the resume comes $came"
	fi
	ok "$1: $3"
}
fails openat:1:30 3 "is read-only"
fails openat:1:28 3 "is full"
fails flock:1:37 3 "offers no locks"
fails fsync:1:5 3 "input/output error"
fails write:1:28 3 "is full"
fails write:9:28 3 "is full"
fails write:9:122 3 "quota"
fails write:9:27 3 "larger than this process may write"
fails fdatasync:9:5 3 "input/output error"
fails fdatasync:9:28 3 "is full"

# ---- disks and limits that are real ----
begin
roomy() { # roomy FILE: as `faulty`, without the shim
	run "$1" >screen.txt 2>err.txt </dev/null
}
bash -c 'ulimit -f 12; shift; "$@"' - x "$halfsplit" run "$top/examples/first.lua" --unit LB-7 --by "Ada Wren" --answers whole.answers \
	--transcript limited.jsonl >screen.txt 2>err.txt
[ $? -eq 3 ] && grep -q 'limited.jsonl.*larger than this process may write' err.txt || no "file size" "$(head -2 err.txt)"
came=$(come_to limited.jsonl)
[ "${came#* }" = "$(next_step "$(answered limited.jsonl)")" ] || no "file size" "after the resume comes $came"
ok "a file that may not grow, and resume when it may"

begin
mkdir disk
if mount -t tmpfs -o size=16k none disk 2>mount.txt; then
	mounted=1
	roomy disk/full.jsonl
	[ $? -eq 3 ] && grep -q "disk/full.jsonl.*the disk at $(realpath disk) is full" err.txt || no "full disk" "$(head -2 err.txt)"
	have=$(answered disk/full.jsonl)
	"$halfsplit" audit disk/full.jsonl >audit.txt 2>&1
	grep -qE ': (unfinished|torn)$' audit.txt || no "full disk" "audit: $(head -2 audit.txt)"
	mount -o remount,size=256k disk
	came=$(come_to disk/full.jsonl)
	[ "${came#* }" = "$(next_step "$have")" ] || no "full disk" "after the resume comes $came"
	mount -o remount,ro disk
	roomy disk/new.jsonl
	[ $? -eq 3 ] && grep -q "disk/new.jsonl.*is read-only" err.txt || no "read-only disk" "$(head -2 err.txt)"
	"$halfsplit" resume disk/full.jsonl --answers none.answers >out.txt 2>err.txt
	[ $? -eq 3 ] && grep -q "is read-only" err.txt || no "read-only disk" "resume: $(head -2 err.txt)"
	"$halfsplit" audit disk/full.jsonl >audit.txt 2>&1
	grep -qE ': (unfinished|torn)$' audit.txt || no "read-only disk" "it cannot be audited: $(head -2 audit.txt)"
	umount disk
	mounted=
	ok "a full disk, room again, a read-only disk"
else
	# Without the right to mount, the file size limit above and the failing calls stand for it.
	ok "a full disk (nothing may be mounted here; ENOSPC and EROFS were injected above)"
fi

if [ "$(id -u)" -ne 0 ]; then
	begin
	mkdir -p closed
	chmod a-w closed
	roomy closed/t.jsonl
	[ $? -eq 3 ] && grep -q "closed/t.jsonl.*permissions" err.txt || no "closed folder" "$(head -2 err.txt)"
	chmod u+w closed
	ok "a folder without the right to write"
fi

begin
# 0, 1, 2 and a few for the playbook, the kit and the answers, none for the transcript.
for limit in 4 5 6; do
	bash -c "ulimit -n $limit"'; "$@"' - "$halfsplit" run "$top/examples/first.lua" --unit LB-7 --by "Ada Wren" --answers whole.answers \
		--transcript few.jsonl >screen.txt 2>err.txt </dev/null
	status=$?
	[ $status -eq 3 ] && [ "$(grep -c '^halfsplit: ' err.txt)" = 1 ] || no "descriptors" "at $limit: status $status, $(head -2 err.txt)"
	[ ! -s few.jsonl ] || no "descriptors" "at $limit something was recorded"
	grep -q 'AddressSanitizer\|runtime error' err.txt && no "descriptors" "$(head -2 err.txt)"
	rm -f few.jsonl
done
ok "no descriptors left"

begin
head -c "${ends[6]}" whole.jsonl >held.jsonl
cp held.jsonl held.copy
flock -F held.jsonl sleep 30 >/dev/null 2>&1 &
holder=$!
for _ in 1 2 3 4 5 6 7 8 9 10; do
	flock -n held.jsonl true || break
	sleep 0.1
done
"$halfsplit" resume held.jsonl --answers none.answers >out.txt 2>err.txt
[ $? -eq 2 ] && grep -qE 'another process \(process [0-9]+, (flock|sleep)\) holds the transcript "held.jsonl"' err.txt ||
	no "two writers" "$(head -2 err.txt)"
cmp held.jsonl held.copy || no "two writers" "the file changed"
"$halfsplit" audit held.jsonl >/dev/null || no "two writers" "a held transcript cannot be audited"
kill $holder
wait $holder 2>/dev/null
ok "two writers"

begin
run nowhere/at/all.jsonl >out.txt 2>err.txt
[ $? -eq 2 ] && grep -q "its folder is missing" err.txt && [ ! -e nowhere ] || no "missing folder" "$(head -2 err.txt)"
HALFSPLIT_RUNS=$work/made/deep/runs "$halfsplit" run "$top/examples/first.lua" --unit LB-7 --by "Ada Wren" --answers whole.answers >out.txt 2>err.txt
[ $? -eq 0 ] && ls made/deep/runs/LB-7-*.jsonl >/dev/null || no "missing folder" "the default folder is not made: $(head -2 err.txt)"
HALFSPLIT_RUNS=$work/whole.answers/runs "$halfsplit" run "$top/examples/first.lua" --unit LB-7 --by "Ada Wren" --answers whole.answers >out.txt 2>err.txt
[ $? -eq 2 ] && grep -q "a part of the path is not a folder" err.txt || no "missing folder" "$(head -2 err.txt)"
ok "a missing folder"

# ---- torn tails ----
begin
head -c "${ends[8]}" whole.jsonl >base.jsonl
from=${ends[7]}
for ((cut = from + 1; cut < ends[8]; cut += 23)); do
	head -c "$cut" base.jsonl >torn.jsonl
	rm -f torn.jsonl.torn-*
	if [ "$(tail -c 1 torn.jsonl)" = "" ]; then want="unfinished" torn=0; else want="torn" torn=1; fi
	verdict torn.jsonl "$want" $torn "cut at $cut"
	"$halfsplit" resume torn.jsonl --answers none.answers >out.txt 2>err.txt
	[ $? -eq 4 ] || no "cut at $cut" "resume: $(head -2 err.txt)"
	if [ $torn = 1 ]; then
		tr -s "\n " "  " <out.txt | grep -q "The last line of the transcript was torn: [0-9]* bytes were cut off and are kept in torn.jsonl.torn-" ||
			no "cut at $cut" "the repair is not said"
		kept=$(ls torn.jsonl.torn-*)
		cmp "$kept" <(tail -c "$(size "$kept")" <(head -c "$cut" base.jsonl)) || no "cut at $cut" "the kept bytes are others"
		verdict torn.jsonl "unfinished, repaired" 0 "cut at $cut"
	else
		verdict torn.jsonl "unfinished" 0 "cut at $cut"
	fi
	[ $bad = "$before" ] || break
done
ok "torn at many cuts, repaired, and said"

begin
{ head -c $((ends[8] - 200)) whole.jsonl; head -c 200 /dev/zero; } >zeroed.jsonl
verdict zeroed.jsonl torn 1 "zeroed tail"
"$halfsplit" resume zeroed.jsonl --answers none.answers >out.txt 2>err.txt
[ $? -eq 4 ] && grep -q "was torn" out.txt || no "zeroed tail" "$(head -2 err.txt)"
verdict zeroed.jsonl "unfinished, repaired" 0 "zeroed tail"
ok "a zeroed last sector"

# ---- every byte ----
# All bytes of an answer's line and of two that follow from it; of the others one in many. The last byte of all is the torn tail's.
# A few hundred files at a time, because thousands want more room than a small machine has in memory.
begin
mkdir flips
cat >judge.sh <<'SH'
cd flips || exit 1
ls | wc -l >>../made.txt
ls | sort -V | xargs "$1" audit >>../flips.txt 2>&1
echo $? >>../ends.txt
cd .. && rm -rf flips && mkdir flips
SH
awk -v few="${HS_FLIP_STEP:-41}" -v program="$halfsplit" '
	BEGIN { for (i = 1; i < 256; i++) code[sprintf("%c", i)] = i }
	function judge() { if (made && system("bash judge.sh \"" program "\"")) exit 1; made = 0 }
	{ text = text $0 "\n" }
	END {
		line = 1
		for (i = 1; i < length(text); i++) {
			c = substr(text, i, 1)
			if ((line >= 32 && line <= 34) || i % few == 0) {
				file = "flips/" line "." i ".jsonl"
				printf "%s%c%s", substr(text, 1, i - 1), code[c] + (code[c] % 2 ? -1 : 1), substr(text, i + 1) >file
				if (close(file)) exit 1
				if (++made == 300) judge()
			}
			if (c == "\n") line++
		}
		judge()
	}' whole.jsonl 2>awk.txt || no "flips" "they were not all made: $(head -3 awk.txt)"
count=$(awk '{ all += $1 } END { print all + 0 }' made.txt)
[ "$count" -gt 1000 ] || no "flips" "only $count were made: $(head -3 awk.txt)"
grep -vqx 123 ends.txt && no "flips" "xargs ends in $(paste -sd' ' ends.txt), and every audit was to end in 1"
# Each verdict is a block: "FILE: tampered", and a line of it names the line of the file.
awk '
	/^[0-9]+\.[0-9]+\.jsonl: / { judge(); name = $1; verdict = $2; text = ""; next }
	{ text = text $0 "\n" }
	function judge(   line) {
		if (!name) return
		line = name; sub(/\..*/, "", line)
		seen++
		if (verdict != "tampered") print name, "verdict", verdict
		else if (text !~ "(^|[^0-9])line " line "([^0-9]|$)") print name, "names another line:", text
	}
	END { judge(); print seen >"seen.txt" }' flips.txt >wrong.txt
[ "$(cat seen.txt)" = "$count" ] || no "flips" "$count flipped, $(cat seen.txt) judged: $(head -2 flips.txt)"
[ ! -s wrong.txt ] || no "flips" "$(wc -l <wrong.txt) of $count: $(head -3 wrong.txt)"
ok "$count flipped bytes are found, and their lines named"

# ---- lines that are gone, doubled, swapped, foreign ----
mutated() { # mutated NAME LINE: mutated.jsonl is found to be tampered with at that line
	begin
	verdict mutated.jsonl tampered 1 "$1"
	grep -qE "line $2([^0-9]|\$)" audit.txt || no "$1" "line $2 is not named: $(head -3 audit.txt)"
	ok "$1"
}
sed 20d whole.jsonl >mutated.jsonl
mutated "a line removed" 20
sed 20p whole.jsonl >mutated.jsonl
mutated "a line doubled" 21
sed '20{h;d};21G' whole.jsonl >mutated.jsonl
mutated "two lines swapped" 20
{ sed -n 1,19p whole.jsonl; sed -n 20p "$top/tests/golden/first-refused/transcript.jsonl"; sed -n '20,$p' whole.jsonl; } >mutated.jsonl
mutated "a line from another run" 20
[ $bad -eq 0 ]
