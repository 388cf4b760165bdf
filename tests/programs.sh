#!/bin/bash
# Readings by a program of the shop's own: only at a live seat, only from a kit that the user named, kept with what was printed.
. "$(dirname "$0")/lib.sh"

cat >book.lua <<'END'
playbook { id = "book", title = "A cell on the mat", family = "Tarnbeck Sill", first = { "Lay it on the mat." } }
suspect "cell" { modes = { "flat" } }
step "volts" { power = "any", read = { "volts", at = "cell", against = "its other end", hookup = "leads", loose = true },
  limits = "1.4 V .. 1.7 V", ok = "good", otherwise = "flat" }
step "good" { finding = "the cell is good", suspects = {} }
step "flat" { finding = { "cell" } }
END
mkdir shop
cat >shop/kit.lua <<'END'
lead "LD1" { }
instrument "M9" { reads = { "volts" }, from = "-10 V", to = "10 V", u = "5 mV", read = { "meter", "two words" } }
hookup "leads" { "LD1", "M9" }
END
cat >shop/meter <<END
#!/bin/sh
echo ran >>$work/ran
echo " 1.52 V "
END
chmod +x shop/meter
cp shop/kit.lua kit.lua
cp shop/meter meter

# never NAME: the program was not run
never() { if [ -e ran ]; then no "$1" "the program was run"; rm -f ran; else echo "ok $1"; fi; }

begin=("Lay it on the mat|done" "What does the owner|flat" "Look the unit over|nothing" "Which seals|none" "What must not be lost|nothing")

# ---- at the bench ----
expect "taken with Enter" 0 "M9 gave: 1.52 V" person "${begin[@]}" "or Enter to take it from M9|" -- "$halfsplit" run book.lua --kit shop/kit.lua --unit C-1 --by Ada --transcript taken.jsonl
[ "$(cat ran)" = ran ] || no "taken with Enter" "it was not run once: $(cat ran)"
rm -f ran
grep -qF '"ask":"volts","text":"1.52 V","raw":" 1.52 V \n","accepted":true' taken.jsonl || no "taken with Enter" "the raw text is not kept: $(grep '"ask":"volts","text"' taken.jsonl)"
expect "the report tells of it" 0 "taken by program 1.52 V" "$halfsplit" show taken.jsonl
expect "and as data" 0 '"by_program":true' "$halfsplit" show taken.jsonl --as json
expect "audit derives it" 0 "every decision derives again" "$halfsplit" audit taken.jsonl
never "nothing of that runs it"
expect "typed all the same" 0 "Finding: " person "${begin[@]}" "or Enter to take it from M9|1.2" -- "$halfsplit" run book.lua --kit shop/kit.lua --unit C-1 --by Ada --transcript typed.jsonl
grep -q '"raw"' typed.jsonl && no "typed all the same" "it is marked as taken"
never "a value that is typed runs nothing"
printf '#!/bin/sh\nexec sleep 100\n' >shop/meter
expect "failing, then typed" 0 "Finding: " person "${begin[@]}" "or Enter to take it from M9|take" "~taking it|1.5" -- \
	"$halfsplit" run book.lua --kit shop/kit.lua --unit C-1 --by Ada --transcript failed.jsonl
grep -qF "something was typed, so the program of M9 was ended" screen.txt || no "failing, then typed" "it does not say why it was ended"
grep -qF "Type what the instrument shows" screen.txt || no "failing, then typed" "it does not say what to do"
printf '#!/bin/sh\necho "\033]0;owned\007OK"\n' >shop/meter
expect "escapes" 0 "its line holds control characters" person "${begin[@]}" "or Enter to take it from M9|" "control characters|1.5" -- "$halfsplit" run book.lua --kit shop/kit.lua --unit C-1 --by Ada --transcript escapes.jsonl
grep -q ']0;owned' screen.txt && no "escapes" "they came to the screen"
printf '#!/bin/sh\necho ready\n' >shop/meter
expect "a line that is no reading" 0 "Finding: " person "${begin[@]}" "or Enter to take it from M9|" 'gave: ready|1.5' -- "$halfsplit" run book.lua --kit shop/kit.lua --unit C-1 --by Ada --transcript words.jsonl
grep -qF '"text":"ready","raw":"ready\n","accepted":false' words.jsonl || no "a line that is no reading" "the refused answer is not kept"
expect "audit derives a refusal" 0 "every decision derives again" "$halfsplit" audit words.jsonl
cp meter shop/meter

# ---- whose kit it is ----
expect "a kit beside the playbook runs nothing" 4 "volts in V as the instrument shows it" person "${begin[@]}" "as the instrument shows it|" "as the instrument shows it|!pause" -- \
	"$halfsplit" run book.lua --unit C-1 --by Ada --transcript beside.jsonl
grep -qF "or Enter to take it" screen.txt && no "a kit beside the playbook runs nothing" "it was offered"
never "a kit that came with the playbook"
export HALFSPLIT_KIT=$work/shop/kit.lua
expect "a kit named by the environment" 4 "or Enter to take it from M9" person "${begin[@]}" "or Enter to take it from M9|!pause" -- "$halfsplit" run book.lua --unit C-1 --by Ada --transcript paused.jsonl
unset HALFSPLIT_KIT
expect "resumed without a kit" 4 "as the instrument shows it" person "as the instrument shows it|!pause" -- "$halfsplit" resume paused.jsonl --by "Ada Wren"
grep -qF "or Enter to take it" screen.txt && no "resumed without a kit" "what the transcript names was offered"
sed 's/"two words"/"other words"/' shop/kit.lua >shop/other.lua
expect "resumed with another program" 4 "as the instrument shows it" person "as the instrument shows it|!pause" -- "$halfsplit" resume paused.jsonl --by "Ada Wren" --kit shop/other.lua
grep -qF "or Enter to take it" screen.txt && no "resumed with another program" "it was offered"
never "a transcript names nothing to be run"
expect "resumed with the shop's kit" 0 "M9 gave: 1.52 V" person "or Enter to take it from M9|" -- "$halfsplit" resume paused.jsonl --by "Ada Wren" --kit shop/kit.lua
rm -f ran
expect "audit derives it too" 0 "every decision derives again" "$halfsplit" audit paused.jsonl

# ---- never without a person ----
printf 'intake/first: done\nintake/words: flat\nintake/seen: nothing\nintake/seals: none\nintake/keep: nothing\nvolts:\nvolts: take\nvolts: 1.5\n' >in.answers
"$halfsplit" run book.lua --kit shop/kit.lua --unit C-1 --by Ada --answers in.answers --transcript answers.jsonl >out.txt 2>err.txt
never "a rehearsal"
expect "check" 0 "clean" "$halfsplit" check book.lua --kit shop/kit.lua
expect "prepare" 0 "Nothing is missing" "$halfsplit" prepare book.lua --kit shop/kit.lua
never "check and prepare"

# ---- never from a playbook ----
# named NAME TEXT LINE: a playbook that names a program is refused by check and by run
named() {
	expect "$1: check" 1 "$2" "$halfsplit" check "$3" --kit shop/kit.lua
	refuses "$1: run" 2 "$2" "$halfsplit" run "$3" --kit shop/kit.lua --unit C-1 --by Ada --answers in.answers
	never "$1"
}
(cat book.lua; echo "instrument \"M9\" { reads = \"volts\", u = \"5 mV\", read = { \"$work/meter\" } }") >instrument.lua
named "an instrument in a playbook" 'the word `instrument` is not known in a playbook' instrument.lua
sed "s|read = { \"volts\", at|read = { \"$work/meter\", at|" book.lua >reading.lua
named "a program for a reading" 'is nothing that can be read' reading.lua
sed "s|loose = true|loose = true, program = { \"$work/meter\" }|" book.lua >key.lua
named "a key of a reading" '"program" is no word of a reading' key.lua
echo "instrument \"M9\" { reads = \"volts\", u = \"5 mV\", read = { \"$work/meter\" } }" >family.lua
(echo 'require "family"'; cat book.lua) >family-book.lua
named "a family file" 'the word `instrument` is not known in a playbook' family-book.lua
exit $bad
