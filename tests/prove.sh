#!/bin/bash
# halfsplit prove: shipped playbooks prove clean over all outcomes; a step that nothing can lead to is found; what cannot be proved is refused.
. "$(dirname "$0")/lib.sh"

for playbook in fell/low-output copse/no-output garth/low-power; do
	HALFSPLIT_PLAYBOOKS=$top/playbooks expect "$playbook" 0 "no way ends nowhere, goes round for ever or reaches where it must not" \
		"$halfsplit" prove "$playbook"
	grep -q " 0 findings" out.txt && no "$playbook" "no finding was reached"
done

cp "$top/examples/first.lua" "$top/examples/kit.lua" .
expect "an example" 0 "states" "$halfsplit" prove first.lua
expect "as data" 0 '"violations":[]' "$halfsplit" prove first.lua --json
expect "not the whole of it" 1 "not all of it: raise --most" "$halfsplit" prove "$top/playbooks/garth/low-power.lua" --most 10
refuses "no number of states" 2 "--most many is no number of states" "$halfsplit" prove first.lua --most many
refuses "no such playbook" 2 "nowhere.lua" "$halfsplit" prove nowhere.lua

cat >out-of-reach.lua <<'END'
playbook { id = "out-of-reach", title = "A step nothing comes to", family = "Tarnbeck Garth", first = { "Leave it off." } }
suspect "a" { modes = { "dead" } }
suspect "b" { modes = { "dead" } }
step "count" {
  read = { "count", asks = "How many lamps glow?" }, limits = "at most 3", power = "any",
  low = "never", ok = "found-a", high = "found-b", otherwise = "found-b",
}
step "never"   { tell = "Nothing is below at most three.", next = "found-a" }
step "found-a" { finding = { "a" } }
step "found-b" { finding = { "b" } }
END
expect "a step out of reach" 1 "out of reach: never: no way leads here" "$halfsplit" prove out-of-reach.lua
expect "its line" 1 "out-of-reach.lua:8:" "$halfsplit" prove out-of-reach.lua
sed 's/"found-a" { finding = { "a" } }/"found-a" { finding = { "c" } }/' out-of-reach.lua >broken.lua
expect "not before it checks clean" 1 "a playbook that does not check clean is not proved" "$halfsplit" prove broken.lua
exit $bad
