/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Options and help, both from the table in cli.h. */
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "cli.h"

static const cli_option options_known[] = {
#define TRN_X(member, name, argument, commands, what) \
    {offsetof(cli_options, member), name, argument, commands, what},
    CLI_OPTIONS(TRN_X)
#undef TRN_X
};
static const size_t option_count = sizeof options_known / sizeof options_known[0];

static bool word_in(const char *words, const char *word)
{
    size_t n = strlen(word);
    for (const char *p = words; *p;) {
        size_t k = strcspn(p, " ");
        if (k == n && strncmp(p, word, n) == 0)
            return true;
        p += k + (p[k] == ' ');
    }
    return false;
}

const cli_option *cli_option_at(size_t i)
{
    return i < option_count ? &options_known[i] : NULL;
}

bool cli_takes(const cli_command *command, const cli_option *o)
{
    return strcmp(o->commands, "all") == 0 || word_in(o->commands, command->name) ||
           (command->takes_case && word_in(o->commands, "case"));
}

cli_exit cli_help(void)
{
    trn_buffer out = {0};
    trn_buffer_add(&out,
                   "trunnion: service intervals of PTO-driven machines from angles, loads, heat, "
                   "dust and duty\n\n  trunnion intervals sample-data/winged\n\n");
    for (size_t i = 0; i < cli_command_count; i++)
        trn_buffer_print(&out, "  %-10s %-28s %s\n", cli_commands[i].name,
                         cli_commands[i].arguments, cli_commands[i].what);
    trn_buffer_add(&out, "\n`trunnion COMMAND --help` shows an example and the options.\n"
                         "Exit: "
#define TRN_X(name, code, word, sentence) #code " " word ", "
                   CLI_EXITS(TRN_X));
#undef TRN_X
    out.length -= out.length > 2 ? 2 : 0; /* the last comma */
    trn_buffer_add(&out, ".\n");
    return cli_print(&out);
}

cli_exit cli_help_command(const cli_command *command)
{
    trn_buffer out = {0};
    trn_buffer_print(&out, "  %s\n\ntrunnion %s %s\n%s\n\n", command->example, command->name,
                     command->arguments, command->what);
    for (size_t i = 0; i < option_count; i++) {
        const cli_option *o = &options_known[i];
        if (!cli_takes(command, o))
            continue;
        char name[48];
        (void)snprintf(name, sizeof name, "--%s%s%s", o->name, o->argument ? " " : "",
                       o->argument ? o->argument : "");
        trn_buffer_print(&out, "  %-20s %s\n", name, o->what);
    }
    return cli_print(&out);
}

static cli_exit misuse(const cli_command *command, const char *word, const char *why)
{
    (void)fprintf(stderr, "trunnion %s: %s: %s; see `trunnion %s --help`\n", command->name, word,
                  why, command->name);
    return CLI_MISUSE;
}

static cli_exit add(cli_texts *list, const char *text, const cli_command *command)
{
    if (list->n == CLI_TEXTS_MAX)
        return misuse(command, text, "too many of these");
    list->v[list->n++] = text;
    return CLI_DONE;
}

static const cli_option *find(const cli_command *command, const char *name, size_t n)
{
    for (size_t i = 0; i < option_count; i++)
        if (strlen(options_known[i].name) == n && strncmp(options_known[i].name, name, n) == 0 &&
            cli_takes(command, &options_known[i]))
            return &options_known[i];
    return NULL;
}

cli_exit cli_parse(const cli_command *command, int argc, char **argv, cli_options *options)
{
    bool only_inputs = false;
    for (int i = 0; i < argc; i++) {
        const char *word = argv[i];
        cli_exit code = CLI_DONE;
        if (only_inputs || strncmp(word, "--", 2) != 0) {
            code = add(&options->inputs, word, command);
        } else if (word[2] == '\0') {
            only_inputs = true;
        } else {
            size_t n = strcspn(word + 2, "=");
            const cli_option *o = find(command, word + 2, n);
            if (!o)
                return misuse(command, word, "no such option");
            cli_texts *list = (cli_texts *)(void *)((char *)options + o->offset);
            const char *value = word[2 + n] == '=' ? word + 3 + n : NULL;
            if (o->argument && !value && i + 1 < argc)
                value = argv[++i];
            else if (!value && strcmp(o->name, "constants") == 0 &&
                     strcmp(command->name, "prove") == 0)
                value = ""; /* the list */
            if (o->argument && !value)
                return misuse(command, word, "an argument is missing");
            if (!o->argument && value)
                return misuse(command, word, "takes no argument");
            code = add(list, value ? value : "", command);
        }
        if (code != CLI_DONE)
            return code;
    }
    options->as_csv = options->csv.n > 0 || (options->table.n == 0 && !isatty(STDOUT_FILENO));
    return CLI_DONE;
}
