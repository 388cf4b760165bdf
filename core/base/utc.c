#include "halfsplit/base/utc.h"

#include <stdio.h>
#include <string.h>

/* Civil date of a day since 1970-01-01, and back: Gregorian rules over 400-year eras that begin in March. */
static void civil(int64_t day, int *year, int *month, int *of_month)
{
	int64_t shifted = day + 719468;
	int64_t era = shifted / 146097, of_era = shifted % 146097;
	int64_t year_of_era = (of_era - of_era / 1460 + of_era / 36524 - of_era / 146096) / 365;
	int64_t of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
	int64_t march_month = (5 * of_year + 2) / 153;
	*of_month = (int)(of_year - (153 * march_month + 2) / 5 + 1);
	*month = (int)(march_month < 10 ? march_month + 3 : march_month - 9);
	*year = (int)(year_of_era + era * 400 + (*month <= 2));
}

static int64_t day_of(int year, int month, int of_month)
{
	int64_t y = year - (month <= 2), era = y / 400, year_of_era = y % 400;
	int64_t of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + of_month - 1;
	return era * 146097 + year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + of_year - 719468;
}

#define DAY_MS     86400000LL
#define UTC_MS_END 253402300800000LL /* the year 10000 */

void hs_utc_print(int64_t utc_ms, char stamp[HS_STAMP_ROOM])
{
	if (utc_ms < 0)
		utc_ms = 0;
	if (utc_ms >= UTC_MS_END)
		utc_ms = UTC_MS_END - 1;
	int year, month, of_month;
	civil(utc_ms / DAY_MS, &year, &month, &of_month);
	int of_day = (int)(utc_ms % DAY_MS);
	snprintf(stamp, HS_STAMP_ROOM, "%04u-%02u-%02uT%02u:%02u:%02u.%03uZ", (unsigned)year % 10000u,
	         (unsigned)month % 100u, (unsigned)of_month % 100u, (unsigned)of_day / 3600000u % 24u,
	         (unsigned)of_day / 60000u % 60u, (unsigned)of_day / 1000u % 60u, (unsigned)of_day % 1000u);
}

bool hs_utc_read(const char *text, int64_t *utc_ms)
{
	static const char form[] = "dddd-dd-ddTdd:dd:dd.dddZ";
	int field[7] = {0}, at = 0;
	if (strlen(text) != sizeof form - 1)
		return false;
	for (size_t i = 0; form[i]; i++) {
		if (form[i] != 'd') {
			if (text[i] != form[i])
				return false;
			at++;
		} else if (text[i] < '0' || text[i] > '9') {
			return false;
		} else {
			field[at] = field[at] * 10 + (text[i] - '0');
		}
	}
	if (field[0] < 1970 || field[1] < 1 || field[1] > 12 || field[2] < 1)
		return false;
	int64_t of_day = ((field[3] * 60LL + field[4]) * 60 + field[5]) * 1000 + field[6];
	int64_t ms = day_of(field[0], field[1], field[2]) * DAY_MS + of_day;
	char again[HS_STAMP_ROOM];
	hs_utc_print(ms, again);
	if (strcmp(again, text) != 0) /* the 31st of June, the 25th hour */
		return false;
	*utc_ms = ms;
	return true;
}
