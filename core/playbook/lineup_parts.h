/* Inside the binding of line-ups: bind_lineup.c lays the elements out, bind_element.c fills one, bind_response.c reads its gain. */
#ifndef HALFSPLIT_CORE_PLAYBOOK_LINEUP_PARTS_H
#define HALFSPLIT_CORE_PLAYBOOK_LINEUP_PARTS_H

#include "names.h"

typedef struct hs_laying {
	hs_build *build;
	lua_State *L;
	const hs_decl *decl;     /* of the line-up */
	hs_lineup *lineup;
	hs_element *elements;    /* HS_ELEMENTS_MOST of them */
	size_t count;
	const hs_decl *decls[HS_ELEMENTS_MOST]; /* NULL: only named, as in "TP2" */
	bool volts;              /* the scale of its ports */
} hs_laying;

/* ---- bind_lineup.c ---- */
/* An element by its id; a problem with the nearest one as hint when there is none. */
/* True where it stands in a file of the family, whose other playbooks have other suspects: nobody must be able to have its faults. */
bool hs_laid_shared(const hs_laying *laying, const hs_element *element);
int hs_laid_element(const hs_laying *laying, const hs_table *table, const char *key);

/* ---- bind_element.c ---- */
const char *hs_element_words_of(const char *callee, hs_words *out); /* "a stage"; NULL: no such element */
/* Everything that stands in an element's own table but the lists in it; all elements and their scales are known. */
void hs_fill_element(const hs_laying *laying, size_t at);

/* ---- bind_response.c ---- */
/* gain, loss, touchstone or coax with its length, and tolerance. */
void hs_read_response(const hs_table *table, bool volts, hs_response *out);
/* One text such as "20 dB +/- 0.5 dB", as a loss. */
bool hs_read_loss_text(const hs_table *table, const char *key, hs_response *out);
/* A level with its tolerance, in the scale asked for. */
bool hs_read_scaled(const hs_table *table, const char *key, bool volts, double impedance_ohm, double *level, double *up_db,
                    double *down_db);
/* faults = { mode = "effect" }, held against the modes of its suspect. */
void hs_read_faults(const hs_laying *laying, const hs_table *table, size_t at);

#endif
