"""Whatever the aim, a proposal for a drive keeps to the everyday ceilings."""

import pytest

from planner import Study
from tests.domain.makers import clock, volts
from tests.driving.benches import driven


@pytest.mark.parametrize("aim", ["edge", "frontier", "peak", "everyday"])
def test_accepted_risks_are_ignored(aim: str) -> None:
    """A machine that holds everything is never asked for more, though the risk was accepted."""
    knobs = (
        clock(where="live", everyday=4300, own_risk=4900),
        volts(where="live", supports=["clock"], everyday=1.2, own_risk=1.3, step=0.05),
    )
    study = Study.create(driven(*knobs) | {"study": {"aim": aim, "along": "volts"}})
    study.accept_risk("clock", 4900)
    study.accept_risk("volts", 1.3)
    for score in range(4):
        proposal = study.next(everyday_only=True)
        if proposal is None:
            break
        assert proposal.at_own_risk == ()
        assert float(proposal.settings["clock"]) <= 4300
        assert float(proposal.settings["volts"]) <= 1.2
        study.record("pass", score=1000 + score)
    assert study.history.runs
