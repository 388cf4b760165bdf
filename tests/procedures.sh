#!/bin/bash
# Short procedures as a service manual would print them, tests/procedures/NAME.lua: each is checked clean, each of its ends is reached by
# the answers in tests/procedures/NAME/END.answers, whose first line names the finding, and each transcript passes the audit. A new end is
# a new file; no C is needed.
set -u
cd "$(dirname "$0")/.."
halfsplit=$PWD/${BUILD:-build}/halfsplit
case ${BUILD:-} in /*) halfsplit=$BUILD/halfsplit ;; esac
[ -x "$halfsplit" ] || { echo "not ok procedures: there is no $halfsplit; make builds it"; exit 1; }
unset HALFSPLIT_KIT HALFSPLIT_PLAYBOOKS HALFSPLIT_RUNS
export LC_ALL=C NO_COLOR=1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
bad=0 procedures=0 ends=0

no() { # no NAME WHY
	echo "not ok procedures $1: $2"
	bad=1
}

# member KIND KEY: the text of KEY in the last line of that kind
member() {
	grep "\"kind\":\"$1\"" "$work/run.jsonl" | tail -1 | sed -n "s/.*\"$2\":\"\([^\"]*\)\".*/\1/p"
}

play() { # play NAME END ANSWERS
	local name=$1 end=$2 found
	if ! head -1 "$3" | grep -q "^# Finding: $end\. ."; then
		no "$name/$end" "its first line is not \"# Finding: $end. WHY\""
		return
	fi
	rm -f "$work/run.jsonl"
	"$halfsplit" run "tests/procedures/$name.lua" --unit P-1 --by "Ada Wren" --answers "$3" --transcript "$work/run.jsonl" >"$work/screen.txt" 2>&1
	local status=$?
	found=$(member finding step)
	if [ $status -ne 0 ]; then
		no "$name/$end" "exit status $status: $(tail -3 "$work/screen.txt" | tr '\n' ' ')"
	elif [ "$found" != "$end" ]; then
		no "$name/$end" "it ends at \"$found\""
	elif grep -q "the run ended before the answers did" "$work/screen.txt"; then
		no "$name/$end" "answers are left over"
	elif ! "$halfsplit" audit "$work/run.jsonl" >"$work/audit.txt" 2>&1 || ! grep -q "every decision derives again" "$work/audit.txt"; then
		no "$name/$end" "its transcript does not pass the audit: $(tr '\n' ' ' <"$work/audit.txt")"
	elif ! stands "$name"; then
		no "$name/$end" "a reading does not say how the controls stood"
	else
		echo "ok procedures $name/$end"
	fi
}

# Every reading holds how the controls stood, when the unit has some.
stands() { # stands NAME
	if grep -q '^  controls *=' "tests/procedures/$1.lua"; then
		! grep '"kind":"corrected"' "$work/run.jsonl" | grep -qv '"controls":{"[a-z]'
	else
		! grep -q '"controls":' "$work/run.jsonl"
	fi
}

for playbook in tests/procedures/*.lua; do
	name=$(basename "$playbook" .lua)
	[ "$name" = kit ] && continue
	procedures=$((procedures + 1))
	if ! "$halfsplit" check "$playbook" >"$work/check.txt" 2>&1 || ! grep -q ": clean$" "$work/check.txt"; then
		no "$name" "$(head -5 "$work/check.txt" | tr '\n' ' ')"
		continue
	fi
	# Every finding of the playbook has its answers, and every file of answers is a finding.
	for end in $(sed -nE 's/^step "([^"]+)" *\{.*finding = .*/\1/p' "$playbook"); do
		[ -e "tests/procedures/$name/$end.answers" ] || no "$name/$end" "there are no answers that lead to it"
	done
	for answers in "tests/procedures/$name"/*.answers; do
		ends=$((ends + 1))
		play "$name" "$(basename "$answers" .answers)" "$answers"
	done
done
[ $procedures -ge 12 ] && [ $ends -ge 40 ] || no procedures "only $procedures procedures with $ends ends"
exit $bad
