#!/bin/bash
# Files that are not what they should be: each is refused with one sentence and status 2, and nothing half-made is left behind.
# What a mail program or an editor does to a good file must not matter. Missing, empty, huge and so on at the top level
# are in cli.sh.
. "$(dirname "$0")/lib.sh"

export ASAN_OPTIONS=verify_asan_link_order=0:${ASAN_OPTIONS:-}
shim=$work/shim.so
${CC:-cc} -O1 -fPIC -shared -D_GNU_SOURCE -o "$shim" "$top/tests/fault/shim.c" 2>cc.txt || no "shim" "it does not compile: $(head -3 cc.txt)"
deny() { # deny NAME COMMAND...: no right to read the file
	local name=$1
	shift
	bash -c 'export LD_PRELOAD=$1 HS_SHIM_DENY=$2; shift 2; exec "$@"' - "$shim" "$name" "$@"
}

cp "$top/examples/first.lua" "$top/examples/kit.lua" .
cp "$top/tests/golden/first-broken-fuse/in.answers" whole.answers
head -12 whole.answers >part.answers
by=(--unit LB-7 --by "Ada Wren")
run() { "$halfsplit" run first.lua "${by[@]}" "$@"; }
"$halfsplit" run first.lua "${by[@]}" --answers part.answers --transcript part.jsonl >/dev/null
seq 1 3000 | gzip -n | head -c 3000 >binary # the same bytes in every run, NULs among them
printf '\000\001\002\377' >>binary
truncate -s 100M huge
mkdir folder

# ---- playbook ----
refuses "playbook that may not be read" 2 'the permissions do not allow it' deny first.lua "$halfsplit" run first.lua "${by[@]}" --answers part.answers
printf 'playbook { id = "x", title = "a\000b" }\n' >nul.lua
refuses "playbook with a NUL" 2 "holds a NUL byte" "$halfsplit" run nul.lua "${by[@]}" --answers part.answers
{ cat first.lua; printf -- '-- caf\351\n'; } >latin.lua
refuses "playbook in another encoding" 2 "byte 0xe9, which is not UTF-8 text" "$halfsplit" run latin.lua "${by[@]}" --answers part.answers
grep -q "latin.lua:$(($(wc -l <first.lua) + 1)): " err.txt || no "playbook in another encoding" "the line is not named: $(cat err.txt)"
{ printf '\377\376'; iconv -f UTF-8 -t UTF-16LE first.lua 2>/dev/null || printf 'p\000l\000'; } >wide.lua
refuses "playbook in UTF-16" 2 "not UTF-8 text" "$halfsplit" run wide.lua "${by[@]}" --answers part.answers
printf '\033Lua' >code.lua
head -c 500 binary >>code.lua
expect "compiled playbook" 2 "code.lua" "$halfsplit" run code.lua "${by[@]}" --answers part.answers
sed 's/edition = 1/edition = 1.5/' first.lua >edition.lua
expect "edition that is none" 1 "edition.lua:3: error: " "$halfsplit" check edition.lua
ln -s first.lua link.lua
expect "a link to a playbook" 0 "clean" "$halfsplit" check link.lua
tr '\n' '\r' <first.lua >cr.lua
expect "playbook with old line ends" 4 "transcript: cr.jsonl" "$halfsplit" run cr.lua "${by[@]}" --answers part.answers --transcript cr.jsonl
expect "audit of it" 0 "every decision derives again" "$halfsplit" audit cr.jsonl

# ---- what a playbook brings in ----
mkdir parts
{ echo 'require "more"'; cat first.lua; } >parts/book.lua
cp kit.lua parts/
for kind in missing empty folder binary huge cut denied; do
	rm -rf parts/more.lua
	deny=()
	case $kind in
	empty) : >parts/more.lua ;;
	folder) mkdir parts/more.lua ;;
	binary | huge) cp $kind parts/more.lua ;;
	cut) head -c 700 first.lua >parts/more.lua ;;
	denied) : >parts/more.lua; deny=(deny more.lua) ;;
	esac
	if [ $kind = empty ]; then
		expect "required file $kind" 4 "transcript: " "${deny[@]}" "$halfsplit" run parts/book.lua "${by[@]}" --answers part.answers --transcript book.jsonl
		continue
	fi
	expect "required file $kind" 2 "more" "${deny[@]}" "$halfsplit" run parts/book.lua "${by[@]}" --answers part.answers --transcript bad.jsonl
	grep -qE '^(book|more).lua:[0-9]+: error: ' err.txt || no "required file $kind" "no file and line: $(head -2 err.txt)"
	[ ! -e bad.jsonl ] || no "required file $kind" "a transcript was made"
done

# ---- kit ----
: >none.lua
refuses "empty kit" 2 'the kit has no hookup "meter lead"' run --kit none.lua --answers part.answers --transcript bad.jsonl
refuses "kit that may not be read" 2 'the permissions do not allow it' deny kit.lua "$halfsplit" run first.lua "${by[@]}" --answers part.answers
head -c 200 kit.lua >cut-kit.lua
refuses "kit cut off" 2 "cut-kit.lua" run --kit cut-kit.lua --answers part.answers --transcript bad.jsonl
refuses "playbook for a kit" 2 "first.lua" run --kit first.lua --answers part.answers --transcript bad.jsonl
refuses "kit for a playbook" 2 "kit.lua" "$halfsplit" run kit.lua "${by[@]}" --answers part.answers --transcript bad.jsonl
sed 's/$/\r/' kit.lua >crlf-kit.lua
{ printf '\357\273\277'; cat kit.lua; } >bom-kit.lua
for kind in crlf bom; do
	expect "kit with $kind" 4 "transcript: $kind.jsonl" run --kit $kind-kit.lua --answers part.answers --transcript $kind.jsonl
	expect "audit with a kit with $kind" 0 "every decision derives again" "$halfsplit" audit $kind.jsonl
done

# ---- answers ----
refuses "answers that may not be read" 2 'the permissions do not allow it' deny part.answers "$halfsplit" run first.lua "${by[@]}" --answers part.answers
{ printf '\357\273\277'; sed 's/$/\r/' whole.answers; } >bom.answers
expect "answers with CRLF and a byte-order mark" 0 "Fuse F1 is open" run --answers bom.answers --transcript bom-answers.jsonl
head -c -1 whole.answers >end.answers
expect "answers without a last line end" 0 "Fuse F1 is open" run --answers end.answers --transcript end-answers.jsonl
printf 'intake/words: a\000b\n' >nul.answers
refuses "answers with a NUL" 2 "nul.answers:1: the answers file holds a NUL byte" run --answers nul.answers --transcript bad.jsonl
printf '# fine\nintake/words\n' >colon.answers
refuses "answers without a colon" 2 "colon.answers:2: " run --answers colon.answers --transcript bad.jsonl
printf '# fine\n!sleep\n' >command.answers
refuses "answers with an unknown command" 2 "command.answers:2: " run --answers command.answers --transcript bad.jsonl
refuses "playbook for answers" 2 "first.lua:" run --answers first.lua --transcript bad.jsonl
refuses "no terminal and no answers" 2 "there is no terminal to ask at, and no --answers" run --transcript bad.jsonl

# ---- transcript ----
# seal LINE: a line of a transcript, as its hash has to be
seal() {
	printf '%s,"hash":"%s"}\n' "${1%,\"hash\":*}" "$(printf '%s' "${1%,\"hash\":*}" | sha256sum | cut -d' ' -f1)"
}
opening=$(head -1 part.jsonl)
expect "sealing itself" 0 "$(seal "$opening" | tail -c 20)" echo "$opening"
seal "${opening/\"format\":1/\"format\":7}" >format.jsonl
seal "${opening/\"rules\":1/\"rules\":7}" >rules.jsonl
for verb in audit show resume; do
	more=()
	[ $verb = resume ] && more=(--answers part.answers)
	refuses "$verb of a later format" 2 "format version 7; this program reads version 1" "$halfsplit" $verb format.jsonl "${more[@]}"
	refuses "$verb under later rules" 2 "rules" "$halfsplit" $verb rules.jsonl "${more[@]}"
	refuses "$verb of what may not be read" 2 'the permissions do not allow it' deny part.jsonl "$halfsplit" $verb part.jsonl "${more[@]}"
	refuses "$verb of a playbook" 2 "first.lua" "$halfsplit" $verb first.lua "${more[@]}"
	refuses "$verb of another JSON" 2 "other.jsonl" bash -c 'echo "{\"a\":1}" >other.jsonl; "$@"; s=$?; rm other.jsonl; exit $s' - "$halfsplit" $verb other.jsonl "${more[@]}"
done
# reseal SED: part.jsonl with every line put through sed, and the chain made whole again, as by somebody who knows how
reseal() {
	local line prev=$(printf '0%.0s' {1..64})
	while IFS= read -r line; do
		line=$(sed -E 's/"prev":"[0-9a-f]{64}"/"prev":"'"$prev"'"/' <<<"$line")
		line=$(seal "$line")
		printf '%s\n' "$line"
		prev=${line: -66:64}
	done < <(sed -E "$1" part.jsonl)
}
# forged CASE LINE TEXT SED: audit, show and resume each name the line and the reason, and the file stays as it is
forged() {
	reseal "$4" >forged.jsonl
	cmp -s forged.jsonl part.jsonl && no "forged $1" "nothing was forged"
	cp forged.jsonl kept
	expect "audit of forged $1" 1 "forged.jsonl: tampered" "$halfsplit" audit forged.jsonl
	grep -qF "line $2" out.txt && grep -qF "$3" out.txt || no "audit of forged $1" "neither line $2 nor the reason: $(cat out.txt)"
	grep -q "resume adds them" out.txt && no "audit of forged $1" "a repair is promised"
	expect "audit of forged $1 as data" 1 '"verdict":"tampered"' "$halfsplit" audit --json forged.jsonl
	grep -qF "\"line\":$2," out.txt || no "audit of forged $1 as data" "$(cat out.txt)"
	refuses "show of forged $1" 1 "line $2" "$halfsplit" show forged.jsonl
	refuses "resume of forged $1" 2 "line $2" "$halfsplit" resume forged.jsonl --answers part.answers
	cmp forged.jsonl kept || no "resume of forged $1" "the file changed"
}
reseal "" | cmp - part.jsonl || no "resealing" "it changes an honest transcript"
answers=$(grep -n '"event":"answer"' part.jsonl | cut -d: -f1)
late=$(tail -1 <<<"$answers")
forged "times" 1 "is not a time like" 's/"utc":"[^"]*"/"utc":""/'
forged "time of an answer" $late "is not a time like" "${late},\$s/\"utc\":\"[^\"]*\"/\"utc\":\"2026-02-30T09:00:00.000Z\"/"
forged "clock" $late "goes back within one sitting" "${late},\$s/\"mono_ms\":[0-9]+/\"mono_ms\":1/"
forged "clock below 0" $late "its mono_ms is below 0" "${late},\$s/\"mono_ms\":[0-9]+/\"mono_ms\":-1/"
forged "name of an answer" $late "its by is not a name" "${late}s/\"by\":\"[^\"]*\"/\"by\":\" \"/"
forged "run id" 1 "is not 32 hex digits" '1s/"run":"[^"]*"/"run":"me"/'
forged "unit" 1 '"unit"' '1s/"unit":"LB-7"/"unit":""/'
forged "person" 1 '"by"' '1s/"by":"Ada Wren"/"by":"Ada\\u001b[2JWren"/'
forged "program" 1 '"program"' '1s/"program":"[^"]*"/"program":"\\u0007"/'
forged "rehearsal" 1 'no usable member "rehearsal"' '1s/"rehearsal":\{[^}]*\},//'
forged "playbook_files" 1 'no usable member "playbook_files"' '1s/"playbook_files":/"playbook_file":/'
forged "format" 1 'no usable member "format"' '1s/"format":1,//'
# A file that nothing requires, with every digest right.
add_file() { # add_file PATH MEMBER: the sed that does it
	local sha=$(printf 'x = 1' | sha256sum | cut -d' ' -f1) digest
	digest=$({ grep -oE "\"$2\":\{.*" <<<"$opening" | sed 's/"\(kit_files\|hash\)".*/&/; s/"kit_files":.*//' |
		grep -oE '"path":"[^"]*","sha256":"[0-9a-f]{64}"' | sed -E 's/"path":"(.*)","sha256":"(.*)"/\2  \1/'; echo "$sha  $1"; } | sha256sum | cut -d' ' -f1)
	echo '1s/("'$2'":\{"digest":")[0-9a-f]{64}(",.*)(\]\},"kit_files")/\1'$digest'\2,{"path":"'$1'","sha256":"'$sha'","text":"x = 1"}\3/'
}
forged "file that nothing brings in" 1 'nothing in the other files brings in "more.lua"' "$(add_file more.lua playbook_files)"
sed 's/$/\r/' part.jsonl >crlf-part.jsonl
{ printf '\357\273\277'; cat part.jsonl; } >bom-part.jsonl
cp crlf-part.jsonl kept
refuses "resume after CRLF" 2 "converted its line endings" "$halfsplit" resume crlf-part.jsonl --answers part.answers
cmp crlf-part.jsonl kept || no "resume after CRLF" "the file changed"
refuses "resume after a byte-order mark" 2 "bom-part.jsonl" "$halfsplit" resume bom-part.jsonl --answers part.answers

# ---- Touchstone file of a kit ----
mkdir cable
cat >cable/book.lua <<'LUA'
playbook { id = "book", edition = 1, title = "Sill: level", family = "Tarnbeck Sill", first = { "Look." } }
unit { supply = { dc12 = "12 V" }, switch = "the switch" }
point "J1" { title = "J1", gives = "0 dBm", impedance = "50 ohm" }
suspect "amp" { title = "amplifier", modes = { "dead" } }
step "level" { read = { "power", at = "J1", hookup = "lead", freq = "1.5 GHz" }, power = "on",
  limits = "0 dBm +/- 2 dB", ok = "end", otherwise = "end" }
step "end" { finding = { "amp" }, proof = "read" }
LUA
cat >cable/kit.lua <<'LUA'
cable "K9" { touchstone = "k9.s2p", u = "0.1 dB" }
instrument "M1" { reads = { power = { from = "-60 dBm", to = "20 dBm", u = "0.2 dB" } }, due = "2027-03-31" }
hookup "lead" { "K9", "M1" }
LUA
printf '# GHz S DB R 50\n1 -20 0 -1 0 -1 0 -20 0\n2 -20 0 -2 0 -2 0 -20 0\n' >good.s2p
touchstone() { # touchstone KIND TEXT [COMMAND...]: the run is refused with the text, and the kit's line is named
	local kind=$1 text=$2
	shift 2
	refuses "Touchstone $kind" 2 "$text" "$@" "$halfsplit" run cable/book.lua "${by[@]}" --answers part.answers --transcript bad.jsonl
	grep -q '^kit.lua:1: error: ' err.txt || no "Touchstone $kind" "no file and line: $(head -2 err.txt)"
	rm -rf cable/k9.s2p
}
touchstone missing 'no file "k9.s2p" beneath the folder of kit.lua'
: >cable/k9.s2p
touchstone empty "holds no network data"
mkdir cable/k9.s2p
touchstone "a folder" "is a folder"
cp binary cable/k9.s2p
touchstone binary "not UTF-8 text"
head -c 50 good.s2p >cable/k9.s2p
touchstone "cut off" "k9.s2p"
cp huge cable/k9.s2p
touchstone huge "has 104857600 bytes"
{ echo '[Version] 3.0'; cat good.s2p; } >cable/k9.s2p
touchstone "of a later version" '[Version] is "3.0"; 2.0 or 2.1 is wanted'
cp good.s2p cable/k9.s2p
touchstone "that may not be read" "the permissions do not allow it" deny k9.s2p
printf '# GHz S DB R 50\n1 -20 0 -1 0 -1 0 -20 0\n2 -20 0 2 0 -2 0 -20 0\n' >cable/k9.s2p
touchstone "with gain" "see line 3 of k9.s2p"
ln -s ../good.s2p cable/k9.s2p
touchstone "behind a link" "link"
printf '[Version] 2.0\n# GHz S DB R 50\n[Number of Ports] 2\n[Two-Port Data Order] 21_12\n[Number of Frequencies] 2\n[Network Data]\n' >cable/k9.s2p
{ tail -n 2 good.s2p; echo '[End]'; } >>cable/k9.s2p
expect "Touchstone of version 2" 0 "clean" "$halfsplit" check cable/book.lua
sed 's/$/\r/' good.s2p >cable/k9.s2p
expect "Touchstone with CRLF" 0 "clean" "$halfsplit" check cable/book.lua
{ printf '\357\273\277'; cat good.s2p; } >cable/k9.s2p
expect "Touchstone with a byte-order mark" 0 "clean" "$halfsplit" check cable/book.lua
tr '\n' '\r' <good.s2p >cable/k9.s2p
expect "Touchstone with old line ends" 0 "clean" "$halfsplit" check cable/book.lua
[ ! -e bad.jsonl ] || no "transcripts" "one was made of bad input"
exit $bad
