/* The signal's way as text, with where one is: J1 --(w1)-- TP1 --[lna]-- TP2. Plain ASCII, so that it is the same everywhere. */
#include <string.h>
#include "screen_facts.h"

/* The place the step reads at, or feeds. */
static const char *place_of(const hs_engine *engine)
{
	int at = hs_engine_next(engine).step >= 0 ? hs_engine_next(engine).step : hs_engine_step(engine);
	if (at < 0)
		return NULL;
	const hs_ask ask = hs_engine_next(engine);
	const hs_step *step = &hs_engine_playbook(engine)->steps[at];
	size_t reading = ask.kind == HS_ASK_READ && ask.item > 0 ? (size_t)ask.item : 0;
	if (reading < step->reading_count && step->readings[reading].at_text)
		return step->readings[reading].at_text;
	return step->inject.given ? step->inject.at_text : NULL;
}

static void print_link(const hs_engine *engine, const char *name, hs_buf *out)
{
	static const char *const around[][2] = {
	    [HS_SUSPECT_OPEN] = {"[", "]"}, [HS_SUSPECT_CLEARED] = {"(", ")"}, [HS_SUSPECT_IMPLICATED] = {"[!", "]"}};
	int by, suspect = hs_playbook_suspect(hs_engine_playbook(engine), name);
	if (suspect < 0) {
		hs_buf_shown(out, name, false);
		return;
	}
	hs_standing standing = hs_engine_suspect(engine, (size_t)suspect, &by);
	hs_buf_str(out, around[standing][0]);
	hs_buf_shown(out, name, false);
	hs_buf_str(out, around[standing][1]);
}

static void end_line(hs_buf *line, size_t here, hs_buf *out)
{
	hs_buf_add(out, line->data, line->length);
	hs_buf_char(out, '\n');
	if (here != SIZE_MAX) {
		for (size_t i = 0; i < here; i++)
			hs_buf_char(out, ' ');
		hs_buf_str(out, "^ here\n");
	}
	hs_buf_clear(line);
	hs_buf_str(line, "    ");
}

static void draw_chain(const hs_screen *screen, const hs_engine *engine, const hs_drawn_chain *chain, const char *place, hs_buf *out)
{
	size_t width = hs_screen_width(screen), here = SIZE_MAX;
	hs_buf line, link;
	hs_buf_init(&line);
	hs_buf_init(&link);
	hs_buf_str(&line, "    ");
	for (size_t i = 0; i < chain->link_count; i++) {
		hs_buf_clear(&link);
		hs_buf_str(&link, i > 0 ? "--" : "");
		print_link(engine, chain->links[i], &link);
		if (line.length > 4 && hs_text_columns(line.data) + hs_text_columns(link.data) > width) {
			end_line(&line, here, out);
			here = SIZE_MAX;
		}
		if (place && strcmp(place, chain->links[i]) == 0)
			here = hs_text_columns(line.data) + (i > 0 ? 2 : 0);
		hs_buf_str(&line, link.data);
	}
	end_line(&line, here, out);
	hs_buf_free(&link);
	hs_buf_free(&line);
}

void hs_show_chains(const hs_screen *screen, const hs_engine *engine, hs_buf *out)
{
	const hs_playbook *playbook = hs_engine_playbook(engine);
	const char *place = place_of(engine);
	for (size_t i = 0; i < playbook->chain_count; i++) {
		const hs_drawn_chain *chain = &playbook->chains[i];
		hs_lines_one(out, screen, HS_STYLE_PLAIN, 2, "", chain->title ? chain->title : chain->id);
		draw_chain(screen, engine, chain, place, out);
	}
	hs_buf files;
	hs_buf_init(&files);
	for (size_t i = 0; i < playbook->picture_count; i++)
		hs_buf_printf(&files, "%s%s", i > 0 ? ", " : "", playbook->pictures[i].file);
	if (files.length > 0)
		hs_lines_one(out, screen, HS_STYLE_PLAIN, 2, "pictures: ", files.data);
	hs_buf_free(&files);
	if (playbook->chain_count > 0)
		hs_lines_one(out, screen, HS_STYLE_DIM, 2, "", "[part] still open, (part) cleared, [!part] implicated");
}
