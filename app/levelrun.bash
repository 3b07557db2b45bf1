# Completion of levelrun's commands, options and survey files for bash.
_levelrun()
{
    local current=${COMP_WORDS[COMP_CWORD]} command='' i options found
    COMPREPLY=()
    for ((i = 1; i < COMP_CWORD; i++)); do
        case ${COMP_WORDS[i]} in
            -*) ;;
            *)
                command=${COMP_WORDS[i]}
                break
                ;;
        esac
    done

    case $command in
        '') options='solve check legs plinths tasks quantities compare draw report as-built --help --version' ;;
        solve) options='--help' ;;
        check) options='--all --json --help' ;;
        legs) options='--csv --json --help' ;;
        tasks) options='--json --help' ;;
        plinths) options='--csv --json --boards --help' ;;
        quantities) options='--csv --json --help' ;;
        report|as-built) options='-o --letter --help' ;;
        compare) options='--json -o --pdf --letter --help' ;;
        draw) options='--plan --floor --wall --room -o --help' ;;
        *) return ;;
    esac
    if [[ -z $command || $current == -* ]]; then
        found=$(compgen -W "$options" -- "$current")
    else
        compopt -o filenames 2>/dev/null
        found=$(
            compgen -f -X '!*.levelrun.json' -- "$current"
            compgen -d -- "$current"
        )
    fi
    [[ -z $found ]] || mapfile -t COMPREPLY <<<"$found"
}
complete -F _levelrun levelrun
