/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The manual page, made from the tables of commands, options, case tables and result files, so
 * that it cannot say something else than the program does. */
#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/schema.h>

#include "cli.h"

enum { LINE = 78 };

/* Running text, broken into lines: nothing in it is taken for a request or an escape, and a
 * sentence ends its line, as the format asks for. */
static void text(trn_buffer *out, const char *words)
{
    size_t at = 0;
    for (const char *p = words; *p;) {
        size_t n = strcspn(p, " ");
        if (at > 0 && at + 1 + n > LINE) {
            trn_buffer_add(out, "\n");
            at = 0;
        } else if (at > 0) {
            trn_buffer_add(out, " ");
            at++;
        }
        if (at == 0 && (*p == '.' || *p == '\''))
            trn_buffer_add(out, "\\&");
        for (size_t i = 0; i < n; i++)
            if (p[i] == '\\')
                trn_buffer_add(out, "\\e");
            else
                trn_buffer_add_n(out, p + i, 1);
        at += n;
        bool sentence = strchr(".:", p[n - 1]) && isupper((unsigned char)p[n + (p[n] == ' ')]);
        p += n + strspn(p + n, " ");
        if (sentence && *p) {
            trn_buffer_add(out, "\n");
            at = 0;
        }
    }
    trn_buffer_add(out, "\n");
}

/* The same as one argument of a macro. */
static void argument(trn_buffer *out, const char *words)
{
    trn_buffer_add(out, " \"");
    for (const char *p = words; *p; p++) {
        if (*p == '\\' || *p == '"')
            trn_buffer_add(out, *p == '"' ? "\\(dq" : "\\e");
        else
            trn_buffer_add_n(out, p, 1);
    }
    trn_buffer_add(out, "\"");
}

static void macro(trn_buffer *out, const char *name, const char *words)
{
    trn_buffer_add(out, name);
    argument(out, words);
    trn_buffer_add(out, "\n");
}

/* `November 25, 2026` from the ISO date */
static void date(trn_buffer *out, const char *iso)
{
    static const char *const months[] = {"January",   "February", "March",    "April",
                                         "May",       "June",     "July",     "August",
                                         "September", "October",  "November", "December"};
    unsigned long month = strtoul(iso + 5, NULL, 10);
    trn_buffer_print(out, ".Dd %s %lu, %.4s\n", months[month >= 1 && month <= 12 ? month - 1 : 0],
                     strtoul(iso + 8, NULL, 10), iso);
}

static void add_head(trn_buffer *out)
{
    trn_buffer_add(out, ".\\\" SPDX-License-Identifier: GPL-3.0-or-later\n"
                        ".\\\" Made by `make docs` from the program's own tables.\n");
    date(out, TRN_VERSION_DATE);
    trn_buffer_add(out, ".Dt TRUNNION 1\n.Os\n.Sh NAME\n.Nm trunnion\n"
                        ".Nd service intervals of PTO-driven machines\n"
                        ".Sh SYNOPSIS\n.Nm trunnion\n.Ar COMMAND\n.Op Ar OPTIONS\n.Op Ar INPUT\n"
                        ".Nm trunnion\n.Fl -help\n.Nm trunnion\n.Fl -version\n.Sh DESCRIPTION\n");
    text(out, "From a folder of tables that describe one machine, its set-up and its use (a case), "
              "trunnion computes joint angles, loads and lives of gears' bearings, heat, oil and "
              "grease budgets, and from these a table of service intervals in which every number "
              "can be traced.");
    trn_buffer_add(out, ".Pp\n");
    text(out, "Results go to standard output: a table for reading on a terminal, CSV into a pipe "
              "or with --csv. Talk goes to standard error. A formula is asked by its name and "
              "symbols in any unit that converts.");
}

static void add_commands(trn_buffer *out)
{
    trn_buffer_add(out, ".Sh COMMANDS\n.Bl -tag -width Ds\n");
    for (size_t i = 0; i < cli_command_count; i++) {
        const cli_command *c = &cli_commands[i];
        trn_buffer_print(out, ".It Ic %s", c->name);
        trn_buffer_add(out, " Ar");
        argument(out, c->arguments);
        trn_buffer_add(out, "\n");
        trn_buffer sentence = {0};
        trn_buffer_print(&sentence, "%c%s.", toupper((unsigned char)c->what[0]), c->what + 1);
        text(out, sentence.text ? sentence.text : "");
        trn_buffer_free(&sentence);
        trn_buffer_add(out, "Options:\n");
        size_t written = 0;
        const cli_option *o;
        for (size_t k = 0; (o = cli_option_at(k)); k++)
            if (cli_takes(c, o) && strcmp(o->commands, "all") != 0)
                trn_buffer_print(out, "%s.Fl -%s", written++ ? " ,\n" : "", o->name);
        trn_buffer_add(out, written ? " .\n" : "those of all commands.\n");
    }
    trn_buffer_add(out, ".El\n");
}

/* An option of one name may mean another thing with other commands. */
static bool named_before(size_t place)
{
    for (size_t i = 0; i < place; i++)
        if (strcmp(cli_option_at(i)->name, cli_option_at(place)->name) == 0)
            return true;
    return false;
}

static bool named_behind(size_t place)
{
    for (size_t i = place + 1; cli_option_at(i); i++)
        if (strcmp(cli_option_at(i)->name, cli_option_at(place)->name) == 0)
            return true;
    return false;
}

static void add_options(trn_buffer *out)
{
    trn_buffer_add(out, ".Sh OPTIONS\n");
    text(out, "An argument follows behind a blank or behind `='. Words behind `--' are inputs.");
    trn_buffer_add(out, ".Bl -tag -width Ds\n");
    const cli_option *o;
    for (size_t i = 0; (o = cli_option_at(i)); i++) {
        trn_buffer_print(out, ".It Fl -%s", o->name);
        if (o->argument) {
            trn_buffer_add(out, " Ar");
            argument(out, o->argument);
        }
        trn_buffer_add(out, "\n");
        trn_buffer sentence = {0};
        if (named_before(i) || named_behind(i))
            trn_buffer_print(&sentence, "With %s: ", o->commands);
        trn_buffer_print(&sentence, "%s.", o->what);
        text(out, sentence.text ? sentence.text : "");
        trn_buffer_free(&sentence);
    }
    trn_buffer_add(out, ".El\n");
}

static void add_files(trn_buffer *out)
{
    trn_buffer_add(out, ".Sh ENVIRONMENT\n.Bl -tag -width Ds\n.It Ev TMPDIR\n"
                        "Folder for temporary files,\n.Pa /tmp\nwithout it.\n.El\n");
    trn_buffer_add(out, ".Sh FILES\nA case is a folder of these tables.\n.Bl -tag -width Ds\n");
    const trn_table *head = trn_table_head();
    trn_buffer_print(out, ".It Pa %s.csv\n", head->name);
    text(out, head->what);
    for (size_t i = 0; i < trn_table_count(); i++) {
        const trn_table *table = trn_table_at(i);
        if (table == head)
            continue;
        trn_buffer_print(out, ".It Pa %s.csv\n", table->name);
        text(out, table->what);
    }
    trn_buffer_add(out, ".El\n.Pp\nResult files that\n.Ic report\nwrites into the folder of\n"
                        ".Fl -out :\n.Bl -tag -width Ds\n");
    for (size_t i = 0; i < trn_view_count(); i++) {
        trn_buffer_print(out, ".It Pa %s.csv\n", trn_view_at(i)->name);
        text(out, trn_view_at(i)->title);
    }
    trn_buffer_add(out, ".It Pa report.xlsx\nThe same tables as a workbook, a sheet a file.\n"
                        ".It Pa datapackage.json\nWhat the columns hold, with their units.\n"
                        ".It Pa *.svg\nPlots.\n.El\n");
}

static void add_rest(trn_buffer *out)
{
    trn_buffer_add(out, ".Sh EXIT STATUS\n.Bl -tag -width Ds\n");
#define TRN_X(name, code, word, sentence)                  \
    trn_buffer_print(out, ".It %d\n", (int)name); \
    text(out, sentence);
    CLI_EXITS(TRN_X)
#undef TRN_X
    trn_buffer_add(out, ".El\n.Sh EXAMPLES\n");
    for (size_t i = 0; i < cli_command_count; i++)
        macro(out, ".Dl", cli_commands[i].example);
    trn_buffer_add(out, ".Sh CAVEATS\n");
    text(out, trn_caution_text(TRN_CAUTION_INTERVALS));
    trn_buffer_add(out, ".Pp\n");
    text(out, trn_caution_text(TRN_CAUTION_ALL));
}

cli_exit cli_manual_page(void)
{
    trn_buffer out = {0};
    add_head(&out);
    add_commands(&out);
    add_options(&out);
    add_files(&out);
    add_rest(&out);
    return cli_print(&out);
}

/* ---- completion --------------------------------------------------------------------------- */

/* What is completed where an argument is expected, by its name in the tables. */
static const char *completes(const char *argument_name)
{
    static const char *const folders[] = {"DIR", "CASE"};
    static const char *const files[] = {"FILE", "LOG", "[FILE"};
    for (size_t i = 0; i < sizeof folders / sizeof folders[0]; i++)
        if (strncmp(argument_name, folders[i], strlen(folders[i])) == 0)
            return "-d";
    for (size_t i = 0; i < sizeof files / sizeof files[0]; i++)
        if (strncmp(argument_name, files[i], strlen(files[i])) == 0)
            return "-f"; /* folders too */
    return strncmp(argument_name, "[NAME", 5) == 0 ? "formula" : "";
}

static void add_cases(trn_buffer *out)
{
    for (size_t i = 0; i < cli_command_count; i++) {
        const cli_command *c = &cli_commands[i];
        trn_buffer_print(out, "    %s)\n        options='", c->name);
        const cli_option *o;
        size_t n = 0;
        for (size_t k = 0; (o = cli_option_at(k)); k++)
            if (cli_takes(c, o))
                trn_buffer_print(out, "%s--%s", n++ ? " " : "", o->name);
        trn_buffer_print(out, "'\n        inputs='%s'\n        ;;\n", completes(c->arguments));
    }
}

static void add_arguments(trn_buffer *out)
{
    const cli_option *o;
    for (size_t i = 0; (o = cli_option_at(i)); i++)
        if (o->argument && !named_before(i))
            trn_buffer_print(out, "    --%s) inputs='%s' takes=yes ;;\n", o->name,
                             completes(o->argument));
}

cli_exit cli_completion(void)
{
    trn_buffer out = {0};
    trn_buffer_add(&out, "# SPDX-License-Identifier: GPL-3.0-or-later\n"
                         "# Made by `make docs` from the program's own tables.\n"
                         "# shellcheck shell=bash disable=SC2207 # words have no blanks; files: below\n"
                         "_trunnion() {\n"
                         "    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]}\n"
                         "    local command=${COMP_WORDS[1]} options='' inputs='' takes=''\n"
                         "    COMPREPLY=()\n"
                         "    if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
                         "        COMPREPLY=($(compgen -W '");
    for (size_t i = 0; i < cli_command_count; i++)
        trn_buffer_print(&out, "%s ", cli_commands[i].name);
    trn_buffer_add(&out, "--help --version' -- \"$word\"))\n        return\n    fi\n"
                         "    case $command in\n");
    add_cases(&out);
    trn_buffer_add(&out, "    *) return ;;\n    esac\n"
                         "    if [ \"$before\" = '=' ]; then\n"
                         "        before=${COMP_WORDS[COMP_CWORD - 2]}\n"
                         "    elif [ \"$word\" = '=' ]; then\n"
                         "        word=''\n"
                         "    fi\n"
                         "    case $before in\n");
    add_arguments(&out);
    trn_buffer_add(&out, "    esac\n"
                         "    if [ -z \"$takes\" ] && [ \"${word#-}\" != \"$word\" ]; then\n"
                         "        COMPREPLY=($(compgen -W \"$options\" -- \"$word\"))\n"
                         "    elif [ \"$inputs\" = formula ]; then\n"
                         "        COMPREPLY=($(compgen -W \"$(trunnion formula --csv 2>/dev/null |\n"
                         "            sed -e 1d -e 's/,.*//')\" -- \"$word\"))\n"
                         "    elif [ -n \"$inputs\" ]; then\n"
                         "        compopt -o filenames 2>/dev/null\n"
                         "        while IFS= read -r word; do\n"
                         "            COMPREPLY+=(\"$word\")\n"
                         "        done < <(compgen \"$inputs\" -- \"$word\")\n"
                         "    fi\n"
                         "}\n"
                         "complete -F _trunnion trunnion\n");
    return cli_print(&out);
}
