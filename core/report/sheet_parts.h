/* What the parts of the walk share; inside core/report only. */
#ifndef CORE_REPORT_SHEET_PARTS_H
#define CORE_REPORT_SHEET_PARTS_H

#include "halfsplit/report/report.h"

/* The step of that id; NULL when there is none, or no id. */
const hs_step *hs_sheet_step(const hs_sheet *sheet, const char *id);

/*
 * What cleared or implicated a suspect, in words: the move that gave it its present standing, not one that only said
 * so again. Sets by_step of the suspect to the step of that move. NULL when nothing is known. by_step: the engine's.
 */
const char *hs_sheet_evidence(const hs_sheet *sheet, hs_sheet_suspect *suspect, int by_step);

#endif
