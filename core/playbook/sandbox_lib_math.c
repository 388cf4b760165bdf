/* math, without random. Arguments are numbers; a text is never taken for one. */
#include "sandbox_lib.h"

#include <math.h>

/* One function of one number each. */
#define PLAIN(name, function)                                                                                          \
	static int math_##name(lua_State *L)                                                                           \
	{                                                                                                              \
		lua_pushnumber(L, function(hs_arg_number(L, 1)));                                                      \
		return 1;                                                                                              \
	}
PLAIN(sqrt, sqrt)
PLAIN(exp, exp)
PLAIN(sin, sin)
PLAIN(cos, cos)
PLAIN(tan, tan)
PLAIN(asin, asin)
PLAIN(acos, acos)
#undef PLAIN

static int math_atan(lua_State *L)
{
	lua_Number y = hs_arg_number(L, 1);
	lua_pushnumber(L, atan2(y, lua_isnoneornil(L, 2) ? 1 : hs_arg_number(L, 2)));
	return 1;
}

static int math_log(lua_State *L)
{
	lua_Number x = hs_arg_number(L, 1);
	if (lua_isnoneornil(L, 2)) {
		lua_pushnumber(L, log(x));
		return 1;
	}
	lua_Number base = hs_arg_number(L, 2);
	if (base == 10)
		lua_pushnumber(L, log10(x));
	else if (base == 2)
		lua_pushnumber(L, log2(x));
	else
		lua_pushnumber(L, log(x) / log(base));
	return 1;
}

static int math_abs(lua_State *L)
{
	lua_Number value = hs_arg_number(L, 1);
	if (lua_isinteger(L, 1)) {
		lua_Integer whole = lua_tointeger(L, 1);
		lua_pushinteger(L, whole < 0 ? (lua_Integer)(0u - (lua_Unsigned)whole) : whole);
	} else {
		lua_pushnumber(L, fabs(value));
	}
	return 1;
}

static void push_whole(lua_State *L, lua_Number value)
{
	lua_Integer whole;
	if (lua_numbertointeger(value, &whole))
		lua_pushinteger(L, whole);
	else
		lua_pushnumber(L, value);
}

static int math_floor(lua_State *L)
{
	lua_Number value = hs_arg_number(L, 1);
	if (lua_isinteger(L, 1))
		lua_settop(L, 1);
	else
		push_whole(L, floor(value));
	return 1;
}

static int math_ceil(lua_State *L)
{
	lua_Number value = hs_arg_number(L, 1);
	if (lua_isinteger(L, 1))
		lua_settop(L, 1);
	else
		push_whole(L, ceil(value));
	return 1;
}

static int math_fmod(lua_State *L)
{
	lua_Number a = hs_arg_number(L, 1), b = hs_arg_number(L, 2);
	luaL_argcheck(L, b != 0, 2, "zero");
	if (lua_isinteger(L, 1) && lua_isinteger(L, 2)) {
		lua_Integer divisor = lua_tointeger(L, 2);
		/* The least integer divided by -1 traps on common processors. */
		lua_pushinteger(L, divisor == -1 ? 0 : lua_tointeger(L, 1) % divisor);
	} else {
		lua_pushnumber(L, fmod(a, b));
	}
	return 1;
}

static int math_modf(lua_State *L)
{
	lua_Number value = hs_arg_number(L, 1), whole = value < 0 ? ceil(value) : floor(value);
	lua_pushnumber(L, whole);
	lua_pushnumber(L, isinf(value) ? 0.0 : value - whole);
	return 2;
}

static int extreme(lua_State *L, bool greatest)
{
	int count = lua_gettop(L), best = 1;
	hs_arg_number(L, 1);
	for (int i = 2; i <= count; i++) {
		hs_arg_number(L, i);
		if (greatest ? lua_compare(L, best, i, LUA_OPLT) : lua_compare(L, i, best, LUA_OPLT))
			best = i;
	}
	lua_pushvalue(L, best);
	return 1;
}

static int math_max(lua_State *L)
{
	return extreme(L, true);
}

static int math_min(lua_State *L)
{
	return extreme(L, false);
}

static int math_tointeger(lua_State *L)
{
	int whole = 0;
	luaL_checkany(L, 1);
	lua_Integer value = lua_type(L, 1) == LUA_TNUMBER ? lua_tointegerx(L, 1, &whole) : 0;
	if (whole)
		lua_pushinteger(L, value);
	else
		lua_pushnil(L);
	return 1;
}

static int math_type(lua_State *L)
{
	luaL_checkany(L, 1);
	if (lua_type(L, 1) != LUA_TNUMBER)
		lua_pushnil(L);
	else
		lua_pushstring(L, lua_isinteger(L, 1) ? "integer" : "float");
	return 1;
}

void hs_lib_math_open(lua_State *L)
{
	static const luaL_Reg functions[] = {
	    {"abs", math_abs},
	    {"acos", math_acos},
	    {"asin", math_asin},
	    {"atan", math_atan},
	    {"ceil", math_ceil},
	    {"cos", math_cos},
	    {"exp", math_exp},
	    {"floor", math_floor},
	    {"fmod", math_fmod},
	    {"log", math_log},
	    {"max", math_max},
	    {"min", math_min},
	    {"modf", math_modf},
	    {"sin", math_sin},
	    {"sqrt", math_sqrt},
	    {"tan", math_tan},
	    {"tointeger", math_tointeger},
	    {"type", math_type},
	    {NULL, NULL},
	};
	lua_createtable(L, 0, 24);
	lua_pushnumber(L, 3.141592653589793238462643383279502884);
	lua_setfield(L, -2, "pi");
	lua_pushnumber(L, HUGE_VAL);
	lua_setfield(L, -2, "huge");
	lua_pushinteger(L, LUA_MAXINTEGER);
	lua_setfield(L, -2, "maxinteger");
	lua_pushinteger(L, LUA_MININTEGER);
	lua_setfield(L, -2, "mininteger");
	hs_declare_library(L, "math", functions);
}
