/*
 * A role: what a playbook asks of a hookup, without knowing any shop's cables. A shop binds it to a hookup of its kit, by a line of its
 * kit file or by a hookup of the same name.
 */
#ifndef HALFSPLIT_MODEL_ROLE_H
#define HALFSPLIT_MODEL_ROLE_H

#include "halfsplit/judge/limits.h"
#include "halfsplit/lineup/connector.h"
#include "halfsplit/lineup/hookup.h"
#include "halfsplit/model/problem.h"

typedef struct hs_role {
	const char *name;      /* as steps name it for their hookup */
	const char *title;     /* NULL when not stated */
	bool source;           /* it ends in a source; else in what reads */
	bool has_ends[2];      /* at the unit, at the instrument */
	hs_connector ends[2];
	const hs_measurand *reads;
	size_t read_count;
	double freq_from_hz, freq_to_hz; /* the span it must work at; 0, 0: not asked */
	bool has_loss;
	double loss_db, loss_at_hz;      /* it takes at most this there */
	double stands_w;                 /* the power it must stand at the unit's end; 0: not asked */
	bool has_range;
	hs_limits range;                 /* what must be read, or given, at the instrument; both ends */
	bool has_u;
	hs_quantity u;                   /* the most its uncertainty U (k = 2) may be; a level's in dB */
	const hs_hookup *hookup;         /* what the shop bound it to; NULL: unbound */
	hs_where where;
} hs_role;

/* What a role asks for, in one line: "meter; reads power; 1.4 GHz to 1.6 GHz; at most 1 dB at 2 GHz; SMA male to N male". */
void hs_role_print(const hs_role *role, hs_buf *out);

/* Each demand of the role that the hookup misses, as a sentence without its point; what the kit does not state is not held against it. */
typedef void hs_role_tell(void *context, const char *sentence);
void hs_role_misfits(const hs_role *role, const hs_hookup *hookup, hs_role_tell *tell, void *context);

#endif
