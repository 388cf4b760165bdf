#!/bin/bash
# docs/halfsplit.d.lua has every word, builder and function that playbooks and kits may use, and nothing else.
. "$(dirname "$0")/lib.sh"

page=$top/docs/halfsplit.d.lua

# one_line FILE: without line ends, so that a list can be taken whole
one_line() { tr '\n\t' '  ' <"$top/$1"; }

# strings FILE NAME: what the list of that name holds, sorted
strings() {
	one_line "$1" | grep -oE "[^a-z_]$2\[[A-Z_]*\] *= *\{[^}]*\}" | grep -oE '"[^"]+"' | tr -d '"' | sort
}

# known "FILE NAME[, without WORD-OR-LIST]"
known() {
	local file=${1%% *} name=${1#* } without=
	case $name in *", without "*) without=${name#*, without } name=${name%%,*} ;; esac
	case $without in
	'') strings "$file" "$name" ;;
	*_words) comm -23 <(strings "$file" "$name") <(strings "$file" "$without") ;;
	*) strings "$file" "$name" | grep -vx -- "$without" ;;
	esac
}

# ---- words ----

# NNN.of the list, NNN.what the class or alias, NNN.base what it inherits, NNN.words its own, one a line
mkdir blocks
awk '
	/^-- words: / { n++; file = sprintf("blocks/%03d", n); print substr($0, 11) >(file ".of"); printf "" >(file ".words"); on = 1; next }
	/^$/ || /^function/ { on = 0 }
	/^---@class/ { name = $0; sub(/^---@class (\(exact\) )?/, "", name); base = name; sub(/:.*/, "", name); if (!sub(/^[^:]*: */, "", base)) base = "none" }
	/^---@class/ && on { print name >(file ".what"); print base >(file ".base") }
	/^---@field [a-z]/ { field = $2; sub(/\?$/, "", field); if (on) print field >(file ".words"); else print name, field >"blocks/loose" }
	/^---@alias/ && on { print $2 >(file ".what") }
	(/^---@alias/ || /^---\|/) && on {
		text = $0
		while (match(text, /"[^"]+"/)) { print substr(text, RSTART + 1, RLENGTH - 2) >(file ".words"); text = substr(text, RSTART + RLENGTH) }
	}
' "$page"
for of in blocks/*.of; do
	what=$(cat "${of%.of}.what") of_text=$(cat "$of")
	known "$of_text" >wanted
	sort "${of%.of}.words" >got
	if [ ! -s wanted ]; then
		no "$what" "there is no list $of_text"
	elif ! cmp -s wanted got; then
		no "$what" "it lacks $(comm -23 wanted got | paste -sd, -), and has beside them $(comm -13 wanted got | paste -sd, -)"
	else
		echo "ok $what"
	fi
done
lists=0
for file in "$top"/core/playbook/bind_*.c; do
	file=${file#"$top/"}
	for list in $(grep -oE '^(static )?const char \*const [a-z_]*words\[[A-Z_]*\]' "$top/$file" | sed 's/.*const //; s/\[.*//'); do
		lists=$((lists + 1))
		grep -qE "^$file $list(\$|, without )" blocks/*.of || no "$file" "no class has the words of $list"
	done
done
[ $lists -gt 40 ] || no "words" "only $lists lists were found in the sources"
grep -vE '^(halfsplit\.Complex (re|im)|mathlib [a-z]+)$' blocks/loose >loose
[ -s loose ] && no "words" "these keys belong to no list: $(paste -sd, - <loose)"

# ---- kinds of step ----
one_line core/playbook/bind_step.c | grep -oE '\{"[a-z]+", HS_STEP_[A-Z]+, "[a-z ]+", HS_WORDS\([a-z_]+\), HS_WORDS\([a-z_]+\)' |
	sed -E 's/.*HS_WORDS\(([a-z_]+)\), HS_WORDS\(([a-z_]+)\)/\1 \2/' >kinds
[ "$(wc -l <kinds)" -gt 10 ] || no "kinds" "only $(wc -l <kinds) were found in the sources"
: >steps
while read -r own shared; do
	of=$(grep -lx "core/playbook/bind_step.c $own" blocks/*.of)
	[ -n "$of" ] || { no "kinds" "no class has the words of $own"; continue; }
	what=$(cat "${of%.of}.what") base=$(cat "${of%.of}.base")
	case "$shared $base" in "common_words halfsplit.BenchStep" | "end_words halfsplit.AnyStep") ;; *) no "$what" "it inherits $base, and takes $shared" ;; esac
	echo "$what" >>steps
done <kinds
grep -qx 'core/playbook/bind_step.c common_words, without end_words' blocks/*.of || no "kinds" "halfsplit.BenchStep does not add to halfsplit.AnyStep"
sed -n '/^---@alias halfsplit.Step$/,/^$/p' "$page" | sed -n 's/^---| //p' | sort | cmp -s - <(sort steps) || no "kinds" "halfsplit.Step is not every kind of step"

# ---- functions ----

# Those the page has: the name, and how many values it takes.
sed -nE 's/^function ([A-Za-z_.:0-9]+)\((.*)\) end$/\1 \2/p' "$page" | awk '{ name = $1; $1 = ""; n = split($0, a, ","); if ($0 ~ /^ *$/) n = 0; print name, n }' | sort >page
[ "$(grep -c '^function' "$page")" = "$(wc -l <page)" ] || no "functions" "a line that begins with \"function\" is not understood"
sort page | cut -d' ' -f1 | uniq -d | sed 's/^/not ok luacats: twice: /' | grep . && bad=1
for file in "$top"/core/playbook/bind_measure_*.c; do
	one_line "${file#"$top/"}" | sed -E 's/([^\\])" +"/\1/g' | grep -oE '\{"[a-z_0-9]+", *[a-z_0-9]+, *[0-9]+, *"[a-z.]*[a-z_0-9]+\(' |
		sed -E 's/.*, *([0-9]+), *"(.*)\($/\2 \1/'
done >measure
[ "$(wc -l <measure)" -gt 100 ] || no "functions" "only $(wc -l <measure) measurement functions were found in the sources"
sed -nE 's/^network\.([a-z_]+) ([0-9]+)$/\1 \2/p' measure | grep -v '^open ' | while read -r word most; do echo "Network:$word $((most - 1))"; done >methods
sort measure methods >wanted
grep -E "^($(cut -d. -f1 measure | cut -d' ' -f1 | sort -u | paste -sd'|')|Network)([.:]| )" page >got
if cmp -s wanted got; then echo "ok measurement library"; else no "measurement library" "$(diff wanted got | grep '^[<>]' | paste -sd' ')"; fi
{
	grep -E '_callees\[\] =' "$top/core/playbook/load.c" | grep -oE '"[a-z]+"' | tr -d '"'
	cut -d' ' -f1 measure
	cut -d' ' -f1 methods
	for module in math string table; do
		grep -oE '\{"[a-z]+", ' "$top/core/playbook/sandbox_lib_$module.c" | grep -oE '[a-z]+' | sed "s/^/$module./"
	done
	sed -n '/luaL_Reg words\[\]/,/};/p' "$top/core/playbook/sandbox_lib.c" | grep -oE '\{"[a-z]+"' | grep -oE '[a-z]+'
	grep -hoE 'hs_sandbox_declare\(L, "[a-z]+"\)' "$top"/core/playbook/*.c | grep -oE '"[a-z]+"' | tr -d '"' | grep -vxE 'string|network'
} | sort >wanted
cut -d' ' -f1 page >got
if cmp -s wanted got; then echo "ok functions"; else no "functions" "$(diff wanted got | grep '^[<>]' | paste -sd' ')"; fi
one_line core/playbook/sandbox_lib_math.c | grep -oE 'lua_setfield\(L, -2, "[a-z]+"\)' | grep -oE '"[a-z]+"' | tr -d '"' | sort >wanted
sed -n 's/^mathlib //p' blocks/loose | sort | cmp -s wanted - || no "functions" "the constants of math are $(paste -sd, - <wanted)"

# ---- the program agrees: it reads the page to its end, and has each function of the language and the library ----
cp "$page" page.lua
expect "no mistake in its Lua" 2 "page.lua:$(grep -n -m1 '^function' page.lua | cut -d: -f1): \`playbook\` is assigned without local" "$halfsplit" calc -f page.lua
{
	echo 'local missing = ""'
	grep -vxE "$( (grep -E '_callees\[\] =' "$top/core/playbook/load.c" | grep -oE '"[a-z]+"' | tr -d '"'; echo 'chart|Network:.*') | paste -sd'|')" got |
		sed -E 's/.*/if type(&) ~= "function" then missing = missing .. " &" end/'
	echo 'return "missing:" .. missing'
} >ask.lua
expect "what the program has" 0 "missing:" "$halfsplit" calc -f ask.lua
grep -qx 'missing:' out.txt || no "what the program has" "$(cat out.txt err.txt)"

exit $bad
