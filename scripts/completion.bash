# SPDX-License-Identifier: GPL-3.0-or-later
# Made by `make docs` from the program's own tables.
# shellcheck shell=bash disable=SC2207 # words have no blanks; files: below
_trunnion() {
    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]}
    local command=${COMP_WORDS[1]} options='' inputs='' takes=''
    COMPREPLY=()
    if [ "$COMP_CWORD" -eq 1 ]; then
        COMPREPLY=($(compgen -W 'new check joints heat bearings intervals review report sweep compare digest lives samples spectrum formula prove --help --version' -- "$word"))
        return
    fi
    case $command in
    new)
        options='--for --csv --table --quiet --help --version'
        inputs='-d'
        ;;
    check)
        options='--set --scenario --constants --strict --csv --table --quiet --help --version'
        inputs='-d'
        ;;
    joints)
        options='--set --scenario --out --working --constants --strict --csv --table --quiet --help --version'
        inputs='-d'
        ;;
    heat)
        options='--set --scenario --out --working --constants --strict --csv --table --quiet --help --version'
        inputs='-d'
        ;;
    bearings)
        options='--set --scenario --out --working --constants --strict --csv --table --quiet --help --version'
        inputs='-d'
        ;;
    intervals)
        options='--set --scenario --out --working --draws --seed --jobs --plain --choices --machine --constants --strict --csv --table --quiet --help --version'
        inputs='-d'
        ;;
    review)
        options='--set --scenario --out --jobs --constants --strict --csv --table --quiet --help --version'
        inputs='-d'
        ;;
    report)
        options='--set --scenario --out --draws --seed --jobs --plain --constants --strict --csv --table --quiet --help --version'
        inputs='-d'
        ;;
    sweep)
        options='--set --scenario --out --vary --show --draws --seed --jobs --plain --constants --strict --csv --table --quiet --help --version'
        inputs='-d'
        ;;
    compare)
        options='--set --scenario --out --show --draws --seed --jobs --plain --constants --strict --csv --table --quiet --help --version'
        inputs='-d'
        ;;
    digest)
        options='--out --jobs --merge --skip-bad --column --rainflow --no-plot --gap --speed-step --torque-step --temperature-step --lift-step --wing-step --speed-limit --torque-limit --still --rest --trip-torque --shock-torque --csv --table --quiet --help --version'
        inputs='-f'
        ;;
    lives)
        options='--out --slope --confidence --csv --table --quiet --help --version'
        inputs='-f'
        ;;
    samples)
        options='--out --oil-volume --residual-oil --limits --csv --table --quiet --help --version'
        inputs='-f'
        ;;
    spectrum)
        options='--out --repeating --step --bins --gap --slope --show --csv --table --quiet --help --version'
        inputs='-f'
        ;;
    formula)
        options='--constants --strict --csv --table --quiet --help --version'
        inputs='formula'
        ;;
    prove)
        options='--set --scenario --case --constants --csv --table --quiet --help --version'
        inputs='-f'
        ;;
    *) return ;;
    esac
    if [ "$before" = '=' ]; then
        before=${COMP_WORDS[COMP_CWORD - 2]}
    elif [ "$word" = '=' ]; then
        word=''
    fi
    case $before in
    --set) inputs='' takes=yes ;;
    --scenario) inputs='' takes=yes ;;
    --for) inputs='' takes=yes ;;
    --out) inputs='-d' takes=yes ;;
    --vary) inputs='' takes=yes ;;
    --show) inputs='' takes=yes ;;
    --working) inputs='' takes=yes ;;
    --draws) inputs='' takes=yes ;;
    --seed) inputs='' takes=yes ;;
    --jobs) inputs='' takes=yes ;;
    --slope) inputs='' takes=yes ;;
    --step) inputs='' takes=yes ;;
    --bins) inputs='' takes=yes ;;
    --gap) inputs='' takes=yes ;;
    --confidence) inputs='' takes=yes ;;
    --oil-volume) inputs='' takes=yes ;;
    --residual-oil) inputs='' takes=yes ;;
    --limits) inputs='-f' takes=yes ;;
    --skip-bad) inputs='' takes=yes ;;
    --column) inputs='' takes=yes ;;
    --speed-step) inputs='' takes=yes ;;
    --torque-step) inputs='' takes=yes ;;
    --temperature-step) inputs='' takes=yes ;;
    --lift-step) inputs='' takes=yes ;;
    --wing-step) inputs='' takes=yes ;;
    --speed-limit) inputs='' takes=yes ;;
    --torque-limit) inputs='' takes=yes ;;
    --still) inputs='' takes=yes ;;
    --rest) inputs='' takes=yes ;;
    --trip-torque) inputs='' takes=yes ;;
    --shock-torque) inputs='' takes=yes ;;
    --case) inputs='-d' takes=yes ;;
    --constants) inputs='-f' takes=yes ;;
    esac
    if [ -z "$takes" ] && [ "${word#-}" != "$word" ]; then
        COMPREPLY=($(compgen -W "$options" -- "$word"))
    elif [ "$inputs" = formula ]; then
        COMPREPLY=($(compgen -W "$(trunnion formula --csv 2>/dev/null |
            sed -e 1d -e 's/,.*//')" -- "$word"))
    elif [ -n "$inputs" ]; then
        compopt -o filenames 2>/dev/null
        while IFS= read -r word; do
            COMPREPLY+=("$word")
        done < <(compgen "$inputs" -- "$word")
    fi
}
complete -F _trunnion trunnion
