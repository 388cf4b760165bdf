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

PACKAGES := lua5.4 libcjson nettle libedit
DEBS     := gcc libc6-dev make pkg-config liblua5.4-dev libcjson-dev libcmocka-dev nettle-dev libedit-dev

WARN   := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Werror
CFLAGS ?= -O2 -g
ASAN   := -O1 -g -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer
ALLCF   = -std=c17 $(WARN) -D_GNU_SOURCE -ffp-contract=off -fno-strict-aliasing -Iinclude -I. $(CFLAGS) \
          -DHS_VERSION='"$(VERSION)"' -DHS_SHARE='"$(PREFIX)/share/halfsplit"'

# pkg-config may be missing until `make install-tools` ran, so it is asked late.
PC_CF   = $(shell pkg-config --cflags $(PACKAGES) 2>/dev/null)
# Whatever comes as an archive is linked in: loading a library at start costs as much as reading a playbook of a few pages.
# Debian's libedit.pc calls libtinfo by its old name, and leaves out what libbsd wants.
PC_LD   = -Wl,-Bstatic $(shell pkg-config --libs lua5.4 nettle 2>/dev/null) \
          $(shell pkg-config --libs --static libedit libbsd 2>/dev/null) -Wl,-Bdynamic \
          $(shell pkg-config --libs libcjson 2>/dev/null) -lm

LIB_SRC  := $(sort $(filter-out core/cli/%,$(wildcard core/*/*.c)))
CLI_SRC  := $(sort $(wildcard core/cli/*.c))
TEST_SRC := $(sort $(wildcard tests/unit/test_*.c))
LIB_OBJ  := $(LIB_SRC:%.c=$(BUILD)/%.o)
CLI_OBJ  := $(CLI_SRC:%.c=$(BUILD)/%.o)
TESTS    := $(TEST_SRC:tests/unit/%.c=$(BUILD)/tests/%)

# What reads foreign text, and the fuzz targets over it; FUZZ_WITH is a driver, or libFuzzer's flag.
FUZZ_SRC  := $(sort $(foreach folder,base json quantity lineup judge model playbook unit engine,$(wildcard core/$(folder)/*.c)))
FUZZERS   := $(patsubst tests/fuzz/%.c,$(BUILD)/fuzz/%,$(filter-out %/driver.c,$(sort $(wildcard tests/fuzz/*.c))))
FUZZ_WITH ?= tests/fuzz/driver.c
FUZZ_RUNS ?= 1000000
# Older C libraries give clang no CMPLX.
CLANG_CMPLX := -D'CMPLX(re,im)=__builtin_complex((double)(re),(double)(im))'

.PHONY: all demo check install asan valgrind measure tools clean lib tests fuzz fuzzers

all: $(BUILD)/halfsplit

# Installs what is missing, says so first, and does nothing at all on a complete machine.
tools:
	@tests/tools.sh $(DEBS)

demo: tools
	@$(MAKE) --no-print-directory -j2 all
	@BUILD=$(BUILD) examples/demo.sh

check: tools
	@$(MAKE) --no-print-directory -j2 all tests
	@BUILD=$(BUILD) tests/run.sh

tests: $(TESTS)

# Scripts that call make again find the same flags in the environment.
asan: tools
	@$(MAKE) --no-print-directory -j2 BUILD=build-asan CFLAGS="$(ASAN)" all tests
	@BUILD=build-asan CFLAGS="$(ASAN)" HS_SLOW=1 tests/run.sh

# Minutes, not seconds, so that `check` leaves it out; installs valgrind when it is missing.
valgrind: tools
	@$(MAKE) --no-print-directory -j2 all
	@BUILD=$(BUILD) tests/valgrind

# A million inputs for each target under clang's libFuzzer: minutes. What breaks one is kept in build-fuzz.
fuzz: tools
	@tests/tools.sh clang libclang-rt-dev
	@$(MAKE) --no-print-directory -j2 BUILD=build-fuzz CC=clang WARN="-w $(CLANG_CMPLX)" FUZZ_WITH=-fsanitize=fuzzer \
		CFLAGS="-O1 -g1 -fsanitize=address,undefined,fuzzer-no-link -fno-sanitize-recover=all" fuzzers
	@for target in build-fuzz/fuzz/*; do \
		name=$${target##*/}; mkdir -p build-fuzz/found/$$name; \
		$$target -runs=$(FUZZ_RUNS) -timeout=10 -max_len=8192 -artifact_prefix=build-fuzz/broken-$$name- \
			build-fuzz/found/$$name tests/fuzz/seeds/$$name >build-fuzz/$$name.log 2>&1 || \
			{ echo "not ok fuzz $$name"; grep -aE -A12 'ERROR|runtime error|broken:' build-fuzz/$$name.log; exit 1; }; \
		echo "ok fuzz $$name"; \
	done

fuzzers: $(FUZZERS)

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

$(BUILD)/libfuzz.a: $(FUZZ_SRC:%.c=$(BUILD)/%.o)
	@rm -f $@
	@ar rcs $@ $^

$(BUILD)/fuzz/%: tests/fuzz/%.c tests/fuzz/driver.c tests/fuzz/target.h $(BUILD)/libfuzz.a
	@mkdir -p $(@D)
	@echo "  cc $<"
	@$(CC) $(ALLCF) $(PC_CF) -Itests/fuzz -o $@ $< $(FUZZ_WITH) $(BUILD)/libfuzz.a $(PC_LD)

# The pages are made of the documents and of what the program tells of itself.
MAN         := $(BUILD)/man/halfsplit.1 $(BUILD)/man/halfsplit-playbook.5
COMPLETIONS := $(BUILD)/completion/halfsplit $(BUILD)/completion/_halfsplit

man: $(MAN)

$(BUILD)/man/halfsplit.1: docs/bench.md docs/man.awk $(BUILD)/halfsplit
	@mkdir -p $(@D)
	@echo "  man $@"
	@awk -v name=halfsplit -v section=1 -v version="$(VERSION)" -v says="guided fault isolation at the bench" \
		-v also=".BR halfsplit\\\\-playbook (5)" -v program="$(abspath $(BUILD)/halfsplit)" -f docs/man.awk $< >$@.new
	@mv $@.new $@

$(BUILD)/man/halfsplit-playbook.5: docs/playbooks.md docs/man.awk Makefile
	@mkdir -p $(@D)
	@echo "  man $@"
	@awk -v name=halfsplit-playbook -v section=5 -v version="$(VERSION)" -v says="the language of playbooks" \
		-v also=".BR halfsplit (1)" -f docs/man.awk $< >$@.new
	@mv $@.new $@

$(BUILD)/completion/halfsplit $(BUILD)/completion/_halfsplit: $(BUILD)/halfsplit
	@mkdir -p $(@D)
	@$(BUILD)/halfsplit completion $(if $(findstring /_,$@),zsh,bash) >$@.new
	@mv $@.new $@

SHARE = $(DESTDIR)$(PREFIX)/share

install: all man $(COMPLETIONS)
	install -d $(DESTDIR)$(PREFIX)/bin $(SHARE)/halfsplit/types $(SHARE)/doc/halfsplit $(SHARE)/man/man1 $(SHARE)/man/man5 \
		$(SHARE)/bash-completion/completions $(SHARE)/zsh/site-functions
	install -m 755 $(BUILD)/halfsplit $(DESTDIR)$(PREFIX)/bin/halfsplit
	cp -R playbooks $(SHARE)/halfsplit/
	install -m 644 docs/halfsplit.d.lua $(SHARE)/halfsplit/types/
	install -m 644 README.md docs/*.md $(SHARE)/doc/halfsplit/
	install -m 644 $(BUILD)/man/halfsplit.1 $(SHARE)/man/man1/
	install -m 644 $(BUILD)/man/halfsplit-playbook.5 $(SHARE)/man/man5/
	install -m 644 $(BUILD)/completion/halfsplit $(SHARE)/bash-completion/completions/
	install -m 644 $(BUILD)/completion/_halfsplit $(SHARE)/zsh/site-functions/

clean:
	rm -rf build build-asan build-fuzz

-include $(wildcard $(BUILD)/core/*/*.d $(BUILD)/tests/*.d)
