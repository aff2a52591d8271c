"""A definition given as tables is the definition that its TOML text gives."""

import json
import tomllib
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner import Study
from planner.domain.definition import Definition
from planner.domain.parse import parse_text
from planner.errors import DefinitionError
from planner.store import definition_text
from tests.domain.makers import clock, mode, read, tables, volts

pytestmark = pytest.mark.slow

TEXT = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), max_size=20)


@st.composite
def knobs(draw: st.DrawFn) -> dict[str, Any]:
    """A knob with a range and whatever else."""
    step = draw(st.sampled_from([Decimal(s) for s in ("0.1", "0.005", "25", "1")]))
    low, count = step * draw(st.integers(-300, 300)), draw(st.integers(1, 40))
    tops = [low + step * i for i in sorted(draw(st.lists(st.integers(0, 60), max_size=3)))]
    knob = {
        "name": draw(st.from_regex(r"[a-zA-Zäé_][a-z0-9_]{0,10}", fullmatch=True)) + "_k",
        "low": float(low),
        "high": float(low + step * (count - 1)),
        "step": float(step),
        "stock": float(low + step * draw(st.integers(0, count - 1))),
        "harder": draw(st.sampled_from(["up", "down"])),
        "unit": draw(st.sampled_from(["", "MHz", "V", "clocks"])),
        "group": draw(TEXT),
    }
    return knob | dict(zip(["everyday", "own_risk", "hard_stop"], map(float, tops), strict=False))


wholes = st.builds(
    lambda knob, name, parts, stop: {
        "study": {"name": name, "knob": knob["name"], "target": 0.75},
        "rig": {"parts": [{"name": f"part {i}", "price": p} for i, p in enumerate(parts)]},
        "knob": [knob],
        "rule": [{"name": name, "holds": f"{knob['name']} <= 5"}],
        "reading": [{"name": "hot", "stop": stop, "source": name}],
    },
    knobs(),
    TEXT,
    st.lists(st.floats(0, 1e6), max_size=3),
    st.floats(-1e6, 1e6) | st.integers(-99, 99),
)


def toml(value: Any) -> str:
    """A value in TOML, written out by hand: JSON's strings are TOML's basic strings."""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{json.dumps(k)} = {toml(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    return json.dumps(value, ensure_ascii=False)


def told(definition: Definition) -> list[Any]:
    """Everything in a definition but its text, and rules by what they say."""
    parts = [definition.goal, definition.rig, definition.groups, definition.knobs]
    parts += [definition.derived, definition.readings, definition.workloads]
    return [*parts, [(r.name, r.kind, r.holds.text, r.holds.names) for r in definition.rules]]


@given(wholes)
def test_tables_and_text_are_one_definition(whole: dict[str, Any]) -> None:
    """Written by the planner or by hand, the text reads back as the tables that were given."""
    text = definition_text(whole)
    by_hand = "\n".join(f"{key} = {toml(value)}" for key, value in whole.items())
    assert tomllib.loads(text) == tomllib.loads(by_hand) == whole
    assert told(parse_text(text)) == told(parse_text(by_hand))


@given(wholes)
def test_each_study_reads_what_it_was_given(whole: dict[str, Any]) -> None:
    """A study in memory has the definition that was given as tables."""
    assert told(Study.create(whole).history.definition) == told(read(whole))


def test_a_study_from_a_file_is_the_one_from_tables(tmp_path: Path) -> None:
    """By path of the file or of its folder; the file in the new folder is the same text."""
    whole = tables(clock(), volts(), mode(), rule=[{"holds": "clock <= 5000", "kind": "hard"}])
    (tmp_path / "study.toml").write_text(definition_text(whole), encoding="utf-8")
    for number, path in enumerate([tmp_path, tmp_path / "study.toml", str(tmp_path)]):
        study = Study.create(path, tmp_path / str(number))
        assert told(study.history.definition) == told(Study.create(whole).history.definition)
        kept = (tmp_path / str(number) / "study.toml").read_text(encoding="utf-8")
        assert kept == study.history.definition.text == definition_text(whole)


def test_numbers_of_any_make_are_taken() -> None:
    """numpy's numbers and tuples are plain numbers and lists; what is None is left out."""
    plain = tables(clock(each=2, expected=[4500, 4600]))
    odd = clock(low=np.float64(4000), each=np.int64(2), expected=(4500, np.int32(4600)), group=None)
    assert told(read(tables(odd))) == told(read(plain))


@pytest.mark.parametrize("odd", [{1, 2}, object(), b"x", 1j, range(3)])
def test_what_toml_cannot_hold_is_refused(odd: object) -> None:
    """The message names where it stands."""
    with pytest.raises(DefinitionError, match="definition: knob: low"):
        definition_text({"knob": {"low": odd}})


def test_definitions_of_one_text_are_equal() -> None:
    """Nouns compare by what they say."""
    whole = tables(rule=[{"holds": "clock <= 5000"}])
    assert read(whole) == read(whole)


def test_the_text_itself_is_neither_tables_nor_a_path() -> None:
    """The error says how to make tables of it, however long the text is."""
    text = '[study]\nname = "x"\n' + "# more\n" * 1000
    with pytest.raises(DefinitionError, match=r"got TOML text, expected its tables .*tomllib"):
        Study.create(text)
