#!/bin/bash
# Every example in README.md and docs/*.md works today.
#
#   ```lua       -- file: NAME    written as that file; checked, with the kit.lua beside it when there is one
#                -- in: NAME      put where HERE stands in tests/docs/NAME.lua and checked (in: kit: a kit, or part of one)
#   ```text      # file: NAME     written as that file, without this first line
#   ```sh test [STATUS]           run in a copy of the examples and of the files written so far; ends in STATUS, 0 unless given
#   ```text output                these lines stand together in what the sh test before printed
#   ```sh verify                  the chain script: must accept every golden transcript, and none that was mutilated
#   <!-- golden: NAME | A | B --> the block behind it is what tests/golden/NAME/screen.txt holds from the last line with A to the next with B
#
# UPDATE=1 tests/docs.sh takes those excerpts anew; read the difference before you keep it.
set -u
cd "$(dirname "$0")/.."
top=$PWD
halfsplit=$top/${BUILD:-build}/halfsplit
case ${BUILD:-} in /*) halfsplit=$BUILD/halfsplit ;; esac
[ -x "$halfsplit" ] || { echo "not ok docs: there is no $halfsplit; make builds it"; exit 1; }
command -v jq >/dev/null || tests/tools.sh jq || { echo "not ok docs: jq is not installed, and docs/transcript.md uses it"; exit 1; }
unset HALFSPLIT_KIT HALFSPLIT_PLAYBOOKS
export LC_ALL=C NO_COLOR=1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export HALFSPLIT_RUNS=$work/runs HOME=$work/home
bad=0
verifies=0 excerpts=0 checks=0 runs=0

no() { # no WHERE WHY
	echo "not ok docs $1: $2"
	bad=1
}

# blocks DOCUMENT FOLDER: NNN.info, NNN.line, NNN.golden and NNN.body of each fenced block
blocks() {
	awk -v out="$2" '
		/^```/ && !inside {
			inside = 1; info = substr($0, 4); file = sprintf("%s/%03d", out, ++n)
			print info >(file ".info"); print FNR >(file ".line"); print golden >(file ".golden"); printf "" >(file ".body")
			golden = ""; next
		}
		/^```/ { inside = 0; close(file ".body"); next }
		inside { print >(file ".body"); next }
		/^<!-- golden: .* -->$/ { golden = substr($0, 14, length($0) - 17); next }
		END { if (inside) print "open" >(out "/open") }
	' "$1"
}

# clean WHERE PLAYBOOK [KIT]: no error and no warning
clean() {
	local kit=()
	[ $# -eq 3 ] && kit=(--kit "$3")
	checks=$((checks + 1))
	if ! "$halfsplit" check "$2" "${kit[@]}" >"$work/out" 2>&1; then
		no "$1" "does not check: $(head -6 "$work/out" | tr '\n' ' ')"
	elif ! grep -q ': clean$' "$work/out" || grep -q 'no kit was given' "$work/out"; then
		no "$1" "does not check clean: $(head -6 "$work/out" | tr '\n' ' ')"
	else
		echo "ok docs $1"
	fi
}

# in_skeleton WHERE NAME BODY
in_skeleton() {
	local skeleton=$top/tests/docs/$2.lua
	if [ ! -e "$skeleton" ]; then
		no "$1" "there is no $skeleton"
	elif [ "$2" = kit ]; then
		cp "$3" "$work/some-kit.lua"
		clean "$1" "$skeleton" "$work/some-kit.lua"
	else
		sed "/^-- HERE\$/r $3" "$skeleton" >"$work/whole.lua"
		local kit=$top/tests/docs/$2-kit.lua
		[ -e "$kit" ] || kit=$top/tests/docs/step-kit.lua
		clean "$1" "$work/whole.lua" "$kit"
	fi
}

# write_file WHERE FILE: a block that is a file goes into the scratch folder
write_file() {
	local name
	name=$(head -1 "$2.body" | sed -nE 's/^(--|#) file: //p')
	[ -n "$name" ] || return
	case $name in /* | *..*) no "$1" "\"$name\" is no name for a file"; return ;; esac
	mkdir -p "$scratch/$(dirname "$name")"
	case $(cat "$2.info") in
	lua) cp "$2.body" "$scratch/$name" ;;
	text) tail -n +2 "$2.body" >"$scratch/$name" ;;
	esac
}

# written WHERE BODY NAME: a playbook and a kit are checked, a family file is when it is required
written() {
	if grep -q '^playbook' "$2"; then
		clean "$1" "$scratch/$3"
	elif grep -qE '^(cable|pad|adapter|probe|lead|instrument|hookup)' "$2"; then
		clean "$1" "$top/tests/docs/kit.lua" "$scratch/$3"
	else
		echo "$1 $3" >>"$work/families"
	fi
}

# run_it WHERE BODY STATUS
run_it() {
	runs=$((runs + 1))
	(cd "$scratch" && PATH=$work/bin:$PATH bash -e "$2") >"$work/printed" 2>&1 </dev/null
	local got=$?
	if [ $got -eq "$3" ]; then
		echo "ok docs $1"
	else
		no "$1" "ended in status $got, and $3 was wanted: $(tail -4 "$work/printed" | tr '\n' ' ')"
	fi
}

# refuses WHERE HOW: the chain script must not accept $work/bad.jsonl
refuses() {
	if cmp -s "$work/good.jsonl" "$work/bad.jsonl"; then
		no "$1" "the mutilation \"$2\" changed nothing"
	elif bash "$work/verify.sh" "$work/bad.jsonl" >"$work/out" 2>&1; then
		no "$1" "the chain script accepts a transcript with $2"
	fi
}

verify() { # verify WHERE BODY
	local good=$work/good.jsonl mutilated=$work/bad.jsonl was=$bad case
	verifies=$((verifies + 1))
	cp "$2" "$work/verify.sh"
	for case in first-broken-fuse keyed; do
		cp "tests/golden/$case/transcript.jsonl" "$good"
		local anchor
		anchor=$("$halfsplit" audit "$good" | sed -n 's/^  lines and head: //p')
		[ "$(bash "$2" "$good" 2>&1)" = "$anchor" ] || no "$1" "the chain script does not print the anchor of $case: $(bash "$2" "$good" 2>&1 | tail -1)"
	done
	sed '15s/"utc":"2026/"utc":"2025/' "$good" >"$mutilated"
	refuses "$1" "a word changed"
	sed '12d' "$good" >"$mutilated"; refuses "$1" "a line removed"
	sed '12p' "$good" >"$mutilated"; refuses "$1" "a line doubled"
	sed '12{h;d};13{G}' "$good" >"$mutilated"; refuses "$1" "two lines swapped"
	sed '1d' "$good" >"$mutilated"; refuses "$1" "the first line removed"
	head -c -1 "$good" >"$mutilated"; refuses "$1" "no newline at its end"
	head -c -70 "$good" >"$mutilated"; refuses "$1" "a torn last line"
	sed '9s/"kind"/"kind" /' "$good" >"$mutilated"; refuses "$1" "a space put in"
	sed 's/$/\r/' "$good" >"$mutilated"; refuses "$1" "line endings converted"
	{ head -n 9 "$good"; printf '\0'; tail -n +10 "$good"; } >"$mutilated"; refuses "$1" "a NUL put in"
	sed '15s/.*/&\n/' "$good" >"$mutilated"; refuses "$1" "an empty line"
	sed '30,$d' "tests/golden/first-broken-fuse/transcript.jsonl" >"$mutilated"; sed '1,30d' "$good" >>"$mutilated"
	refuses "$1" "the end of another run"
	[ $bad -eq "$was" ] && echo "ok docs $1 (the chain script)"
}

# together FILE WITHIN: the lines of FILE stand together in WITHIN
together() {
	awk 'NR == FNR { want[++n] = $0; next } { got[++m] = $0 }
		END { for (at = 0; at + n <= m; at++) { for (i = 1; i <= n && got[at + i] == want[i]; i++); if (i > n) exit 0 } exit 1 }' "$1" "$2"
}

# cut_out GOLDEN: "NAME | A | B", from the screen
cut_out() {
	local name=${1%% |*} rest=${1#* | }
	awk -v from="${rest%% | *}" -v to="${rest#* | }" '
		index($0, from) { on = 1; text = "" }
		on { text = text $0 "\n" }
		on && index($0, to) { found = text; on = 0 }
		END { printf "%s", found }
	' "tests/golden/$name/screen.txt"
}

# renew DOCUMENT: with the excerpts as the golden screens hold them now
renew() {
	local golden
	grep '^<!-- golden: .* -->$' "$1" | while read -r golden; do
		golden=${golden#<!-- golden: }
		golden=${golden% -->}
		cut_out "$golden" >"$work/excerpt"
		[ -s "$work/excerpt" ] || continue
		awk -v mark="<!-- golden: $golden -->" -v file="$work/excerpt" '
			$0 == mark { next_block = 1 }
			skip && /^```/ { skip = 0 }
			!skip
			next_block && /^```/ { while ((getline line <file) > 0) print line; close(file); next_block = 0; skip = 1 }
		' "$1" >"$work/renewed" && cat "$work/renewed" >"$1"
	done
}

# excerpt WHERE BODY GOLDEN
excerpt() {
	excerpts=$((excerpts + 1))
	cut_out "$3" >"$work/excerpt"
	if [ -s "$work/excerpt" ] && cmp -s "$2" "$work/excerpt"; then
		echo "ok docs $1 (excerpt)"
	else
		no "$1" "this is not what tests/golden/${3%% |*}/screen.txt holds; UPDATE=1 tests/docs.sh takes it anew"
	fi
}

block() { # block WHERE FILE: FILE.info, FILE.body, FILE.golden
	local info first golden
	info=$(cat "$2.info") first=$(head -1 "$2.body") golden=$(cat "$2.golden")
	[ -n "$golden" ] && excerpt "$1" "$2.body" "$golden"
	case $info in
	lua)
		case $first in
		"-- file: "*) written "$1" "$2.body" "${first#-- file: }" ;;
		"-- in: "*) in_skeleton "$1" "${first#-- in: }" "$2.body" ;;
		*) no "$1" "a lua block begins with \"-- file: NAME\" or \"-- in: NAME\"" ;;
		esac ;;
	"text output")
		if [ -s "$2.body" ] && together "$2.body" "$work/printed"; then
			echo "ok docs $1 (output)"
		else
			no "$1" "this is not what the command before it prints"
		fi ;;
	"sh test") run_it "$1" "$2.body" 0 ;;
	"sh test "[0-9]) run_it "$1" "$2.body" "${info##* }" ;;
	"sh verify") verify "$1" "$2.body" ;;
	esac
}

links() { # links DOCUMENT: what it points to is there
	local target
	for target in $(grep -oE '\]\([^)#:]+' "$1" | cut -c3- | sort -u); do
		[ -e "$(dirname "$1")/$target" ] || no "$1" "it points to $target, which is not there"
	done
}

# says DOCUMENT WHAT WORD...: each word stands in the document, as a key, in quotes or in backquotes
says() {
	local document=$1 what=$2 word missing=
	shift 2
	for word in "$@"; do
		grep -qE -- "(^|[^A-Za-z_-])$word *=|[\"\`]$word[\"\`]" "$document" || missing="$missing $word"
	done
	if [ $# -lt 5 ]; then
		no "$document" "only $# $what were found in the sources"
	elif [ -n "$missing" ]; then
		no "$document" "it does not tell of these $what:$missing"
	else
		echo "ok docs $document ($what)"
	fi
}

# keys FILE...: what the builders know, from their lists of words
keys() {
	sed -n '/^static const char \*const [a-z_]*words\[\]/,/;/p' "$@" | grep -oE '"[a-z_]+"' | tr -d '"' | sort -u
}

mkdir "$work/bin"
ln -s "$halfsplit" "$work/bin/halfsplit"
for document in README.md DEVELOPERS.md docs/*.md; do
	name=$(basename "$document" .md)
	scratch=$work/$name/scratch
	mkdir -p "$scratch/tests" "$work/$name/blocks"
	cp -r playbooks examples "$scratch/"
	cp -r tests/golden "$scratch/tests/"
	: >"$work/families"
	[ "${UPDATE:-}" = 1 ] && renew "$document"
	blocks "$document" "$work/$name/blocks"
	[ -e "$work/$name/blocks/open" ] && no "$document" "its last block is not closed"
	for info in "$work/$name/blocks"/*.info; do
		[ -e "$info" ] && write_file "$document:$(cat "${info%.info}.line")" "${info%.info}"
	done
	for info in "$work/$name/blocks"/*.info; do
		[ -e "$info" ] || continue
		block "$document:$(cat "${info%.info}.line")" "${info%.info}"
	done
	while read -r where file; do
		word=$(basename "$file" .lua)
		grep -rqE "require \"(.*/)?$word\"" "$scratch/$(dirname "$file")" || no "$where" "no file requires $file, so it is not checked"
	done <"$work/families"
	links "$document"
done
says docs/kit.md "keys of the kit" $(keys core/playbook/bind_kit.c core/playbook/bind_kit_shop.c)
says docs/playbooks.md "keys of a playbook" $(keys $(ls core/playbook/bind_*.c | grep -vE "bind_(kit|measure)"))
says docs/playbooks.md "builders" $(grep -E '_callees\[\] =' core/playbook/load.c | grep -oE '"[a-z]+"' | tr -d '"')
says docs/bench.md "answers to gates" $(grep -oE '\{"[^{}]*"\}\},?$' core/unit/gate_ids.c | grep -oE '"[a-z]+"' | tr -d '"' | sort -u)
says docs/transcript.md "kinds of line" opened $(sed -n '/kinds\[HS_FACT_KINDS\]/,/};/p' core/record/fact_lines.c | grep -oE '"[a-z-]+"' | tr -d '"' | sort -u)
[ $excerpts -gt 0 ] || no README.md "no excerpt of a screen is marked"
[ $verifies -eq 1 ] || no docs/transcript.md "the chain script is not there once"
[ $checks -gt 20 ] && [ $runs -gt 3 ] || no docs "only $checks checks and $runs runs: the blocks are not found"
exit $bad
