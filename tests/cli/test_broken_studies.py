"""Studies that are missing, damaged, too new or on a disk that refuses."""

import json
from pathlib import Path

import pytest

from planner.store import EMPTY
from tests.cli.typed import ledger, made, planner, told
