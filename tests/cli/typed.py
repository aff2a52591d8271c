"""Commands as a person types them, in a folder of their own."""

from pathlib import Path

from typer.testing import CliRunner, Result

from planner.cli.app import app

STUDY = """\
[study]
name = "box"
knob = "clock"

[[group]]
name = "core"

[[knob]]
name = "clock"
group = "core"
unit = "MHz"
low = 4000
high = 5000
step = 50
stock = 4200
harder = "up"

[[knob]]
name = "volts"
group = "core"
unit = "V"
low = 1.0
high = 1.4
step = 0.01
stock = 1.2
harder = "down"
supports = ["clock"]
everyday = 1.25
own_risk = 1.35
hard_stop = 1.38

[[knob]]
name = "ratio"
unit = "x"
low = 30
high = 60
step = 1
stock = 40

[[derived]]
name = "fabric"
unit = "MHz"
product = ["clock", "ratio"]

[[reading]]
name = "hotspot"
unit = "C"
stop = 95

[[workload]]
name = "load"
minutes = 10
"""


def planner(*arguments: object, typed: str | None = None) -> Result:
    """What `planner` does with these arguments; `typed` is what the person answers."""
    return CliRunner().invoke(app, [str(a) for a in arguments], input=typed)


def told(*arguments: object) -> Result:
    """The same, for a command that must go well."""
    result = planner(*arguments)
    assert result.exit_code == 0, result.output
    return result


def made(name: str = "box", text: str = STUDY) -> Path:
    """A study's folder under ./studies whose definition is on record."""
    folder = Path("studies", name)
    folder.mkdir(parents=True)
    (folder / "study.toml").write_text(text, encoding="utf-8", newline="\n")
    told("check", name)
    return folder


def ledger(folder: Path) -> bytes:
    """The bytes of its ledger."""
    return (folder / "ledger.jsonl").read_bytes()
