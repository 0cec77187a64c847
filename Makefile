# SPDX-License-Identifier: GPL-3.0-or-later
MODE ?= release
CC ?= cc
PREFIX ?= /usr/local
BUILD := build/$(MODE)
VERSION := $(shell sed -n 's/^#define TRN_VERSION "\(.*\)"/\1/p' include/trunnion.h)

WARN := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wstrict-prototypes -Wmissing-prototypes -Wvla
FLAGS_release := -O2 -g
FLAGS_debug := -O0 -g3
FLAGS_asan := -O1 -g -fno-omit-frame-pointer -fsanitize=address,undefined -fno-sanitize-recover=all
FLAGS_coverage := -O0 -g --coverage
ALL_CFLAGS := -std=c11 -D_POSIX_C_SOURCE=200809L $(WARN) $(FLAGS_$(MODE)) -fPIC -Iinclude -I$(BUILD) -MMD -MP $(CFLAGS)
LIBS := -lgsl -lgslcblas -lcsv -ludunits2 -lpthread -lm

LIB_SRC := $(filter-out src/cli/%,$(wildcard src/*/*.c))
CLI_SRC := $(wildcard src/cli/*.c)
TEST_SRC := $(wildcard tests/*.c)
LIB_OBJ := $(LIB_SRC:%.c=$(BUILD)/%.o) $(BUILD)/built_in.o
CHECKS := $(filter-out %/notmet.csv,$(wildcard tests/published/*.csv))
CLI_OBJ := $(CLI_SRC:%.c=$(BUILD)/%.o)
TEST_OBJ := $(TEST_SRC:%.c=$(BUILD)/%.o)

.DEFAULT_GOAL := all
.PHONY: all help test docs clean

all: $(BUILD)/libtrunnion.a $(BUILD)/trunnion ## library and program, MODE=release|debug|asan|coverage

help: ## this list
	@awk -F':.*## ' '/^[a-z]+:.*## /{printf "  %-10s %s\n",$$1,$$2}' $(MAKEFILE_LIST)

$(BUILD)/%.o: %.c Makefile
	@mkdir -p $(@D)
	$(CC) $(ALL_CFLAGS) -c $< -o $@

$(BUILD)/built_in.c: scripts/built-in.sh $(CHECKS)
	@mkdir -p $(@D)
	sh scripts/built-in.sh $(CHECKS) > $@.part
	mv $@.part $@

$(BUILD)/built_in.o: $(BUILD)/built_in.c
	$(CC) $(ALL_CFLAGS) -c $< -o $@

$(BUILD)/libtrunnion.a: $(LIB_OBJ)
	@rm -f $@
	$(AR) rcs $@ $^

$(BUILD)/trunnion: $(CLI_OBJ) $(BUILD)/libtrunnion.a
	$(CC) $(ALL_CFLAGS) $(LDFLAGS) $(CLI_OBJ) $(BUILD)/libtrunnion.a -o $@ $(LIBS)

$(BUILD)/tests/run: $(TEST_OBJ) $(BUILD)/libtrunnion.a
	$(CC) $(ALL_CFLAGS) $(LDFLAGS) $^ -o $@ $(LIBS) -lcriterion

test: $(BUILD)/tests/run ## unit tests of this mode
	TRUNNION_TESTS=tests $(BUILD)/tests/run

$(BUILD)/reference-docs: $(BUILD)/scripts/reference_docs.o $(BUILD)/libtrunnion.a
	$(CC) $(ALL_CFLAGS) $(LDFLAGS) $^ -o $@ $(LIBS)

docs: $(BUILD)/reference-docs ## reference pages of docs/ from schema and catalogue
	$(BUILD)/reference-docs docs

clean: ## removes build/
	rm -rf build

-include $(LIB_OBJ:.o=.d) $(CLI_OBJ:.o=.d) $(TEST_OBJ:.o=.d)
