/* quantity and show: from a text to a number and back. */
#include "bind_measure.h"

enum { DECIMALS_MOST = 9 };

static int read_quantity(lua_State *L)
{
	hs_unit bare = measure_given(L, 2) ? measure_unit(L, 2, HS_UNIT_COUNT) : HS_UNIT_COUNT;
	hs_quantity found = measure_quantity(L, 1, "the quantity", bare);
	lua_pushnumber(L, found.value);
	lua_pushstring(L, hs_unit_name(found.unit));
	return 2;
}

static int show(lua_State *L)
{
	hs_unit unit = measure_unit(L, 2, HS_UNITLESS);
	int decimals = measure_given(L, 3) ? measure_whole(L, 3, "the number of decimals", 0, DECIMALS_MOST) : -1;
	hs_quantity shown = measure_quantity(L, 1, "the value", unit);
	hs_buf *text = measure_text(L);
	hs_quantity_print(text, shown, decimals);
	measure_text_push(L, text);
	return 1;
}

void measure_open_quantity(lua_State *L)
{
	static const measure_row rows[] = {
	    {"quantity", read_quantity, 2, "quantity(TEXT [, UNIT])"},
	    {"show", show, 3, "show(NUMBER, UNIT [, DECIMALS])"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		measure_push_function(L, &rows[i]);
		hs_sandbox_declare(L, rows[i].name);
	}
}
