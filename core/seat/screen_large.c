/* Large type: what, where, hookup, limits and what is wanted, in short lines with room between them, to be read across a bench. */
#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include "screen_facts.h"

bool hs_screen_wants_tall(void)
{
	const char *term = getenv("TERM"), *xterm = getenv("XTERM_VERSION");
	if (!hs_screen_wants_colour())
		return false;
	return (strncmp(term, "vt", 2) == 0 && isdigit((unsigned char)term[2])) || (strncmp(term, "xterm", 5) == 0 && xterm && *xterm);
}

/* "L E V E L   B E H I N D", broken between words. Letters beyond ASCII stay as they are. */
static void add_spaced(const hs_screen *screen, const char *heading, hs_buf *out)
{
	hs_buf line, word;
	hs_buf_init(&line);
	hs_buf_init(&word);
	for (const char *at = heading + strspn(heading, " "); *at; at += strspn(at, " ")) {
		size_t length = strcspn(at, " ");
		hs_buf_clear(&word);
		for (size_t i = 0; i < length; i++) {
			bool begins = ((unsigned char)at[i] & 0xC0u) != 0x80u;
			if (i > 0 && begins)
				hs_buf_char(&word, ' ');
			hs_buf_char(&word, (char)toupper((unsigned char)at[i]));
		}
		if (line.length > 0 && hs_text_columns(line.data) + 3 + hs_text_columns(word.data) > hs_screen_width(screen)) {
			hs_lines_one(out, screen, HS_STYLE_HEADING, 0, line.data, "");
			hs_buf_clear(&line);
		}
		hs_buf_printf(&line, "%s%s", line.length > 0 ? "   " : "", word.data);
		at += length;
	}
	if (line.length > 0)
		hs_lines_one(out, screen, HS_STYLE_HEADING, 0, line.data, "");
	hs_buf_free(&word);
	hs_buf_free(&line);
}

/* The two halves of a line of double height: half as many characters fit. */
static void add_tall(const hs_screen *screen, const char *heading, hs_buf *out)
{
	char shorter[64];
	size_t most = hs_screen_width(screen) / 2, length = strlen(heading);
	hs_copy(shorter, most < sizeof shorter ? most : sizeof shorter, heading);
	if (hs_text_columns(heading) >= most || length >= sizeof shorter || strlen(shorter) < length) {
		add_spaced(screen, heading, out);
		return;
	}
	hs_buf_printf(out, "\x1b#3%s\n\x1b#4%s\n", heading, heading);
}

static void add_heading(const hs_screen *screen, const char *heading, hs_buf *out)
{
	hs_buf safe;
	hs_buf_init(&safe);
	hs_buf_shown(&safe, heading, false);
	if (safe.length > 0 && screen->tall)
		add_tall(screen, safe.data, out);
	else if (safe.length > 0)
		add_spaced(screen, safe.data, out);
	hs_buf_free(&safe);
}

static void add_limits(const hs_screen *screen, const hs_engine *engine, const hs_ask *ask, hs_buf *out)
{
	if (ask->kind != HS_ASK_READ)
		return;
	const hs_reading *reading = &hs_engine_playbook(engine)->steps[ask->step].readings[ask->item];
	if (!reading->has_limits || hs_reading_is_word(reading))
		return;
	hs_buf limits;
	hs_buf_init(&limits);
	hs_limits_print(&limits, &reading->limits);
	hs_buf_char(out, '\n');
	hs_lines_one(out, screen, HS_STYLE_PLAIN, 2, "healthy: ", limits.data);
	hs_buf_free(&limits);
}

void hs_show_large(const hs_screen *screen, const hs_engine *engine, const hs_ask *ask, const hs_ask_words *words, hs_buf *out)
{
	hs_buf power;
	hs_buf_init(&power);
	hs_buf_char(out, '\n');
	add_heading(screen, words->heading.data ? words->heading.data : "", out);
	hs_buf_char(out, '\n');
	hs_lines_text(out, screen, HS_STYLE_PLAIN, 2, "", words->text.data ? words->text.data : "");
	if (words->caution.length > 0) {
		hs_buf caution;
		hs_buf_init(&caution);
		hs_buf_add(&caution, words->caution.data, screen->brief && words->brief > 0 ? words->brief : words->caution.length);
		hs_buf_char(out, '\n');
		hs_lines_text(out, screen, HS_STYLE_CARE, 2, "Take care: ", caution.data);
		hs_buf_free(&caution);
	}
	if (words->hookup.length > 0) {
		hs_buf_char(out, '\n');
		hs_lines_hookup(out, screen, 2, words->hookup.data);
	}
	add_limits(screen, engine, ask, out);
	if (hs_engine_paused(engine))
		hs_buf_str(&power, hs_power_name(HS_POWER_UNKNOWN));
	else
		hs_engine_power_words(engine, &power);
	hs_buf_char(out, '\n');
	hs_lines_one(out, screen, HS_STYLE_PLAIN, 2, "power: ", power.data);
	hs_buf_char(out, '\n');
	hs_buf_free(&power);
}
