#!/bin/bash
# Every reader of foreign text under AddressSanitizer and UndefinedBehaviorSanitizer: the seeds and 20,000 mutations of them
# each, the same ones every time. `make fuzz` runs many more, under libFuzzer. FUZZ_RUNS changes the number.
set -u
cd "$(dirname "$0")/.."
build=${BUILD:-build}/fuzz
runs=${FUZZ_RUNS:-20000}
targets="quantity touchstone network csv kit calc act"
# Another BUILD's flags must not come along, and not its command line either.
if ! env -u MAKEFLAGS -u MAKELEVEL -u MFLAGS make --no-print-directory -j2 BUILD="$build" FUZZ_WITH=tests/fuzz/driver.c \
	CFLAGS="-O1 -g1 -fsanitize=address,undefined -fno-sanitize-recover=all" fuzzers >"$build.log" 2>&1; then
	echo "not ok fuzz: the targets do not build: $(grep -m1 -i error "$build.log")"
	exit 1
fi
export ASAN_OPTIONS=allocator_may_return_null=1 LC_ALL=C
here=$PWD
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work" || exit 1
case $build in /*) ;; *) build=$here/$build ;; esac
# Two at a time, the slowest first.
for target in $(echo "$targets" | tr ' ' '\n' | tac); do
	echo "$target"
done | xargs -P 2 -I{} sh -c '"$1/fuzz/{}" "$2" "$3/tests/fuzz/seeds/{}" >{}.out 2>{}.err' - "$build" "$runs" "$here"
bad=0
for target in $targets; do
	cat "$target.out"
	grep -q '^ok' "$target.out" && continue
	bad=1
	[ -s "$target.out" ] || echo "not ok fuzz $target: it printed nothing"
	grep -m3 -E 'ERROR|runtime error|broken:|SUMMARY' "$target.err"
	for input in "broken-$target"-*; do
		[ -e "$input" ] && cp "$input" "$build/" && echo "  kept: $build/$input"
	done
done
exit $bad
