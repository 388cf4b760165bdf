/* What the parts of the job sheet as text share; inside core/report only. */
#ifndef CORE_REPORT_SHEET_TEXT_H
#define CORE_REPORT_SHEET_TEXT_H

#include "halfsplit/report/report.h"

/* "label   text", the text made safe and wrapped; nothing when there is no text. */
void hs_text_field(hs_buf *out, const char *label, const char *text);

/* A heading, underlined, with a blank line before it. */
void hs_text_title(hs_buf *out, const char *text);

/* A line for the day, where it is another than *last; *last then points into utc. */
void hs_text_day(hs_buf *out, const char *utc, const char **last);

/* "09:30:00  where  text": the text made safe and wrapped under itself. */
void hs_text_line(hs_buf *out, const char *utc, const char *where, const char *text);

/* Appends the "HH:MM:SS" of a stamp; whatever is not one as it is. */
void hs_text_clock(hs_buf *out, const char *utc);

void hs_text_suspects(const hs_sheet *sheet, hs_buf *out);
void hs_text_gates(const hs_sheet *sheet, hs_buf *out);

#endif
