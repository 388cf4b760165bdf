#!/bin/bash
# Every prompt of the shipped playbooks answered at a terminal with the keys of a numeric keypad alone, and a hundred answers typed
# without waiting. tests/keypad/fingers.c types, tests/keypad/clock.c lets the waits of the real clock pass quickly.
set -u
. "$(dirname "$0")/lib.sh"

compile() { # compile OUT FLAGS... FILE
	local out=$1
	shift
	${CC:-cc} -O1 -Wall -Wextra -D_GNU_SOURCE -o "$out" "$@" -lutil >cc.txt 2>&1 || { no compile "$(head -3 cc.txt)"; exit 1; }
}
compile fingers "$top/tests/keypad/fingers.c"
compile clock.so -fPIC -shared "$top/tests/keypad/clock.c"
export ASAN_OPTIONS=verify_asan_link_order=0:${ASAN_OPTIONS:-}
cp -r "$top/playbooks" "$top/examples" .
findings() { grep -o '"kind":"finding".*' "$1" | sed 's/.*"step":/"step":/; s/,"hash.*//'; }

play() { # play CASE
	local -a args
	local case=$1 status
	eval "args=($(cat "$top/tests/golden/$case/args"))"
	rm -f run.jsonl
	TERM=dumb CLOCK=$work/clock.so timeout 120 ./fingers "$top/tests/golden/$case/in.answers" run.jsonl \
		"$halfsplit" run "${args[@]}" --transcript run.jsonl >screen.txt 2>&1
	status=$?
	if ! grep -q "^exit status $status\$" "$top/tests/golden/$case/screen.txt"; then
		no "$case" "exit status $status: $(tail -3 screen.txt)"
	elif [ "$(findings run.jsonl)" != "$(findings "$top/tests/golden/$case/transcript.jsonl")" ]; then
		no "$case" "another finding: $(findings run.jsonl)"
	elif ! "$halfsplit" audit run.jsonl >audit.txt 2>&1; then
		no "$case" "$(cat audit.txt)"
	elif grep -q '"rehearsal":{' run.jsonl; then
		no "$case" "it counts as a rehearsal"
	else
		echo "ok $case on a keypad"
	fi
}
for folder in "$top"/tests/golden/{fell,copse,garth,linnet,sill}-*/; do play "$(basename "$folder")"; done

# A hundred readings typed in one go, and more behind them that a gate must not take.
cat >hundred.lua <<'LUA'
playbook { id = "hundred", title = "A hundred readings", family = "Tarnbeck Sill", first = { "Lay the parts on the mat." } }
unit { supply = { dc12 = "12 V" } }
suspect "r" { title = "one of them", modes = { "open" } }
for i = 1, 100 do
  step("r" .. i) {
    read = { "ohms", at = "part " .. i, against = "its other end", hookup = "leads", loose = true },
    limits = "at most 1000 ohm", ok = i < 100 and "r" .. i + 1 or "lamp", otherwise = "good",
  }
end
step "lamp" { look = "Does the lamp glow?", power = "on", answers = { { "lit", to = "good" }, { "dark", to = "good" } } }
step "good" { finding = "no fault found", suspects = {} }
LUA
cat >kit.lua <<'LUA'
lead "L1" { }
instrument "D1" { reads = { ohms = { from = "0 ohm", to = "1 Mohm", u = "1 % + 0.1 ohm" } } }
hookup "leads" { "L1", "D1" }
LUA
{ printf '1\n0\n1\n2\n3\n'; seq 101 200; printf '22\n1\n47\n1\n\n*3\n'; } >keys.txt
for term in dumb xterm; do
	rm -f run.jsonl
	TERM=$term timeout 60 ./fingers --burst keys.txt run.jsonl "$halfsplit" run hundred.lua --unit S-1 --by 17 --transcript run.jsonl >screen.txt 2>&1
	status=$?
	typed=$(grep '"kind":"answered"' run.jsonl | grep -o '"ask":"r[0-9]*","text":"[0-9]*","accepted":true' | sed 's/[^0-9 ]/ /g' | awk '{ print $1 + 100 == $2 ? "right" : "wrong" }' | sort | uniq -c | xargs)
	[ $status = 4 ] || no "$term burst" "exit status $status: $(tail -5 screen.txt)"
	[ "$typed" = "100 right" ] || no "$term burst" "of a hundred readings: $typed"
	grep -q '"ask":"gate/[^"]*","text"' run.jsonl && no "$term burst" "a gate took what was typed before it was shown"
	grep -q 'what was typed before this was shown is not used' screen.txt || no "$term burst" "nobody was told that keys were dropped"
	[ "$typed" = "100 right" ] && echo "ok a hundred answers without waiting ($term)"
done
exit $bad
