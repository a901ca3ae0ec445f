#!/usr/bin/env bash
# Builds the checker beside this action, where that has not been done: from the action's own files, never from the
# checkout that is being reviewed.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
[ -f dist/wattwright.cjs ] && exit 0
node client/build/setup.mjs
npm run --silent build
