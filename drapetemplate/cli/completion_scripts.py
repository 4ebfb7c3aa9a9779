"""A shell's name in, the script out by which it completes this command's words.

Each hands the words on as they are, runs nothing of what is typed but the command itself, and takes
the answer line by line: `completion.py` gives it, and `completion_install.py` puts the scripts in
their places. typer's own scripts let the shell read an answer as part of a command, so that a
file's or a window's name could be one.
"""

from __future__ import annotations

VARIABLE = "_DRAPETEMPLATE_COMPLETE"
"""The environment's name that makes the command answer a shell; its value is the shell."""

# File names are readline's own where nothing is offered: it quotes what it completes. Words come
# quoted for the place they take.
BASH = """\
_drapetemplate_completion() {
    local run=$1 answer
    [[ $run != '~/'* ]] || run=$HOME/${run:2}
    mapfile -t answer < <(_DRAPETEMPLATE_COMPLETE=bash "$run" \\
        "${COMP_LINE:0:COMP_POINT}" "$2" </dev/null 2>/dev/null)
    COMPREPLY=()
    if [[ ${answer[0]-} == files* ]]; then
        compopt -o default
    else
        COMPREPLY=("${answer[@]:1}")
    fi
}
# Older ones can't take an answer line by line.
((BASH_VERSINFO[0] < 4)) || complete -F _drapetemplate_completion drapetemplate
"""

# (Q) takes quotes off and expands nothing; compadd quotes what it inserts.
ZSH = """\
#compdef drapetemplate
_drapetemplate() {
    local run=${(Q)words[1]}
    local -a answer
    [[ $run != '~/'* ]] || run=$HOME/${run:2}
    answer=("${(@f)$(_DRAPETEMPLATE_COMPLETE=zsh "$run" \\
        "${(@Q)words[2,CURRENT-1]}" "$PREFIX" </dev/null 2>/dev/null)}")
    case $answer[1] in
        files)
            [[ $PREFIX != --*=* ]] || compset -P "${(b)PREFIX%%=*}="
            _files ;;
        files*) _files -g "*.(#i)${answer[1]#files }" ;;
        words) (( $#answer > 1 )) && compadd -- "${(@)answer[2,-1]}" ;;
    esac
}
if [[ $funcstack[1] == _drapetemplate ]]; then
    _drapetemplate "$@"
else
    compdef _drapetemplate drapetemplate
fi
"""

# fish quotes what it inserts, files and words alike.
FISH = """\
function __drapetemplate_answer
    set -l words (commandline -opc)
    set -l begun (commandline -ct)
    set -l run (string replace -r '^~/' "$HOME/" -- $words[1])
    env _DRAPETEMPLATE_COMPLETE=fish $run $words[2..-1] "$begun" </dev/null 2>/dev/null
end
function __drapetemplate_words
    set -l answer (__drapetemplate_answer)
    test "$answer[1]" = words; and printf '%s\\n' $answer[2..-1]
end
function __drapetemplate_files
    string match -q 'files*' -- (__drapetemplate_answer)[1]
end
complete -c drapetemplate -f -a '(__drapetemplate_words)'
complete -c drapetemplate -n __drapetemplate_files -F
"""

SCRIPTS = {"bash": BASH, "zsh": ZSH, "fish": FISH}
SHELLS = tuple(SCRIPTS)
