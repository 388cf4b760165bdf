#!/bin/bash
# Plays every case under tests/golden, or those named as arguments, and compares screen and transcript byte for byte; tests/golden/README tells how a case is made.
set -u
cd "$(dirname "$0")/.."
halfsplit=$PWD/${BUILD:-build}/halfsplit
case ${BUILD:-} in /*) halfsplit=$BUILD/halfsplit ;; esac
[ -x "$halfsplit" ] || { echo "not ok golden: there is no $halfsplit; make builds it"; exit 1; }
unset HALFSPLIT_KIT HALFSPLIT_PLAYBOOKS HALFSPLIT_RUNS
export LC_ALL=C NO_COLOR=1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
bad=0

fail() { # fail NAME WHY
	echo "not ok golden $1: $2"
	bad=1
}

play() { # play CASE: leaves screen.txt and transcript.jsonl in $work
	local -a args
	eval "args=($(cat "$1/args"))"
	rm -f "$work"/*
	"$halfsplit" run "${args[@]}" --answers "$1/in.answers" --transcript "$work/transcript.jsonl" >"$work/raw.txt" 2>&1
	local status=$?
	sed "s,$work/,," "$work/raw.txt" >"$work/screen.txt"
	echo "exit status $status" >>"$work/screen.txt"
	[ -e "$work/transcript.jsonl" ] || : >"$work/transcript.jsonl"
}

compare() { # compare CASE NAME FILE
	if [ ! -e "$1/$3" ]; then
		fail "$2" "there is no $3; UPDATE=1 tests/golden.sh makes it"
	elif ! cmp -s "$1/$3" "$work/$3"; then
		fail "$2" "$3 differs"
		diff "$1/$3" "$work/$3" | cut -c1-300 | head -20
	else
		return 0
	fi
	return 1
}

for folder in tests/golden/*/; do
	folder=${folder%/}
	name=$(basename "$folder")
	case " $* " in *" $name "* | "  ") ;; *) continue ;; esac
	play "$folder"
	if [ "${UPDATE:-}" = 1 ]; then
		cp "$work/screen.txt" "$work/transcript.jsonl" "$folder/"
		echo "ok golden $name (written anew: read the difference before you keep it)"
		continue
	fi
	good=1
	compare "$folder" "$name" screen.txt || good=0
	compare "$folder" "$name" transcript.jsonl || good=0
	if [ -s "$work/transcript.jsonl" ] && ! "$halfsplit" audit "$work/transcript.jsonl" >"$work/audit.txt" 2>&1; then
		fail "$name" "its transcript does not pass the audit"
		cat "$work/audit.txt"
		good=0
	fi
	[ $good = 1 ] && echo "ok golden $name"
done
exit $bad
