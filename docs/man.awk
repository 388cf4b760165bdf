# Makes a manual page of a document in docs/: headings, paragraphs, lists, tables and blocks as the documents write them.
#
#   awk -v name=halfsplit -v section=1 -v says="..." -v also="..." -v version=V [-v program=FILE] -f docs/man.awk DOCUMENT >PAGE
#
# With a program, its commands come first, as `program VERB --help` tells of them. `make man` calls it.

BEGIN {
	printf ".\\\" Made by docs/man.awk; change the document it is made of.\n"
	printf ".TH %s %s \"\" \"halfsplit %s\" \"halfsplit\"\n.nh\n.ad l\n", toupper(name), section, version
	printf ".SH NAME\n%s \\- %s\n", plain(name), plain(says)
	if (program != "") {
		verb_count = find_verbs()
		synopsis()
	}
}

# ---- text ----

# No character of the text means anything to roff; a hyphen stays what it is when it is copied.
function plain(text) {
	gsub(/\\/, "\\e", text)
	gsub(/-/, "\\-", text)
	gsub(/'/, "\\(aq", text)
	gsub(/`/, "\\(ga", text)
	gsub(/\^/, "\\(ha", text)
	gsub(/~/, "\\(ti", text)
	gsub(/","/, "\",\001\"", text)
	gsub(/"/, "\\(dq", text)
	gsub(/\001/, "\\:", text) # a long list of data may be broken here
	return text
}

# A line of its own must not begin like a request.
function line(text) {
	return text ~ /^[.]/ ? "\\&" text : text
}

# `code`, **strong** and [text](target) of one paragraph.
function inline(text,    out, code, part, at) {
	while (match(text, /\]\([^)]*\)/)) {
		part = substr(text, 1, RSTART - 1)
		at = RSTART + RLENGTH
		sub(/\[[^[]*$/, "", part)
		out = substr(text, length(part) + 2, RSTART - length(part) - 2)
		text = part out substr(text, at)
	}
	out = ""
	while (match(text, /`[^`]*`|\*\*[^*]*\*\*/)) {
		part = substr(text, RSTART, RLENGTH)
		code = substr(part, 1, 1) == "`" ? substr(part, 2, RLENGTH - 2) : substr(part, 3, RLENGTH - 4)
		out = out plain(substr(text, 1, RSTART - 1)) "\\fB" plain(code) "\\fR"
		text = substr(text, RSTART + RLENGTH)
	}
	return out plain(text)
}

# ---- blocks ----

function flush_paragraph() {
	if (paragraph == "")
		return
	if (paragraph !~ /^Contents: |^Code blocks that begin/)
		print (bullet ? ".IP \\(bu 2" : ".PP") "\n" line(inline(paragraph))
	paragraph = ""
	bullet = 0
}

function open_block() {
	print ".PP\n.RS 4\n.nf"
	in_block = 1
}

function close_block() {
	if (!in_block)
		return
	print ".fi\n.RE"
	in_block = 0
	blanks = 0
}

function block_line(text) {
	while (blanks > 0) {
		print "\\&"
		blanks--
	}
	print line(plain(text))
}

# The cells of a row, into cells[]; gives their number.
function split_row(text, cells,    n, i) {
	gsub(/\\\|/, "\001", text)
	sub(/^\| ?/, "", text)
	sub(/ *\|? *$/, "", text)
	n = split(text, cells, "|")
	for (i = 1; i <= n; i++) {
		gsub(/\001/, "|", cells[i])
		gsub(/^ +| +$/, "", cells[i])
	}
	return n
}

# The first column is the tag; two columns need no names, further ones get theirs.
function table_row(text,    n, i, cells, body) {
	n = split_row(text, cells)
	body = ""
	for (i = 2; i <= n; i++) {
		if (cells[i] == "")
			continue
		body = body (body == "" ? "" : "; ") (columns > 2 && heads[i] != "" ? heads[i] ": " : "") cells[i]
	}
	print ".TP\n" (cells[1] == "" ? "\\&" : line(inline(cells[1]))) "\n" (body == "" ? "\\&" : line(inline(body)))
}

function flush_all() {
	flush_paragraph()
	close_block()
	in_table = 0
}

# ---- the commands of the program ----

# Into verbs[]; gives their number.
function find_verbs(    cmd, text, n) {
	cmd = "'" program "' --help"
	while ((cmd | getline text) > 0)
		if (text ~ /^  [a-z]/) {
			sub(/^ +/, "", text)
			sub(/ .*/, "", text)
			verbs[++n] = text
		}
	close(cmd)
	if (n == 0) {
		print "man.awk: " program " does not tell its commands" >"/dev/stderr"
		failed = 1
		exit 1
	}
	return n
}

function synopsis(    i, cmd, text) {
	print ".SH SYNOPSIS"
	for (i = 1; i <= verb_count; i++) {
		cmd = "'" program "' " verbs[i] " --help"
		cmd | getline text
		close(cmd)
		sub(/^usage: /, "", text)
		if (i > 1)
			print ".br"
		print "\\fB" plain(name " " verbs[i]) "\\fR" plain(substr(text, length(name " " verbs[i]) + 1))
	}
}

function commands(    i) {
	if (verb_count && !told)
		print ".SH COMMANDS"
	for (i = 1; i <= verb_count && !told; i++)
		command(verbs[i])
	told = 1
}

function command(verb,    cmd, text, lines) {
	cmd = "'" program "' " verb " --help"
	print ".SS " plain(name " " verb)
	while ((cmd | getline text) > 0) {
		if (++lines < 3)
			continue
		if (text ~ /^  (-[a-z], )?--[a-z]/) {
			flush_option()
			flush_all()
			take_option(text)
		} else if (said != "" && text ~ /^                    /) {
			sub(/^ +/, "", text)
			said = said " " text
		} else {
			flush_option()
			help_line(text)
		}
	}
	close(cmd)
	flush_option()
	flush_all()
}

# "  -o, --output FILE   where it goes": an argument stands one blank behind its option, what it does further away.
function take_option(text,    argument, words) {
	match(text, /^  (-[a-z], )?--[a-z-]+/)
	words = substr(text, 3, RLENGTH - 2)
	said = substr(text, RLENGTH + 1)
	argument = ""
	if (said ~ /^ [^ ]/) {
		argument = substr(said, 2)
		sub(/ .*/, "", argument)
		said = substr(said, length(argument) + 2)
		argument = " \\fI" plain(argument) "\\fR"
	}
	sub(/^ +/, "", said)
	print ".TP\n\\fB" plain(words) "\\fR" argument
}

function flush_option() {
	if (said != "")
		print line(plain(said))
	said = ""
}

# Lines that begin with two blanks stand as they are.
function help_line(text) {
	if (text ~ /^  /) {
		flush_paragraph()
		if (!in_block)
			open_block()
		block_line(substr(text, 3))
	} else if (text == "") {
		flush_all()
	} else {
		close_block()
		gsub(/`/, "", text)
		paragraph = paragraph (paragraph == "" ? "" : " ") text
	}
}

# ---- the document ----

/^```/ && !fenced {
	flush_all()
	fenced = 1
	open_block()
	next
}
/^```/ {
	fenced = 0
	close_block()
	next
}
fenced && /^-- in: / { next }
fenced && /^$/ { blanks++; next }
fenced { block_line($0); next }
/^<!--/ { next }
/^# / { print ".SH DESCRIPTION"; next }
/^## / { flush_all(); commands(); print ".SH " toupper(inline(substr($0, 4))); next }
/^### / { flush_all(); print ".SS " inline(substr($0, 5)); next }
/^\|[ :-]*-[-| :]*$/ { next }
/^\|/ && !in_table {
	flush_all()
	in_table = 1
	columns = split_row($0, heads)
	next
}
/^\|/ { table_row($0); next }
/^    / && (in_block || paragraph == "") {
	if (!in_block)
		open_block()
	block_line(substr($0, 5))
	next
}
/^$/ {
	if (in_block)
		blanks++
	else
		flush_all()
	next
}
/^- / { flush_all(); bullet = 1; paragraph = substr($0, 3); next }
{
	if (in_block || in_table)
		flush_all()
	sub(/^ +/, "")
	paragraph = paragraph (paragraph == "" ? "" : " ") $0
}

END {
	if (failed)
		exit 1
	flush_all()
	print ".SH SEE ALSO\n" also
}
