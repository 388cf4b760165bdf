#!/bin/bash
# A whole locale with a decimal comma, as a shop in Germany has it, changes nothing of what is printed or recorded: every command is
# run once plainly and once under it, and the two are compared byte for byte.
. "$(dirname "$0")/lib.sh"

# The real one where its source is installed; else the 61 bytes that make a comma.
mkdir -p locales/xx_XX
if command -v localedef >/dev/null && [ -e /usr/share/i18n/locales/de_DE ]; then
	localedef -i de_DE -f UTF-8 --no-archive locales/de_DE.UTF-8 2>make.txt
	comma=(env "LOCPATH=$work/locales" LC_ALL=de_DE.UTF-8 LANG=de_DE.UTF-8)
else
	cat >comma.c <<'C'
#include "comma_locale.h"
int main(int argc, char **argv)
{
	return argc == 2 && comma_locale_write(argv[1]) ? 0 : comma_locale_set();
}
C
	"${CC:-gcc}" -std=c17 -D_GNU_SOURCE -I"$top/tests/unit" -o comma comma.c 2>make.txt && ./comma locales/xx_XX/LC_NUMERIC
	comma=(env -u LC_ALL "LOCPATH=$work/locales" LC_NUMERIC=xx_XX)
fi
got=$("${comma[@]}" printf '%.1f' 1.5)
[ "$got" = "1,5" ] && echo "ok the locale writes a comma" || no "the locale" "it writes $got: $(head -2 make.txt)"

# same NAME COMMAND...: the same status, output and errors; {} in an argument is a file name of its own for each of the two
same() {
	local what=$1 plain under
	shift
	"${@//\{\}/plain}" >plain.out 2>plain.err </dev/null
	plain=$?
	"${comma[@]}" "${@//\{\}/under}" >under.out 2>under.err </dev/null
	under=$?
	sed -i 's/plain/FILE/g' plain.out plain.err
	sed -i 's/under/FILE/g' under.out under.err
	if [ $plain -ne $under ]; then
		no "$what" "status $plain became $under: $(head -2 under.err)"
	elif ! cmp -s plain.out under.out || ! cmp -s plain.err under.err; then
		no "$what" "$(diff plain.out under.out | head -4; diff plain.err under.err | head -4)"
	elif [ ! -s plain.out ] && [ ! -s plain.err ]; then
		no "$what" "nothing was printed"
	else
		echo "ok $what"
	fi
}

cp "$top/examples/first.lua" "$top/examples/kit.lua" .
for case in "0 dBm in dBuV at 50 ohm" "-12.3 dBm + 1.45 dB + 10 dB" "swr 1.8 as return loss" "1.5 V in mV" "10 m RG-213/U at 145 MHz" \
	"1,5 dB + 1 dB" "0.5 SWR" "1e400 V"; do
	same "calc $case" "$halfsplit" calc "$case" --why
	same "calc --json $case" "$halfsplit" calc --json "$case"
done
printf 'return show(2.5, "dBm"), 1.5, tonumber("2.5"), level.convert("0.5 dBm", "dBuV", 50), ("%%.3f"):format(1.5)\n' >sum.lua
same "calc -f" "$halfsplit" calc -f sum.lua
printf 'freq_mhz,loss_db\n100.5,0.68\n400.25,1.44\n' >k.csv
printf '# MHz S DB R 50.5\n100.5 -20.5 0 -0.68 0.5 -0.68 0 -20 0\n400.25 -20 0 -1.44 0 -1.44 0 -20 0\n' >k.s2p
for cable in k.csv k.s2p "RG-213/U --length 2.5m"; do
	# shellcheck disable=SC2086
	same "loss $cable" "$halfsplit" loss $cable --at 225.5MHz
done
same "check" "$halfsplit" check first.lua
same "list" "$halfsplit" list
answers=$top/tests/golden/first-broken-fuse/in.answers
same "run" "$halfsplit" run first.lua --unit LB-7 --by "Ada Wren" --answers "$answers" --transcript {}.jsonl
cmp plain.jsonl under.jsonl && echo "ok transcript" || no "transcript" "it differs under the locale"
same "audit" "$halfsplit" audit {}.jsonl
same "show" "$halfsplit" show {}.jsonl
same "show as data" "$halfsplit" show {}.jsonl --as json

# Runs with cables, corrections and uncertainties, as they are kept.
cd "$top" || exit 1
for case in keyed garth-match copse-trim fell-mixer; do
	folder=tests/golden/$case
	[ -d "$folder" ] || { no "$case" "there is no $folder"; continue; }
	eval "args=($(cat "$folder/args"))"
	"${comma[@]}" "$halfsplit" run "${args[@]}" --answers "$folder/in.answers" --transcript "$work/$case.jsonl" >"$work/$case.txt" 2>&1
	cmp -s "$folder/transcript.jsonl" "$work/$case.jsonl" && echo "ok $case" ||
		no "$case" "$(diff "$folder/transcript.jsonl" "$work/$case.jsonl" | cut -c1-200 | head -4)"
done
exit $bad
