#!/bin/bash
# What a simulated Fell shows, against a table written by hand from its block diagram: -40 dBm at J1, 1.5 GHz. No figure here was taken from a run.
#
#   in front of the tray   w1 0.3 + limiter 0.2 + filter 2.5          = 3.0 dB lost
#   TP1 behind the filter  -40 - 3 = -43, 20 dB under it at the tap   = -63 dBm
#   TP2 behind the LNA     -43 + 20 = -23, tap                        = -43 dBm
#   TP3 behind the mixer   -23 - 7 = -30, tap                         = -50 dBm, at 70 MHz
#   J2 behind the IF amp   -30 + 22                                   =  -8 dBm
#   TP4, oscillator        +1 + 6 = +7, tap                           = -13 dBm
. "$(dirname "$0")/lib.sh"
command -v jq >/dev/null || "$top/tests/tools.sh" jq || { echo "not ok byhand: jq is not installed"; exit 1; }
export HALFSPLIT_PLAYBOOKS=$top/playbooks

shows() { # shows FAULT STEP=DBM...: within 0.05 dB, which is more than the last digit of the meter and the compression 18 dB under P1dB
	local fault=$1 row step wanted got
	shift
	rm -f run.jsonl
	expect "$fault" 0 "Finding: " "$halfsplit" run fell/low-output --sim "$fault" --transcript run.jsonl
	for row in "$@"; do
		step=${row%=*}
		wanted=${row#*=}
		got=$(jq -rs --arg s "$step" '[.[] | select(.kind == "corrected" and .step == $s)][0].value // "none"' run.jsonl)
		awk -v got="$got" -v wanted="$wanted" 'BEGIN { off = got - wanted; exit !(got != "none" && off < 0.05 && off > -0.05) }' ||
			no "$fault" "$step shows $got dBm, and by hand it is $wanted"
	done
}
# 10 dB less gain in the IF amplifier: everything in front of it as it should be.
shows "if-amp/low gain" output-level=-18 tp2-level=-43 lo-level=-13 tp3-level=-50
# 12 dB lost in the filter of the high band alone.
shows filter/detuned output-level=-20 tp2-level=-55 tp1-level=-75 tp1-mid=-63
# The mixer wants +6 dBm. 15 dB under +7 is -8: 14 dB lack, and as many are lost.
shows "lo-buffer/low level" output-level=-22 tp2-level=-43 lo-level=-28
# 10 dB less in the LNA; TP1 in front of it does not know.
shows "lna/low gain" output-level=-18 tp2-level=-53 tp1-level=-63
# 400 ohm in a 50 ohm line: 20 log(1 + 400/100) = 13.979 dB, in both bands.
shows "w1/poor joint" output-level=-21.979 tp2-level=-56.979 tp1-level=-76.979 tp1-mid=-76.979
# 5 ohm across it: 20 log(1 + 50/10) = 15.563 dB.
shows limiter/leaky output-level=-23.563 tp2-level=-58.563 tp1-level=-78.563
shows "mixer/open diode" output-level=-23 tp2-level=-43 lo-level=-13 tp3-level=-65
exit $bad
