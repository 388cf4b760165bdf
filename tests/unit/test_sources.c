/* The files of a playbook: found beneath folders, held for a transcript, and the same either way. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include "halfsplit/playbook/sources.h"

typedef struct shop {
	char root[64];
	char main_path[96];
	char library[96];
	char gone[96];
} shop;

static void put(const shop *s, const char *name, const char *data, size_t length)
{
	char path[256];
	snprintf(path, sizeof path, "%s/%s", s->root, name);
	FILE *file = fopen(path, "wb");
	assert_non_null(file);
	assert_int_equal(fwrite(data, 1, length, file), length);
	fclose(file);
}

static void put_text(const shop *s, const char *name, const char *text)
{
	put(s, name, text, strlen(text));
}

static void folder(const shop *s, const char *name)
{
	char path[256];
	snprintf(path, sizeof path, "%s/%s", s->root, name);
	assert_int_equal(mkdir(path, 0700), 0);
}

static void link_to(const shop *s, const char *target, const char *name)
{
	char path[256];
	snprintf(path, sizeof path, "%s/%s", s->root, name);
	assert_int_equal(symlink(target, path), 0);
}

static void put_long(const shop *s, const char *name, size_t length)
{
	char *data = malloc(length);
	assert_non_null(data);
	memset(data, '-', length);
	put(s, name, data, length);
	free(data);
}

static int open_shop(void **state)
{
	shop *s = calloc(1, sizeof *s);
	if (!s)
		return -1;
	strcpy(s->root, "/tmp/halfsplit-sources-XXXXXX");
	if (!mkdtemp(s->root))
		return -1;
	snprintf(s->main_path, sizeof s->main_path, "%s/bench/garth low.lua", s->root);
	snprintf(s->library, sizeof s->library, "%s/library", s->root);
	snprintf(s->gone, sizeof s->gone, "%s/gone", s->root);
	folder(s, "bench");
	folder(s, "bench/tarnbeck");
	folder(s, "library");
	folder(s, "library/tarnbeck");
	folder(s, "bench/folder.lua");
	put_text(s, "bench/garth low.lua", "\xEF\xBB\xBFone\r\ntwo\r\n");
	put_text(s, "bench/tarnbeck/fell-family.lua", "near");
	put_text(s, "library/tarnbeck/fell-family.lua", "far");
	put_text(s, "library/common.lua", "common");
	put_text(s, "bench/pins.csv", "pin,volts\r\n1,12\r\n");
	put_text(s, "secret.lua", "secret");
	put(s, "bench/nul.lua", "a\0b", 3);
	put_text(s, "bench/latin.csv", "a\n\xe9\n");
	put_long(s, "bench/full.lua", HS_SOURCE_LUA_MOST);
	put_long(s, "bench/over.lua", HS_SOURCE_LUA_MOST + 1);
	put_long(s, "bench/full.csv", HS_SOURCE_TABLE_MOST);
	put_long(s, "bench/over.csv", HS_SOURCE_TABLE_MOST + 1);
	link_to(s, "../secret.lua", "bench/link.lua");
	link_to(s, "..", "bench/up");
	link_to(s, "no-such-thing", "bench/dangling.lua");
	link_to(s, "garth low.lua", "bench/alias.lua");
	char pipe_path[128];
	snprintf(pipe_path, sizeof pipe_path, "%s/bench/pipe.lua", s->root);
	*state = s;
	return mkfifo(pipe_path, 0600);
}

static int close_shop(void **state)
{
	char command[128];
	shop *s = *state;
	snprintf(command, sizeof command, "rm -rf '%s'", s->root);
	free(s);
	return system(command);
}

static hs_sources *open_sources(const shop *s)
{
	hs_error error = {0};
	const char *libraries[] = {s->gone, s->library};
	hs_sources *sources = hs_sources_from_disk(s->main_path, libraries, 2, &error);
	if (!sources)
		fail_msg("%s", error.message);
	return sources;
}

static void test_main(void **state)
{
	hs_sources *sources = open_sources(*state);
	const hs_source *source = hs_sources_main(sources);
	assert_string_equal(source->path, "garth low.lua");
	assert_string_equal(source->text, "one\ntwo\n");
	assert_int_equal(source->text_length, 8);
	assert_int_equal(source->raw_length, 13);
	assert_memory_equal(source->raw, "\xEF\xBB\xBFone\r\ntwo\r\n", 13);
	assert_string_equal(source->sha256, "a9a5637007682248b93591487526cc6783e927916db7c68ebcc8ef5852587d02");
	hs_sources_free(sources);
	hs_sources_free(NULL);
}

static void test_main_refused(void **state)
{
	const shop *s = *state;
	static const struct {
		const char *name, *message;
	} rows[] = {
	    {"bench/none.lua", "there is no such file"},
	    {"none/none.lua", "there is no such file"},
	    {"bench/folder.lua", "is a folder, and a file was wanted"},
	    {"bench/pipe.lua", "is a device, pipe or socket"},
	    {"bench/over.lua", "has 131073 bytes, and at most 131072 are accepted"},
	    {"bench/nul.lua", "holds a NUL byte"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		char path[256];
		hs_error error = {0};
		snprintf(path, sizeof path, "%s/%s", s->root, rows[i].name);
		assert_null(hs_sources_from_disk(path, NULL, 0, &error));
		assert_int_equal(error.code, HS_BAD_INPUT);
		if (!strstr(error.message, rows[i].message))
			fail_msg("%s: %s", rows[i].name, error.message);
	}
}

static void test_open(void **state)
{
	static const struct {
		const char *name;
		hs_source_kind kind;
		const char *path, *text;
	} rows[] = {
	    {"tarnbeck/fell-family", HS_SOURCE_LUA, "tarnbeck/fell-family.lua", "near"},
	    {"tarnbeck/fell-family.lua", HS_SOURCE_LUA, "tarnbeck/fell-family.lua", "near"},
	    {"common", HS_SOURCE_LUA, "common.lua", "common"},
	    {"pins.csv", HS_SOURCE_TABLE, "pins.csv", "pin,volts\n1,12\n"},
	};
	hs_sources *sources = open_sources(*state);
	hs_error error = {0};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		const hs_source *source = hs_sources_open(sources, rows[i].name, rows[i].kind, &error);
		assert_non_null(source);
		assert_string_equal(source->path, rows[i].path);
		assert_string_equal(source->text, rows[i].text);
		assert_ptr_equal(source, hs_sources_open(sources, rows[i].name, rows[i].kind, &error));
		assert_ptr_equal(source, hs_sources_find(sources, rows[i].path));
	}
	assert_int_equal(hs_sources_count(sources), 4);
	assert_string_equal(hs_sources_at(sources, 3)->path, "pins.csv");
	assert_null(hs_sources_at(sources, 4));
	assert_non_null(hs_sources_open(sources, "full", HS_SOURCE_LUA, &error));
	assert_non_null(hs_sources_open(sources, "full.csv", HS_SOURCE_TABLE, &error));
	assert_int_equal(error.code, HS_FINE);
	hs_sources_free(sources);
}

static void test_open_refused(void **state)
{
	static const struct {
		const char *name;
		hs_source_kind kind;
		const char *message;
	} rows[] = {
	    {"", HS_SOURCE_LUA, "the file name \"\" is empty"},
	    {"/etc/passwd", HS_SOURCE_TABLE, "is an absolute path"},
	    {"../secret", HS_SOURCE_LUA, "holds \"..\""},
	    {"tarnbeck/../../secret", HS_SOURCE_LUA, "holds \"..\""},
	    {"tarnbeck/..", HS_SOURCE_LUA, "holds \"..\""},
	    {"./common", HS_SOURCE_LUA, "is not made of letters"},
	    {"tarnbeck//fell-family", HS_SOURCE_LUA, "is not made of letters"},
	    {"tarnbeck/", HS_SOURCE_LUA, "is not made of letters"},
	    {".hidden", HS_SOURCE_TABLE, "is not made of letters"},
	    {"a\nb", HS_SOURCE_LUA, "is not made of letters"},
	    {"a\\b", HS_SOURCE_LUA, "is not made of letters"},
	    {"none", HS_SOURCE_LUA,
	     "there is no file \"none.lua\" beneath the folder of garth low.lua "
	     "or a library folder"},
	    {"pins.csv/x", HS_SOURCE_LUA, "there is no file \"pins.csv/x.lua\""},
	    {"link", HS_SOURCE_LUA, "the file \"link.lua\" is reached through a symbolic link"},
	    {"alias", HS_SOURCE_LUA, "is reached through a symbolic link"},
	    {"dangling", HS_SOURCE_LUA, "is reached through a symbolic link"},
	    {"up/secret", HS_SOURCE_LUA, "the file \"up/secret.lua\" is reached through a symbolic link"},
	    {"folder", HS_SOURCE_LUA, "is a folder, and a file was wanted"},
	    {"pipe", HS_SOURCE_LUA, "is a device, pipe or socket"},
	    {"nul", HS_SOURCE_LUA, "holds a NUL byte"},
	    {"latin.csv", HS_SOURCE_TABLE, "holds the byte 0xe9, which is not UTF-8 text"},
	    {"over", HS_SOURCE_LUA, "has 131073 bytes, and at most 131072 are accepted"},
	    {"over.csv", HS_SOURCE_TABLE, "has 1048577 bytes, and at most 1048576 are accepted"},
	};
	hs_sources *sources = open_sources(*state);
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		hs_error error = {0};
		assert_null(hs_sources_open(sources, rows[i].name, rows[i].kind, &error));
		assert_int_equal(error.code, HS_BAD_INPUT);
		if (!strstr(error.message, rows[i].message))
			fail_msg("%s: %s", rows[i].name, error.message);
	}
	assert_int_equal(hs_sources_count(sources), 1);
	hs_sources_free(sources);
}

/* A table brought in first is still too long to be Lua. */
static void test_kind_counts(void **state)
{
	hs_error error = {0};
	hs_sources *sources = open_sources(*state);
	assert_non_null(hs_sources_open(sources, "over.lua", HS_SOURCE_TABLE, &error));
	assert_null(hs_sources_open(sources, "over", HS_SOURCE_LUA, &error));
	assert_string_equal(error.message, "the file \"over.lua\" has 131073 bytes, and at most 131072 are accepted");
	hs_sources_free(sources);
}

/* What a transcript holds gives the same names, texts and digest, and reads nothing. */
static void test_embedded(void **state)
{
	char from_disk[HS_HEX_ROOM], from_list[HS_HEX_ROOM];
	hs_error error = {0};
	hs_sources *disk = open_sources(*state), *list = hs_sources_embedded();
	assert_null(hs_sources_main(list));
	hs_sources_open(disk, "tarnbeck/fell-family", HS_SOURCE_LUA, &error);
	hs_sources_open(disk, "pins.csv", HS_SOURCE_TABLE, &error);
	for (size_t i = 0; i < hs_sources_count(disk); i++) {
		const hs_source *s = hs_sources_at(disk, i);
		assert_true(hs_sources_add_embedded(list, s->path, s->sha256, s->raw, s->raw_length, &error));
	}
	hs_sources_digest(disk, from_disk);
	hs_sources_digest(list, from_list);
	assert_string_equal(from_disk, from_list);
	hs_sources_free(disk);
	assert_string_equal(hs_sources_main(list)->text, "one\ntwo\n");
	assert_string_equal(hs_sources_open(list, "tarnbeck/fell-family", HS_SOURCE_LUA, &error)->text, "near");
	assert_string_equal(hs_sources_open(list, "pins.csv", HS_SOURCE_TABLE, &error)->raw, "pin,volts\r\n1,12\r\n");
	assert_null(hs_sources_open(list, "common", HS_SOURCE_LUA, &error));
	assert_string_equal(error.message, "the file \"common.lua\" is not among the 3 files held here");
	hs_sources_free(list);
}

/* Every file a transcript holds was brought in by another one, in the order of the list. */
static void test_embedded_in_turn(void **state)
{
	static const struct {
		const char *opens[4];
		const char *idle; /* NULL: none */
	} rows[] = {
	    {{NULL}, "a.lua"},
	    {{"a"}, "b.csv"},
	    {{"a", "b.csv"}, NULL},
	    {{"a", "main", "a", "b.csv"}, NULL},
	    {{"b.csv", "a"}, "a.lua"},
	    {{"b.csv"}, "a.lua"},
	};
	static const char *const paths[] = {"main.lua", "a.lua", "b.csv"};
	hs_error error = {0};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_sources *list = hs_sources_embedded();
		for (size_t j = 0; j < 3; j++)
			assert_true(hs_sources_add_embedded(list, paths[j], NULL, "x", 1, &error));
		for (size_t j = 0; j < 4 && rows[i].opens[j]; j++) {
			bool table = strchr(rows[i].opens[j], '.') != NULL;
			assert_non_null(hs_sources_open(list, rows[i].opens[j], table ? HS_SOURCE_TABLE : HS_SOURCE_LUA, &error));
		}
		const hs_source *idle = hs_sources_idle(list);
		if ((idle != NULL) != (rows[i].idle != NULL) || (idle && strcmp(idle->path, rows[i].idle) != 0))
			fail_msg("row %zu: %s", i, idle ? idle->path : "none");
		hs_sources_free(list);
	}
	hs_sources *disk = open_sources(*state);
	assert_null(hs_sources_idle(disk));
	hs_sources_open(disk, "tarnbeck/fell-family", HS_SOURCE_LUA, &error);
	assert_null(hs_sources_idle(disk));
	hs_sources_free(disk);
}

static void test_embedded_refused(void **state)
{
	static const char abc[] = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
	static const struct {
		const char *path, *sha256, *raw, *message;
	} rows[] = {
	    {"x.lua", abc, "abd", "the text of \"x.lua\" has the SHA-256 a52d159f"},
	    {"x.lua", "BA", "abc", ", and BA was recorded"},
	    {"main.lua", abc, "abc", "the file \"main.lua\" is held twice"},
	    {"../x.lua", abc, "abc", "holds \"..\""},
	    {"/x.lua", abc, "abc", "is an absolute path"},
	    {"x y.lua", abc, "abc", "is not made of letters"},
	    {"x.lua", NULL, "a\xff", "holds the byte 0xff"},
	};
	(void)state;
	hs_error first = {0};
	hs_sources *list = hs_sources_embedded();
	assert_false(hs_sources_add_embedded(list, "a/main.lua/../b", NULL, "x", 1, &first));
	assert_false(hs_sources_add_embedded(list, "..", NULL, "x", 1, &first));
	assert_true(hs_sources_add_embedded(list, "main.lua", abc, "abc", 3, &first));
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		hs_error error = {0};
		assert_false(hs_sources_add_embedded(list, rows[i].path, rows[i].sha256, rows[i].raw,
		                                     strlen(rows[i].raw), &error));
		if (!strstr(error.message, rows[i].message))
			fail_msg("%s: %s", rows[i].path, error.message);
	}
	assert_int_equal(hs_sources_count(list), 1);
	hs_sources_free(list);
}

static void test_too_many(void **state)
{
	(void)state;
	hs_error error = {0};
	hs_sources *list = hs_sources_from_text("calc.lua", "", 0, &error);
	for (int i = 1; i < HS_SOURCES_MOST; i++) {
		char path[32];
		snprintf(path, sizeof path, "f%d.lua", i);
		assert_true(hs_sources_add_embedded(list, path, NULL, "", 0, &error));
	}
	assert_false(hs_sources_add_embedded(list, "more.lua", NULL, "", 0, &error));
	assert_string_equal(error.message, "\"more.lua\" would be file number 257, and at most 256 are read");
	hs_sources_free(list);
}

/* The digest is what `sha256sum` over the files, and over its own output, would give. */
static void test_digest(void **state)
{
	(void)state;
	char hex[HS_HEX_ROOM], wanted[HS_HEX_ROOM];
	hs_error error = {0};
	hs_sources *list = hs_sources_from_text("a.lua", "abc", 3, &error);
	hs_sources_add_embedded(list, "b.csv", NULL, "", 0, &error);
	static const char lines[] = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad  a.lua\n"
	                            "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855  b.csv\n";
	hs_sha256_hex(lines, sizeof lines - 1, wanted);
	hs_sources_digest(list, hex);
	assert_string_equal(hex, wanted);
	hs_sources_free(list);
}

static void test_quote(void **state)
{
	static const struct {
		const char *path;
		int line;
		bool there;
		const char *text;
	} rows[] = {
	    {"garth low.lua", 1, true, "one"}, {"garth low.lua", 2, true, "two"}, {"garth low.lua", 3, true, ""},
	    {"garth low.lua", 4, false, ""},   {"garth low.lua", 0, false, ""},   {"none.lua", 1, false, ""},
	};
	hs_sources *sources = open_sources(*state);
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		char out[32] = "unset";
		assert_int_equal(hs_sources_quote(sources, rows[i].path, rows[i].line, out, sizeof out), rows[i].there);
		assert_string_equal(out, rows[i].text);
	}
	hs_sources_free(sources);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_main),
	    cmocka_unit_test(test_main_refused),
	    cmocka_unit_test(test_open),
	    cmocka_unit_test(test_open_refused),
	    cmocka_unit_test(test_kind_counts),
	    cmocka_unit_test(test_embedded),
	    cmocka_unit_test(test_embedded_in_turn),
	    cmocka_unit_test(test_embedded_refused),
	    cmocka_unit_test(test_too_many),
	    cmocka_unit_test(test_digest),
	    cmocka_unit_test(test_quote),
	};
	return cmocka_run_group_tests(tests, open_shop, close_shop);
}
