# What the scripts that call the program share; sourced, in a scratch folder of its own afterwards. $name is the script's.
set -u
cd "$(dirname "$0")/.."
top=$PWD
halfsplit=$top/${BUILD:-build}/halfsplit
case ${BUILD:-} in /*) halfsplit=$BUILD/halfsplit ;; esac
name=$(basename "$0" .sh)
[ -x "$halfsplit" ] || { echo "not ok $name: there is no $halfsplit; make builds it"; exit 1; }
unset HALFSPLIT_KIT HALFSPLIT_PLAYBOOKS
export LC_ALL=C NO_COLOR=1
work=$(mktemp -d)
trap 'chmod -R u+w "$work"; rm -rf "$work"' EXIT
cd "$work" || exit 1
export HALFSPLIT_RUNS=$work/runs HOME=$work/home
bad=0

no() { # no CASE WHY
	echo "not ok $name: $1: $2"
	bad=1
}

# expect NAME STATUS TEXT COMMAND...: the status, and the text somewhere on stdout or stderr; stdin is no terminal
expect() {
	local what=$1 status=$2 text=$3
	shift 3
	"$@" >out.txt 2>err.txt </dev/null
	local got=$?
	if [ $got -ne "$status" ]; then
		no "$what" "exit status $got, and $status was wanted: $(head -3 err.txt)"
	elif ! cat out.txt err.txt | grep -qF -- "$text"; then
		no "$what" "no \"$text\" in: $(cat err.txt out.txt | head -5)"
	elif grep -qE 'AddressSanitizer|runtime error|Assertion' err.txt; then
		no "$what" "$(grep -m1 -E 'AddressSanitizer|runtime error|Assertion' err.txt)"
	else
		echo "ok $what"
	fi
}

# person "WHEN|TEXT"... -- COMMAND...: at a terminal, types each text once its WHEN stands on the screen and a prompt behind it, so
# that nothing is typed ahead: a gate throws that away. "~WHEN|TEXT" waits for no prompt.
person() {
	local lines=() screen=$work/screen.txt line when prompt from=1
	while [ "$1" != -- ]; do lines+=("$1"); shift; done
	shift
	: >"$screen"
	{
		for line in "${lines[@]}"; do
			when=${line%%|*}
			prompt="> "
			case $when in "~"*) when=${when#"~"} prompt="" ;; esac
			for ((i = 0; i < 600; i++)); do
				tail -c "+$from" "$screen" >since.txt
				grep -qF -- "$when" since.txt && [ "$(tail -c "${#prompt}" since.txt)" = "$prompt" ] && break
				sleep 0.05
			done
			from=$(($(stat -c %s "$screen") + 1))
			printf '%s\n' "${line#*|}"
		done
		sleep 0.3
	} | script -qec "$(printf '%q ' "$@")" /dev/null | tee "$screen"
	return "${PIPESTATUS[1]}"
}

# refuses NAME STATUS TEXT COMMAND...: as above, one sentence on stderr (and a hint), nothing on stdout, no file made
refuses() {
	local before after
	before=$(find . -type f ! -name out.txt ! -name err.txt | sort)
	expect "$@"
	after=$(find . -type f ! -name out.txt ! -name err.txt | sort)
	[ "$before" = "$after" ] || no "$1" "a file was made or removed"
	[ -s out.txt ] && no "$1" "something was printed on standard output"
	[ "$(grep -c '^halfsplit: ' err.txt)" = 1 ] || no "$1" "not one sentence: $(cat err.txt)"
}
