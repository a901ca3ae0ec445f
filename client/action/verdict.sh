#!/usr/bin/env bash
# Decides about the merge: by the findings, and where it is asked for also by what got worse.
set -euo pipefail
if [ "${VERDICT:-2}" != 0 ]; then exit "${VERDICT:-2}"; fi
if [ "${FAIL_ON_WORSE:-false}" = true ] && [ "${WORSE:-false}" = true ]; then
  echo "Something is worse than before: see the summary."
  exit 1
fi
