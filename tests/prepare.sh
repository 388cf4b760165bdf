#!/bin/bash
# halfsplit prepare: what is to be laid out, what is missing, and bindings that go into the shop's kit file without harming it.
. "$(dirname "$0")/lib.sh"
command -v jq >/dev/null || "$top/tests/tools.sh" jq || { echo "not ok $name: jq is not installed"; exit 1; }
fell=$top/playbooks/fell
export HALFSPLIT_PLAYBOOKS=$top/playbooks

# data NAME WANTED FILTER ARGUMENT...: what jq makes of prepare --json
data() {
	local what=$1 wanted=$2 filter=$3 got
	shift 3
	got=$("$halfsplit" prepare --json "$@" 2>err.txt | jq -c "$filter")
	if [ "$got" = "$wanted" ]; then echo "ok $what"; else no "$what" "$got, and $wanted was wanted $(head -2 err.txt)"; fi
}

# same NAME FILE FILE: byte for byte
same() { if cmp -s "$2" "$3"; then echo "ok $1"; else no "$1" "$(diff "$2" "$3" | head -4 | tr '\n' ' ')"; fi; }
# clean_folder NAME: nothing of a try is left
clean_folder() { if compgen -G '.new-kit-*' >/dev/null; then no "$1" "a file is left"; fi; }

# ---- a kit that has all ----
expect "a kit that has all" 0 "Nothing is missing" "$halfsplit" prepare fell/low-output
for text in "SG1, signal source, calibration due 2027-05-31" "TP2 --[AD1 0.1 dB]--[K7 0.7 dB]-- LM1" "SMP female to BNC female, for output lead between TP3 and K3: AD2" \
	"driver for M3 pan" "torque driver, 0.6 N m" "the supply module's shield, 6 x M3 pan" "F1 out of its holder (lifted leg)"; do
	grep -qF "$text" out.txt || no "a kit that has all" "no \"$text\""
done
data "as data" '["fell/low-output",5,[],{"id":"LM1","due":"2027-03-31"}]' '[.playbook, (.hookups|length), .missing, (.instruments[]|select(.id=="LM1")|{id,due})]' fell/low-output
data "loads and terminations" '[["50 ohm, the dummy load, at least 100 W, at J2","50 ohm, the 30 dB power pad of the power lead, at least 100 W, at J2"],2]' '[.loads, (.terminations|length)]' garth/low-power

# ---- a kit that has not ----
sed 's/hookup "tray lead"/hookup "AD1 to LM1"/' "$fell/kit.lua" >kit.lua
expect "a role that is not bound" 1 "a hookup for tray lead: meter; reads power; range -100 dBm to 0 dBm; 1.4 GHz to 1.6 GHz" "$halfsplit" prepare fell/low-output --kit kit.lua
grep -qF "in this kit these would do: AD1 to LM1" out.txt || grep -qF "AD1 to LM1" out.txt || no "a role that is not bound" "what would do is not named"
expect "check is clean before it is bound" 0 "low-output.lua: clean" "$halfsplit" check fell/low-output --kit kit.lua
grep -qF "not in the kit" out.txt || no "check is clean before it is bound" "it does not say what is unbound"
head -40 "$top/tests/golden/fell-trim/in.answers" >part.answers
refuses "run refuses, and names role and prepare" 2 "that no kit gives: tray lead" "$halfsplit" run fell/low-output --kit kit.lua --unit F-1 --by Ada --answers part.answers
grep -qF "halfsplit prepare fell/low-output" err.txt || no "run refuses, and names role and prepare" "$(cat err.txt)"
cp "$fell/family.lua" family.lua
cp "$fell/low-output.lua" low-output.lua
mkdir alone && cp -r family.lua low-output.lua "$fell/pictures" alone
data "no kit at all" '[5,null]' '[(.missing|length), .hookups[0].hookup]' alone/low-output.lua
grep -v 'adapter "AD2"' "$fell/kit.lua" >short-kit.lua
expect "an adapter that is missing" 1 "an adapter SMP female to BNC female, for output lead between TP8 and K3" "$halfsplit" prepare fell/low-output --kit short-kit.lua
sed 's/2027-03-31/2001-03-31/' "$fell/kit.lua" >old-kit.lua
expect "calibration overdue" 0 "LM1, level meter, calibration due 2001-03-31: OVERDUE" "$halfsplit" prepare fell/low-output --kit old-kit.lua
(cat kit.lua; echo 'bind "tray lead" { "fell", hookup = "volt leads" }') >wrong-kit.lua
expect "a hookup that does not fit" 1 'volt leads, for tray lead: "MM1" does not read power' "$halfsplit" prepare fell/low-output --kit wrong-kit.lua
expect "check warns of it" 1 'warning: the hookup "volt leads" misses what the role "tray lead" asks' "$halfsplit" check fell/low-output --kit wrong-kit.lua
refuses "a kit with errors" 2 "a kit with errors cannot be prepared for" "$halfsplit" prepare fell/low-output --kit "$top/tests/check/kit-hookup.lua"
refuses "a playbook with errors" 2 "a playbook with errors cannot be prepared for" "$halfsplit" prepare "$top/tests/check/loop.lua"

# ---- binding ----
cp kit.lua kept.lua
printf -- '-- the last line has no end' >>kit.lua
cp kit.lua kept.lua
chmod 640 kit.lua
expect "bound" 0 "tray lead is AD1 to LM1" "$halfsplit" prepare fell/low-output --kit kit.lua --bind "tray lead = AD1 to LM1"
head -c "$(wc -c <kept.lua)" kit.lua >head.lua
same "what stood in the kit is kept" kept.lua head.lua
[ "$(tail -1 kit.lua)" = 'bind "tray lead" { "fell", hookup = "AD1 to LM1" }' ] || no "bound" "the last line is $(tail -1 kit.lua)"
[ "$(stat -c %a kit.lua)" = 640 ] || no "bound" "its mode is $(stat -c %a kit.lua)"
clean_folder "bound"
expect "a bound role is run" 0 "Finding: " "$halfsplit" run fell/low-output --kit kit.lua --unit F-1 --by "Maren Aldous" --answers "$top/tests/golden/fell-trim/in.answers" --transcript bound.jsonl
expect "and audited" 0 "every decision derives again" "$halfsplit" audit bound.jsonl
cp kit.lua kept.lua
refuses "bound twice" 2 'binds the role "tray lead" for fell already, to "AD1 to LM1"' "$halfsplit" prepare fell/low-output --kit kit.lua --bind "tray lead=volt leads"
refuses "no such role" 2 'the playbook asks for no role "tray laed"' "$halfsplit" prepare fell/low-output --kit kit.lua --bind "tray laed=volt leads"
refuses "no such hookup" 2 'the kit has no hookup "volt laeds"' "$halfsplit" prepare fell/low-output --kit kit.lua --bind "ohm leads=volt laeds"
refuses "a hookup is no role" 2 "only what the playbook declares as a role is bound" "$halfsplit" prepare fell/low-output --kit kit.lua --bind "prods=volt leads"
refuses "no role and hookup" 2 "names no role and hookup" "$halfsplit" prepare fell/low-output --kit kit.lua --bind "tray lead"
refuses "a line in a name" 2 "names no role and hookup" "$halfsplit" prepare fell/low-output --kit kit.lua --bind $'tray lead=a\nerror()'
same "a refusal leaves the kit as it was" kept.lua kit.lua
cp "$fell/kit.lua" ending.lua && echo 'do return end' >>ending.lua && cp ending.lua kept.lua
expect "a kit that ends before its end" 2 "would not do what it says" "$halfsplit" prepare fell/low-output --kit ending.lua --bind "ohm leads=volt leads"
same "and is left as it was" kept.lua ending.lua
cp "$fell/kit.lua" comment.lua && echo '--[[ not closed' >>comment.lua && cp comment.lua kept.lua
expect "a kit that is no kit" 2 "a kit with errors" "$halfsplit" prepare fell/low-output --kit comment.lua --bind "ohm leads=volt leads"
same "is left as it was" kept.lua comment.lua
mkdir real && cp "$fell/kit.lua" real/kit.lua && ln -s real/kit.lua linked.lua
expect "a kit behind a link" 0 "ohm leads is volt leads" "$halfsplit" prepare fell/low-output --kit linked.lua --bind "ohm leads=volt leads"
[ -L linked.lua ] && tail -1 real/kit.lua | grep -q '^bind "ohm leads"' || no "a kit behind a link" "the link was replaced"
if [ "$(id -u)" -ne 0 ]; then
	cp "$fell/kit.lua" fixed.lua && chmod 444 fixed.lua
	refuses "a kit that cannot be written" 3 'cannot be written' "$halfsplit" prepare fell/low-output --kit fixed.lua --bind "ohm leads=volt leads"
fi
expect "nothing to bind in" 2 "there is no kit to bind in" "$halfsplit" prepare alone/low-output.lua --bind "ohm leads=volt leads"
clean_folder "binding"

# ---- tools, consumables, a second person, time ----
cat >times.lua <<'END'
unit { tools = "wooden probe", consumables = { "heat paste" }, parts = { lid = { fixings = "lid of four clips" } } }
playbook { id = "times", title = "Times", family = "Tarnbeck Sill", first = { "Switch it off." }, enter = "a",
  tools = { "wooden probe", "magnifier" }, consumables = "fuse, T 1 A" }
suspect "x" { odds = 3 }
suspect "y" { }
step "a" { minutes = 2, power = "off", look = "Is it?", answers = { { "good", to = "f1" }, { "bad", to = "b" } } }
step "b" { minutes = 3, most = 2, beyond = "f2", act = "Turn it.", open = { "lid" }, helper = "holds the far end", next = "a" }
step "f1" { finding = { "x" } }
step "f2" { finding = { "y" } }
END
# Twice round and once more to a: 2 + 3 + 2 + 3 + 2. f2 is behind a bound, so its shortest way is 2 + 3.
data "times" '{"shortest":2,"expected":2.75,"longest":12,"steps_without":0}' .minutes times.lua
data "tools and what is used up" '[["wooden probe","magnifier"],["heat paste","fuse, T 1 A"],["b: holds the far end"],["driver for lid of four clips"]]' \
	'[.tools, .consumables, .second_person, .drivers]' times.lua
exit $bad
