"""Two settings of a study against each other."""

import pytest
from scipy import stats

from planner import Study
from planner.errors import InputError
from planner.models.scores.comparison import compared
from tests.models.scores.bench import scored_study, scored_tables


def recorded(*runs: tuple[float, float]) -> Study:
    """Passes as clock and score."""
    study = Study.create(scored_tables())
    for clock, score in runs:
        study.record("pass", settings={"clock": clock}, score=score)
    return study


def test_all_repeats_of_both_settings_take_part() -> None:
    """The test is Welch's, by scipy, whichever two of the runs are named."""
    one, other = [1000.0, 1004, 998, 1001], [1010.0, 1013, 1009]
    runs = [(4200.0, s) for s in one] + [(4300.0, s) for s in other]
    history = recorded(*runs).history
    expected = stats.ttest_ind(other, one, equal_var=False)
    for first, second in ((1, 5), (4, 7)):
        score = compared(history, first, second).measures[0]
        assert score.difference is not None
        assert score.difference.p_value == pytest.approx(expected.pvalue)
        assert score.own_spread
        assert score.real


def test_a_difference_within_noise_says_what_would_settle_it() -> None:
    """Half a standard deviation takes about 64 runs a side (statsmodels: 63.8 at 5 %, 80 %)."""
    one, other = [1000.0, 1010, 990, 1000], [1005.0, 1015, 995, 1005]
    history = recorded(*[(4200.0, s) for s in one], *[(4300.0, s) for s in other]).history
    score = compared(history, 1, 5).measures[0]
    assert not score.real
    assert score.repeats is not None
    assert 40 <= score.repeats <= 90
    assert score.least is not None
    assert score.least > 5


def test_single_runs_lean_on_the_noise_of_others() -> None:
    """One run each, with three repeats elsewhere: not Welch, but an answer."""
    runs = [(4200.0, 1000.0), (4300.0, 1100.0), (4400.0, 1200), (4400.0, 1202), (4400.0, 1198)]
    score = compared(recorded(*runs).history, 1, 2).measures[0]
    assert (score.own_spread, score.real) == (False, True)


def test_without_any_repeat_the_noise_is_not_known() -> None:
    """Then nothing is called a gain."""
    score = compared(recorded((4200.0, 1000), (4300.0, 1100)).history, 1, 2).measures[0]
    assert (score.difference, score.real, score.repeats) == (None, False, None)


def test_sub_scores_are_compared_beside() -> None:
    """Those that both sides have."""
    study = scored_study([4200.0, 4300.0, 4200.0, 4300.0])
    found = compared(study.history, 1, 2)
    assert [m.name for m in found.measures] == ["", "shade", "pack", "solve"]
    assert not found.one_after_the_other
    assert compared(scored_study([4200.0, 4200.0, 4300.0]).history, 1, 3).one_after_the_other


def test_what_cannot_be_compared() -> None:
    """No such run, none with a score, the same setting."""
    study = recorded((4200.0, 1000), (4200.0, 1001))
    study.record("crash", settings={"clock": 4400.0})
    for pair, said in (((1, 9), "run 9: not on record"), ((1, 2), "the same setting")):
        with pytest.raises(InputError, match=said):
            compared(study.history, *pair)
    with pytest.raises(InputError, match="run 3: a crash without a claimable score"):
        compared(study.history, 1, 3)
