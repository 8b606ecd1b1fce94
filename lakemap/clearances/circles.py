"""The swing circles that take part in the check, as arrays."""

from dataclasses import dataclass, replace

import numpy as np

from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import FloatArray, IntArray
from lakemap.clearances.records import CheckSubject
from lakemap.clearances.uncertainty import (
    CircleInputs,
    CircleSigma,
    circle_sigma,
    depth_uncertainty,
    layer_uncertainty,
)
from lakemap.rig.columns import column

# ours, where neither the settings nor the soundings tell how sure a depth is
FALLBACK_DEPTH_SIGMA_M = FOOT_M.value / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Circles:
    """Set and proposed floats whose circle is known; shape [m], `index` into the field's floats."""

    index: IntArray
    xy: FloatArray
    radius_m: FloatArray  # at low water: the one that decides
    reach_m: FloatArray  # 0 where there is none
    deck_m: FloatArray  # corner distance and what a primary that is not located adds
    sigma: CircleSigma
    layer_uncertainty_m: FloatArray
    depth_uncertainty_m: FloatArray
    guessed_sigma: bool  # some depth's uncertainty is our fallback

    def only(self, kept: IntArray) -> "Circles":
        """Return some of the circles; their uncertainties, which the check alone needs, stay all.

        Parameters
        ----------
        kept : ndarray of int
            Places in these circles.

        Returns
        -------
        Circles
            Those kept.
        """
        return replace(
            self,
            index=self.index[kept],
            xy=self.xy[kept],
            radius_m=self.radius_m[kept],
            reach_m=self.reach_m[kept],
            deck_m=self.deck_m[kept],
        )


def checked_circles(subject: CheckSubject) -> Circles:
    """Return the circles that take part.

    Parameters
    ----------
    subject : CheckSubject
        All floats.

    Returns
    -------
    Circles
        Retired floats and those without a radius left out.
    """
    at, accuracy = subject.placement, subject.settings.accuracy
    counts = np.array([one.status != "retired" for one in subject.floats], dtype=bool)
    radius = at.swing_radius_m[:, 0]
    index = np.flatnonzero(counts & np.isfinite(radius))
    is_set = np.array([one.status == "set" for one in subject.floats], dtype=bool)
    drop = at.depth_m[:, 0] - at.hook_depth_m
    depth_sigma, guessed = _depth_sigma(subject)
    inputs = CircleInputs(
        drop_m=np.nan_to_num(drop)[index],
        riser_m=at.riser_m[index],
        ground_m=at.ground_m[index],
        riser_assumed=(at.riser_chosen & is_set)[index],
        ground_assumed=(at.ground_chosen & is_set)[index],
        depth_sigma_m=depth_sigma[index],
        position_sigma_m=column(one.position_error_m for one in subject.floats)[index],
    )
    sigma = circle_sigma(inputs, accuracy)
    return Circles(
        index=index,
        xy=at.primary_xy[index],
        radius_m=radius[index],
        reach_m=np.nan_to_num(at.reach_m[index, 0]),
        deck_m=(at.corner_m + at.extra_m)[index],
        sigma=sigma,
        layer_uncertainty_m=layer_uncertainty(sigma, accuracy),
        depth_uncertainty_m=depth_uncertainty(depth_sigma[index], accuracy),
        guessed_sigma=bool(guessed[index].any()),
    )


def _depth_sigma(subject: CheckSubject) -> tuple[FloatArray, np.ndarray]:
    """Return the standard uncertainty of each depth, and where it is our fallback."""
    at, given = subject.placement, subject.settings.accuracy.depth_m
    if given is not None:
        return np.full(len(at.depth_error_m), given), np.zeros(len(at.depth_error_m), dtype=bool)
    missing = np.isnan(at.depth_error_m)
    # an unknown depth has no uncertainty of its own: its circle is the bound at depth 0 already
    return np.where(missing, FALLBACK_DEPTH_SIGMA_M, at.depth_error_m), missing & ~at.no_depth
