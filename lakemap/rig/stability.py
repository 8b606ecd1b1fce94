"""How steady a float lies, upright and with people at its edge."""

from collections.abc import Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np

from lakemap.basis.errors import RangeError
from lakemap.basis.published import exact
from lakemap.basis.records import Float, FloatArray, IntArray
from lakemap.basis.working import Formula, Step, Term
from lakemap.loads.people import PERSON_KG
from lakemap.rig.edge_load import edge_load
from lakemap.rig.float_defaults import Flotation
from lakemap.rig.heave import HEAVE_PERIOD, ROLL_PERIOD, ROLL_RADIUS, added_mass
from lakemap.rig.layout import Layout, layout
from lakemap.rig.tilt import Profile, Tipping
from lakemap.rig.upright import BM, GM, Upright, upright

DECK_M = exact(
    0.12, "m", "ours: as a worked deck of 3 by 3 m has it", "thickness, planks and frame"
)
PERSON_CENTRE_M = exact(1.0, "m", "ours: the centre of somebody who stands", "above the deck")
STAND_M = exact(0.2, "m", "ours: as near as people stand to a deck's edge", "their feet's middle")
_CHUNK: Final = 2000  # floats at once: their arrays stay in the cache
_BODY: Final = MappingProxyType(
    {
        "tubes": Term(symbol="tubes", name="1 tubes, 0 billets", unit=""),
        "count": Term(symbol="n", name="how many", unit=""),
        "length_m": Term(symbol="L", name="length of one", unit="m"),
        "breadth_m": Term(symbol="b", name="tube diameter or billet width", unit="m"),
        "height_m": Term(symbol="D", name="tube diameter or billet height", unit="m"),
        "weight_kg": Term(symbol="m", name="weight of the float", unit="kg"),
        "long_m": Term(symbol="l", name="longer side of the deck", unit="m"),
        "short_m": Term(symbol="w", name="shorter side of the deck", unit="m"),
    }
)
_LOADED: Final = MappingProxyType(
    {**_BODY, "people_kg": Term(symbol="P", name="people at the edge", unit="kg")}
)
_SLACK: Final = 1e-6  # of a person, for whole ones


@dataclass(frozen=True, slots=True, kw_only=True)
class Stability:
    """How steady every float lies; shape [n], in file order. NaN: it cannot carry itself.

    At the float's own weight with nothing hanging, but for the three of people at the edge.
    """

    gm_m: FloatArray  # the lesser of the two
    gm_transverse_m: FloatArray
    gm_long_m: FloatArray
    kb_m: FloatArray
    kg_m: FloatArray
    heel_deg: FloatArray  # half of the people, rounded up, at the worst edge; NaN goes under
    edge_people_max: IntArray  # at the worst edge, with that edge dry
    least_freeboard_m: FloatArray  # of the deck's top at that edge, with them; NaN goes under
    heave_period_s: FloatArray
    roll_period_s: FloatArray  # NaN where GM is not above 0
    added_mass_kg: FloatArray
    waterplane_m2: FloatArray
    steps: tuple[Step, ...]


def tippings(flotation: Flotation, laid: Layout) -> tuple[Tipping, Tipping]:
    """Return how floats tip sidewise, over their long edge, and lengthwise, over their short one.

    The weight stands at half the deck's height; people stand 0.2 m in from the edge. The deck is
    not counted as buoyant.

    Parameters
    ----------
    flotation : Flotation
        Of n floats, all on tubes or all on billets.
    laid : Layout
        Where it lies.

    Returns
    -------
    tuple of Tipping
        Sidewise and lengthwise.
    """
    tubes = bool(flotation.tubes[0])
    own = {"weight_kg": flotation.weight_kg, "centre_m": _centre(flotation.height_m)}
    top = flotation.height_m + DECK_M.value

    def over(profile: Profile, side: FloatArray) -> Tipping:
        return Tipping(
            profile=profile,
            edge_m=side / 2,
            deck_top_m=top,
            stand_m=np.maximum(side / 2 - STAND_M.value, 0.0),
            person_centre_m=top + PERSON_CENTRE_M.value,
            **own,
        )

    sidewise = Profile(
        kind="end on" if tubes else "box",
        offset_m=laid.across.offset_m,
        pieces=laid.across.pieces,
        extent_m=flotation.breadth_m,
        span_m=flotation.length_m,
        height_m=flotation.height_m,
    )
    lengthwise = Profile(
        kind="lengthwise" if tubes else "box",
        offset_m=laid.along.offset_m,
        pieces=laid.along.pieces,
        extent_m=flotation.length_m,
        span_m=flotation.breadth_m,
        height_m=flotation.height_m,
    )
    return over(sidewise, laid.short_m), over(lengthwise, laid.long_m)


def _worst_edge(**terms: FloatArray) -> FloatArray:
    """Tilt, freeboard and the most that the edge takes, of the worse edge; [3, ...]."""
    arrays = np.broadcast_arrays(*(terms[name] for name in _LOADED))
    rows, back = np.unique(
        np.stack([one.ravel() for one in arrays], axis=1), axis=0, return_inverse=True
    )
    found = np.empty((3, len(rows)))
    for tubes in (False, True):
        kind = np.flatnonzero((rows[:, 0] > 0) == tubes)
        for start in range(0, len(kind), _CHUNK):
            part = kind[start : start + _CHUNK]
            found[:, part] = _worse(*rows[part].T)
    return found[:, back.ravel()].reshape(3, *arrays[0].shape)


def _worse(*columns: FloatArray) -> FloatArray:
    of = dict(zip(_LOADED, columns, strict=True))
    flotation = Flotation(
        tubes=of["tubes"] > 0,
        count=of["count"],
        length_m=of["length_m"],
        breadth_m=of["breadth_m"],
        height_m=of["height_m"],
        weight_kg=of["weight_kg"],
        assumed=(),
    )
    laid = layout(flotation, length_m=of["long_m"], width_m=of["short_m"])
    side, end = (edge_load(one, people_kg=of["people_kg"]) for one in tippings(flotation, laid))
    return np.stack(
        [
            np.maximum(side.tilt_deg, end.tilt_deg),  # NaN wins
            np.minimum(side.freeboard_m, end.freeboard_m),
            np.minimum(side.most_kg, end.most_kg),
        ]
    )


def _whole_people(most_kg: FloatArray, person_kg: FloatArray | float) -> FloatArray:
    people: FloatArray = np.floor(most_kg / person_kg + _SLACK)
    return people


HEEL: Final = Formula(
    key="heel",
    name="Tilt with half of the people at the worst edge",
    symbol="φ",
    words="righting arm GZ(φ) = 0 with the people at the edge, exact; the worse of side and end",
    unit="deg",
    source="statics and Euclidean geometry; where the pieces lie is ours",
    terms=_LOADED,
    law=lambda **terms: _worst_edge(**terms)[0],
    valid="the deck's edge above water, else it goes under; the deck itself not counted as buoyant",
)
EDGE_PEOPLE: Final = Formula(
    key="edge_people",
    name="Most people at the worst edge",
    symbol="n",
    words="n = ⌊P/m_p⌋, P the greatest weight there that balances with the edge dry",
    unit="",
    source="statics and Euclidean geometry; where the pieces lie is ours",
    terms={**_BODY, "person_kg": Term(symbol="m_p", name="one person", unit="kg")},
    law=lambda person_kg, **body: _whole_people(
        _worst_edge(people_kg=np.zeros(1), **body)[2], person_kg
    ),
)


def stability(floats: Sequence[Float], flotation: Flotation, *, people: int) -> Stability:
    """Return how steady every float lies.

    Parameters
    ----------
    floats : sequence of Float
        As read.
    flotation : Flotation
        Of the same floats, nothing blank.
    people : int
        Aboard at once, 185 lb each; half of them, rounded up, stand at the worst edge.

    Returns
    -------
    Stability
        Arrays in file order.

    Raises
    ------
    RangeError
        If there are fewer than no people.
    """
    if people < 0:
        raise RangeError(f"{people} people: need 0 or more")
    laid = layout(
        flotation,
        length_m=np.array([one.length_m for one in floats], dtype=np.float64),
        width_m=np.array([one.width_m for one in floats], dtype=np.float64),
    )
    kg = _centre(flotation.height_m)
    level = upright(flotation, laid, mass_kg=flotation.weight_kg, kg_m=kg)
    added, added_steps = added_mass(flotation, laid)
    bm, gm, heave, roll = _told(flotation, laid, level, added)
    edge, edge_steps = _edges(flotation, laid, -(-people // 2) * PERSON_KG)
    return Stability(
        gm_m=gm.value,
        gm_transverse_m=level.gm_transverse_m,
        gm_long_m=level.gm_long_m,
        kb_m=level.kb_m,
        kg_m=kg,
        heel_deg=edge[0],
        edge_people_max=edge_steps[1].value.astype(np.int64),
        least_freeboard_m=edge[1],
        heave_period_s=heave.value,
        roll_period_s=roll.value,
        added_mass_kg=added,
        waterplane_m2=level.waterplane_m2,
        steps=(bm, gm, *edge_steps, *added_steps, heave, roll),
    )


def _told(
    flotation: Flotation, laid: Layout, level: Upright, added_kg: FloatArray
) -> tuple[Step, Step, Step, Step]:
    """BM and GM, the lesser of both ways; the periods of heave and roll."""
    bm = BM(
        inertia_m4=np.minimum(level.inertia_transverse_m4, level.inertia_long_m4),
        volume_m3=level.volume_m3,
    )
    return (
        bm,
        GM(kb_m=level.kb_m, bm_m=bm.value, kg_m=_centre(flotation.height_m)),
        HEAVE_PERIOD(
            mass_kg=flotation.weight_kg, added_kg=added_kg, waterplane_m2=level.waterplane_m2
        ),
        ROLL_PERIOD(radius=ROLL_RADIUS.value, breadth_m=laid.short_m, gm_m=level.gm_transverse_m),
    )


def _edges(
    flotation: Flotation, laid: Layout, people_kg: float
) -> tuple[FloatArray, tuple[Step, Step]]:
    body = {
        name: getattr(laid if name in {"long_m", "short_m"} else flotation, name) for name in _BODY
    }
    body["tubes"] = flotation.tubes.astype(np.float64)
    at_edge = np.full(len(flotation.count), people_kg)
    found = _worst_edge(**body, people_kg=at_edge)
    steps = (
        HEEL.told(found[0], **body, people_kg=at_edge),
        EDGE_PEOPLE.told(_whole_people(found[2], PERSON_KG), **body, person_kg=PERSON_KG),
    )
    return found, steps


def _centre(height_m: FloatArray) -> FloatArray:
    """Of a float's own weight: half the deck's thickness above the flotation (ours)."""
    return height_m + DECK_M.value / 2
