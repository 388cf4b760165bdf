/* Connectors by series and gender, as they are stamped on bags: "N male", "SMA female", "APC-7". */
#ifndef HALFSPLIT_LINEUP_CONNECTOR_H
#define HALFSPLIT_LINEUP_CONNECTOR_H

#include "halfsplit/base/error.h"
#include "halfsplit/base/text.h"

typedef enum hs_gender { HS_GENDER_NONE, HS_MALE, HS_FEMALE } hs_gender;

typedef struct hs_connector {
	char series[32]; /* "SMA"; compared without regard to case */
	hs_gender gender; /* HS_GENDER_NONE: both sides are alike, as of a banana socket pair or an APC-7 */
} hs_connector;

/* HS_BAD_INPUT when the text is no series with or without a gender ("plug" is read as male, "socket" and "jack" as female). */
bool hs_connector_read(const char *text, hs_connector *out, hs_error *error);
void hs_connector_print(hs_buf *out, const hs_connector *connector); /* "SMA female" */
bool hs_connector_same(const hs_connector *a, const hs_connector *b);
/* True when one goes onto the other: the same series, and a male on a female, or neither of them with a gender. */
bool hs_connector_mates(const hs_connector *a, const hs_connector *b);
/* What goes onto it. */
hs_connector hs_connector_mate(const hs_connector *connector);

#endif
