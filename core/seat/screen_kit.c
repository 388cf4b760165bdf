/* `show kit`: what a freehand run can be read and fed with, by the names that are typed behind `by`. */
#include "halfsplit/model/kit.h"
#include "screen_facts.h"

static void print_uses(const hs_part *instrument, hs_buf *out)
{
	if (!instrument)
		return;
	for (size_t i = 0; i < instrument->range_count; i++) {
		bool before = false;
		for (size_t k = 0; k < i && !before; k++)
			before = instrument->ranges[k].reads == instrument->ranges[i].reads;
		if (!before)
			hs_buf_printf(out, "%s%s", i == 0 ? ": reads " : ", ", hs_measurand_name(instrument->ranges[i].reads));
	}
	if (instrument->gives_level)
		hs_buf_printf(out, "%s", instrument->range_count ? "; gives a level" : ": gives a level");
}

static void add_hookup(const hs_screen *screen, const hs_hookup *hookup, hs_buf *out)
{
	hs_buf line;
	hs_buf_init(&line);
	hs_buf_printf(&line, "%s (", hookup->id);
	for (size_t i = 0; i < hookup->count; i++)
		hs_buf_printf(&line, "%s%s", i ? ", " : "", hookup->parts[i]->id);
	hs_buf_char(&line, ')');
	print_uses(hookup->instrument, &line);
	hs_lines_one(out, screen, HS_STYLE_PLAIN, 4, "", line.data);
	hs_buf_free(&line);
}

void hs_screen_kit(const hs_screen *screen, const hs_engine *engine, hs_buf *out)
{
	const hs_kit *kit = hs_engine_kit(engine);
	if (!hs_engine_is_freehand(engine)) {
		hs_lines_text(out, screen, HS_STYLE_PLAIN, 2, "", "The playbook names its hookups; halfsplit prepare lists them with the kit.");
		return;
	}
	if (!kit) {
		hs_lines_text(out, screen, HS_STYLE_PLAIN, 2, "",
		              "This run has no kit: everything is read by eye. A kit is given when a run begins, with --kit FILE.");
		return;
	}
	hs_lines_text(out, screen, HS_STYLE_PLAIN, 2, "", "Hookups, from the unit to the instrument:");
	for (size_t i = 0; i < kit->hookup_count; i++)
		if (!hs_hookup_is_bare(kit->hookups[i]))
			add_hookup(screen, kit->hookups[i], out);
	hs_lines_text(out, screen, HS_STYLE_PLAIN, 2, "", "Instruments, straight to the point:");
	for (size_t i = 0; i < kit->part_count; i++) {
		const hs_part *part = kit->parts[i];
		if (!part->range_count && !part->gives_level)
			continue;
		hs_buf line;
		hs_buf_init(&line);
		hs_buf_str(&line, part->id);
		print_uses(part, &line);
		hs_lines_one(out, screen, HS_STYLE_PLAIN, 4, "", line.data);
		hs_buf_free(&line);
	}
}
