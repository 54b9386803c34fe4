#!/usr/bin/env bash
# Copies the fixtures, the samples and the template to where the fuzzer looks for its seeds, and the
# versions of the dependencies from the program.
set -euo pipefail
cd "$(dirname "$0")"
seed() { # TARGET FILE...
  local target=$1
  shift
  mkdir -p "corpus/$target"
  local file
  for file in "$@"; do
    cp "$file" "corpus/$target/$(echo "${file#../}" | tr '/' '-')"
  done
}
seed tally_text ../tests/fixtures/messy/* ../sample-tallies/*/tallies/* ../src/folder/template/a.csv
seed workbook ../tests/fixtures/workbooks/*.{xlsx,xls,ods}
seed job ../sample-tallies/*/job.toml ../src/folder/template/job.toml
mkdir -p corpus/decisions
cat > corpus/decisions/rows.csv <<'ROWS'
matter,joint,list,line,a,b,stands,note
length,D-04,a,5,12.033 m,12.303 m,12.034 m,"steel tape, twice"
place,D-09,a,10,,,b,seen on deck
makeup-loss,D-11,a,12,0.153 m,0.135 m,a,
presence,D-13,b,14,,39' 4 1/2",b,"a ""quoted"" note"
ROWS
[ -e Cargo.lock ] || cp ../Cargo.lock Cargo.lock
