"""How likely a short run of another workload holds at a setting, by the shifts of its groups."""

import numpy as np

from planner.domain.definition import Definition
from planner.domain.knob import Setting
from planner.domain.tables import Workload
from planner.models.hazard import Array
from planner.models.joint.posterior import JointPosterior
from planner.models.joint.shifts import workload_shift


def log_screened(
    posterior: JointPosterior, definition: Definition, workload: Workload, setting: Setting
) -> Array:
    """Log of the chance that a run of `workload`, once started, holds, by particle, shape (n,).

    `workload` is no longer than the study's.
    """
    groups = dict.fromkeys(risk.knob.group for risk in posterior.layout.risks)
    further = {group: _further(posterior, definition, group, workload.name) for group in groups}
    of_risks = {
        place: further[risk.knob.group] for place, risk in enumerate(posterior.layout.risks)
    }
    share = workload.minutes / definition.workload.minutes
    return posterior.log_lasts(setting, share, of_risks)


def _further(posterior: JointPosterior, definition: Definition, group: str, name: str) -> Array:
    """How far a group's edges lie beyond those of the study's workload, by particle, shape (n,).

    As its runs have told; before the first run, drawn from what is thought of any workload.
    """
    risks, particles = posterior.layout.risks, posterior.particles
    for place, known in enumerate(particles.groups):
        if risks[known.shared.risks[0]].knob.group != group:
            continue
        for column, shift in enumerate(known.shared.shifts):
            if shift.workload == name:
                return np.asarray(particles.draws.groups[place][:, column])
    shift = workload_shift(definition, group, name)
    rng = np.random.default_rng([definition.goal.seed, *f"{group} {name}".encode()])
    return shift.mean + shift.sd * rng.standard_normal(len(particles.draws.typical))
