/*
 * An engine that answers what a test tells it to, for tests of seats: the views a seat uses, and nothing else. Defined
 * here, they keep the real engine out of the program.
 */
#ifndef HALFSPLIT_TESTS_FAKE_ENGINE_H
#define HALFSPLIT_TESTS_FAKE_ENGINE_H

#include "halfsplit/engine/engine.h"

#define FAKE_SUSPECTS 4

struct hs_engine {
	const hs_playbook *playbook;
	hs_power power;
	uint64_t open;
	int step;
	size_t answers;
	const char *ask_id;
	bool left_on; /* unknown power, last known on */
	const char *why, *overview;
	const char *joined, *turned; /* one lead that hangs on the unit, what is said of the control "band"; or NULL */
	const char *shorts, *zones; /* zones: NULL, or what stands behind the power state */
	const char *stands; /* where the control "band" stands; NULL: not known */
	hs_standing standing[FAKE_SUSPECTS];
	int by[FAKE_SUSPECTS];
};

static const char *const fake_modes[] = {"dead", "low gain"};

static hs_suspect fake_suspects[FAKE_SUSPECTS] = {
    {.id = "a1", .title = "A1 driver"},
    {.id = "psu"},
    {.id = "q3", .title = "Q3 final", .modes = fake_modes, .mode_count = 2},
    {.id = "coax"},
};

static hs_reading fake_readings[] = {
    {.name = "in", .reads = HS_READS_POWER, .unit = HS_DBM, .at_text = "TP2"},
    {.name = "out", .reads = HS_READS_VOLTS, .unit = HS_VOLT, .at_text = "TP3", .against = "chassis"},
    {.name = "third", .reads = HS_READS_VOLTS, .unit = HS_VOLT, .at_text = "TP4"},
};

static const int fake_implicated[] = {2}, fake_either[] = {0, 3};

static hs_step fake_steps[] = {
    {.id = "level-at-tp2",
     .title = "Level after the driver",
     .kind = HS_STEP_READ,
     .readings = fake_readings,
     .reading_count = 1},
    {.id = "gain-of-a1",
     .title = "Gain of the driver",
     .kind = HS_STEP_READ,
     .readings = fake_readings,
     .reading_count = 3,
     .derive = HS_DERIVE_DIFFERENCE,
     .derive_a = 1,
     .derive_b = 0},
    {.id = "q3-dead",
     .title = "The final transistor",
     .kind = HS_STEP_FINDING,
     .suspects = fake_implicated,
     .suspect_count = 1,
     .proof = "Swap Q3 and read J2 again: 50 W within 1 dB is proof.",
     .not_tested = "the output filter",
     .advice = "Order Q3 with its thermal pad."},
    {.id = "either-or", .kind = HS_STEP_FINDING, .suspects = fake_either, .suspect_count = 2, .not_separated = true},
};

static hs_playbook fake_playbook = {
    .id = "garth-low-power",
    .suspects = fake_suspects,
    .suspect_count = FAKE_SUSPECTS,
    .steps = fake_steps,
    .step_count = 4,
    .unit = {.openables = {{.id = "top-cover",
                            .title = "Top cover",
                            .kind = HS_OPEN_COVER,
                            .fixings = "8 x M3 pan",
                            .torque = "0.6 N m"},
                           {.id = "link-f2", .kind = HS_OPEN_LINK}},
             .openable_count = 2,
             .controls = {{.id = "pad"}, {.id = "band"}},
             .control_count = 2},
};

static inline hs_engine fake_engine(void)
{
	hs_engine engine = {.playbook = &fake_playbook,
	                    .power = HS_POWER_SECURED,
	                    .step = -1,
	                    .ask_id = "level-at-tp2",
	                    .why = "",
	                    .overview = "",
	                    .shorts = ""};
	for (size_t i = 0; i < FAKE_SUSPECTS; i++)
		engine.by[i] = -1;
	return engine;
}

/* Every title and text of the playbook becomes `text`; and back. */
static inline void fake_make_evil(const char *text)
{
	fake_suspects[0].title = text;
	fake_readings[0].at_text = text;
	fake_readings[0].name = text;
	fake_steps[1].title = text;
	fake_steps[2].proof = fake_steps[2].title = text;
	fake_playbook.unit.openables[0].title = text;
}

static inline void fake_make_good(void)
{
	fake_suspects[0].title = "A1 driver";
	fake_readings[0].at_text = "TP2";
	fake_readings[0].name = "in";
	fake_steps[1].title = "Gain of the driver";
	fake_steps[2].title = "The final transistor";
	fake_playbook.unit.openables[0].title = "Top cover";
}

void hs_engine_ask_id(const hs_engine *engine, const hs_ask *ask, hs_buf *out)
{
	(void)ask;
	hs_buf_str(out, engine->ask_id);
}

hs_power hs_engine_power(const hs_engine *engine)
{
	return engine->power;
}

bool hs_engine_left_on(const hs_engine *engine)
{
	return engine->power == HS_POWER_UNKNOWN ? engine->left_on : engine->power < HS_POWER_OFF;
}

uint64_t hs_engine_open_list(const hs_engine *engine)
{
	return engine->open;
}

const char *hs_engine_control(const hs_engine *engine, int control)
{
	return control == 1 ? engine->stands : NULL;
}

void hs_engine_charges(const hs_engine *engine, hs_buf *out)
{
	(void)engine;
	(void)out;
}

void hs_engine_barred(const hs_engine *engine, hs_buf *out)
{
	(void)engine;
	(void)out;
}

void hs_engine_shorts(const hs_engine *engine, hs_buf *out)
{
	hs_buf_str(out, engine->shorts);
}

bool hs_engine_joined(const hs_engine *engine, size_t index, hs_buf *out)
{
	if (engine->joined == NULL || index > 0)
		return false;
	hs_buf_str(out, engine->joined);
	return true;
}

bool hs_engine_control_left(const hs_engine *engine, int control, hs_buf *out)
{
	if (engine->turned == NULL || control != 1)
		return false;
	hs_buf_str(out, engine->turned);
	return true;
}

bool hs_engine_paused(const hs_engine *engine)
{
	(void)engine;
	return false;
}

void hs_engine_power_words(const hs_engine *engine, hs_buf *out)
{
	hs_buf_str(out, hs_power_name(engine->power));
	if (engine->zones)
		hs_buf_printf(out, " (%s)", engine->zones);
}

hs_ask hs_engine_next(const hs_engine *engine)
{
	return (hs_ask){.kind = HS_ASK_READ, .step = engine->step};
}

int hs_engine_step(const hs_engine *engine)
{
	return engine->step;
}

const hs_playbook *hs_engine_playbook(const hs_engine *engine)
{
	return engine->playbook;
}

size_t hs_engine_answers(const hs_engine *engine)
{
	return engine->answers;
}

hs_standing hs_engine_suspect(const hs_engine *engine, size_t suspect, int *by_step)
{
	*by_step = engine->by[suspect];
	return engine->standing[suspect];
}

void hs_engine_why(const hs_engine *engine, hs_buf *out)
{
	hs_buf_str(out, engine->why);
}

/* No level of it was predicted, so there is none to draw. */
void hs_engine_levels(const hs_engine *engine, int step, int item, size_t width, hs_buf *out)
{
	(void)engine;
	(void)step;
	(void)item;
	(void)width;
	(void)out;
}

int hs_engine_judged(const hs_engine *engine, int *item)
{
	*item = -1;
	return engine->step;
}

bool hs_engine_is_freehand(const hs_engine *engine)
{
	(void)engine;
	return false;
}

const hs_kit *hs_engine_kit(const hs_engine *engine)
{
	(void)engine;
	return NULL;
}

void hs_engine_overview(const hs_engine *engine, hs_buf *out)
{
	hs_buf_str(out, engine->overview);
}

#endif
