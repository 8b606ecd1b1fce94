"""The shape of a line seen from the side: along the ground chain and up the riser."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.records import FloatArray
from lakemap.rig.holding import LineRig
from lakemap.rig.line import foot_pull, two_cluster_line

_DRIFTED = 0.4  # of the slack: how far from its secondary a float is drawn in calm
_ROUNDS = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class LineShapes:
    """Points of n lines from primary to hook; shape [n, m], the secondary at `secondary`."""

    x_m: FloatArray
    z_m: FloatArray
    secondary: int


def line_shapes(pull_n: ArrayLike, *, rig: LineRig, points: int = 9) -> LineShapes:
    """Return the shape of lines under a pull.

    The catenaries of `two_cluster_line`; ends and lengths are theirs. In calm, pull 0, where the
    line may lie anyhow, one that is likely: the chain straight, the float drifted a little beyond
    its secondary by a breath of wind, its riser a catenary with the spare length on the bed; or
    the secondary hung plumb from a riser that is too short.

    Parameters
    ----------
    pull_n : array_like, shape [n]
        Horizontal pull at the hook [N], >= 0.
    rig : LineRig
        Arrays of shape [n], each with a solution.
    points : int
        On each of ground chain and riser, 2 or more.

    Returns
    -------
    LineShapes
        Shape [n, 2 points - 1].

    Raises
    ------
    RangeError
        If a line has no solution.
    """
    pull = np.broadcast_to(np.asarray(pull_n, dtype=np.float64), rig.drop_m.shape)
    share = np.linspace(0.0, 1.0, points)
    chain, riser = _pulled(np.where(pull > 0, pull, 1.0), rig, share)
    slack_chain, slack_riser = _calm(rig, share)
    calm = (pull <= 0)[:, None]
    x = [np.where(calm, slack_chain[0], chain[0]), np.where(calm, slack_riser[0], riser[0])]
    z = [np.where(calm, slack_chain[1], chain[1]), np.where(calm, slack_riser[1], riser[1])]
    return LineShapes(
        x_m=np.hstack([x[0], x[1][:, 1:]]),
        z_m=np.hstack([z[0], z[1][:, 1:]]),
        secondary=points - 1,
    )


_Curve = tuple[FloatArray, FloatArray]


def _pulled(pull: FloatArray, rig: LineRig, share: FloatArray) -> tuple[_Curve, _Curve]:
    state = two_cluster_line(pull, **{name: getattr(rig, name) for name in LineRig.__slots__})
    hook_v = state.hook_tension_n * np.sin(np.radians(state.hook_angle_deg))
    hanging = np.minimum(rig.riser_m, hook_v / rig.riser_weight_n_m)
    foot = np.maximum(0.0, hook_v - rig.riser_weight_n_m * rig.riser_m)
    chain_top = np.maximum(0.0, foot - rig.secondary_wet_n)
    uplift = np.maximum(0.0, chain_top - rig.ground_weight_n_m * rig.ground_m)
    lifted = (chain_top - uplift) / rig.ground_weight_n_m
    chain = _piece(pull, (rig.ground_m, lifted), (uplift, rig.ground_weight_n_m), share)
    riser = _piece(pull, (rig.riser_m, hanging), (foot, rig.riser_weight_n_m), share)
    return chain, (
        riser[0] + state.secondary_x_m[:, None],
        riser[1] + state.secondary_height_m[:, None],
    )


def _piece(
    pull: FloatArray,
    lengths: tuple[FloatArray, FloatArray],
    low: tuple[FloatArray, FloatArray],
    share: FloatArray,
) -> _Curve:
    """One piece from its lower end: first what lies on the bed, then the catenary."""
    whole, hanging = (length[:, None] for length in lengths)
    low_v, weight = (value[:, None] for value in low)
    level = pull[:, None]
    along = whole * share
    up = np.clip(along - (whole - hanging), 0.0, hanging)
    high_v = low_v + weight * up
    x = np.minimum(along, whole - hanging) + level / weight * (
        np.arcsinh(high_v / level) - np.arcsinh(low_v / level)
    )
    z = (np.hypot(level, high_v) - np.hypot(level, low_v)) / weight
    return x, z


def _calm(rig: LineRig, share: FloatArray) -> tuple[_Curve, _Curve]:
    lift = np.clip(rig.drop_m - rig.riser_m, 0.0, rig.ground_m)[:, None]
    second_x = rig.ground_m[:, None] - lift
    along = rig.ground_m[:, None] * share
    chain = (np.minimum(along, second_x), np.maximum(along - second_x, 0.0))
    rests = rig.riser_m > rig.drop_m
    riser = _slack_riser(rig.drop_m, np.where(rests, rig.riser_m, 2 * rig.drop_m), share)
    plumb = (np.zeros_like(riser[0]), rig.riser_m[:, None] * share)
    x, z = (np.where(rests[:, None], *both) for both in zip(riser, plumb, strict=True))
    return chain, (second_x + x, lift + z)


def _slack_riser(drop: FloatArray, length: FloatArray, share: FloatArray) -> _Curve:
    """Riser from a resting secondary to a float that has drifted; of unit weight per length."""
    taut = np.sqrt((length - drop) * (length + drop))
    out = _DRIFTED * taut  # farther where the spare length laid out reaches farther: there, plumb

    def hangs(pull: FloatArray) -> FloatArray:
        return np.minimum(np.sqrt(drop * (drop + 2 * pull)), length)

    def span(pull: FloatArray) -> FloatArray:
        off = hangs(pull)
        half = np.sqrt(np.maximum(off - drop, 0.0) * (off + drop)) / 2
        found: FloatArray = length - off + 2 * pull * np.arcsinh(half / pull)
        return found

    low, high = np.full_like(drop, 1e-9), 1e3 * length
    for _ in range(_ROUNDS):
        pull = np.sqrt(low * high)
        near = span(pull) < out
        low, high = np.where(near, pull, low), np.where(near, high, pull)
    foot = foot_pull(high, drop, length, np.ones_like(drop))
    return _piece(high, (length, hangs(high)), (foot, np.ones_like(drop)), share)
