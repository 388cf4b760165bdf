#!/bin/bash
# The manual pages: every command, option, builder and key stands in them, and they are clean roff.
. "$(dirname "$0")/lib.sh"

build=$(dirname "$halfsplit")
# BUILD as it was given: files of dependencies name their targets with it.
env -u MAKEFLAGS -u MAKELEVEL -u MFLAGS make -s -C "$top" BUILD="${BUILD:-build}" man >make.txt 2>&1 || no "make man" "$(tail -3 make.txt)"
page1=$build/man/halfsplit.1 page5=$build/man/halfsplit-playbook.5
[ -s "$page1" ] && [ -s "$page5" ] || { no "make man" "a page is missing"; exit 1; }

# roff TEXT: as a page writes it
roff() { sed 's/\\/\\e/g; s/-/\\-/g' <<<"$1"; }

# has PAGE WHAT LINE: the line stands in the page as a whole
has() { grep -qxF -- "$3" "$1" || no "$2" "there is no line \"$3\" in $(basename "$1")"; }

# ---- commands and options ----
verbs=$("$halfsplit" --help | sed -nE 's/^  ([a-z]+) .*/\1/p')
[ "$(wc -w <<<"$verbs")" -ge 9 ] || no "commands" "only these were found: $verbs"
options=0
for verb in $verbs; do
	has "$page1" "command $verb" ".SS halfsplit $verb"
	sed -n "/^\.SS halfsplit $verb\$/,/^\.S[SH] /{p}" "$page1" | awk 'NR == 1 || !/^\.S[SH]/ { print; next } { exit }' >section
	"$halfsplit" "$verb" --help >help.txt
	while read -r option; do
		options=$((options + 1))
		grep -qE -- "^\\\\fB(\\\\-[a-z], )?$(roff "$option" | sed 's/\\/\\\\/g')\\\\fR" section || no "command $verb" "the page has no $option"
	done < <(sed -nE 's/^  (-[a-z], )?(--[a-z-]+).*/\2/p' help.txt)
	while read -r letter; do
		grep -qF -- "\\fB\\$letter, " section || no "command $verb" "the page has no $letter"
	done < <(sed -nE 's/^  (-[a-z]), .*/\1/p' help.txt)
	# What it takes and does, word for word.
	sed -e 's/\\fB//g; s/\\fI//g; s/\\fR//g; s/\\-/-/g; s/\\(aq/'"'"'/g; s/\\(dq/"/g; s/\\(ti/~/g; s/\\[&:]//g; s/\\e/\\/g' -e '/^\./d' section |
		tr -s ' \n' '\n\n' >words
	tail -n +3 help.txt | tr -d '`' | tr -s ' \n' '\n\n' >told
	diff told words | grep -E '^[<>] .' >differ
	[ -s differ ] && no "command $verb" "page and --help differ: $(head -4 differ | paste -sd' ')"
done
[ $options -gt 20 ] || no "options" "only $options were found"
[ $bad -eq 0 ] && echo "ok commands and options"

# ---- the document is all there ----
headings() { # headings DOCUMENT PAGE
	local was=$bad heading
	while read -r heading; do
		grep -qxF -- ".SH $(roff "${heading^^}")" "$2" || no "$1" "the page lacks the heading \"$heading\""
	done < <(grep '^## ' "$top/docs/$1" | cut -c4-)
	while read -r heading; do
		grep -qxF -- ".SS $(roff "$heading")" "$2" || no "$1" "the page lacks the heading \"$heading\""
	done < <(sed '/^```/,/^```/d' "$top/docs/$1" | grep '^### ' | cut -c5-)
	[ "$(grep -c '^\.TP$' "$2")" -gt 30 ] || no "$1" "its tables are not in the page"
	[ "$bad" -eq "$was" ] && echo "ok $1"
}
headings bench.md "$page1"
headings playbooks.md "$page5"
grep -q 'gate/off/unkeyed' "$page1" || no "bench.md" "no gates"
grep -qE '^\\fBNO' "$page1" && no "bench.md" "a table lost its first column"

# ---- builders and keys ----
missing=
builders=$(grep -E '_callees\[\] =' "$top/core/playbook/load.c" | grep -oE '"[a-z]+"' | tr -d '"')
keys=$(ls "$top"/core/playbook/bind_*.c | grep -vE 'bind_(kit|measure)' | xargs sed -n '/^\(static \)\?const char \*const [a-z_]*words\[[A-Z_]*\] *=/,/;/p' | grep -oE '"[a-z_]+"' | tr -d '"' | sort -u)
[ "$(wc -w <<<"$builders")" -ge 13 ] && [ "$(wc -w <<<"$keys")" -gt 100 ] || no "keys" "they were not found in the sources"
for word in $builders $keys; do
	grep -qE -- "(^|[^A-Za-z_])$word *=|\\\\\(dq$word\\\\\(dq|\\\\fB$word(\\\\fR| )|^ *$word " "$page5" || missing="$missing $word"
done
if [ -n "$missing" ]; then no "keys" "the page does not tell of$missing"; else echo "ok builders and keys"; fi

# ---- clean roff ----
for page in "$page1" "$page5"; do
	what=$(basename "$page") was=$bad
	head -2 "$page" | grep -q '^\.TH ' || no "$what" "no title"
	grep -nE '^\.' "$page" | grep -vE '^[0-9]+:\.(\\"|TH |SH |SS |PP$|TP$|IP \\\(bu 2$|RS 4$|RE$|nf$|fi$|br$|nh$|ad l$|BR )' | head -3 >odd
	[ -s odd ] && no "$what" "odd requests: $(paste -sd' ' odd)"
	grep -nE "^'| \$" "$page" | head -3 >odd
	[ -s odd ] && no "$what" "odd lines: $(paste -sd' ' odd)"
	sed -E 's/\\(f[BIR]|-|e|&|:|\((aq|ga|ha|ti|dq|bu)|")//g' "$page" | grep -n '\\' | head -3 >odd
	[ -s odd ] && no "$what" "odd escapes: $(paste -sd' ' odd)"
	awk '/^\.RS/ { rs++; if (rs > 1) bad = 1 } /^\.RE/ { rs-- } /^\.nf/ { nf++ } /^\.fi/ { nf-- } /^\.S[HS] |^\.TP|^\.PP|^\.IP/ { if (rs || nf) bad = 1 } rs < 0 || nf < 0 { bad = 1 }
		/^$/ { bad = 1 } END { exit bad || rs || nf }' "$page" || no "$what" "a block is left open, or a line is empty"
	if command -v groff >/dev/null; then
		groff -man -Tutf8 -ww -z "$page" >warnings 2>&1 || no "$what" "groff fails"
		[ -s warnings ] && no "$what" "groff warns: $(head -3 warnings | paste -sd' ')"
	fi
	if man --version 2>/dev/null | grep -q '^man [0-9]'; then
		LC_ALL=C.UTF-8 MAN_KEEP_FORMATTING='' MANWIDTH=100 man --warnings -l "$page" >shown 2>warnings
		[ -s warnings ] && no "$what" "man warns: $(head -3 warnings | paste -sd' ')"
		[ "$(wc -l <shown)" -gt 300 ] || no "$what" "man shows only $(wc -l <shown) lines"
	fi
	[ "$bad" -eq "$was" ] && echo "ok $what is clean"
done
exit $bad
