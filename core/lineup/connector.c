#include "halfsplit/lineup/connector.h"

#include <string.h>

static hs_gender gender_of(const char *word)
{
	static const struct {
		const char *word;
		hs_gender gender;
	} rows[] = {{"male", HS_MALE}, {"plug", HS_MALE}, {"female", HS_FEMALE}, {"socket", HS_FEMALE}, {"jack", HS_FEMALE}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (hs_same_word(word, rows[i].word))
			return rows[i].gender;
	return HS_GENDER_NONE;
}

bool hs_connector_read(const char *text, hs_connector *out, hs_error *error)
{
	char room[sizeof out->series + 16];
	hs_connector made = {.gender = HS_GENDER_NONE};
	if (strlen(text) >= sizeof room) {
		hs_fail(error, HS_BAD_INPUT, "\"%.40s...\" is too long for a connector", text);
		return hs_fail_hint(error, "write series and gender, as in \"N male\"");
	}
	hs_copy(room, sizeof room, text);
	char *series = hs_trim(room), *last = strrchr(series, ' ');
	if (last && gender_of(last + 1) != HS_GENDER_NONE) {
		made.gender = gender_of(last + 1);
		*last = '\0';
	}
	series = hs_trim(series);
	if (!*series || strlen(series) >= sizeof made.series || gender_of(series) != HS_GENDER_NONE) {
		hs_fail(error, HS_BAD_INPUT, "\"%.60s\" is no connector", text);
		return hs_fail_hint(error, "write series and gender, as in \"N male\"");
	}
	hs_copy(made.series, sizeof made.series, series);
	*out = made;
	return true;
}

void hs_connector_print(hs_buf *out, const hs_connector *connector)
{
	static const char *const words[] = {"", " male", " female"};
	hs_buf_printf(out, "%s%s", connector->series, words[connector->gender]);
}

bool hs_connector_same(const hs_connector *a, const hs_connector *b)
{
	return a->gender == b->gender && hs_same_word(a->series, b->series);
}

hs_connector hs_connector_mate(const hs_connector *connector)
{
	hs_connector mate = *connector;
	if (mate.gender != HS_GENDER_NONE)
		mate.gender = mate.gender == HS_MALE ? HS_FEMALE : HS_MALE;
	return mate;
}

bool hs_connector_mates(const hs_connector *a, const hs_connector *b)
{
	hs_connector mate = hs_connector_mate(b);
	return hs_connector_same(a, &mate);
}
