/* Helpers of the library files: arguments without Lua's own conversions, and a text that grows in Lua's memory. */
#ifndef HALFSPLIT_CORE_PLAYBOOK_SANDBOX_LIB_H
#define HALFSPLIT_CORE_PLAYBOOK_SANDBOX_LIB_H

#include <lauxlib.h>
#include "sandbox_impl.h"

/* A text, or a number taken as tostring gives it (the argument is then replaced). */
const char *hs_arg_text(lua_State *L, int arg, size_t *length);
lua_Integer hs_arg_integer(lua_State *L, int arg);                           /* never from a text */
lua_Integer hs_arg_integer_or(lua_State *L, int arg, lua_Integer otherwise); /* when absent or nil */
lua_Number hs_arg_number(lua_State *L, int arg);                             /* never from a text */
void hs_arg_open_table(lua_State *L, int arg);                               /* a table that is not sealed */

/*
 * A growing text in a userdata at a stack slot of its own, so that a raise leaks nothing. hs_text_start pushes the
 * slot; between calls the stack may be used freely above it. Longer than HS_SANDBOX_TEXT_MOST raises.
 */
typedef struct hs_lua_text {
	int slot;
	char *data;
	size_t length;
	size_t room;
} hs_lua_text;

void hs_text_start(lua_State *L, hs_lua_text *text);
void hs_text_add(lua_State *L, hs_lua_text *text, const char *data, size_t length);
void hs_text_fill(lua_State *L, hs_lua_text *text, char c, size_t count);
void hs_text_push(lua_State *L, const hs_lua_text *text); /* pushes the string, and charges for its length */

/* Declares a sealed table of functions, with whatever is already in the table on top; pops it. */
void hs_declare_library(lua_State *L, const char *name, const luaL_Reg *functions);

int hs_string_format(lua_State *L); /* sandbox_lib_format.c */

#endif
