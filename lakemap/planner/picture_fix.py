"""How a picture lies on the ground: from points of it whose positions are known."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import Problem, RangeError
from lakemap.basis.records import FloatArray

Kind = Literal["similarity", "affine"]

_LEAST_POINTS: Final = {"similarity": 2, "affine": 3}
# ours, all four; no published source
_MOST_GROWTH: Final = 2.0  # of the points' own error, by the picture's farthest corner
_THIN: Final = 0.1  # breadth of the points' spread by its length: below this they lie on a line
_FLAT: Final = 1e-3  # the same, below which three directions can't be told from two
_SCALE_OFF: Final = 1.1  # one scale by another

# Symbols: w a point of the picture as a complex number, its second part up; z the same on the
# ground; p = sum of conj(w) z, q = sum of w z, both about the means.


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureFix:
    """Where each point of a picture lies: x = a u + c v + e, y = b u + d v + f."""

    kind: Kind
    matrix: tuple[float, float, float, float, float, float]  # a, b, c, d, e, f; v is down
    residuals_m: FloatArray  # [n], from where the fix puts a point to where it is
    rms_m: float  # root of the mean of their squares
    scale_m_px: float  # root of the area of a pixel
    warnings: tuple[Problem, ...]  # none is fatal

    def to_ground(self, pixels: ArrayLike) -> FloatArray:
        """Return where points of the picture lie.

        Parameters
        ----------
        pixels : array_like, shape [n, 2]
            u right and v down from the upper left corner [px].

        Returns
        -------
        ndarray, shape [n, 2]
            x, y [m].
        """
        a, b, c, d, e, f = self.matrix
        u, v = np.asarray(pixels, dtype=np.float64).reshape(-1, 2).T
        return np.column_stack([a * u + c * v + e, b * u + d * v + f])


def fix_picture(
    pixels: ArrayLike,
    ground_xy: ArrayLike,
    *,
    size_px: tuple[float, float],
    kind: Kind,
    numbers: Sequence[int] = (),
) -> PictureFix:
    """Lay a picture on the ground so that the squares of what is left over are least.

    A similarity moves, turns and scales, never mirrors: z = A w + B with A = p / sum of |w|**2 and
    B from the means. In the plane that is the solution of Umeyama, Least-squares estimation of
    transformation parameters between two point patterns, IEEE Transactions on Pattern Analysis
    and Machine Intelligence 13(4), 1991, eqs. 40 to 43, with S so that the turn is proper. Two
    points are met exactly. An affine map may also stretch and shear: least squares of x and y
    each, linear in 1, u and v. Both are estimates; positions are taken as equally sure.

    Parameters
    ----------
    pixels : array_like, shape [n, 2]
        u right and v down from the upper left corner [px].
    ground_xy : array_like, shape [n, 2]
        The same points east and north of some centre [m].
    size_px : tuple of float
        Width and height of the picture [px].
    kind : {'similarity', 'affine'}
        Four parameters, from two points on; or six, from three on.
    numbers : sequence of int
        What messages call the points; else 1, 2 and so on.

    Returns
    -------
    PictureFix
        With what is left over at each point, and what looks wrong.

    Raises
    ------
    RangeError
        If there are too few points, one is no number, two lie at one place, or an affine map
        can't be told from points on a line.
    """
    uv = np.asarray(pixels, dtype=np.float64).reshape(-1, 2)
    xy = np.asarray(ground_xy, dtype=np.float64).reshape(-1, 2)
    called = numbers or range(1, len(uv) + 1)
    _refuse(uv, xy, kind, called)
    matrix = _similarity(uv, xy) if kind == "similarity" else _affine(uv, xy)
    a, b, c, d = matrix[:4]
    fixed = PictureFix(
        kind=kind,
        matrix=matrix,
        residuals_m=np.empty(0),
        rms_m=0.0,
        scale_m_px=float(np.sqrt(abs(a * d - b * c))),
        warnings=(),
    )
    left = np.hypot(*(fixed.to_ground(uv) - xy).T)
    return PictureFix(
        kind=kind,
        matrix=matrix,
        residuals_m=left,
        rms_m=float(np.sqrt(np.mean(left**2))),
        scale_m_px=fixed.scale_m_px,
        warnings=tuple(_warnings(uv, xy, fixed, size_px, called)),
    )


def _refuse(uv: FloatArray, xy: FloatArray, kind: Kind, called: Sequence[int]) -> None:
    """Raise where no map can be told."""
    least = _LEAST_POINTS[kind]
    if len(uv) != len(xy):
        raise RangeError(f"{len(uv)} points of the picture but {len(xy)} positions")
    if len(uv) < least:
        raise RangeError(f"{len(uv)} of the {least} points that are needed; give more")
    if not (np.isfinite(uv).all() and np.isfinite(xy).all()):
        raise RangeError("a point of the picture or a position is no finite number")
    for points, what in ((uv, "on the picture"), (xy, "on the ground")):
        same = [(i, j) for i, j in _pairs(len(points)) if (points[i] == points[j]).all()]
        if same:
            named = "; ".join(f"points {called[i]} and {called[j]}" for i, j in same)
            raise RangeError(f"{named} lie at one place {what}; move one, or take it away")
    if kind == "affine" and _breadth(uv) < _FLAT:
        raise RangeError(
            "the points lie on one line, which can't tell how the picture is stretched across it;"
            " add a point to the side, or don't let it stretch"
        )


def _pairs(count: int) -> list[tuple[int, int]]:
    return [(i, j) for i in range(count) for j in range(i + 1, count)]


def _as_complex(uv: FloatArray, xy: FloatArray) -> tuple[FloatArray, FloatArray]:
    return uv[:, 0] - 1j * uv[:, 1], xy[:, 0] + 1j * xy[:, 1]


def _turns(uv: FloatArray, xy: FloatArray) -> tuple[complex, complex, float]:
    """Return p, q and the sum of |w|**2, all about the means."""
    w, z = _as_complex(uv, xy)
    w, z = w - w.mean(), z - z.mean()
    return complex(np.vdot(w, z)), complex(w @ z), float(np.vdot(w, w).real)


def _similarity(uv: FloatArray, xy: FloatArray) -> tuple[float, float, float, float, float, float]:
    p, _, spread = _turns(uv, xy)
    turn = p / spread
    w, z = _as_complex(uv, xy)
    shift = complex(z.mean()) - turn * complex(w.mean())
    return turn.real, turn.imag, turn.imag, -turn.real, shift.real, shift.imag


def _affine(uv: FloatArray, xy: FloatArray) -> tuple[float, float, float, float, float, float]:
    mean_uv, mean_xy = uv.mean(axis=0), xy.mean(axis=0)
    linear = np.linalg.lstsq(uv - mean_uv, xy - mean_xy, rcond=None)[0]
    shift = mean_xy - mean_uv @ linear
    (a, b), (c, d) = linear.tolist()
    return a, b, c, d, float(shift[0]), float(shift[1])


def _breadth(uv: FloatArray) -> float:
    """Breadth of the points' spread by its length: 0 on a line."""
    wide = np.linalg.svd(uv - uv.mean(axis=0), compute_uv=False)
    return float(wide[1] / wide[0]) if len(wide) > 1 and wide[0] > 0 else 0.0


def _growth(uv: FloatArray, size_px: tuple[float, float], kind: Kind) -> float:
    """How many times the points' own error the farthest corner is off by."""
    width, height = size_px
    corners = np.array([[0.0, 0.0], [width, 0.0], [0.0, height], [width, height]])
    spread, away = uv - uv.mean(axis=0), corners - uv.mean(axis=0)
    if kind == "similarity":
        share = (away**2).sum(axis=1) / (spread**2).sum()
    else:
        share = np.einsum("ki,ij,kj->k", away, np.linalg.inv(spread.T @ spread), away)
    return float(np.sqrt(1 / len(uv) + share.max()))


def _warnings(
    uv: FloatArray,
    xy: FloatArray,
    fixed: PictureFix,
    size_px: tuple[float, float],
    called: Sequence[int],
) -> Iterator[Problem]:
    """Say what looks wrong."""
    many = len(uv) > _LEAST_POINTS[fixed.kind]
    growth = _growth(uv, size_px, fixed.kind)
    thin = len(uv) > _LEAST_POINTS["similarity"] and _breadth(uv) < _THIN
    if growth > _MOST_GROWTH:
        text = (
            "The points lie near one another: whatever they are off by is"
            f" {growth:.1f} times that at the picture's far corner. Add one far away from them."
        )
        yield Problem(code="points_near", text=text, fatal=False)
    if thin:
        text = "The points lie nearly on one line. Add one well to the side of it."
        yield Problem(code="points_in_line", text=text, fatal=False)
    if not thin and _is_mirrored(uv, xy):
        text = (
            "These positions would fit a mirrored picture better: are two of them exchanged, or is"
            " the picture turned over?"
        )
        yield Problem(code="mirrored", text=text, fatal=False)
    yield from _odd_scales(uv, xy, fixed, called)
    if not many:
        text = f"{len(uv)} points are met exactly, so nothing tests them. One more would."
        yield Problem(code="not_tested", text=text, fatal=False)


def _is_mirrored(uv: FloatArray, xy: FloatArray) -> bool:
    p, q, _ = _turns(uv, xy)
    return len(uv) > _LEAST_POINTS["similarity"] and abs(q) > abs(p)


def _odd_scales(
    uv: FloatArray, xy: FloatArray, fixed: PictureFix, called: Sequence[int]
) -> Iterator[Problem]:
    """Say where two points ask for another scale than the fix, or the picture is stretched."""
    if fixed.kind == "affine":
        a, b, c, d = fixed.matrix[:4]
        longer, shorter = np.linalg.svd(np.array([[a, c], [b, d]]), compute_uv=False)
        if longer > _SCALE_OFF * shorter:
            by = f"{longer / shorter:.2f}" if shorter > 0 else "many"
            text = (
                f"The picture is stretched {by} times as much one way as the other. A photo from"
                " straight above or a flat scan is not: look at the positions again."
            )
            yield Problem(code="stretched", text=text, fatal=False)
        return
    pairs = np.array(_pairs(len(uv)))
    apart = np.hypot(*(uv[pairs[:, 0]] - uv[pairs[:, 1]]).T)
    scale = np.hypot(*(xy[pairs[:, 0]] - xy[pairs[:, 1]]).T) / apart
    far = apart >= apart.max() / 2  # near ones are off by their own error
    off = np.where(far, np.abs(np.log(scale / fixed.scale_m_px)), 0.0)
    worst = int(off.argmax())
    if off[worst] > np.log(_SCALE_OFF):
        i, j = pairs[worst].tolist()
        ratio = float(scale[worst] / fixed.scale_m_px)
        text = (
            f"Between points {called[i]} and {called[j]} the positions are {ratio:.2f} times as far"
            " apart as the picture has it. One of the two is wrong, or the picture is not seen"
            " from straight above."
        )
        yield Problem(code="scale_differs", text=text, fatal=False)
