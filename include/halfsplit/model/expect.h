/*
 * What a step's line-up says of its reading: the same numbers for the limits it is judged by, for `why`, and for protection.
 */
#ifndef HALFSPLIT_MODEL_EXPECT_H
#define HALFSPLIT_MODEL_EXPECT_H

#include "halfsplit/model/playbook.h"

/* The line-up that has the reading's point, and the injected one too when something is injected there; NULL: none, or several. */
const hs_lineup *hs_expect_lineup(const hs_playbook *playbook, const hs_step *step, const hs_reading *reading);

/*
 * What goes in at a step, as a line-up takes it: element -1 when the line-up has not that point. Its frequency is that of the reading's column
 * in a grid; reading NULL: as the step says.
 */
hs_injected hs_expect_injected(const hs_playbook *playbook, const hs_lineup *lineup, const hs_step *step, const hs_reading *reading);

/*
 * Fills an expectation but `worst`: the level at the reading's point with the step's signal, settings and parted joints. `set` takes
 * HS_CONTROLS_MOST positions and must live as long as the expectation. False with an error that says what is not known.
 */
bool hs_expect_fill(const hs_playbook *playbook, const hs_step *step, const hs_reading *reading, const hs_lineup *lineup,
                    uint8_t *set, hs_expectation *out, hs_error *error);

/* The band of a healthy unit as limits in the reading's unit. Between power and volts the point's impedance is wanted. */
bool hs_expect_limits(const hs_playbook *playbook, const hs_reading *reading, const hs_expectation *expectation, hs_limits *out,
                      hs_error *error);

/* The nominal level, converted in the same way. */
bool hs_expect_level(const hs_playbook *playbook, const hs_reading *reading, const hs_expectation *expectation, hs_quantity *out,
                     hs_error *error);

/* What a mode of a suspect does, in one line-up. */
typedef struct hs_struck {
	const hs_lineup *lineup;
	hs_effect effect;
} hs_struck;

/*
 * Everything a mode does in all line-ups, in the order they are declared; at most `room` are written, and the number there are comes
 * back. 0: no line-up knows of it, and what it shows must be stated otherwise.
 */
size_t hs_struck_by(const hs_playbook *playbook, int suspect, const char *mode, hs_struck *out, size_t room);

/*
 * The way to a reading's point as the unit really stands, for whoever plays it: hs_route_level then gives the level of one unit, drawn
 * with its deviations. fault NULL: healthy.
 */
bool hs_expect_route(const hs_playbook *playbook, const hs_step *step, const hs_reading *reading, const hs_lineup *lineup,
                     const hs_line_settings *stands, const hs_effect *fault, hs_route *out, hs_error *error);

#endif
