"""Opens the modules of the one-knob evidence, which are no package."""

import importlib
import sys
from pathlib import Path
from types import ModuleType

FOLDER = Path(__file__).resolve().parents[2] / "studies" / "evidence" / "one-knob"


def load(name: str) -> ModuleType:
    """A module of that folder by name; its siblings resolve while it loads."""
    sys.path.insert(0, str(FOLDER))
    try:
        return importlib.import_module(name)
    finally:
        sys.path.remove(str(FOLDER))
