"""`mains` as typed: of a study or of the figures given."""

import json

import pytest

from tests.cli.typed import STUDY, made, planner, told

CIRCUIT = """
[mains]
volts = 230
amps = 16
other_watts = 300
efficiency = 0.92

[[reading]]
name = "wall"
unit = "W"
stop = 3000
"""


def test_figures_need_no_study() -> None:
    """20 A at 120 V leave 1920 W for a load that lasts (NEC 210.20(A))."""
    said = told("mains", "--volts", "120V", "--amps", 20, "--code", "nec").stdout
    assert "Bench    1920 W at the wall, 16 A" in said
    assert "NFPA 70 (NEC) 210.20(A)" in said
    assert "does not show the peaks of" in said
    assert "licensed" in said


def test_elsewhere_no_code_is_cited() -> None:
    """At 230 V the same share is a caution, and only for loads that last."""
    said = told("mains", "--volts", 230, "--amps", 16).stdout
    assert "Bench    2944 W" in said
    assert "no code" in said
    assert "NEC" not in said
    assert "Bench    3680 W" in told("mains", "--volts", 230, "--amps", 16, "--hours", 1).stdout


def test_the_study_has_its_circuit_and_readings() -> None:
    """2944 less 300 W are left; 2600 W were read, and the stop lies too high."""
    made(text=STUDY + CIRCUIT)
    told("record", "pass", "--as-is", "--reading", "wall=2.6kW")
    said = told("mains").stdout
    assert "Bench    2644 W at the wall, 11.5 A" in said
    assert "Highest  2600 W at the wall, 11.3 A: 44 W to spare" in said
    assert "Stop     3000 W at the wall, 13 A: TOO MUCH, by 356 W" in said
    assert "1000 W at the wall" in told("mains", "--direct", 920).stdout
    noted = " ".join(told("check").stdout.split())
    assert "wall has its stop at 3000 W, above what the circuit in [mains] leaves" in noted


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (["--volts", "230"], "no study in studies"),
        (["--volts", "12", "--amps", "16"], "mains: volts = 12: expected 50 to 500"),
        (["--volts", "230", "--amps", "16W"], "--amps = '16W': unit 'W' does not match"),
        (["--volts", "230", "--amps", "16", "--direct", "500"], "expected --efficiency beside it"),
        (["--volts", "230", "--amps", "16", "--hours", "0"], "--hours 0: expected above 0"),
        (["--volts", "230", "--amps", "16", "--code", "x"], "--code 'x': expected one of nec"),
        (["--volts", "230", "--amps", "16", "--wall", "-5"], "--wall -5: expected 0 or more"),
    ],
)
def test_slips(given: list[str], said: str) -> None:
    """Option, value and what was expected are named; exit code 2."""
    answer = planner("mains", *given)
    assert (answer.exit_code, said in answer.stderr) == (2, True), answer.stderr


def test_a_study_without_a_circuit() -> None:
    """Says what to fill in."""
    made()
    answer = planner("mains")
    assert (answer.exit_code, "expected [mains] with volts and amps" in answer.stderr) == (2, True)


def test_for_programs() -> None:
    """1920 W of 20 A at 120 V for a load that lasts (NEC 210.20(A)), with the cautions."""
    words = ("mains", "--volts", 120, "--amps", 20, "--code", "nec", "--wall", 2000, "--json")
    found = json.loads(told(*words).stdout)
    assert (found["schema"], found["left"]["watts"], found["share"]) == (1, 1920, 0.8)
    assert "210.20(A)" in found["rule"]
    (draw,) = found["draws"]
    assert (draw["what"], draw["too_much"]) == ("Asked", True)
    assert any("licensed" in caution for caution in found["cautions"])
