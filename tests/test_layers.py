"""The shape of the package, read from its syntax trees: who may import whom, and what."""

import ast
import re
import subprocess
import sys
from graphlib import TopologicalSorter
from importlib.util import resolve_name
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
FILES = sorted((ROOT / "planner").rglob("*.py"))

CHAIN = ("domain", "trade", "run_table", "history", "replay", "forecast")
CHAIN += ("gate", "entries", "models")
CHAIN += ("strategies", "stopping", "tracing", "proposing", "peak", "holding", "aims")
CHAIN += ("searching",)
CHAIN += ("journal", "read_study", "study")
CHAIN += ("importing",)
CHAIN += ("driving",)
CHAIN += ("report", "exchange", "page", "cli")
MAY_IMPORT = {layer: {"errors", *CHAIN[: place + 1]} for place, layer in enumerate(CHAIN)}
MAY_IMPORT["study"].add("bench")
MAY_IMPORT["journal"].add("bench")
MAY_IMPORT["read_study"].add("bench")
MAY_IMPORT["driving"].add("bench")
MAY_IMPORT |= {"errors": {"errors"}, "bench": {"errors"}, "store": {"errors", "domain", "store"}}
MAY_IMPORT["store"].add("bench")  # where this person's agreements are kept
MAY_IMPORT["rigs"] = {"errors", "domain", "trade", "rigs"}
MAY_IMPORT["__main__"] = {"cli"}  # python -m planner
MAY_IMPORT["page"].add("bench")
MAY_IMPORT["cli"] |= {"bench"}
MAY_IMPORT["cli"].add("rigs")  # the demo plays on a simulated rig
DOORS = {
    ("study", "planner.store"),
    ("read_study", "planner.store"),
    ("driving", "planner.store"),
    ("cli", "planner.store"),
}  # the package alone, by name

HOMES = {  # a library and where it may be imported; scipy is for tests only
    # A sampler among the strategies, and files that its tools read and write: apart from each
    # other, as either can go or stay without the other.
    "optuna": ("planner.strategies.tpe", "planner.exchange"),
    "pandas": "planner.report",
    "matplotlib": "planner.report",
    "typer": "planner.cli",
    "flask": "planner.page",
    "werkzeug": "planner.page",
    "segno": "planner.page.code",
    "sqlalchemy": "planner.store",
    "psycopg": "planner.store",
    "scipy": "nowhere",
}
SLOW_TO_IMPORT = {
    "optuna",
    "scipy",
    "pandas",
    "matplotlib",
    "sqlalchemy",
    "psycopg",
    "flask",
    "segno",
}


def dotted(path: Path) -> str:
    """The name under which Python imports the file."""
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


MODULES = {dotted(path): path for path in FILES}


def imported(module: str, path: Path, source: str) -> set[str]:
    """Full names of the modules that a source imports anywhere, also inside functions."""
    package = module if path.stem == "__init__" else module.rpartition(".")[0]
    found = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            base = resolve_name("." * node.level + (node.module or ""), package)
            names = {f"{base}.{alias.name}" for alias in node.names}
            found |= {name if name in MODULES else base for name in names}
    return found


IMPORTS = {name: imported(name, at, at.read_text(encoding="utf-8")) for name, at in MODULES.items()}
INSIDE = {  # the package's own root only gathers public names, so it may import every layer
    name: {target for target in targets if target.split(".")[0] == "planner"}
    for name, targets in IMPORTS.items()
    if name != "planner"
}


def layer(module: str) -> str:
    """The part of the package that a module belongs to; empty for the package's own root."""
    return module.split(".")[1] if "." in module else ""


def under(module: str, home: str) -> bool:
    """Whether a module is the home named or stands inside it."""
    return module == home or module.startswith(f"{home}.")


@pytest.mark.parametrize(
    ("source", "target"),
    [
        ("from planner.domain import knob", "planner.domain.knob"),
        ("from planner.domain.knob import Knob", "planner.domain.knob"),
        ("from ..domain.knob import Knob", "planner.domain.knob"),
        ("def run():\n    import optuna.samplers", "optuna.samplers"),
        ("from planner import Study", "planner"),
    ],
)
def test_every_way_of_importing_is_seen(source: str, target: str) -> None:
    """Absolute, relative and local imports all come out as the module that they load."""
    assert imported("planner.models.edge", Path("edge.py"), source) == {target}


def test_every_part_of_the_package_has_a_layer() -> None:
    """The table above names the parts that there are: none is missing, none is unheard of."""
    assert {layer(module) for module in INSIDE} == set(MAY_IMPORT)


def test_imports_go_one_way() -> None:
    """A layer imports itself, the layers before it, and errors; never the package's own root."""
    wrong = [
        f"{module} imports {target}"
        for module, targets in INSIDE.items()
        for target in targets
        if layer(target) not in MAY_IMPORT.get(layer(module), ())
        and (layer(module), target) not in DOORS
    ]
    assert wrong == []


def test_no_modules_import_each_other_in_a_ring() -> None:
    """Modules can be put in an order in which each comes after all that it imports."""
    order = list(TopologicalSorter(INSIDE).static_order())  # a ring raises CycleError, naming it
    assert set(order) == set(INSIDE)


@pytest.mark.parametrize(("library", "home"), HOMES.items())
def test_each_library_has_its_home(library: str, home: str | tuple[str, ...]) -> None:
    """Replacing a library touches one place, or as many as it has uses."""
    homes = (home,) if isinstance(home, str) else home
    users = {
        name for name, found in IMPORTS.items() if library in {item.split(".")[0] for item in found}
    }
    assert {name for name in users if not any(under(name, at) for at in homes)} == set()


def test_commands_load_nothing_slow() -> None:
    """Every command's module, and the study, load without the libraries that take long to load."""
    names = ["planner.study", *(name for name in MODULES if under(name, "planner.cli"))]
    code = f"import sys, {', '.join(names)}; print(*sys.modules)"
    run = [sys.executable, "-c", code]
    loaded = subprocess.run(run, cwd=ROOT, check=True, stdout=subprocess.PIPE, text=True).stdout
    assert {"planner.cli", "planner.study"} <= set(loaded.split())
    assert SLOW_TO_IMPORT.intersection(loaded.split()) == set()


def test_files_stay_short() -> None:
    """A file over 260 lines has more than one reason to change."""
    lengths = {name: len(path.read_bytes().splitlines()) for name, path in MODULES.items()}
    assert {name: length for name, length in lengths.items() if length > 260} == {}


def test_no_file_names_a_place_on_one_machine() -> None:
    """Code, docs and evidence hold on every machine: no absolute path of one of them."""
    place = re.compile(r"(?<![\w.~])/(?:work|tmp|home|root|opt|Users)/|\b[A-Z]:\\+Users")
    folders = ("planner", "tests", "docs", "studies/evidence", "studies/examples", ".ci")
    kinds = {"", ".py", ".md", ".toml", ".json", ".jsonl", ".csv", ".txt", ".svg"}
    files = [*ROOT.glob("*.md"), ROOT / "pyproject.toml"]
    files += [path for folder in folders for path in (ROOT / folder).rglob("*") if path.is_file()]
    texts = [path for path in files if path.suffix in kinds]
    found = [path for path in texts if place.search(path.read_text("utf-8", errors="replace"))]
    assert found == []
