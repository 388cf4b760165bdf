#!/bin/bash
# Runs every test, or those whose name is given, and ends in one line: N passed, M failed.
#
# A unit test program prints cmocka's lines. Every other test is a script tests/NAME.sh, which prints
# "ok NAME" or "not ok NAME: why" lines. Both are counted here.
set -u
cd "$(dirname "$0")/.."
BUILD=${BUILD:-build}
export BUILD LC_ALL=C
passed=0
failed=0
only=${1:-}

count() { # count LOG STATUS NAME
	local ok bad
	ok=$(grep -cE '^(ok |\[       OK \])' "$1")
	bad=$(grep -c '^not ok ' "$1")
	bad=$((bad + $(sed -nE 's/^ *([0-9]+) FAILED TEST\(S\)$/\1/p' "$1" | paste -sd+ - | sed 's/^$/0/')))
	if [ "$2" -ne 0 ] && [ "$bad" -eq 0 ]; then bad=1; echo "not ok $3: exit status $2"; fi
	if [ "$ok" -eq 0 ] && [ "$bad" -eq 0 ]; then bad=1; echo "not ok $3: ran no test"; fi
	passed=$((passed + ok))
	failed=$((failed + bad))
}

log=$(mktemp)
trap 'rm -f "$log"' EXIT

for program in "$BUILD"/tests/test_*; do
	case $program in *.d) continue ;; esac
	name=$(basename "$program"); name=${name#test_}
	[ -n "$only" ] && [ "$only" != "$name" ] && continue
	"$program" >"$log" 2>&1
	status=$?
	count "$log" $status "$name"
	if [ $status -ne 0 ]; then cat "$log"; else echo "$name: $(grep -c 'OK \]' "$log") passed"; fi
done

for script in tests/*.sh; do
	name=$(basename "$script" .sh)
	case $name in run|tools|measure|lib) continue ;; esac
	[ -n "$only" ] && [ "$only" != "$name" ] && continue
	bash "$script" >"$log" 2>&1
	status=$?
	count "$log" $status "$name"
	if grep -q '^not ok' "$log" || [ $status -ne 0 ]; then cat "$log"; else echo "$name: $(grep -c '^ok ' "$log") passed"; fi
done

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
