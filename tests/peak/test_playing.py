"""What a played evening learns of the score."""

import numpy as np

from planner.peak.playing import Expected


def test_scores_tell_of_other_settings_as_a_gaussian_does() -> None:
    """Run by run it comes to what conditioning on all runs at once gives.

    The formula: Rasmussen and Williams 2006, equations 2.25 and 2.26, from memory.
    """
    rng = np.random.default_rng(3)
    root = rng.normal(size=(5, 5))
    covariance, noise = root @ root.T, 0.3
    means = rng.normal(size=5)
    expected = Expected(
        covariance, noise, np.tile(means, (2, 1)), np.tile(np.diag(covariance), (2, 1))
    )
    picks, scores = np.array([[1, 4], [3, 0], [0, 2]]), rng.normal(size=(3, 2))
    scored = np.array([[True, True], [True, False], [True, True]])
    for pick, score, some in zip(picks, scores, scored, strict=True):
        expected.tell(pick, some, score)
    for evening in range(2):
        at, seen = picks[scored[:, evening], evening], scores[scored[:, evening], evening]
        gram = covariance[np.ix_(at, at)] + noise**2 * np.eye(len(at))
        gain = np.linalg.solve(gram, covariance[at]).T
        left = covariance - gain @ covariance[at]
        np.testing.assert_allclose(expected.means[evening], means + gain @ (seen - means[at]))
        np.testing.assert_allclose(expected.variances[evening], np.diag(left), atol=1e-9)
