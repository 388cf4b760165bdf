#!/bin/bash
# Every function of the measurement library in Lua stands in docs/mathematics.md as its usage says, and every one named there is offered.
set -u
cd "$(dirname "$0")/.."
page=docs/mathematics.md
[ -e "$page" ] || { echo "not ok measure_names: there is no $page"; exit 1; }
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
bad=0

no() {
	echo "not ok measure_names: $1"
	bad=1
}

# The usage in each row, however it is broken into lines.
for file in core/playbook/bind_measure_*.c; do
	tr '\n\t' '  ' <"$file" | sed -E 's/([^\\])" +"/\1/g' | grep -oE '\{"[a-z_0-9]+", *[a-z_0-9]+, *[0-9]+, *"([^"\\]|\\.)*"\}' >"$work/rows"
	[ -s "$work/rows" ] || no "no row was found in $file"
	while IFS= read -r row; do
		name=$(sed -E 's/^\{"([a-z_0-9]+)".*/\1/' <<<"$row")
		usage=$(sed -E 's/.*, *"(([^"\\]|\\.)*)"\}$/\1/; s/\\"/"/g' <<<"$row")
		word=${usage%%(*}
		[ "${word##*.}" = "$name" ] || no "the usage of $name in $file speaks of $word"
		echo "$word" >>"$work/offered"
		grep -qF -- "\`$usage\`" "$page" || no "$page does not have \`$usage\`"
	done <"$work/rows"
done

modules=$(sed 's/\..*//' "$work/offered" | sort -u | paste -sd'|')
grep -oE "\`($modules)(\.[a-z_0-9]+)?\(" "$page" | tr -d '`(' | sort -u >"$work/named"
sort -u "$work/offered" -o "$work/offered"
while read -r word; do
	no "$page names $word, which the library does not offer"
done < <(comm -13 "$work/offered" "$work/named")
# Its C name stands beside it; every one that is named there is declared in a header.
while read -r name; do
	grep -qrE "\b$name\(" include/halfsplit || no "$page names $name, which no header declares"
done < <(grep -oE '\bhs_[a-z_0-9]+\b' "$page" | sort -u)
[ "$(wc -l <"$work/offered")" -gt 100 ] || no "only $(wc -l <"$work/offered") functions were found in the sources"
[ $bad -eq 0 ] && echo "ok measure_names"
exit $bad
