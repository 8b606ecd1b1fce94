"""Statics of the two-cluster line in a vertical plane: ground chain, secondary, riser."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.records import FloatArray

# Symbols: H pull, V vertical force of the line, w weight in water per length, d drop,
# L_b, w_b riser; L_c, w_c ground chain; W2 weight in water of the secondary; S = L_b + L_c.

_HALVINGS = 200  # doubles have no more to give after some 60 from any bracket met here
_FINE = 4e-16  # of a root: as near as doubles lie
_TINY = 1e-300


@dataclass(frozen=True, slots=True, kw_only=True)
class LineState:
    """The line under a pull; all arrays have the broadcast shape of the arguments.

    Angles are from the horizontal. Heights and distances are from the primary.
    """

    reach_m: FloatArray
    secondary_x_m: FloatArray
    secondary_height_m: FloatArray
    hook_tension_n: FloatArray
    hook_angle_deg: FloatArray
    primary_tension_n: FloatArray
    primary_angle_deg: FloatArray
    primary_uplift_n: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class LinePulls:
    """Pulls [N] at which the line changes its state; 0 where it has done so in calm water."""

    bed_n: FloatArray  # the last of the riser leaves the bed
    lift_n: FloatArray  # the secondary leaves the bed, with its ground chain straight
    full_n: FloatArray  # the last of the ground chain leaves the bed: uplift at the primary begins


@dataclass(frozen=True, slots=True)
class _Rig:
    """The arguments, broadcast against each other."""

    pull: FloatArray
    drop: FloatArray
    ground: FloatArray
    riser: FloatArray
    ground_weight: FloatArray
    riser_weight: FloatArray
    secondary: FloatArray
    ground_stiffness: FloatArray
    riser_stiffness: FloatArray


def two_cluster_line(  # noqa: PLR0913 - the physical arguments of one rig; scripts rest on the names
    pull_n: ArrayLike,
    *,
    drop_m: ArrayLike,
    ground_m: ArrayLike,
    riser_m: ArrayLike,
    ground_weight_n_m: ArrayLike,
    riser_weight_n_m: ArrayLike,
    secondary_wet_n: ArrayLike,
    ground_stiffness_n: ArrayLike = np.inf,
    riser_stiffness_n: ArrayLike = np.inf,
) -> LineState:
    r"""Solve the line for a horizontal pull at the hook.

    Each segment is a catenary: with vertical force V_a at its lower and V_b = V_a + w L at its
    upper end, dx = (H/w) [arsinh(V_b/H) - arsinh(V_a/H)] + H L/EA and
    dz = [sqrt(H^2 + V_b^2) - sqrt(H^2 + V_a^2)]/w + (V_b^2 - V_a^2)/(2 w EA).
    Source: MIT OpenCourseWare 2.019 Design of Ocean Systems, spring 2011, lectures 13 and 14
    (one catenary); put together for a secondary on a level, frictionless bed by us. The bed's
    friction only takes load off the primary, so reach and uplift are bounds from above.

    One unknown, the vertical force at the hook, fixes all: going down the line, what lifts first
    is the riser, then the secondary, then the ground chain. The rise grows with that force, so
    there is one root.

    Parameters
    ----------
    pull_n : array_like
        Horizontal pull H at the hook [N], >= 0; 0 is the calm limit, with the chain drawn straight
        where the secondary rests on the bed.
    drop_m : array_like
        Height d from the primary to the hook [m], 0 < d < riser + ground.
    ground_m, riser_m : array_like
        Unstretched lengths of ground chain and riser [m], >= 0 and > 0.
    ground_weight_n_m, riser_weight_n_m : array_like
        Weights in water per length [N/m], > 0.
    secondary_wet_n : array_like
        Weight in water of the secondary [N], >= 0.
    ground_stiffness_n, riser_stiffness_n : array_like, optional
        Axial stiffness EA [N]; by default the line does not stretch.

    Returns
    -------
    LineState
        Arrays of the broadcast shape.

    Raises
    ------
    RangeError
        If any number is outside its range; one line for each such element.
    """
    rig = _broadcast(
        pull_n,
        drop_m,
        ground_m,
        riser_m,
        ground_weight_n_m,
        riser_weight_n_m,
        secondary_wet_n,
        ground_stiffness_n,
        riser_stiffness_n,
    )
    _guard(rig)
    start = rig.riser_weight * rig.riser + rig.secondary + rig.ground_weight * rig.ground
    hook_v = _root(lambda v: _rise(rig, v) - rig.drop, np.where(start > 0, start, 1.0))
    return _state(rig, hook_v)


def line_pulls(  # noqa: PLR0913 - the physical arguments of one rig
    *,
    drop_m: ArrayLike,
    ground_m: ArrayLike,
    riser_m: ArrayLike,
    ground_weight_n_m: ArrayLike,
    riser_weight_n_m: ArrayLike,
    secondary_wet_n: ArrayLike,
) -> LinePulls:
    """Find the pulls at which riser, secondary and ground chain leave the bed.

    H_bed = w_b (L_b^2 - d^2)/(2 d). H_lift solves sqrt(H^2 + (W2 + w_b L_b)^2) -
    sqrt(H^2 + W2^2) = w_b d, in closed form: with c = w_b d and q = w_b L_b (2 W2 + w_b L_b)/c
    the first root is A = (q + c)/2 and H^2 = A^2 - (W2 + w_b L_b)^2. H_full is the pull at which
    the line rises by d with no vertical force at the primary. All by us, from the catenary.

    Parameters
    ----------
    drop_m, ground_m, riser_m, ground_weight_n_m, riser_weight_n_m, secondary_wet_n : array_like
        As in `two_cluster_line`.

    Returns
    -------
    LinePulls
        Arrays of the broadcast shape.

    Raises
    ------
    RangeError
        If any number is outside its range; one line for each such element.
    """
    rig = _broadcast(
        0.0,
        drop_m,
        ground_m,
        riser_m,
        ground_weight_n_m,
        riser_weight_n_m,
        secondary_wet_n,
        np.inf,
        np.inf,
    )
    _guard(rig)
    d, riser_n = rig.drop, rig.riser_weight * rig.riser
    bed = np.maximum(0.0, rig.riser_weight * (rig.riser**2 - d**2) / (2 * d))
    c = rig.riser_weight * d
    top = (riser_n * (2 * rig.secondary + riser_n) / c + c) / 2
    foot = rig.secondary + riser_n
    lift = np.sqrt(np.maximum(0.0, (top - foot) * (top + foot)))
    lift = np.where(rig.riser > d, lift, 0.0)
    chain_n = rig.ground_weight * rig.ground

    def short(pull: FloatArray) -> FloatArray:
        """Drop less the rise without uplift: grows with the pull."""
        chain = segment_rise(pull, 0.0, chain_n, rig.ground)
        low = chain_n + rig.secondary
        return d - chain - segment_rise(pull, low, low + riser_n, rig.riser)

    full = _root(short, np.maximum(foot + chain_n, 1e-9))
    return LinePulls(bed_n=bed, lift_n=lift, full_n=full)


def slide_pull(
    friction: ArrayLike,
    *,
    drop_m: ArrayLike,
    riser_m: ArrayLike,
    riser_weight_n_m: ArrayLike,
    secondary_wet_n: ArrayLike,
) -> FloatArray:
    """Find the pull at which the secondary slides, its ground chain slack.

    Root of H = mu (W2 - V(H)), V the riser's vertical pull at its foot. By us: Coulomb friction
    under the catenary of the riser. An estimate: a block that has settled in holds more.

    Parameters
    ----------
    friction : array_like
        Friction coefficient mu of the secondary on the bed, > 0.
    drop_m, riser_m, riser_weight_n_m, secondary_wet_n : array_like
        As in `two_cluster_line`.

    Returns
    -------
    ndarray
        Pull [N]; 0 where the secondary hangs in calm water.
    """
    mu, d, riser, w, secondary = np.broadcast_arrays(
        *(
            np.asarray(value, dtype=np.float64)
            for value in (friction, drop_m, riser_m, riser_weight_n_m, secondary_wet_n)
        )
    )
    rests = riser > d
    taut = np.where(rests, riser, d * 2)  # any riser that can be solved; left out of the answer

    def excess(pull: FloatArray) -> FloatArray:
        return pull - mu * (secondary - foot_pull(pull, d, taut, w))

    return np.where(rests, _root(excess, np.maximum(mu * secondary, 1e-9)), 0.0)


def foot_pull(pull: FloatArray, d: FloatArray, riser: FloatArray, w: FloatArray) -> FloatArray:
    """Return the vertical pull at the foot of a riser: 0 while part of it lies on the bed.

    For a hanging segment of length L and rise d: L^2 - d^2 = 4 a^2 sinh^2(x/2a) and
    tanh(m/a) = d/L with a = H/w, x its span and m its middle, from the vertex.

    Parameters
    ----------
    pull : ndarray
        Horizontal pull [N].
    d, riser : ndarray
        Rise and length [m], d < riser.
    w : ndarray
        Weight per length [N/m].

    Returns
    -------
    ndarray
        Pull [N].
    """
    a = np.maximum(pull, 1e-300) / w
    half = np.arcsinh(np.sqrt((riser - d) * (riser + d)) / (2 * a))
    middle = np.arctanh(d / riser)
    foot: FloatArray = pull * np.sinh(np.maximum(middle - half, 0.0))
    return foot


def _broadcast(*values: ArrayLike) -> _Rig:
    arrays = (np.asarray(value, dtype=np.float64) for value in values)
    return _Rig(*np.broadcast_arrays(*arrays))


def _guard(rig: _Rig) -> None:
    """Refuse what has no solution, naming every element."""
    lengths = (rig.ground >= 0) & (rig.riser > 0) & (rig.drop > 0)
    sound = (
        np.isfinite(rig.pull + rig.drop + rig.ground + rig.riser + rig.secondary)
        & (rig.pull >= 0)
        & lengths
        & (rig.drop < rig.riser + rig.ground)
        & (rig.ground_weight > 0)
        & (rig.riser_weight > 0)
        & (rig.secondary >= 0)
        & (rig.ground_stiffness > 0)
        & (rig.riser_stiffness > 0)
    )
    if sound.all():  # NaN compares false, so it lands here too
        return
    rule = "need pull >= 0, 0 < drop < riser + ground, weights per metre > 0, secondary >= 0"
    raise RangeError(
        "\n".join(
            f"[{i}] pull {rig.pull.flat[i]:g} N, drop {rig.drop.flat[i]:g}, riser"
            f" {rig.riser.flat[i]:g}, ground {rig.ground.flat[i]:g} m, secondary"
            f" {rig.secondary.flat[i]:g} N: {rule}"
            for i in np.flatnonzero(~sound)
        )
    )


def _root(grows: Callable[[FloatArray], FloatArray], start: FloatArray) -> FloatArray:
    """Root of functions that grow from below 0 at 0, one per element: bracketed, then closed in on.

    Inverse quadratic interpolation where the function is smooth enough for it, else halving:
    Chandrupatla, Advances in Engineering Software 28 (1997) 145-149.
    """
    low, high = np.zeros_like(start), np.array(start, dtype=np.float64)
    for _ in range(_HALVINGS):
        under = grows(high) < 0
        if not under.any():
            break
        low = np.where(under, high, low)
        high = np.where(under, 2 * high, high)
    a, b, third = high, low, high  # b the newer end, a the other one, `third` the end left behind
    fa, fb = grows(a), grows(b)
    f_third, share = fa, np.full_like(a, 0.5)
    for _ in range(_HALVINGS):
        new = a + share * (b - a)
        f_new = grows(new)
        same = np.sign(f_new) == np.sign(fa)
        third, f_third = np.where(same, a, b), np.where(same, fa, fb)
        b, fb = np.where(same, b, a), np.where(same, fb, fa)
        a, fa = new, f_new
        least = _FINE * np.abs(a) / np.maximum(np.abs(b - a), _TINY)
        if (((least > 0.5) | (fa == 0)) | (a == b)).all():  # noqa: PLR2004 - half the bracket
            break
        share = _next_share((a, fa), (b, fb), (third, f_third), least)
    return np.where(np.abs(fa) <= np.abs(fb), a, b)


_Point = tuple[FloatArray, FloatArray]


def _next_share(newest: _Point, other: _Point, third: _Point, least: FloatArray) -> FloatArray:
    """Where in the bracket to look next, 0 at the newest end."""
    (a, fa), (b, fb), (c, fc) = newest, other, third
    with np.errstate(divide="ignore", invalid="ignore"):
        xi, phi = (a - b) / (c - b), (fa - fb) / (fc - fb)
        smooth = (phi**2 < xi) & ((1 - phi) ** 2 < 1 - xi)
        inverse = fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (
            fc - fb
        )
    share = np.where(smooth & np.isfinite(inverse), inverse, 0.5)
    low = np.minimum(least, 0.5)
    return np.clip(share, low, 1 - low)


def segment_rise(
    pull: FloatArray, v_low: ArrayLike, v_high: ArrayLike, length: FloatArray
) -> FloatArray:
    """Return the rise of a hanging segment: L (V_a + V_b)/(T_a + T_b), which keeps its digits.

    Parameters
    ----------
    pull : ndarray
        Horizontal pull [N].
    v_low, v_high : array_like
        Vertical forces at its ends [N].
    length : ndarray
        Its length [m].

    Returns
    -------
    ndarray
        Rise [m].
    """
    low, high = np.asarray(v_low, dtype=np.float64), np.asarray(v_high, dtype=np.float64)
    tensions = np.hypot(pull, low) + np.hypot(pull, high)
    rise: FloatArray = np.divide(
        length * (low + high), tensions, out=np.zeros_like(tensions), where=tensions > 0
    )
    return rise


def _segment_span(pull: FloatArray, low: FloatArray, high: FloatArray, w: FloatArray) -> FloatArray:
    """Span of a hanging segment; the difference of two arsinh, taken without losing digits."""
    a = np.divide(low, pull, out=np.zeros_like(pull), where=pull > 0)
    b = np.divide(high, pull, out=np.zeros_like(pull), where=pull > 0)
    across = b * np.hypot(1, a) + a * np.hypot(1, b)
    inner = np.divide((b - a) * (b + a), across, out=np.zeros_like(across), where=across > 0)
    span: FloatArray = pull / w * np.arcsinh(inner)
    return span


def _forces(rig: _Rig, hook_v: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Vertical forces going down: riser's foot, chain's top, primary; and the riser off the bed."""
    hanging = np.minimum(rig.riser, hook_v / rig.riser_weight)
    foot = np.maximum(0.0, hook_v - rig.riser_weight * rig.riser)
    chain_top = np.maximum(0.0, foot - rig.secondary)
    uplift = np.maximum(0.0, chain_top - rig.ground_weight * rig.ground)
    return foot, chain_top, uplift, hanging


def _stretch(low: FloatArray, high: FloatArray, w: FloatArray, stiffness: FloatArray) -> FloatArray:
    """Rise that stretch adds to a segment."""
    return (high - low) * (high + low) / (2 * w * stiffness)


def _rise(rig: _Rig, hook_v: FloatArray) -> FloatArray:
    """Height of the hook above the bed for a vertical force at the hook; grows with it."""
    foot, chain_top, uplift, hanging = _forces(rig, hook_v)
    lifted = (chain_top - uplift) / rig.ground_weight
    return (
        segment_rise(rig.pull, foot, hook_v, hanging)
        + _stretch(foot, hook_v, rig.riser_weight, rig.riser_stiffness)
        + segment_rise(rig.pull, uplift, chain_top, lifted)
        + _stretch(uplift, chain_top, rig.ground_weight, rig.ground_stiffness)
    )


def _state(rig: _Rig, hook_v: FloatArray) -> LineState:
    foot, chain_top, uplift, hanging = _forces(rig, hook_v)
    lifted = (chain_top - uplift) / rig.ground_weight
    riser_strain = 1 + rig.pull / rig.riser_stiffness
    ground_strain = 1 + rig.pull / rig.ground_stiffness
    secondary_x = (
        (rig.ground - lifted) * ground_strain
        + _segment_span(rig.pull, uplift, chain_top, rig.ground_weight)
        + lifted * rig.pull / rig.ground_stiffness
    )
    reach = (
        secondary_x
        + (rig.riser - hanging) * riser_strain
        + _segment_span(rig.pull, foot, hook_v, rig.riser_weight)
        + hanging * rig.pull / rig.riser_stiffness
    )
    height = segment_rise(rig.pull, uplift, chain_top, lifted) + _stretch(
        uplift, chain_top, rig.ground_weight, rig.ground_stiffness
    )
    return LineState(
        reach_m=reach,
        secondary_x_m=secondary_x,
        secondary_height_m=height,
        hook_tension_n=np.hypot(rig.pull, hook_v),
        hook_angle_deg=np.degrees(np.arctan2(hook_v, rig.pull)),
        primary_tension_n=np.hypot(rig.pull, uplift),
        primary_angle_deg=np.degrees(np.arctan2(uplift, rig.pull)),
        primary_uplift_n=uplift,
    )
