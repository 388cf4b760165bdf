#!/bin/bash
# What `make demo` plays: to its finding, with its report, its audit and the command that starts the same at a terminal.
. "$(dirname "$0")/lib.sh"

expect "the demo" 0 "Finding: " bash "$top/examples/demo.sh"
for line in "== The report of that run ==" "every decision derives again" "To do the same yourself, at this terminal:"; do
	if grep -qF -- "$line" out.txt; then echo "ok the demo: $line"; else no "the demo" "it does not come to \"$line\": $(tail -3 out.txt)"; fi
done
"$halfsplit" audit "$(sed -n "s/^The transcript is \(\/.*\)/\1/p" out.txt)" >audit.txt 2>&1 || no "the demo" "its transcript: $(cat audit.txt)"
exit $bad
