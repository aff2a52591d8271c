"""Short histories for hypothesis: what was told of a few runs of one's own, and mistakes in it."""

from typing import Any

from hypothesis import strategies as st

from planner import Study

Facts = dict[str, Any]
OUTCOMES = ["pass", "crash", "no-start", "errors", "wrong-result", "power-off", "void"]
settings = st.fixed_dictionaries(
    {},
    optional={
        "clock": st.sampled_from([4200, 4400, 4500, 4600, 4650, 4800, 5000]),
        "volts": st.sampled_from([1.15, 1.2, 1.25, 1.3]),
        "timing": st.sampled_from([36, 40, 44]),
    },
)


@st.composite
def runs(draw: st.DrawFn) -> Facts:
    """The facts of one run that can be recorded as they are."""
    outcome = draw(st.sampled_from(OUTCOMES))
    told: Facts = {"outcome": outcome, "settings": draw(settings)}
    if outcome in ("crash", "no-start", "errors", "wrong-result", "power-off") and draw(
        st.booleans()
    ):
        told["failed_after_s"] = draw(st.sampled_from([1.0, 40.0, 200.0]))
    if outcome == "errors":
        told["errors"] = draw(st.integers(1, 20))
    if outcome == "pass" and draw(st.booleans()):
        told["score"] = draw(st.sampled_from([900.0, 1000.0, 1050.0]))
        told["capped"] = draw(st.sampled_from([None, "power"]))
    told["readings"] = draw(st.sampled_from([None, {"hot": 80}, {"hot": 96}]))
    told["minutes"] = draw(st.sampled_from([None, 12.5]))
    told["boot"] = draw(st.sampled_from([None, None, "cold", "warm"]))
    return told


histories = st.lists(runs(), min_size=1, max_size=6)
ALL = ("failed_after_s", "errors", "score", "capped", "readings", "minutes", "boot")


def record(study: Study, told: Facts) -> int:
    """Record a run of one's own; its number."""
    return study.record(**told).number


def mend(study: Study, number: int, told: Facts) -> None:
    """Amend everything that was told of a run into `told`, absent facts taken back."""
    named = {name: value for name, value in told.items() if name != "settings" or value}
    study.amend(number, **dict.fromkeys(ALL) | named)


STEPS = st.sampled_from(
    ["next", "own", "answer", "mend", "void", "boot", "changed", "close", "reopen"]
)
stories = st.lists(st.tuples(STEPS, runs()), max_size=10)


def live(study: Study, story: list[tuple[str, Facts]]) -> None:
    """Do what the story says, as far as it can be done."""
    for step, told in story:
        last = len(study.history.runs)
        if step == "next":
            study.next()
        elif step == "own":
            record(study, told)
        elif step == "answer" and study.pending:
            study.record(told["outcome"], errors=told.get("errors"))
        elif step == "mend" and last:
            mend(study, study.history.runs[-1].number, told)
        elif step == "void" and last:
            study.amend(study.history.runs[0].number, outcome="void")
        elif step == "boot":
            study.boot(cold=True)
        elif step == "changed":
            study.changed("new firmware", ["core"])
        elif step in ("close", "reopen"):
            getattr(study, step)()
