#!/bin/bash
# halfsplit list: what is found, by which words, in which form; and that one bad file spoils nothing.
. "$(dirname "$0")/lib.sh"

mkdir -p lib/linnet lib/sill lib/merle
export HALFSPLIT_PLAYBOOKS=$work/lib
cp "$top/examples/kit.lua" lib/linnet/kit.lua
sed 's/id = "first"/id = "linnet\/lamp-dark"/' "$top/examples/first.lua" >lib/linnet/lamp-dark.lua
cat >lib/sill/hum.lua <<'END'
require "sill/family"
playbook {
  id = "sill/hum", title = "Sill receiver: hum on the output", family = "Tarnbeck Sill",
  first = { "Turn the loudspeaker down." },
  symptom = { "a deep tone at Quince level", under = "with the AERIAL socket terminated", power = "on", tries = 2, absent = "unclear" },
  enter = { { "always", "it hums in every band", to = "look" }, { "warm", "only when it is hot", to = "look" } },
}
suspect "c12" { title = "reservoir Medlar", modes = { "dried out" } }
suspect "u3"  { modes = { "unstable" } }
step "look" { look = "Is C12 swollen?", power = "off", outside = true, answers = { { "swollen", to = "found-c12" }, { "flat", to = "unclear" } } }
step "found-c12" { title = "Rowan", finding = { "c12" } }
step "unclear"   { finding = { "c12", "u3" }, separated = false }
END
echo 'unit { supply = { dc12 = "12 V" }, switch = "the knob" }' >lib/sill/family.lua

# listed NAME "ID ..." ARGUMENT...
listed() {
	local what=$1 wanted=$2
	shift 2
	if ! "$halfsplit" list --ids "$@" >out.txt 2>err.txt || [ -s err.txt ]; then
		no "$what" "it failed: $(cat err.txt)"
	elif [ "$(paste -sd' ' out.txt)" != "$wanted" ]; then
		no "$what" "listed are \"$(paste -sd' ' out.txt)\", and wanted were \"$wanted\""
	else
		echo "ok $what"
	fi
}

# ---- what the words are looked for in ----
listed "all; no kit and no family file" "linnet/lamp-dark sill/hum"
listed "by id" "sill/hum" sill/h
listed "by title" "linnet/lamp-dark" "no light"
listed "by family" "sill/hum" "tarnbeck SILL"
listed "by symptom" "sill/hum" quince
listed "by its conditions" "sill/hum" "aerial socket"
listed "by the word of an entry" "sill/hum" WARM
listed "by the text of an entry" "sill/hum" "in every band"
listed "by a suspect's id" "sill/hum" U3
listed "by a suspect's title" "sill/hum" medlar
listed "every word must match" "" medlar lamp
listed "each anywhere" "sill/hum" medlar QUINCE hum
listed "in both" "linnet/lamp-dark sill/hum" n
listed "not by steps or findings" "" rowan
listed "by a finding's title" "sill/hum" --finding rowan
listed "by a finding's id" "sill/hum" --finding found-c12 medlar
listed "both ask" "" --finding rowan lamp
expect "nothing found" 0 "no playbook found" "$halfsplit" list nothing-of-the-kind
expect "findings" 0 "found-c12" "$halfsplit" list --findings sill
[ "$(paste -sd' ' out.txt)" = "found-c12 unclear" ] || no "findings" "$(cat out.txt)"

# ---- as text and as data ----
"$halfsplit" list >shown.txt
cat >wanted.txt <<'END'
Orrin Vale Linnet
  linnet/lamp-dark
      Linnet lamp box: no light

Tarnbeck Sill
  sill/hum
      Sill receiver: hum on the output
      symptom: a deep tone at Quince level; with the AERIAL socket terminated
      begins at: always, it hums in every band
      begins at: warm, only when it is hot
END
if cmp -s wanted.txt shown.txt; then echo "ok by family"; else no "by family" "$(diff wanted.txt shown.txt)"; fi
expect "as data" 0 '"entries":[{"word":"always","title":"it hums in every band"},{"word":"warm","title":"only when it is hot"}]' "$halfsplit" list --json medlar
for part in '"name":"sill/hum"' '"family":"Tarnbeck Sill"' '"symptom":"a deep tone at Quince level"' '"under":"with the AERIAL socket terminated"' \
	'"suspects":[{"id":"c12","title":"reservoir Medlar"},{"id":"u3","title":null}]' '"findings":[{"id":"found-c12","title":"Rowan"},' '"problem":null,"errors":0'; do
	grep -qF -- "$part" out.txt || no "as data" "no $part in $(cat out.txt)"
done
expect "nothing as data" 0 "[]" "$halfsplit" list --json nothing-of-the-kind
refuses "two forms at once" 2 "four forms of the list" "$halfsplit" list --json --ids

# ---- bad files are listed with one line, and the others as before ----
sed 's/low = { to = "fuse-look"/low = { to = "fuse-lok"/; s/"lamp-dark"/"slip"/; s/"linnet\/lamp-dark"/"merle\/slip"/' lib/linnet/lamp-dark.lua >lib/merle/slip.lua
head -c 700 "$top/examples/first.lua" >lib/merle/cut.lua
printf 'playbook\n{\n  id = "merle/bare"\n}\n' >lib/merle/bare.lua
seq 1 3000 | gzip -n | head -c 2000 >lib/merle/noise.lua
printf 'playbook { id = "merle/esc", title = "\\27[31mred\\nnext", family = "Merle", first = { "a" } }\nstep "s" { finding = "x", suspects = {} }\n' >lib/merle/esc.lua
printf 'return "playbook { }"\n' >lib/merle/shared.lua
mkfifo lib/merle/pipe.lua
ln -s nowhere lib/merle/gone.lua
expect "a slip" 0 'cannot be run: slip.lua:' "$halfsplit" list merle/slip
grep -q 'cannot be run: .*"fuse-lok"' out.txt || no "a slip" "$(cat out.txt)"
expect "cut short" 0 "cannot be run: cut.lua:" "$halfsplit" list merle/cut
expect "found by its text" 0 "merle/cut" "$halfsplit" list cut "lamp box"
expect "several errors" 0 "(and " "$halfsplit" list merle/bare
expect "no text at all" 0 "cannot be run: " "$halfsplit" list merle/noise
expect "what it holds is shown" 0 '\x1b[31mred\nnext' "$halfsplit" list merle/esc
grep -q "$(printf '\033')" out.txt && no "what it holds is shown" "an escape came through"
"$halfsplit" list >again.txt || no "all together" "exit status $?"
for id in slip cut bare noise esc; do
	[ "$(grep -c "^  merle/$id\$" again.txt)" = 1 ] || no "all together" "merle/$id is not listed once"
done
[ "$(grep -c 'cannot be run: ' again.txt)" = 4 ] || no "all together" "not four problems: $(grep 'cannot be run' again.txt)"
grep -qE 'merle/(shared|pipe|gone)' again.txt && no "all together" "what is no playbook is listed"
grep -q '^  sill/hum$' again.txt && grep -q '^  linnet/lamp-dark$' again.txt && echo "ok all together" || no "all together" "the good ones are not listed"
expect "the problem as data" 0 '"problem":"slip.lua:' "$halfsplit" list --json merle/slip
grep -qE '"errors":[1-9]' out.txt || no "the problem as data" "$(cat out.txt)"

# ---- two holders of one id ----
mkdir -p other/sill
cp lib/sill/*.lua other/sill/
rm -r lib/merle
export HALFSPLIT_PLAYBOOKS=$work/lib:$work/other
expect "two holders" 0 "two files hold this id: this one is $work/lib/sill/hum.lua, and the other is $work/other/sill/hum.lua" "$halfsplit" list hum
[ "$(grep -c '^  sill/hum$' out.txt)" = 2 ] || no "two holders" "not both are listed"
listed "its id once" "linnet/lamp-dark sill/hum"

# ---- a name that is no id ----
mkdir odd
cp lib/linnet/lamp-dark.lua 'odd/$(touch owned) `x`.lua'
export HALFSPLIT_PLAYBOOKS=$work/odd
listed "an odd name is no id" ""
expect "but it is shown" 0 '$(touch owned) `x`' "$halfsplit" list
[ -e owned ] && no "but it is shown" "the name was run"

# ---- files that take long, together ----
if [ -n "${HS_SLOW:-}" ]; then
	mkdir -p many/x
	for i in $(seq 100 400); do
		printf 'playbook { id = "x/loop%s", title = "l", family = "F", first = { "Stop." } }\nwhile true do end\n' "$i" >"many/x/loop$i.lua"
	done
	export HALFSPLIT_PLAYBOOKS=$work/many
	expect "the first is read" 0 "cannot be run: loop100.lua:2: the playbook used up its" "$halfsplit" list
	grep -q "nothing is known of it, because the files before it took more than 10 s to read" out.txt || no "the last is not read" "nothing says so"
	[ "$(grep -c '^  x/loop' out.txt)" = 301 ] || no "the last is not read" "not every file is named"
fi
exit $bad
