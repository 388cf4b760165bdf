#!/bin/bash
# The shipped playbooks, broken by one line each: check must find it, name file and line, show the line, and say what is wrong.
#
# A row is   FILE ~ SED ~ PART OF THE MESSAGE OR ITS HINT ~ WHERE
# A message that begins with "warning: " is wanted as one; every other as an error.
# SED must change, add or take out exactly one line of playbooks/FILE. The error is wanted in that line of that file. WHERE
# names another line: a regular expression gives the first line of the edited file that matches it, NAME.lua:EXPRESSION one
# of another file of the family.
set -u
cd "$(dirname "$0")/.."
top=$PWD
halfsplit=$top/${BUILD:-build}/halfsplit
case ${BUILD:-} in /*) halfsplit=$BUILD/halfsplit ;; esac
[ -x "$halfsplit" ] || { echo "not ok edits: there is no $halfsplit; make builds it"; exit 1; }
unset HALFSPLIT_KIT HALFSPLIT_PLAYBOOKS
export LC_ALL=C NO_COLOR=1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work" || exit 1
bad=0
rows=0

no() { # no WHAT WHY
	echo "not ok edits: $1: $2"
	bad=1
}

edit() { # edit FILE SED: leaves the number of the line in $line; false when it is not one line that changes
	local removed added
	rm -rf "${1%%/*}"
	cp -r "$top/playbooks/${1%%/*}" .
	sed -E -i -- "$2" "$1" || return 1
	diff "$top/playbooks/$1" "$1" >diff.txt
	removed=$(grep -c '^<' diff.txt)
	added=$(grep -c '^>' diff.txt)
	line=$(sed -nE '1s/^[0-9,]+[acd]([0-9]+).*/\1/p' diff.txt)
	[ "$removed" -le 1 ] && [ "$added" -le 1 ] && [ $((removed + added)) -gt 0 ]
}

place() { # place FILE WHERE: leaves the wanted place in $name and $line
	name=${1##*/}
	case $2 in
	'') return ;;
	*.lua:*) name=${2%%:*} ;;
	esac
	line=$(grep -nE -m1 -- "${2#"$name":}" "${1%%/*}/$name" | cut -d: -f1)
	[ -n "$line" ]
}

try() { # try FILE SED PART WHERE
	local what="$1 $2" kind=error wanted=1 status block
	case $3 in 'warning: '*) kind=warning wanted=0 ;; esac
	edit "$1" "$2" || { no "$what" "$(grep -c '^[<>]' diff.txt) lines changed, and one edit of one line was wanted"; return; }
	place "$1" "$4" || { no "$what" "no line matches $4"; return; }
	"$halfsplit" check "${1%%/*}/$(cd "$top/playbooks/${1%%/*}" && ls ./*-*.lua | sed 's,.*/,,')" >out.txt 2>err.txt
	status=$?
	# One error is its own line, the line it quotes, and its hint.
	block=$(awk -v lead="$name:$line: $kind: " \
		'index($0, lead) == 1 { on = 1; print; next } /^[^ ]/ { on = 0 } on' out.txt)
	if [ $status -ne $wanted ]; then
		no "$what" "exit status $status: $(head -3 err.txt)"
	elif [ -z "$block" ]; then
		no "$what" "nothing is said of $name:$line, but: $(head -4 out.txt)"
	elif ! grep -qF -- "$3" <<<"$block"; then
		no "$what" "no \"$3\" in: $block"
	elif ! grep -qxF -- "    $(sed -n "${line}s/^[ 	]*//p" "${1%%/*}/$name")" <<<"$block"; then
		no "$what" "the line is not shown: $block"
	elif [ -s err.txt ]; then
		no "$what" "$(head -3 err.txt)"
	else
		echo "ok $name:$line $3"
	fi
}

while IFS='~' read -r file sed part at; do
	case $file in '' | \#*) continue ;; esac
	rows=$((rows + 1))
	trim() { sed 's/^[[:space:]]*//; s/[[:space:]]*$//' <<<"$1"; }
	try "$(trim "$file")" "$(trim "$sed")" "$(trim "$part")" "$(trim "$at")"
done <<'ROWS'
# ---- words that are not known ----
fell/low-output.lua ~ s/under = "mains on/undr = "mains on/ ~ under
fell/low-output.lua ~ /^step "tp1-level"/,/^}/s/hookup = "tray lead"/hokup = "tray lead"/ ~ did you mean "hookup"
fell/low-output.lua ~ s/^step "tp1-mid"/stepp "tp1-mid"/ ~ step
fell/low-output.lua ~ s/^suspect "w1"/suspekt "w1"/ ~ suspect
fell/low-output.lua ~ s/inject = signal "1.45 GHz"/inject = signl "1.45 GHz"/ ~ signl
fell/low-output.lua ~ /^step "lock-lamp"/,/^}/s/to = "lo-trim-up"/to = "lo-trimup"/ ~ lo-trim-up
fell/low-output.lua ~ s/ok = "what-helped", high/ok = "what-helpd", high/ ~ what-helped
copse/no-output.lua ~ s/beyond = "found-eats-fuses"/beyond = "found-eats-fuse"/ ~ found-eats-fuses
fell/low-output.lua ~ s/absent = "not-shown"/absent = "notshown"/ ~ not-shown
fell/low-output.lua ~ s/bar stays dark", to = "power-lamp"/bar stays dark", to = "power-lmp"/ ~ power-lamp
fell/low-output.lua ~ /^step "lna-feed-ohms"/,/^}/s/clears = \{ "lna" \}/clears = { "lan" }/ ~ lna
fell/low-output.lua ~ s/implicates = \{ "limiter" \}/implicates = { "limitr" }/ ~ limiter
fell/low-output.lua ~ s/finding = \{ "filter" \}/finding = { "fliter" }/ ~ filter
fell/low-output.lua ~ /^step "lo-level"/,/^}/s/hookup = "tray lead"/hookup = "tray leed"/ ~ tray lead
fell/low-output.lua ~ /^step "tp2-level"/,/^}/s/open = \{ "top-cover" \}/open = { "top-cove" }/ ~ top-cover
fell/low-output.lua ~ /^step "tp2-level"/,/^}/s/power = "on"/power = "onn"/ ~ onn
fell/low-output.lua ~ /^step "tp2-level"/,/^}/s/"power", at/"powr", at/ ~ did you mean "power"
fell/low-output.lua ~ /^step "tp1-level"/,/^}/s/at = "TP1"/at = "TP11"/ ~ warning: no point "TP11" is declared
fell/low-output.lua ~ /^step "tp2-level"/,/^}/s/expect = banded/expect = "signl"/ ~ did you mean "signal"
fell/family.lua ~ s/"lna", gain = "20 dB \+\/- 1 dB"/"lna", gain = "20 dBm +\/- 1 dB"/ ~ a gain is in dB
fell/family.lua ~ s/lo_from = "TP4"/lo_from = "TP44"/ ~ did you mean "TP4"
fell/family.lua ~ s/by = "band", ways/by = "bnad", ways/ ~ no control "bnad" is declared
fell/family.lua ~ s/supply = "lna-feed", faults/supply = "lna-fed", faults/ ~ did you mean "lna-feed"
fell/family.lua ~ s/faults = \{ weak = /faults = { week = / ~ did you mean "weak"
fell/low-output.lua ~ s/with = \{ "w3-parted" \}/with = { "w3-prted" }/ ~ w3-parted
fell/low-output.lua ~ s/makes = \{ "f1-out" \}/makes = { "f1out" }/ ~ f1-out
fell/low-output.lua ~ s/uses = \{ loss = "filter-label" \}/uses = { loss = "filter-lable" }/ ~ filter-label
fell/low-output.lua ~ s/^require "family"/require "famliy"/ ~ famliy
fell/low-output.lua ~ /^step "pull-fuse"/,/^}/s/zone = "primary"/zone = "pri-mary"/ ~ primary
copse/no-output.lua ~ /^step "ref-label"/,/^}/s/holds = "all"/holds = { "all", "sleep" }/ ~ sleep
copse/no-output.lua ~ s/reuse = "out-volts"/reuse = "out-volt"/ ~ out-volts
copse/no-output.lua ~ s/ratio = \{ "out", "ref" \}/ratio = { "out", "reff" }/ ~ ref
copse/family.lua ~ s/folows|follows_line = true/folows_line = true/ ~ follows_line
copse/family.lua ~ s/\["c7-lifted"\]  = \{ kind = "lifted leg"/["c7-lifted"]  = { kind = "lifted lug"/ ~ lifted leg
copse/family.lua ~ s/farads = "10 mF"/farad = "10 mF"/ ~ farads
fell/family.lua ~ s/zones = \{$/zone = {/ ~ zones
fell/family.lua ~ s/zone = "primary", title = "the mains lead"/zone = "primry", title = "the mains lead"/ ~ primary
fell/family.lua ~ s/after = "top-cover", fixings/after = "top-covr", fixings/ ~ top-cover
fell/family.lua ~ s/^point "D3"  \{/poin "D3"  {/ ~ point
fell/family.lua ~ s/in ipairs\(sampled\)/in ipair(sampled)/ ~ ipairs
fell/kit.lua ~ s/"K3", "LM1"/"K33", "LM1"/ ~ K3
fell/kit.lua ~ s/^adapter "AD1"/adaptor "AD1"/ ~ adapter
fell/kit.lua ~ s/type = "RG-213\/U"/type = "RG-2133\/U"/ ~ RG-213/U
fell/kit.lua ~ s/^pad "P6" \{ loss/pad "P6" { los/ ~ loss
copse/kit.lua ~ s/    diode = \{ from/    diod = { from/ ~ diode
# ---- values that are not right ----
fell/low-output.lua ~ s/limits = "-13 dBm \+\/- 2.5 dB"/limits = "-13 V +\/- 2 V"/ ~ V
fell/low-output.lua ~ s/limits = "-13 dBm \+\/- 2.5 dB"/limits = -13/ ~ unit
fell/low-output.lua ~ s/limits = "-13 dBm \+\/- 1\.5 dB"/limits = "-13 dBm +\/- 1,5 dB"/ ~ 1.5
fell/low-output.lua ~ s/limits = "100 ohm \+\/- 10 %"/limits = "100 ohm +\/- 10 %%"/ ~ %
fell/low-output.lua ~ s/freq = "10 MHz"/freq = "10 MHx"/ ~ MHx
fell/low-output.lua ~ s/freq = "10 MHz"/freq = 10/ ~ unit
fell/low-output.lua ~ s/tries = 5,/tries = "five",/ ~ five
fell/low-output.lua ~ s/tries = 5,/tries = 0,/ ~ tries
fell/low-output.lua ~ s/edition = 3,/edition = "two",/ ~ edition
fell/low-output.lua ~ s/modes = \{ "set" \}/modes = { 5 }/ ~ a text in quotes was wanted
fell/low-output.lua ~ /^step "tp2-level"/,/^}/s/minutes = 3/minutes = "3"/ ~ minutes
fell/low-output.lua ~ s/wait = "5 min"/wait = "5 mins"/ ~ mins
fell/low-output.lua ~ s/limits = "0\.3 V \.\. 0\.8 V"/limits = "0.8 V .. 0.3 V"/ ~ 0.8
fell/low-output.lua ~ s/plausible = "1 dB \.\. 6 dB"/plausible = "1 dBm .. 6 dBm"/ ~ dB
fell/low-output.lua ~ s/limits = "0 dBm \+\/- 3 dB"/limits = "40 dBm +\/- 3 dB"/ ~ plausible
fell/low-output.lua ~ s/limits = "0 dBm \+\/- 3 dB"/limits = "0 dBm +\/- 0.1 dB"/ ~ narrower
fell/low-output.lua ~ s/local function signal\(freq\)/local function signal(frq)/ ~ freq ~ ^  return . "-40 dBm"
copse/no-output.lua ~ s/ratio = \{ "out", "ref" \}, limits = "8 \+\/- 0\.08"/ratio = { "out", "ref" }, limits = "8 V +\/- 0.08 V"/ ~ V
copse/no-output.lua ~ /^step "amp-out"/,/^}/s/limits = "at least 8 V"/limits = "at leest 8 V"/ ~ 8 V
copse/no-output.lua ~ s/limits = "50 V \.\. 62 V"/limits = "500 V .. 620 V"/ ~ plausible
copse/family.lua ~ s/farads = "10 mF"/farads = "10 mV"/ ~ farads
copse/family.lua ~ s/farads = "10 mF", // ~ farads
copse/family.lua ~ s/torque = "0\.6 N m", needs/torque = 0.6, needs/ ~ torque
copse/kit.lua ~ s/due = "2027-04-30"/due = "30.4.2027"/ ~ due
copse/kit.lua ~ s/u = "0\.5 % \+ 0\.1 ohm"/u = "0.5 % + 0.1 V"/ ~ V
fell/kit.lua ~ s/\["1 GHz"\] = "0\.56 dB"/["1 GHz"] = "-0.56 dB"/ ~ dB
fell/kit.lua ~ s/length = "1\.5 m"/length = "1.5 dB"/ ~ length
# ---- a step that is not whole ----
fell/low-output.lua ~ /^step "lo-level"/,/^}/s/, otherwise = "unclear",$/,/ ~ unread ~ ^step "lo-level"
fell/low-output.lua ~ /^step "tp1-mid"/,/^}/s/otherwise = "unclear"/unread = "unclear"/ ~ unsure ~ ^step "tp1-mid"
fell/low-output.lua ~ /^step "part-w3"/,/^}/s/^  next = "rails-alone",$// ~ next ~ ^step "part-w3"
fell/low-output.lua ~ /^step "pull-fuse"/,/^}/s/^  act = /  note = / ~ act ~ ^step "pull-fuse"
fell/low-output.lua ~ /^step "settings"/,/^}/s/holds something back", to = "rails"/holds something back"/ ~ wrong
fell/low-output.lua ~ /^step "rails"/,/^}/s/^  to = \{ \{ to = "output-level", clears = .*$/  to = { "output-level", "unclear" },/ ~ part-w3 ~ return "part-w3"
fell/low-output.lua ~ /^step "rails"/,/^}/s/, "part-w3", "unclear" \},$/, "part-w3" },/ ~ unclear ~ return "unclear"
fell/low-output.lua ~ s/separated = false, title = "Between J1/title = "Between J1/ ~ separated
fell/low-output.lua ~ s/ limits = "-13 dBm \+\/- 1\.5 dB",$/ note = "x",/ ~ until when ~ adjust = . "Mark where R12
copse/no-output.lua ~ /^step "fuse-whole"/,/^}/s/^  to = .*$// ~ where it may lead ~ decide = function
copse/no-output.lua ~ /^step "be-q3"/,/^}/s/^  read = \{ "diode", /  read = { / ~ read
# ---- the graph ----
copse/no-output.lua ~ s/, most = 1, beyond = "found-eats-fuses",$/,/ ~ has no bound ~ "steady green", to = "settings" \}
copse/no-output.lua ~ s/, beyond = "found-eats-fuses"/, beyond = "new-f1"/ ~ beyond
copse/no-output.lua ~ s/most = 1, beyond = "found-eats-fuses"/beyond = "found-eats-fuses"/ ~ most
copse/no-output.lua ~ s/low = "trim", high = "trim"/low = "unclear", high = "unclear"/ ~ trim ~ ^step "trim"
fell/low-output.lua ~ s/^  next = "lna-feed-volts"|^  low = \{ to = "lna-feed-ohms" \},$/  low = { to = "lna-feed-volts" },/ ~ loop
fell/low-output.lua ~ s/uses = \{ loss = "filter-label" \}/uses = { loss = "lo-level" }/ ~ lo-level
fell/low-output.lua ~ s/uses = \{ loss = "filter-label" \}/uses = { loss = "pull-fuse" }/ ~ neither a reading nor a word
fell/low-output.lua ~ s/^step "lo-trim-up"/step "lo-level"/ ~ twice
fell/low-output.lua ~ s/^step "tp1-mid"/step "gate"/ ~ reserved
fell/low-output.lua ~ s/^step "tp1-mid"/step "tp1 mid"/ ~ no id
fell/low-output.lua ~ s/^suspect "mixer" /suspect "filter"/ ~ twice
fell/family.lua ~ s/^point "D3" /point "J2" / ~ twice
fell/family.lua ~ s/\["top-cover"\]  = \{ title = "the top cover",/["top-cover"]  = { after = "psu-shield", title = "the top cover",/ ~ comes off after
fell/kit.lua ~ s/^pad "P10"/pad "P6"/ ~ twice
garth/low-power.lua ~ /^ +margin = "Q3 gives 51/d ~ with alc lost 18.11 dBm can come to M1, only 8.9 dB under what it stands ~ ^  read = at_j2\(\), expect = banded,$
garth/low-power.lua ~ s/found\("limit", \{ finding = \{ "d1", /found("limit", { finding = { "d1", "fuse", / ~ names "fuse", which every way that leads here has cleared
garth/low-power.lua ~ s/found\("fan", \{ finding = \{ "fan" /found("fan", { finding = { "joints" / ~ warning: the finding "found-fan" names "joints", which the step "
# ---- what no playbook may do ----
fell/low-output.lua ~ /^step "tp2-level"/,/^}/s/power = "on", // ~ power ~ ^step "tp2-level"
fell/low-output.lua ~ /^step "primary-ohms"/,/^}/s/minutes = 3/minutes = 3, power = "on"/ ~ proved dead ~ at = "C1", against
fell/low-output.lua ~ /^step "pull-fuse"/,/^}/s/power = "dead"/power = "on"/ ~ hands inside ~ ^step "pull-fuse"
copse/no-output.lua ~ /^step "raw-volts"/,/^}/s/attach = "dead", // ~ attached while proved dead ~ at = "C7", .*clip leads
copse/no-output.lua ~ /^step "raw-volts"/,/^}/s/open = \{ "top-cover" \}, // ~ does not open it ~ at = "C7", .*clip leads
fell/low-output.lua ~ s/return \{ "-40 dBm", at = "J1"/return { "+13 dBm", at = "J1"/ ~ would have to be set ~ inject = signal
fell/family.lua ~ s/L-band input", accepts = "\+10 dBm"/L-band input", accepts = "-60 dBm"/ ~ above its rating ~ low-output.lua:inject = signal
fell/low-output.lua ~ /^step "reference-level"/,/^}/s/freq = "10 MHz"/freq = "7 GHz"/ ~ not at 7 GHz
fell/kit.lua ~ s/^hookup "volt leads"  \{ "LD1", "MM1" \}/hookup "volt leads"  { "LD1", "LM1" }/ ~ volts ~ low-output.lua:"p12", "volts"
fell/kit.lua ~ s/, \["2 GHz"\] = "0\.83 dB"//; s/\["1\.5 GHz"\] = "0\.70 dB"/["1.1 GHz"] = "0.60 dB"/ ~ 1.5 GHz ~ low-output.lua:TP2", hookup
fell/kit.lua ~ s/max = \{ rf = "27 dBm", dc = "25 V" \}/max = { rf = "-30 dBm", dc = "25 V" }/ ~ which stands -30 dBm ~ low-output.lua:at = "J2", hookup
# ---- Lua itself ----
fell/low-output.lua ~ /^step "lo-level"/,/^}/s/^\}$// ~ a comma or a bracket is missing ~ ^step "reference-level"
fell/low-output.lua ~ s/^  edition|id = "fell\/low-output", edition = 3,/id = "fell\/low-output", edition = 3/ ~ expected ~ ^  title = "Fell
fell/low-output.lua ~ s/^  title = "Mains lamp",$/  title = "Mains lamp,/ ~ unfinished string
fell/low-output.lua ~ /^step "fuse-in"/,/^}/s/^  act = /  do = / ~ do
fell/low-output.lua ~ s/^    local loss = v\.loss or 3$/    local loss = v.los or 3/ ~ los
fell/low-output.lua ~ s/if outcome\.p12 == "ok" and/if outcome.p13 == "ok" and/ ~ did you mean "p12"
copse/no-output.lua ~ s/if v\.out and v\.out < 1 then/if v.out and v.uot < 1 then/ ~ did you mean "out"
copse/no-output.lua ~ s/then return "amp-out" end/then return "amp-aut" end/ ~ amp-aut
fell/family.lua ~ s/point\(p\[1\]\) \{/point(p[4]) {/ ~ point
# ---- a desk: levels, switches and 48 V ----
linnet/kit.lua ~ s/max = \{ dc = "60 V" \}, due = "2027-05-31"/max = { dc = "25 V" }, due = "2027-05-31"/ ~ puts 52 V of DC from J1 on AG1, which stands 25 V ~ channel-weak.lua:inject = tone\(\), set = straight
linnet/family.lua ~ s/microphone input of the channel", accepts = "\+10 dBu"/microphone input of the channel", accepts = "-45 dBu"/ ~ 5.0 dB above its rating of -45 dBu ~ channel-weak.lua:inject = tone\(\), set = straight
linnet/channel-weak.lua ~ s/gain = "40", hpf = "out", eq = "out"/gain = "40", eq = "out"/ ~ where the switch s3 stands is not known ~ collect = out \{ settle = "1 s", expect = banded
linnet/channel-weak.lua ~ s/  p48 = "off", pad = "out"/  p48 = "of", pad = "out"/ ~ did you mean "off"
linnet/channel-weak.lua ~ s/difference = \{ "this", "beside" \}/difference = { "this", "besides" }/ ~ did you mean "beside"
linnet/channel-weak.lua ~ s/found\("all-noisy", \{ finding = \{ "a5"/found("all-noisy", { finding = { "supply", "a5"/ ~ names "supply", which every way that leads here has cleared
linnet/family.lua ~ s/from = "rv6", suspect/from = "rv7", suspect/ ~ has no element "rv7"
linnet/family.lua ~ s/loss = "20 dB \+\/- 0\.2 dB"/loss = "20 V +\/- 0.2 dB"/ ~ the tolerance is in dB
# ---- a receiver: SINAD, and a signal at J1 ----
sill/weak-or-silent.lua ~ s/limits = "at least 12 dB", power = "on", /limits = "at least 12 dB", / ~ reads sinad and does not say in which power state ~ ^  step\("sinad-
sill/weak-or-silent.lua ~ s/limits = "at least 12 dB"/limits = "at least 12 dBm"/ ~ are in dBm, and it is read in dB
sill/kit.lua ~ /^    sinad = /d ~ "AA1", which does not read sinad ~ weak-or-silent.lua:^    read = \{ "sinad"
sill/family.lua ~ s/antenna input", accepts = "\+10 dBm"/antenna input", accepts = "-70 dBm"/ ~ above its rating of -70 dBm ~ weak-or-silent.lua:^    inject = strong_signal\(band\)
sill/weak-or-silent.lua ~ s/found\("q3", \{ finding = \{ "q3" \}/found("q3", { finding = { "w1" }/ ~ names "w1", which every way that leads here has cleared
ROWS

# What only a run can find stops it with file and line, and the transcript holds together.
edit copse/no-output.lua 's/^    if v\.out and v\.out < 1 then/    at_j1 = nil if v.out and v.out < 1 then/' || no "upvalue" "the line is not there"
"$halfsplit" run copse/no-output.lua --unit C-1 --by "Ada Wren" --answers "$top/tests/golden/copse-driver/in.answers" \
	--transcript upvalue.jsonl >out.txt 2>err.txt
status=$?
if [ $status -ne 2 ]; then
	no "upvalue" "exit status $status"
elif ! grep -q "^halfsplit: no-output.lua:[0-9]*: .*at_j1" err.txt; then
	no "upvalue" "not said: $(head -3 err.txt)"
elif ! "$halfsplit" audit upvalue.jsonl >out.txt; then
	no "upvalue" "its transcript does not pass the audit: $(head -3 out.txt)"
else
	echo "ok a function that keeps something stops the run"
fi
[ "$rows" -ge 60 ] || no "rows" "only $rows were read"
exit $bad
