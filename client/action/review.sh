#!/bin/sh
# The review for any other system: checks the plants, says what the change does to them, and ends with the exit code
# that decides about the merge: 0 nothing found, 1 errors found, 2 it could not run.
#
#   BASE=origin/main sh review.sh [PATH…]
#
# BASE        the branch that the change is to be merged into; the comparison is made with the merge base
# WATTWRIGHT  the command (npx --no-install wattwright)
# OUT         a folder for the files (wattwright-review): findings.sarif, code-quality.json, findings.xml, review.md
# OPTIONS     more options for "check", such as --strict or --baseline=FILE
set -u
wattwright=${WATTWRIGHT:-npx --no-install wattwright}
out=${OUT:-wattwright-review}
mkdir -p "$out" || exit 2

# The command and the options are words of whoever set them up; paths are always whole.
# shellcheck disable=SC2086
check() { $wattwright check ${OPTIONS:-} "$@"; }

check --format=sarif --output="$out/findings.sarif" -- "$@" 2>/dev/null
check --format=gitlab --output="$out/code-quality.json" -- "$@" 2>/dev/null
check --format=junit --output="$out/findings.xml" -- "$@" 2>/dev/null
check -- "$@"
code=$?

if [ -n "${BASE:-}" ]; then
  if [ "$(git rev-parse --is-shallow-repository)" = true ]; then
    echo "This clone is shallow: fetch the whole history first, with \"git fetch --unshallow\" (GitLab: GIT_DEPTH: 0)." >&2
    exit 2
  fi
  base=$(git rev-parse --verify --quiet --end-of-options "$BASE^{commit}") &&
    base=$(git merge-base "$base" HEAD) || {
    echo "There is no common ancestor with \"$BASE\" in this clone." >&2
    exit 2
  }
  # What an earlier run has left is not the comparison of this one.
  rm -f "$out/review.md"
  # shellcheck disable=SC2086
  $wattwright compare --since="$base" --format=markdown --at-most=60000 --output="$out/review.md" -- "$@"
  # Exit code 1 says that something is worse; a file on one side that can't be read is told in the comparison.
  [ $? -ge 2 ] && [ ! -s "$out/review.md" ] && exit 2
fi
exit "$code"
