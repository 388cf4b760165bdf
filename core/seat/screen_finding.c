/* Where a run ends: the suspects with their evidence, the proof, what was not tested, what to do. */
#include "screen_facts.h"

static void add_suspect(const hs_screen *screen, const hs_engine *engine, int index, hs_buf *out)
{
	const hs_playbook *playbook = hs_engine_playbook(engine);
	const hs_suspect *suspect = &playbook->suspects[index];
	hs_buf line;
	hs_buf_init(&line);
	hs_lines_named(&line, suspect->id, suspect->title);
	for (size_t i = 0; i < suspect->mode_count; i++)
		hs_buf_printf(&line, "%s%s", i == 0 ? ": " : ", ", suspect->modes[i]);
	hs_lines_one(out, screen, HS_STYLE_PLAIN, 4, "", line.data);
	int by = -1;
	if (hs_engine_suspect(engine, (size_t)index, &by) == HS_SUSPECT_IMPLICATED && by >= 0 &&
	    playbook->steps[by].kind != HS_STEP_FINDING) {
		hs_buf_clear(&line);
		hs_lines_named(&line, playbook->steps[by].id, playbook->steps[by].title);
		hs_lines_one(out, screen, HS_STYLE_DIM, 6, "implicated at ", line.data);
	}
	hs_buf_free(&line);
}

/* The suspects that one step gave this standing: "a1, psu". */
static void print_by(const hs_engine *engine, hs_standing wanted, int step, hs_buf *out)
{
	const hs_playbook *playbook = hs_engine_playbook(engine);
	size_t before = out->length;
	for (size_t i = 0; i < playbook->suspect_count; i++) {
		int by = -1;
		if (hs_engine_suspect(engine, i, &by) == wanted && by == step)
			hs_buf_printf(out, "%s%s", out->length > before ? ", " : "", playbook->suspects[i].id);
	}
}

/* True for the first suspect of those that share its step. */
static bool is_first_by(const hs_engine *engine, hs_standing wanted, size_t suspect, int step)
{
	for (size_t i = 0; i < suspect; i++) {
		int by = -1;
		if (hs_engine_suspect(engine, i, &by) == wanted && by == step)
			return false;
	}
	return true;
}

/*
 * All suspects of one standing, those that one step settled together: "Cleared: a1 (drive-at-tp2); psu, fuse (rails)".
 */
static void add_others(const hs_screen *screen, const hs_engine *engine, hs_standing wanted, const char *lead,
                       hs_buf *out)
{
	const hs_playbook *playbook = hs_engine_playbook(engine);
	hs_buf line;
	hs_buf_init(&line);
	for (size_t i = 0; i < playbook->suspect_count; i++) {
		int by = -1;
		if (hs_engine_suspect(engine, i, &by) != wanted || !is_first_by(engine, wanted, i, by))
			continue;
		hs_buf_str(&line, line.length > 0 ? "; " : "");
		print_by(engine, wanted, by, &line);
		if (by >= 0)
			hs_buf_printf(&line, " (%s)", playbook->steps[by].id);
	}
	if (line.length > 0)
		hs_lines_one(out, screen, HS_STYLE_PLAIN, 2, lead, line.data);
	hs_buf_free(&line);
}

static void add_said(const hs_screen *screen, const char *lead, const char *text, hs_buf *out)
{
	if (text && *text)
		hs_lines_text(out, screen, HS_STYLE_PLAIN, 2, lead, text);
}

void hs_show_finding(const hs_screen *screen, const hs_engine *engine, int index, hs_buf *out)
{
	const hs_step *step = &hs_engine_playbook(engine)->steps[index];
	hs_buf_char(out, '\n');
	hs_lines_one(out, screen, HS_STYLE_HEADING, 0, "Finding: ", hs_step_title(step));
	add_said(screen, "", step->text, out);
	if (step->suspect_count == 0)
		hs_lines_text(out, screen, HS_STYLE_PLAIN, 2, "", "No suspect is implicated.");
	else if (step->suspect_count == 1)
		hs_lines_text(out, screen, HS_STYLE_PLAIN, 2, "", "The suspect:");
	else
		hs_lines_text(out, screen, HS_STYLE_PLAIN, 2, "", "Not separated; one of these, or more than one:");
	for (size_t i = 0; i < step->suspect_count; i++)
		add_suspect(screen, engine, step->suspects[i], out);
	add_others(screen, engine, HS_SUSPECT_CLEARED, "Cleared: ", out);
	add_others(screen, engine, HS_SUSPECT_OPEN, "Neither cleared nor implicated: ", out);
	add_said(screen, "Proof: ", step->proof, out);
	add_said(screen, "Not tested: ", step->not_tested, out);
	add_said(screen, "To do: ", step->advice, out);
}
