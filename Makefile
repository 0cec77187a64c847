# SPDX-License-Identifier: GPL-3.0-or-later
# `make help` lists what can be made. MODE=release|debug|asan|coverage, CC, CFLAGS, LDFLAGS,
# PREFIX, LIBDIR, DESTDIR as usual; FILTER='joint/*' picks tests; V=1 shows the commands.
MODE ?= release
PREFIX ?= /usr/local
LIBDIR ?= $(PREFIX)/lib
# A folder for each mode, and for each compiler that is not the usual one.
BUILD := build/$(MODE)$(addprefix -,$(filter-out cc gcc,$(notdir $(lastword $(CC)))))
VERSION := $(shell sed -n 's/^\#define TRN_VERSION "\(.*\)"/\1/p' include/trunnion.h)
DATE := $(shell sed -n 's/^\#define TRN_VERSION_DATE "\(.*\)"/\1/p' include/trunnion.h)
SONAME := libtrunnion.so.$(shell echo $(VERSION) | awk -F. '{print $$1 ? $$1 : $$1 "." $$2}')

WARN := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wstrict-prototypes \
	-Wmissing-prototypes -Wvla
FLAGS_release := -O2 -g
FLAGS_debug := -O0 -g3
FLAGS_asan := -O1 -g -fno-omit-frame-pointer -fsanitize=address,undefined -fno-sanitize-recover=all
FLAGS_coverage := -O0 -g --coverage
ifeq ($(FLAGS_$(MODE)),)
$(error MODE is release, debug, asan or coverage, not $(MODE))
endif
ALL_CFLAGS := -std=c11 -D_POSIX_C_SOURCE=200809L $(WARN) $(FLAGS_$(MODE)) -fPIC -Iinclude \
	-I$(BUILD) -MMD -MP $(CPPFLAGS) $(CFLAGS)
Q := $(if $(V),,@)
LIBS := -lgsl -lgslcblas -lcsv -ludunits2 -lxlsxwriter -ljansson -lnettle -lz -lpthread -lm

LIB_SRC := $(filter-out src/cli/%,$(wildcard src/*/*.c))
LIB_OBJ := $(LIB_SRC:%.c=$(BUILD)/%.o) $(BUILD)/built_in.o
CLI_OBJ := $(patsubst %.c,$(BUILD)/%.o,$(wildcard src/cli/*.c))
TEST_OBJ := $(patsubst %.c,$(BUILD)/%.o,$(wildcard tests/*.c))
CHECKS := $(filter-out %/notmet.csv,$(wildcard tests/published/*.csv))
SHARED := $(BUILD)/libtrunnion.so.$(VERSION)
PROGRAM := $(BUILD)/trunnion
# Sanitizers write to files, since a test may expect the very exit code or text that they give.
SANITIZER := exitcode=99:log_path=$(CURDIR)/$(BUILD)/sanitizer/log
RUN_TESTS = TRUNNION=$(PROGRAM) TRUNNION_TESTS=tests ASAN_OPTIONS=$(SANITIZER) \
	UBSAN_OPTIONS=$(SANITIZER):print_stacktrace=1 sh scripts/comma-locale.sh build/locale \
	$(BUILD)/tests/run $(if $(FILTER),--filter '$(FILTER)')

.DEFAULT_GOAL := all
.DELETE_ON_ERROR:
.PHONY: all help test check page demo bench docs install uninstall deb lint coverage clean FORCE

all: $(BUILD)/libtrunnion.a $(SHARED) $(PROGRAM) ## library and program, in build/MODE

help: ## this list
	@awk -F':.*## ' '/^[a-z]+:.*## /{printf "  %-10s %s\n",$$1,$$2}' $(MAKEFILE_LIST)

test: all $(BUILD)/tests/run $(BUILD)/bench $(BUILD)/library-example ## all tests of this mode, or those of FILTER
	@rm -rf $(BUILD)/sanitizer && mkdir -p $(BUILD)/sanitizer
	@$(RUN_TESTS); code=$$?; cat $(BUILD)/sanitizer/* 2>/dev/null && exit 1; exit $$code

check: ## the demo, the printed pages, then all tests
	@$(MAKE) --no-print-directory demo
	@$(MAKE) --no-print-directory page 2>&1
	@$(MAKE) --no-print-directory test 2>&1

page: all ## prints the report page of each sample case in a browser, where one is there
	@TRUNNION=$(PROGRAM) sh scripts/check-page.sh

demo: all ## results of a sample case in demo/, its interval table on the terminal
	$(PROGRAM) report sample-data/winged --out demo
	@echo 'All results of sample-data/winged are in the folder demo/ now. Its service intervals:'
	@$(PROGRAM) intervals sample-data/winged --table

bench: all $(BUILD)/bench ## timings: ratios on one thread by CPU time, two threads by the clock
	BENCH=$(BUILD)/bench sh scripts/bench.sh

docs: all $(BUILD)/reference-docs ## generated pages, pictures and completion, outputs of console blocks
	$(BUILD)/reference-docs docs
	sh scripts/made.sh $(PROGRAM)
	TRUNNION=$(PROGRAM) sh scripts/replay.sh --update

coverage: ## which lines the tests reach: build/coverage/report/index.html
	$(MAKE) MODE=coverage test
	mkdir -p build/coverage/report
	gcovr --root . --filter src/ --object-directory build/coverage --print-summary \
	    --html-details build/coverage/report/index.html

lint: ## what cppcheck, clang-tidy and shellcheck say, those that are there
	sh scripts/lint.sh

install: all ## program, libraries, headers, pkg-config file, man page, to DESTDIR and PREFIX
	DESTDIR='$(DESTDIR)' PREFIX='$(PREFIX)' LIBDIR='$(LIBDIR)' VERSION=$(VERSION) \
	    SONAME=$(SONAME) BUILD=$(BUILD) sh scripts/install.sh install

uninstall: ## takes away what install put there
	DESTDIR='$(DESTDIR)' PREFIX='$(PREFIX)' LIBDIR='$(LIBDIR)' VERSION=$(VERSION) \
	    SONAME=$(SONAME) BUILD=$(BUILD) sh scripts/install.sh uninstall

deb: all ## a Debian package of program, library, headers and manual, in build/deb
	VERSION=$(VERSION) SONAME=$(SONAME) BUILD=$(BUILD) DATE=$(DATE) sh scripts/deb.sh

clean: ## removes build/ and demo/
	rm -rf build demo

# Other flags or another compiler of the same name: everything anew.
$(BUILD)/flags: FORCE
	@mkdir -p $(@D)
	@echo '$(CC) $(ALL_CFLAGS) $(LDFLAGS)' | cmp -s - $@ ||\
	    echo '$(CC) $(ALL_CFLAGS) $(LDFLAGS)' > $@

$(BUILD)/%.o: %.c Makefile $(BUILD)/flags
	@mkdir -p $(@D)
	@echo '  $(CC) $<'
	$(Q)$(CC) $(ALL_CFLAGS) $(DEFINES) -c $< -o $@

$(BUILD)/tests/command.o: DEFINES := -DTEST_PROGRAM='"$(PROGRAM)"'

$(BUILD)/built_in.c: scripts/built-in.sh $(CHECKS)
	@mkdir -p $(@D)
	$(Q)sh scripts/built-in.sh $(CHECKS) > $@.part
	$(Q)mv $@.part $@

$(BUILD)/built_in.o: $(BUILD)/built_in.c $(BUILD)/flags
	$(Q)$(CC) $(ALL_CFLAGS) -c $< -o $@

$(BUILD)/libtrunnion.a: $(LIB_OBJ)
	@rm -f $@
	@echo '  $(AR) $@'
	$(Q)$(AR) rcs $@ $^

$(SHARED): $(LIB_OBJ) scripts/exports.map
	@echo '  $(CC) $@'
	$(Q)$(CC) $(ALL_CFLAGS) -shared -Wl,-soname,$(SONAME) -Wl,--version-script,scripts/exports.map \
	    $(LDFLAGS) $(LIB_OBJ) -o $@ $(LIBS)

$(PROGRAM): $(CLI_OBJ) $(BUILD)/libtrunnion.a
	@echo '  $(CC) $@'
	$(Q)$(CC) $(ALL_CFLAGS) $(LDFLAGS) $(CLI_OBJ) $(BUILD)/libtrunnion.a -o $@ $(LIBS)

$(BUILD)/tests/run: $(TEST_OBJ) $(BUILD)/libtrunnion.a
	@echo '  $(CC) $@'
	$(Q)$(CC) $(ALL_CFLAGS) $(LDFLAGS) $^ -o $@ $(LIBS) -lcriterion

# The example of docs/library.md, as it stands there.
$(BUILD)/library_example.c: docs/library.md
	@mkdir -p $(@D)
	$(Q)awk '/^```$$/ {on = 0} on {print} /^```c$$/ {on = 1}' $< > $@

$(BUILD)/library-example: $(BUILD)/library_example.c $(BUILD)/libtrunnion.a
	@echo '  $(CC) $@'
	$(Q)$(CC) $(ALL_CFLAGS) $(LDFLAGS) $^ -o $@ $(LIBS)

$(BUILD)/bench: $(BUILD)/tests/bench/study.o $(BUILD)/libtrunnion.a
	@echo '  $(CC) $@'
	$(Q)$(CC) $(ALL_CFLAGS) $(LDFLAGS) $^ -o $@ $(LIBS)

$(BUILD)/reference-docs: $(BUILD)/scripts/reference_docs.o $(BUILD)/libtrunnion.a
	@echo '  $(CC) $@'
	$(Q)$(CC) $(ALL_CFLAGS) $(LDFLAGS) $^ -o $@ $(LIBS)

-include $(LIB_OBJ:.o=.d) $(CLI_OBJ:.o=.d) $(TEST_OBJ:.o=.d) \
    $(BUILD)/scripts/reference_docs.d $(BUILD)/tests/bench/study.d
