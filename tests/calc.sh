#!/bin/bash
# halfsplit calc and halfsplit loss: results, JSON, exit statuses, a decimal-comma environment, and hostile input.
. "$(dirname "$0")/lib.sh"

# is NAME STATUS WHOLE-OUTPUT ARGUMENT...: standard output is this, word for word
is() {
	local what=$1 status=$2 wanted=$3 got
	shift 3
	got=$("$halfsplit" "$@" 2>err.txt </dev/null)
	local ended=$?
	if [ $ended -ne "$status" ]; then
		no "$what" "exit status $ended, and $status was wanted: $(head -2 err.txt)"
	elif [ "$got" != "$wanted" ]; then
		no "$what" "printed \"$got\", and \"$wanted\" was wanted"
	elif [ "$status" -eq 0 ] && [ -s err.txt ]; then
		no "$what" "said on standard error: $(head -2 err.txt)"
	else
		echo "ok $what"
	fi
}

# refuses NAME TEXT ARGUMENT...: status 2, nothing on standard output, one sentence with this text on standard error
refuses() {
	local what=$1 wanted=$2
	shift 2
	"$halfsplit" "$@" >out.txt 2>err.txt </dev/null
	local ended=$?
	if [ $ended -ne 2 ]; then
		no "$what" "exit status $ended, and 2 was wanted: $(head -c 200 out.txt)"
	elif [ -s out.txt ]; then
		no "$what" "printed $(head -c 200 out.txt)"
	elif ! grep -qF -- "$wanted" err.txt; then
		no "$what" "said $(head -c 300 err.txt), and \"$wanted\" was wanted"
	elif [ "$(grep -c '^halfsplit: ' err.txt)" != 1 ] || LC_ALL=C grep -qP '[\x00-\x08\x0b-\x1f\x7f]' err.txt; then
		no "$what" "not one clean sentence: $(head -c 300 err.txt | cat -v)"
	else
		echo "ok $what"
	fi
}

# ---- expressions ----
is "calc converts" 0 "106.99 dBuV" calc 0 dBm in dBuV at 50 ohm
is "calc one argument" 0 "106.99 dBuV" calc "0 dBm in dBuV at 50 ohm"
is "calc begins with a minus" 0 "-0.85 dBm" calc -12.3 dBm + 1.45 dB + 10 dB
is "calc begins with a minus, one argument" 0 "-15.3 dBm" calc "-12.3 dBm - 3 dB"
is "calc a minus alone" 0 "3 dB" calc 20 dBm - 17 dBm
is "calc two numbers below 0" 0 "-91.65 dBm (signal alone)" calc -90 dBm near -95 dBm
is "calc -.5" 0 "-0.5 dBm" calc -.5 dBm
is "calc minus before a parenthesis" 0 "-5" calc "-(2 + 3)"
is "calc options anywhere" 0 '{"value":3,"unit":"dB"}' calc 20 dBm --json - 17 dBm
is "calc -- ends the options" 0 "-3 dBm" calc -- -3 dBm
is "calc times" 0 "30 W" calc 12 V x 2.5 A
is "calc both directions of a line" 0 "1.507 SWR (seen through 1.5 dB of line)" calc swr 1.8 through 1.5 dB
is "calc behind" 0 "2.353 SWR (at the far end, behind 1.5 dB of line)" calc swr 1.8 behind 1.5 dB
is "calc why" 0 "$(printf '46.99 dBm\n  dBm = 10 log10(W) + 30: 50 W = 46.9897 dBm')" calc 50 W in dBm --why
is "calc json" 0 '{"value":106.98970004336019,"unit":"dBuV"}' calc --json 0 dBm in dBuV at 50 ohm
is "calc json of a plain number" 0 '{"value":2.5,"unit":""}' calc --json 5 / 2
is "calc json with a prefix asked for" 0 '{"value":2300,"unit":"mV"}' calc --json 2 V + 300 mV in mV
is "calc json with why" 0 '{"value":3,"unit":"dB","why":["20 dBm - 17 dBm = 3 dB"]}' calc --json --why 20 dBm - 17 dBm
is "calc json without a note" 0 '{"value":0.2,"unit":""}' calc --json swr 1.5 as gamma
is "calc json with a note" 0 \
	'{"value":0.2,"unit":"","note":"gamma","why":["gamma = (SWR - 1)/(SWR + 1): 1.5 SWR = gamma 0.2"]}' calc --json --why swr 1.5 as gamma
is "calc json of an error" 2 '{"error":"0 W has no level in decibels","class":"domain"}' calc --json 0 W in dBm
is "calc json of an error and why" 2 \
	'{"error":"0 W has no level in decibels","class":"domain","hint":"say what was read instead, such as a level below the noise"}' \
	calc --json --why 0 W in dBm
is "calc json without an expression" 2 \
	'{"error":"calc needs an expression","class":"syntax"}' \
	calc --json
for pair in "syntax:3 dBm and" "unit:3 dBm + 3 dBm" "impedance:0 dBm in dBuV" "range:1e308 * 10" "table:1 m RG-213/U at 9 GHz" \
	"null:0 dBm and 0 dBm at 180 deg" "domain:swr 0.5"; do
	got=$("$halfsplit" calc --json "${pair#*:}")
	ended=$?
	case $got in
	*'"class":"'"${pair%%:*}"'"'*) [ $ended -eq 2 ] && echo "ok calc class ${pair%%:*}" || no "class ${pair%%:*}" "status $ended" ;;
	*) no "class ${pair%%:*}" "$got" ;;
	esac
done
refuses "calc without an expression" "calc needs an expression" calc
refuses "calc empty" "the expression is empty" calc ""
refuses "calc unknown option" "unknown option --jsn" calc --jsn 3 dBm
refuses "calc adds levels" 'write "and" to add their powers' calc 3 dBm + 3 dBm
refuses "calc decimal comma" "a comma in the number" calc 1,5 dB + 1 dB

# ---- hostile input ----
refuses "calc very long" "has 100000 bytes, and at most 4096" calc "$(head -c 100000 /dev/zero | tr '\0' 1)"
refuses "calc deep" "more than 64 deep" calc "$(head -c 4000 /dev/zero | tr '\0' '(')"
refuses "calc deep signs" "more than 64 deep" calc "$(printf -- '- %.0s' $(seq 1000))"
refuses "calc control characters" "the control character U+001B" calc $'3 \e[2J dBm'
refuses "calc line break" "the control character U+000A" calc $'3 dBm\n4 dBm'
refuses "calc not UTF-8" "not UTF-8" calc $'3 dBm \xff'
refuses "calc right-to-left" '\u202E' calc $'3 dBm \u202eand 4'
refuses "calc format" '"%n%s" stands' calc 3 dBm %n%s
refuses "calc nan" '"nan" stands' calc nan
refuses "calc many words" "and at most 4096" calc $(seq 3000)

# ---- a decimal-comma environment ----
cat >comma.c <<'C'
#include "comma_locale.h"
int main(int argc, char **argv)
{
	mkdir(argv[1], 0700);
	return argc == 3 && comma_locale_write(argv[2]) ? 0 : 1;
}
C
mkdir -p locale/xx_XX
if "${CC:-gcc}" -std=c17 -D_GNU_SOURCE -Wno-unused-function -I"$top/tests/unit" -o comma comma.c 2>cc.txt &&
	./comma locale/xx_XX locale/xx_XX/LC_NUMERIC; then
	got=$(env -u LC_ALL LOCPATH="$work/locale" LC_NUMERIC=xx_XX "$halfsplit" calc --json 1.5 V in mV)
	[ "$got" = '{"value":1500,"unit":"mV"}' ] && echo "ok calc under a decimal comma" || no "decimal comma" "$got"
	got=$(env -u LC_ALL LOCPATH="$work/locale" LC_NUMERIC=xx_XX "$halfsplit" loss RG-213/U --length 2.5m --at 100MHz)
	case $got in "0.17 dB +/- 0.02 dB at 100 MHz"*) echo "ok loss under a decimal comma" ;; *) no "loss under a comma" "$got" ;; esac
else
	no "decimal comma" "the locale could not be made: $(head -3 cc.txt)"
fi

# ---- files ----
printf 'return level.convert("0 dBm", "dBuV", 50)\n' >good.lua
printf 'return 1 +\n' >broken.lua
printf 'while true do end\n' >loop.lua
printf 'return os.getenv("HOME")\n' >os.lua
printf 'return 1 -- \0\n' >nul.lua
case $("$halfsplit" calc -f good.lua 2>&1) in *106.98970004336*) echo "ok calc -f" ;; *) no "calc -f" "$("$halfsplit" calc -f good.lua 2>&1)" ;; esac
refuses "calc -f broken" "broken.lua:" calc -f broken.lua
refuses "calc -f that never ends" "loop.lua:1" calc -f loop.lua
refuses "calc -f reaching out" "os.lua:1" calc --file os.lua
refuses "calc -f with a NUL" "NUL" calc -f nul.lua
refuses "calc -f of nothing" "missing.lua" calc -f missing.lua
refuses "calc -f and an expression" "a file or an expression, and both were given" calc -f good.lua 3 dBm
refuses "calc -f without a file" "needs an argument" calc -f

# ---- loss ----
cat >kit.lua <<'LUA'
cable "K12" { type = "RG-213/U", length = "3 m", u = "0.2 dB" }
cable "K13" { type = "RG-213/U", length = "3 m" }
pad "P10" { loss = "10 dB", u = "0.1 dB" }
instrument "M1" { reads = { power = { from = "-60 dBm", to = "20 dBm", u = "0.3 dB" } }, max = { rf = "23 dBm" } }
hookup "meter lead" { "K12", "P10", "M1" }
LUA
printf 'freq_mhz,loss_db\n100,0.68\n400,1.44\n' >k.csv
printf '100e6,0.68\n100e6,0.7\n' >conflict.csv
printf '# MHz S DB R 50\n100 -20 0 -0.68 0 -0.68 0 -20 0\n400 -20 0 -1.44 0 -1.44 0 -20 0\n' >k.s2p
printf '# MHz S DB R 50\n100 -20 0\n' >one.s1p
is "loss of a type" 0 "$(printf '0.2 dB +/- 0.02 dB at 100 MHz\n  from RG-213/U, 3 m, u 10 %% assumed; nominal figure for the generic type, from published makers'"'"' tables; measure your own')" \
	loss RG-213/U --at 100MHz --length 3m
is "loss of an entry of ./kit.lua" 0 "$(printf '0.2 dB +/- 0.2 dB at 100 MHz\n  from RG-213/U, 3 m')" loss K12 --at "100 MHz"
is "loss of a pad" 0 "$(printf '10 dB +/- 0.1 dB at 1 GHz\n  from 10 dB pad')" loss P10 --at 1GHz --kit kit.lua
is "loss of a hookup" 0 "$(printf '10.2 dB +/- 0.22 dB at 100 MHz\n  from K12 (RG-213/U, 3 m) + P10 (10 dB pad)')" loss "meter lead" --at 100MHz
is "loss of a table" 0 "$(printf '1.06 dB +/- 0.2 dB at 225 MHz\n  from k.csv, u 0.2 dB assumed')" loss k.csv --at 225MHz
is "loss of a Touchstone file" 0 "$(printf '1.06 dB +/- 0.2 dB at 225 MHz\n  from k.s2p, u 0.2 dB assumed')" loss k.s2p --at 225MHz
is "loss json" 0 '{"loss_db":0.68,"uncertainty_db":0.2}' loss k.csv --at 100MHz --json
is "loss json and why" 0 '{"loss_db":0.68,"uncertainty_db":0.2,"source":"k.csv, u 0.2 dB assumed"}' loss k.csv --at 100MHz --json --why
is "loss json outside the table" 2 \
	'{"error":"cable \"k.csv\": no loss known at 3.2 GHz: the table runs from 100 MHz to 400 MHz","class":"table"}' \
	loss k.csv --at 3.2GHz --json
refuses "loss outside a type's table" "the table runs from 10 MHz to 3 GHz" loss RG-213/U --length 1m --at 4GHz
refuses "loss below the table" "the table runs from 100 MHz to 400 MHz" loss k.s2p --at 99MHz
refuses "loss without a frequency" "--at was not given" loss K12
refuses "loss at no frequency" 'and a frequency was wanted' loss K12 --at 3dB
refuses "loss at a bare number" '"100" has no unit' loss K12 --at 100
refuses "loss at 0 Hz" "--at must be above 0 Hz" loss K12 --at 0Hz
refuses "loss of a type without a length" "its length was not given" loss RG-213/U --at 100MHz
refuses "loss of an entry with a length" "--length is for a generic type" loss K12 --at 100MHz --length 3m
refuses "loss of a length in dB" "and a length was wanted" loss RG-213/U --at 100MHz --length 3dB
refuses "loss of an instrument" "is an instrument" loss M1 --at 100MHz
refuses "loss of a slip" "did you mean K12?" loss K21 --at 100MHz
refuses "loss of nothing" "is neither an entry of the kit nor a generic cable type nor a file" loss nothing-here --at 100MHz
refuses "loss of a missing file" "missing.csv" loss missing.csv --at 100MHz
refuses "loss of a missing Touchstone file" "missing.s2p" loss missing.s2p --at 100MHz
refuses "loss of a conflict" "conflict.csv: the loss table says both 0.68 dB and 0.7 dB" loss conflict.csv --at 100MHz
refuses "loss of one port" "two" loss one.s1p --at 100MHz
refuses "loss of two cables" "and nothing more" loss K12 K13 --at 100MHz
refuses "loss with a missing kit" "no-kit.lua" loss K12 --at 100MHz --kit no-kit.lua
exit $bad
