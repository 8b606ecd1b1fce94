"""Fittings: shackles, eye bolts and their angle of pull, links, swivels, turnbuckles."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import Published, exact
from lakemap.basis.records import FloatArray
from lakemap.basis.working import Formula, Term
from lakemap.rig.trade import newtons

_RR_C_271: Final = "US federal specification RR-C-271, carbon steel anchor shackles"
_A489: Final = "ASTM A489, carbon steel eye bolts"
_ANGLE: Final = "trade tables of eye bolts, shoulder pattern, pull in the plane of the eye"
_SIDE: Final = "riggers' tables of side loads on shackles"
_A952: Final = "ASTM A952, Grade 80 alloy master links, a rigging catalogue"
_SWIVEL: Final = "a catalogue of marine hardware, galvanised swivels, 5 to 1"
_F1145: Final = "ASTM F1145, forged turnbuckles, jaw or eye, 5 to 1, a catalogue"

# breaking over working load; one for every kind of fitting, each from its own standard
FITTING_FACTOR: Final[Mapping[str, Published]] = MappingProxyType(
    {
        "shackle": exact(5.0, "", f"{_RR_C_271}; ASME B30.26-2010", "design factor"),
        "eye bolt": exact(5.0, "", f"ours: proof load is twice it; {_A489}", "breaking over five"),
        "master link": exact(5.0, "", _A952, "5 to 1, one leg"),
        "swivel": exact(5.0, "", _SWIVEL, "5 to 1"),
        "turnbuckle": exact(5.0, "", _F1145, "5 to 1"),
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingRow:
    """One size of one kind of fitting."""

    kind: str
    size: str
    working: Published
    breaking: Published
    factor: float
    pin: Published | None = None  # in; shackles alone
    proof: Published | None = None  # lbf; eye bolts alone
    stress_area: Published | None = None  # in2; eye bolts alone


def _shackle(size: str, pin_in: float, tons: float) -> FittingRow:
    factor, where = FITTING_FACTOR["shackle"].value, f"{size}, by the bow's diameter"
    return FittingRow(
        kind="shackle",
        size=size,
        working=exact(tons, "short ton", _RR_C_271, where),
        breaking=exact(factor * tons, "short ton", _RR_C_271, f"{where}, five times"),
        factor=factor,
        pin=exact(pin_in, "in", "catalogues (from memory)", f"pin of a {size} shackle"),
    )


def _eye_bolt(size: str, area: float, breaking: int, proof: int) -> FittingRow:
    # half the proof load is the working load too; at 1/4 in it is the smaller of the two
    factor = max(FITTING_FACTOR["eye bolt"].value, breaking / (proof / 2))
    return FittingRow(
        kind="eye bolt",
        size=size,
        working=exact(breaking / factor, "lbf", _A489, f"{size}, straight pull"),
        breaking=exact(float(breaking), "lbf", _A489, f"{size}, breaking load"),
        factor=factor,
        proof=exact(float(proof), "lbf", _A489, f"{size}, proof load"),
        stress_area=exact(area, "in2", _A489, f"{size}, thread"),
    )


def _rated(kind: str, source: str, rows: Mapping[str, int]) -> Mapping[str, FittingRow]:
    factor = FITTING_FACTOR[kind].value
    return MappingProxyType(
        {
            size: FittingRow(
                kind=kind,
                size=size,
                working=exact(float(pounds), "lbf", source, size),
                breaking=exact(factor * pounds, "lbf", source, f"{size}, five times"),
                factor=factor,
            )
            for size, pounds in rows.items()
        }
    )


# kind, then size
FITTINGS: Final[Mapping[str, Mapping[str, FittingRow]]] = MappingProxyType(
    {
        "shackle": MappingProxyType(
            {
                row[0]: _shackle(*row)
                for row in (
                    ("1/4 in", 5 / 16, 0.5),
                    ("5/16 in", 3 / 8, 0.75),
                    ("3/8 in", 7 / 16, 1.0),
                    ("7/16 in", 1 / 2, 1.5),
                    ("1/2 in", 5 / 8, 2.0),
                    ("5/8 in", 3 / 4, 3.25),
                    ("3/4 in", 7 / 8, 4.75),
                    ("7/8 in", 1.0, 6.5),
                    ("1 in", 1.125, 8.5),
                )
            }
        ),
        "eye bolt": MappingProxyType(
            {
                row[0]: _eye_bolt(*row)
                for row in (
                    ("1/4 in", 0.0318, 2100, 800),
                    ("5/16 in", 0.0524, 3400, 1360),
                    ("3/8 in", 0.0775, 5000, 2000),
                    ("7/16 in", 0.1063, 6900, 2760),
                    ("1/2 in", 0.1419, 9200, 3680),
                    ("9/16 in", 0.182, 11830, 4740),
                    ("5/8 in", 0.226, 14700, 5880),
                    ("3/4 in", 0.334, 21700, 8680),
                    ("7/8 in", 0.462, 30000, 12000),
                    ("1 in", 0.606, 39400, 15760),
                )
            }
        ),
        "master link": _rated(
            "master link",
            _A952,
            {"1/2 in": 7400, "5/8 in": 9000, "3/4 in": 12300, "7/8 in": 15200, "1 in": 26000},
        ),
        "swivel": _rated(
            "swivel",
            _SWIVEL,
            {
                "1/4 in": 850,
                "5/16 in": 1250,
                "3/8 in": 2250,
                "1/2 in": 3600,
                "5/8 in": 5200,
                "3/4 in": 7200,
            },
        ),
        "turnbuckle": _rated(
            "turnbuckle",
            _F1145,
            {
                "1/4 in": 500,
                "5/16 in": 800,
                "3/8 in": 1200,
                "1/2 in": 2200,
                "5/8 in": 3500,
                "3/4 in": 5200,
            },
        ),
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class AngleStep:
    """What is left of a straight pull's strength, up to some angle."""

    to_deg: float
    share: Published


def _steps(source: str, *rows: tuple[float, float]) -> tuple[AngleStep, ...]:
    return tuple(
        AngleStep(to_deg=angle, share=exact(share, "", source, f"at {angle:g} degrees"))
        for angle, share in rows
    )


# a fall from 65 to 30 % lies between 30 and 45 degrees: no line may be drawn between the steps
EYE_BOLT_STEPS: Final = _steps(_ANGLE, (5, 1.0), (15, 0.80), (30, 0.65), (45, 0.30), (90, 0.25))
EYE_BOLT_CAREFUL_STEPS: Final = _steps(
    "a more careful trade scale (from memory)", (5, 1.0), (15, 0.55), (90, 0.25)
)
SHACKLE_SIDE_STEPS: Final = _steps(_SIDE, (0, 1.0), (45, 0.70), (90, 0.50))


def step_share(angle_deg: ArrayLike, steps: tuple[AngleStep, ...], *, what: str) -> FloatArray:
    """Return the share of a table of angles: that of the next larger angle.

    Parameters
    ----------
    angle_deg : array_like
        Angle [degrees], 0 to the table's last; NaN is not known.
    steps : tuple of AngleStep
        By rising angle.
    what : str
        What pulls, for the message.

    Returns
    -------
    ndarray
        Share; NaN where the angle is.

    Raises
    ------
    RangeError
        If an angle is outside the table; names each.
    """
    angle = np.asarray(angle_deg, dtype=np.float64)
    last = steps[-1]
    sound = np.isnan(angle) | ((angle >= 0) & (angle <= last.to_deg))
    if not sound.all():
        wrong = ", ".join(f"{one:g}" for one in angle[~sound].ravel())
        raise RangeError(
            f"{what} at {wrong} degrees: need 0 to {last.to_deg:g}, {last.share.source}"
        )
    ends, shares = [step.to_deg for step in steps], [step.share.value for step in steps]
    found = np.array([*shares, np.nan])[np.searchsorted(ends, angle, side="left")]
    return np.asarray(found, dtype=np.float64)


def eye_bolt_breaking(breaking_n: ArrayLike, *, angle_from_axis_deg: ArrayLike) -> FloatArray:
    """Return the strength of a forged shoulder eye bolt pulled at an angle in its plane.

    100 % to 5 degrees, 80 to 15, 65 to 30, 30 to 45, 25 to 90: the next larger angle of the table,
    never between two. Source: trade tables of eye bolts, shoulder pattern. Angles count from the
    bolt's axis, unlike a sling's, which count from the horizontal. Out of the eye's plane, and for
    a bolt without a shoulder, nothing but a straight pull is rated.

    Parameters
    ----------
    breaking_n : array_like
        Strength in a straight pull [N].
    angle_from_axis_deg : array_like
        Angle of the pull from the bolt's axis [degrees], 0 to 90; NaN is not known.

    Returns
    -------
    ndarray
        Strength [N]; NaN where the angle is.

    Raises
    ------
    RangeError
        If an angle is outside the table.
    """
    share = step_share(angle_from_axis_deg, EYE_BOLT_STEPS, what="eye bolt")
    return np.asarray(np.asarray(breaking_n, dtype=np.float64) * share)


EYE_BOLT_AT_ANGLE: Final = Formula(
    key="eye_bolt_at_angle",
    name="Breaking strength of the eye bolt at its angle",
    symbol="B",
    words="B = η(α) · B₀,  η 1 to 5°, 0.80 to 15°, 0.65 to 30°, 0.30 to 45°, 0.25 to 90°",
    unit="N",
    source=_ANGLE,
    terms={
        "breaking_n": Term(symbol="B₀", name="strength in a straight pull", unit="N"),
        "angle_from_axis_deg": Term(symbol="α", name="pull from the bolt's axis", unit="deg"),
    },
    law=eye_bolt_breaking,
    valid="0 to 90°, shoulder pattern, pulled in the plane of its eye",
)


def fitting_breaking(row: FittingRow) -> float:
    """Return a fitting's breaking strength, new and pulled straight [N].

    Parameters
    ----------
    row : FittingRow
        Of `FITTINGS`.

    Returns
    -------
    float
        Strength [N].
    """
    return newtons(row.breaking)
