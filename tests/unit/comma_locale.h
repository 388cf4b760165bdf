/*
 * A decimal-comma locale on a machine that has none installed: the C library's file for LC_NUMERIC is 61 bytes, so a
 * test writes one into a folder of its own and points LOCPATH there.
 */
#ifndef HALFSPLIT_TESTS_COMMA_LOCALE_H
#define HALFSPLIT_TESTS_COMMA_LOCALE_H

#include <locale.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Layout of glibc's locale/localeinfo.h: magic, number of items, their offsets, then the items. */
static bool comma_locale_write(const char *path)
{
	const uint32_t head[] = {0x20031115u ^ LC_NUMERIC, 6, 32, 34, 35, 36, 40, 44};
	const char texts[] = {',', '\0', '\0', '\0'};
	const uint32_t wide[] = {',', 0};
	FILE *file = fopen(path, "wb");
	if (!file)
		return false;
	fwrite(head, sizeof head, 1, file);
	fwrite(texts, sizeof texts, 1, file);
	fwrite(wide, sizeof wide, 1, file);
	fwrite("ANSI_X3.4-1968", 15, 1, file);
	return fclose(file) == 0;
}

/* True when numbers now have a decimal comma for printf and strtod. Undo with setlocale(LC_ALL, "C"). */
static bool comma_locale_set(void)
{
	char root[] = "/tmp/halfsplit-locale-XXXXXX", folder[64], path[96];
	if (!mkdtemp(root))
		return false;
	snprintf(folder, sizeof folder, "%s/xx_XX", root);
	snprintf(path, sizeof path, "%s/LC_NUMERIC", folder);
	bool made = mkdir(folder, 0700) == 0 && comma_locale_write(path);
	unsetenv("LC_ALL"); /* it would win over LC_NUMERIC */
	setenv("LOCPATH", root, 1);
	setenv("LC_NUMERIC", "xx_XX", 1);
	made = made && setlocale(LC_NUMERIC, "") && strcmp(localeconv()->decimal_point, ",") == 0;
	unlink(path);
	rmdir(folder);
	rmdir(root);
	return made;
}

#endif
