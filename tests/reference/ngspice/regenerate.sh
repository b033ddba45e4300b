#!/usr/bin/env bash
# Solves the circuits again with ngspice and compares with the committed values.
set -euo pipefail
command -v ngspice > /dev/null || { apt-get update -qq && apt-get install -y -qq ngspice > /dev/null; }
python3 "$(dirname "$0")/generate.py" --check
