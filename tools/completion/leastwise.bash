# Completion of leastwise(1) for bash: commands, options, what options take, and files.

_leastwise_words() { # the words to complete from, then the word so far
  mapfile -t COMPREPLY < <(compgen -W "$1" -- "$2")
}

_leastwise_files() { # a pattern of names, then the word so far; folders always
  local extglob_was_off=0
  shopt -q extglob || extglob_was_off=1
  shopt -s extglob
  mapfile -t COMPREPLY < <(compgen -d -S / -- "$2"; compgen -f -X "!$1" -- "$2")
  ((extglob_was_off)) && shopt -u extglob
  compopt -o filenames 2>/dev/null
  return 0
}

_leastwise_options() { # the options of a command
  local report='--format --paper --colour --output' input='--price --on --plant --allow-outside' end='--time-limit'
  case $1 in
    blend) echo "$report $end $input --proof --why --table --step-kg --batch-kg --batch-hectares" ;;
    check | materials | quote | verify) echo "$report $end $input" ;;
    compare) echo "$report $end $input --source --table" ;;
    prices) echo "$report $end $input --vary --limit --samples" ;;
    risk) echo "$report $end $input --draws --seed --threads" ;;
    alternatives) echo "$report $end $input --count --within --fewest --least-mass --least-of" ;;
    batch | plan)
      echo "$report $end --allow-outside --table --keep-going"
      [ "$1" = plan ] || echo --weighed
      ;;
    season) echo "$report $end --allow-outside" ;;
    schema) echo --output ;;
    stream)
      echo "--output --allow-outside --base --full --lines --merge --resume --threads --time-limit-each"
      ;;
  esac
  echo --help
}

_leastwise() {
  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} command=${COMP_WORDS[1]}
  local commands='blend quote check compare prices risk alternatives batch plan season materials schema verify stream'
  COMPREPLY=()
  if ((COMP_CWORD == 1)); then
    _leastwise_words "$commands help --help --version" "$word"
    return
  fi
  case $before in
    help) _leastwise_words "$commands" "$word" ;;
    --format)
      case $command in
        batch | plan | season | check | materials | quote | verify) _leastwise_words 'text json csv html' "$word" ;;
        *) _leastwise_words 'text json csv html svg' "$word" ;;
      esac
      ;;
    --colour) _leastwise_words 'auto always never' "$word" ;;
    --table)
      case $command in
        blend | compare)
          _leastwise_words 'portions supply binding unused conflict notes' "$word"
          ;;
        *) _leastwise_words 'batches plots stakes nutrients totals purchases recipes applied' "$word" ;;
      esac
      ;;
    --paper) _leastwise_words 'a4 letter' "$word" ;;
    --source | --least-of) _leastwise_words 'N P2O5 K2O S Ca Mg B Cu Fe Mn Mo Zn Cl Na Si' "$word" ;;
    --weighed) _leastwise_files '*.csv' "$word" ;;
    --base) _leastwise_files '*.@(yaml|yml)' "$word" ;;
    --output | --proof) _leastwise_files '*' "$word" ;;
    --time-limit | --time-limit-each | --lines | --price | --on | --plant | --why | --step-kg | --batch-kg | --batch-hectares | --vary | --limit | \
      --samples | --draws | --seed | --threads | --count | --within) ;;
    *)
      case $word in
        -*) _leastwise_words "$(_leastwise_options "$command")" "$word" ;;
        *)
          case $command in
            verify) _leastwise_files '*.@(json|yaml|yml)' "$word" ;;
            schema)
              _leastwise_words 'scenario trial season reports blend rounded_blend check comparison
                price_map price_regions limit_map quote risk alternatives near_optimum season_plan trial_plan
                weighed_check materials verification proof stream_answer rejected unread' "$word"
              ;;
            stream) _leastwise_files '*.jsonl' "$word" ;;
            help) ;;
            *) _leastwise_files '*.@(yaml|yml)' "$word" ;;
          esac
          ;;
      esac
      ;;
  esac
}

complete -F _leastwise leastwise
