"""Repeats that wander off."""

import numpy as np
import pytest

from planner.trade.scores.drift import best_split, drift, weighted_limit, weighted_means
from planner.trade.scores.gain import welch
from planner.trade.scores.spread import sample_of

CHART = [52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5]
CHART += [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
MEANS = [50.00, 50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33]
MEANS += [50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99]
NILE = """
1120 1160 963 1210 1160 1160 813 1230 1370 1140 995 935 1110 994 1020 960 1180 799 958 1140 1100
1210 1150 1250 1260 1220 1030 1100 774 840 874 694 940 833 701 916 692 1020 1050 969 831 726 456 824
702 1120 1100 832 764 821 768 845 864 862 698 845 744 796 1040 759 781 865 845 944 984 897 822 1010
771 676 649 846 812 742 801 1040 860 874 848 890 744 749 838 1050 918 986 797 923 975 815 1020 906
901 1170 912 746 919 718 714 740
"""
"""Yearly flow of the Nile at Aswan from 1871, 1e8 m3 (Cobb 1978; the figures of R's `Nile`)."""


def test_the_chart_of_the_handbook() -> None:
    """NIST e-Handbook 6.3.2.4: weight 0.3, target 50, s 2.0539; limits 52.5884 and 47.4115."""
    assert weighted_means(CHART, 50.0) == pytest.approx(MEANS, abs=0.0051)
    assert 50 + weighted_limit(2.0539) == pytest.approx(52.5884, abs=1e-4)
    assert 50 - weighted_limit(2.0539) == pytest.approx(47.4115, abs=2e-4)
    assert max(map(abs, np.array(MEANS) - 50)) < weighted_limit(2.0539)


def test_the_nile_fell_after_1898() -> None:
    """Cobb 1978: 28 years at 1097.75, then 849.97; the sum checks the copy. Welch's test between
    them worked outside the code."""
    flow = [float(word) for word in NILE.split()]
    assert (len(flow), sum(flow)) == (100, 91935)
    found = drift(flow)
    assert found is not None
    assert 1870 + found.first == 1898
    assert (found.before, found.after) == pytest.approx((1097.75, 849.9722), abs=1e-4)
    assert found == best_split(flow)
    years = welch(sample_of(flow[28:]), sample_of(flow[:28]))
    assert (years.t, years.freedom) == pytest.approx((8.414516, 45.9906), abs=1e-4)


@pytest.mark.parametrize("count", [8, 20, 30])
def test_false_alarms_are_rare(count: int) -> None:
    """Repeats that only scatter: at most 5 evenings in 100 (2000 drawn)."""
    rng = np.random.default_rng(count)
    alarms = sum(drift(rng.normal(0, 1, count).tolist()) is not None for _ in range(2000))
    assert alarms <= 0.05 * 2000


def test_a_shift_of_three_deviations_is_seen() -> None:
    """Ten repeats, then ten lower: nine evenings in ten, and within two runs of the place."""
    rng = np.random.default_rng(4)
    found = [drift([*rng.normal(0, 1, 10), *rng.normal(-3, 1, 10)]) for _ in range(300)]
    near = [shift is not None and abs(shift.first - 10) <= 2 for shift in found]
    assert np.mean(near) > 0.9


def test_too_few_and_all_alike_say_nothing() -> None:
    """Seven values; no scatter at all; and one value has no two levels."""
    assert drift([1.0, 2.0] * 3 + [9.0]) is None
    assert drift([5.0] * 20) is None
    with pytest.raises(ValueError, match="1 values: expected two or more"):
        best_split([1.0])
