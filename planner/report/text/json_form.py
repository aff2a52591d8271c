"""The form of every `--json` answer; apart, as most of what answers needs no model."""

import json
from collections.abc import Mapping
from typing import Any

SCHEMA = 1
"""Raised when a key changes its meaning or goes."""


def json_text(document: Mapping[str, Any]) -> str:
    """One JSON object; ASCII, so that every console can print it."""
    return json.dumps({"schema": SCHEMA, **document}, indent=2, allow_nan=False)
