#!/bin/bash
# halfsplit completion: what bash is offered on a line, from the same table as --help; what zsh gets; and where they are installed.
. "$(dirname "$0")/lib.sh"

mkdir bin runs lib lib/linnet
ln -s "$halfsplit" bin/halfsplit
PATH=$work/bin:$PATH
export HALFSPLIT_PLAYBOOKS=$work/lib HALFSPLIT_RUNS=$work/runs
sed 's/id = "first"/id = "linnet\/lamp-dark"/' "$top/examples/first.lua" >lib/linnet/lamp-dark.lua
sed 's/id = "first"/id = "linnet\/lamp-dim"/' "$top/examples/first.lua" >lib/linnet/lamp-dim.lua
cp lib/linnet/lamp-dim.lua 'lib/linnet/$(touch owned).lua'
touch runs/LB-7-a.jsonl runs/LB-7-b.jsonl runs/OV-1.jsonl runs/OV-1.txt 'runs/$(touch owned).jsonl'
mkdir here here/deep
touch here/a.lua here/b.jsonl 'here/with blank.lua' 'here/`touch owned`.lua'

expect "written for bash" 0 "complete -F _halfsplit halfsplit" "$halfsplit" completion bash
cp out.txt halfsplit.bash
expect "written for zsh" 0 "#compdef halfsplit" "$halfsplit" completion zsh
cp out.txt halfsplit.zsh
refuses "another shell" 2 'nothing is known of a shell "fish"' "$halfsplit" completion fish
refuses "no shell" 2 "completion needs bash|zsh" "$halfsplit" completion
bash -n halfsplit.bash || no "written for bash" "bash does not take it"
# shellcheck disable=SC1091
. ./halfsplit.bash
complete -p halfsplit >/dev/null 2>&1 || no "written for bash" "nothing completes halfsplit"

# line NAME "WORD ..." WORD...: what the last word of the line is completed to, sorted
line() {
	local what=$1 wanted=$2 got
	shift 2
	COMP_WORDS=("$@") COMP_CWORD=$(($# - 1)) COMPREPLY=()
	_halfsplit halfsplit "${COMP_WORDS[COMP_CWORD]}" "${COMP_WORDS[COMP_CWORD - 1]}"
	got=$([ ${#COMPREPLY[@]} -eq 0 ] || printf '%s\n' "${COMPREPLY[@]}" | sort | paste -sd' ')
	if [ "$got" = "$wanted" ]; then echo "ok $what"; else no "$what" "completed to \"$got\", and \"$wanted\" was wanted"; fi
}

# ---- verbs and options, all that --help tells of ----
verbs=$("$halfsplit" --help | sed -nE 's/^  ([a-z]+) .*/\1/p')
[ "$(wc -w <<<"$verbs")" -ge 9 ] || no "verbs" "only these were found: $verbs"
line "verbs" "$({ echo "$verbs"; printf '%s\n' --help --version; } | sort | paste -sd' ')" halfsplit ''
line "a verb begun" "resume run" halfsplit r
line "no such verb" "" halfsplit xyz
line "options of no verb" "--help --version" halfsplit --
for verb in $verbs; do
	long=$("$halfsplit" "$verb" --help | sed -nE 's/^  (-[a-z], )?(--[a-z-]+).*/\2/p' | sort)
	[ -n "$long" ] || no "$verb" "--help tells of no option"
	line "options of $verb" "$(paste -sd' ' <<<"$long")" halfsplit "$verb" --
	for option in $long; do
		grep -qE -- "$option(=|\[)" <(sed -n "/^\t$verb)/,/;;/p" halfsplit.zsh) || no "zsh: $verb" "no $option"
	done
	grep -q "^		'$verb:" halfsplit.zsh || no "zsh" "no $verb"
done
line "an option begun" "--transcript" halfsplit run fell/low-output --tr
line "a letter is an option too" "--as --help --output -o" halfsplit show -

# ---- playbooks, findings, words ----
line "playbooks" "linnet/lamp-dark linnet/lamp-dim" halfsplit run ''
line "a playbook begun" "linnet/lamp-dark" halfsplit check linnet/lamp-da
mkdir lib/wren && printf 'unit {}\n' >lib/wren/family.lua
line "families behind --freehand" "wren" halfsplit run --freehand ''
line "no families without it" "" halfsplit run wren
rm -r lib/wren
line "behind an option" "linnet/lamp-dark linnet/lamp-dim" halfsplit run --unit LB-7 linnet/
line "several playbooks" "linnet/lamp-dim" halfsplit check linnet/lamp-dark linnet/lamp-di
line "a path to a playbook" "here/\`touch owned\`.lua here/a.lua here/deep here/with blank.lua" halfsplit check here/
line "words of a list" "linnet/lamp-dark linnet/lamp-dim" halfsplit list ''
line "findings" "$("$halfsplit" list --findings | paste -sd' ')" halfsplit list --finding ''
line "a finding begun" "lamp-dead" halfsplit list --finding lamp-de
line "formats" "json text" halfsplit show --as ''
line "a format behind =" "json" halfsplit show --as = j
line "nothing behind = yet" "json text" halfsplit show --as =
line "shells" "bash zsh" halfsplit completion ''
line "what only a person knows" "" halfsplit run --unit ''
line "no words of an expression" "" halfsplit calc 3

# ---- transcripts and files ----
line "transcripts by name" "$work/runs/LB-7-a.jsonl $work/runs/LB-7-b.jsonl" halfsplit resume LB
line "one transcript" "$work/runs/OV-1.jsonl" halfsplit show OV
line "further transcripts" "$work/runs/OV-1.jsonl" halfsplit audit "$work/runs/LB-7-a.jsonl" OV
line "transcripts by path" "here/b.jsonl here/deep" halfsplit audit here/
line "any file" "here/\`touch owned\`.lua here/a.lua here/b.jsonl here/deep here/with blank.lua" halfsplit run x --kit here/
line "a file behind =" "here/a.lua" halfsplit run x --kit = here/a
line "behind a short option" "here/b.jsonl" halfsplit show x -o here/b
unset HALFSPLIT_RUNS
mkdir -p home/.local/share/halfsplit/runs
touch home/.local/share/halfsplit/runs/QQ-1.jsonl
line "the default folder of runs" "$HOME/.local/share/halfsplit/runs/QQ-1.jsonl" halfsplit resume QQ
export HALFSPLIT_RUNS=$work/runs
line "names are never run" "$work/runs/\$(touch owned).jsonl" halfsplit resume '$'
[ -e owned ] && no "names are never run" "the name of a file was run"

# ---- zsh, when it is here ----
if command -v zsh >/dev/null; then
	if zsh -fn halfsplit.zsh; then echo "ok zsh takes it"; else no "zsh takes it" "zsh -n says no"; fi
	zsh -fc 'compdef() { print -r -- "compdef $*"; }; . ./halfsplit.zsh' >out.txt 2>&1
	grep -qx 'compdef _halfsplit halfsplit' out.txt || no "zsh takes it" "$(cat out.txt)"
fi

# ---- installed ----
env -u MAKEFLAGS -u MAKELEVEL -u MFLAGS make -s -C "$top" BUILD="${BUILD:-build}" install DESTDIR="$work/root" PREFIX=/usr >make.txt 2>&1 ||
	no "installed" "make install says: $(tail -3 make.txt)"
share=root/usr/share
cmp -s halfsplit.bash $share/bash-completion/completions/halfsplit || no "installed" "bash does not find it"
cmp -s halfsplit.zsh $share/zsh/site-functions/_halfsplit || no "installed" "zsh does not find it"
for file in man/man1/halfsplit.1 man/man5/halfsplit-playbook.5 halfsplit/types/halfsplit.d.lua halfsplit/playbooks/fell/low-output.lua doc/halfsplit/bench.md; do
	[ -s $share/$file ] || no "installed" "there is no $file"
done
[ -x root/usr/bin/halfsplit ] && [ $bad -eq 0 ] && echo "ok installed"
exit $bad
