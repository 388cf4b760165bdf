/* string.format: widths and precisions of at most two digits, no addresses, the same under every locale. */
#include "sandbox_lib.h"

#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

typedef struct directive {
	char flags[8];
	int width;     /* 0 when absent */
	int precision; /* -1 when absent */
	char kind;
} directive;

static int two_digits(const char **at)
{
	int value = 0;
	for (int i = 0; i < 2 && **at >= '0' && **at <= '9'; i++)
		value = value * 10 + *(*at)++ - '0';
	return value;
}

/* Reads what follows a '%'; false when it is not of the form [flags][width][.precision]letter. */
static bool read_directive(const char **at, directive *d)
{
	size_t flags = strspn(*at, "-+ #0");
	*d = (directive){.precision = -1};
	if (flags > 5)
		return false;
	memcpy(d->flags, *at, flags);
	*at += flags;
	d->width = two_digits(at);
	if (**at == '.') {
		(*at)++;
		d->precision = two_digits(at);
	}
	d->kind = **at;
	return d->kind && strchr("dixXoeEfFgGsc", d->kind);
}

static void add_text(lua_State *L, hs_lua_text *out, const directive *d, int arg)
{
	size_t length;
	const char *text = hs_sandbox_tostring(L, arg, &length);
	bool left = strchr(d->flags, '-') != NULL;
	if (d->precision >= 0 && (size_t)d->precision < length)
		length = (size_t)d->precision;
	size_t padding = (size_t)d->width > length ? (size_t)d->width - length : 0;
	hs_text_fill(L, out, ' ', left ? 0 : padding);
	hs_text_add(L, out, text, length);
	hs_text_fill(L, out, ' ', left ? padding : 0);
	lua_pop(L, 1);
}

static void add_number(lua_State *L, hs_lua_text *out, const directive *d, int arg)
{
	char pattern[32], digits[512];
	int length;
	bool whole = strchr("dixXo", d->kind) != NULL;
	int used = snprintf(pattern, sizeof pattern, "%%%s", d->flags);
	if (d->width > 0)
		used += snprintf(pattern + used, sizeof pattern - (size_t)used, "%d", d->width);
	if (d->precision >= 0)
		used += snprintf(pattern + used, sizeof pattern - (size_t)used, ".%d", d->precision);
	snprintf(pattern + used, sizeof pattern - (size_t)used, "%s%c", whole ? "ll" : "", d->kind);
	if (whole) {
		length = snprintf(digits, sizeof digits, pattern, (long long)hs_arg_integer(L, arg));
	} else {
		lua_Number value = hs_arg_number(L, arg);
		length = snprintf(digits, sizeof digits, pattern, isnan(value) ? (double)NAN : value);
	}
	char *point = whole ? NULL : strchr(digits, *localeconv()->decimal_point);
	if (point)
		*point = '.';
	hs_text_add(L, out, digits, (size_t)length);
}

static void add_directive(lua_State *L, hs_lua_text *out, const char **at, int arg)
{
	directive d;
	const char *start = *at;
	if (!read_directive(at, &d))
		hs_sandbox_raisef(L, "string.format does not offer \"%%%.*s\"", (int)(*at - start) + (**at ? 1 : 0),
		                  start);
	(*at)++;
	luaL_checkany(L, arg);
	if (d.kind == 's') {
		add_text(L, out, &d, arg);
	} else if (d.kind == 'c') {
		lua_Integer value = hs_arg_integer(L, arg);
		luaL_argcheck(L, value >= 0 && value <= 255, arg, "a byte is 0 to 255");
		hs_text_fill(L, out, (char)value, 1);
	} else {
		add_number(L, out, &d, arg);
	}
}

int hs_string_format(lua_State *L)
{
	size_t length;
	hs_lua_text out;
	int given = lua_gettop(L), arg = 1;
	const char *at = hs_arg_text(L, 1, &length), *end = at + length;
	hs_text_start(L, &out);
	while (at < end) {
		const char *mark = memchr(at, '%', (size_t)(end - at));
		hs_text_add(L, &out, at, (size_t)((mark ? mark : end) - at));
		if (!mark)
			break;
		at = mark + 1;
		hs_sandbox_charge(L, 4);
		if (*at == '%') {
			hs_text_fill(L, &out, '%', 1);
			at++;
			continue;
		}
		/* The growing text lies above the arguments, so an index past them would find it. */
		if (++arg > given)
			return luaL_argerror(L, arg, "no value");
		add_directive(L, &out, &at, arg);
	}
	hs_text_push(L, &out);
	return 1;
}
