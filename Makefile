# halfsplit: `make demo` shows it, `make check` tests it. DEVELOPERS.md tells the rest.
.DEFAULT_GOAL := all
SHELL := /bin/bash

PREFIX  ?= /usr/local
DESTDIR ?=
BUILD   ?= build
CC      ?= cc
ifeq ($(origin CC),default)
CC := gcc
endif

VERSION := 0.1.0

PACKAGES := lua5.4 libcjson libsodium libedit
DEBS     := gcc libc6-dev make pkg-config liblua5.4-dev libcjson-dev libcmocka-dev libsodium-dev libedit-dev

WARN   := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Werror
CFLAGS ?= -O2 -g
ALLCF   = -std=c17 $(WARN) -D_GNU_SOURCE -ffp-contract=off -fno-strict-aliasing -Iinclude -I. $(CFLAGS) \
          -DHS_VERSION='"$(VERSION)"' -DHS_SHARE='"$(PREFIX)/share/halfsplit"'

# pkg-config may be missing until `make install-tools` ran, so it is asked late.
PC_CF   = $(shell pkg-config --cflags $(PACKAGES) 2>/dev/null)
# Lua and libsodium are linked in, because loading them costs a fifth of the time to the first question.
PC_LD   = -Wl,-Bstatic $(shell pkg-config --libs lua5.4 libsodium 2>/dev/null) -Wl,-Bdynamic \
          $(shell pkg-config --libs libcjson libedit 2>/dev/null) -lm

LIB_SRC  := $(sort $(filter-out core/cli/%,$(wildcard core/*/*.c)))
CLI_SRC  := $(sort $(wildcard core/cli/*.c))
TEST_SRC := $(sort $(wildcard tests/unit/test_*.c))
LIB_OBJ  := $(LIB_SRC:%.c=$(BUILD)/%.o)
CLI_OBJ  := $(CLI_SRC:%.c=$(BUILD)/%.o)
TESTS    := $(TEST_SRC:tests/unit/%.c=$(BUILD)/tests/%)

.PHONY: all demo check install asan valgrind measure tools clean lib tests

all: $(BUILD)/halfsplit

# Installs what is missing, says so first, and does nothing at all on a complete machine.
tools:
	@tests/tools.sh $(DEBS)

demo: tools
	@$(MAKE) --no-print-directory all
	@BUILD=$(BUILD) examples/demo.sh

check: tools
	@$(MAKE) --no-print-directory -j2 all tests
	@BUILD=$(BUILD) tests/run.sh

tests: $(TESTS)

asan: tools
	@$(MAKE) --no-print-directory -j2 BUILD=build-asan CFLAGS="-O1 -g -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer" all tests
	@BUILD=build-asan HS_SLOW=1 tests/run.sh

# Minutes, not seconds, so that `check` leaves it out; installs valgrind when it is missing.
valgrind: tools
	@$(MAKE) --no-print-directory -j2 all
	@BUILD=$(BUILD) tests/valgrind

measure: tools
	@$(MAKE) --no-print-directory all
	@BUILD=$(BUILD) tests/measure.sh

# make test-NAME runs tests/unit/test_NAME.c, or the golden folder, or the script tests/NAME.sh.
test-%: tools
	@$(MAKE) --no-print-directory all tests
	@BUILD=$(BUILD) tests/run.sh $*

lib: $(BUILD)/libhalfsplit.a

$(BUILD)/libhalfsplit.a: $(LIB_OBJ)
	@rm -f $@
	@echo "  ar $@"
	@ar rcs $@ $^

$(BUILD)/halfsplit: $(CLI_OBJ) $(BUILD)/libhalfsplit.a
	@echo "  ld $@"
	@$(CC) $(ALLCF) -o $@ $^ $(PC_LD)

$(BUILD)/%.o: %.c Makefile
	@mkdir -p $(@D)
	@echo "  cc $<"
	@$(CC) $(ALLCF) $(PC_CF) -MMD -MP -c -o $@ $<

$(BUILD)/tests/%: tests/unit/%.c $(BUILD)/libhalfsplit.a Makefile
	@mkdir -p $(@D)
	@echo "  cc $<"
	@$(CC) $(ALLCF) $(PC_CF) -MMD -MP -MF $@.d -Itests/unit -o $@ $< $(BUILD)/libhalfsplit.a $(PC_LD) -lcmocka

install: all
	install -d $(DESTDIR)$(PREFIX)/bin $(DESTDIR)$(PREFIX)/share/halfsplit $(DESTDIR)$(PREFIX)/share/doc/halfsplit
	install -m 755 $(BUILD)/halfsplit $(DESTDIR)$(PREFIX)/bin/halfsplit
	cp -R playbooks $(DESTDIR)$(PREFIX)/share/halfsplit/
	install -m 644 README.md docs/*.md $(DESTDIR)$(PREFIX)/share/doc/halfsplit/

clean:
	rm -rf build build-asan

-include $(wildcard $(BUILD)/core/*/*.d $(BUILD)/tests/*.d)
