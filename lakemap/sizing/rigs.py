"""The rigs of a field as arrays: what hangs in the water, at which level, how stiff it is."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from lakemap.basis.published import FRESH_WATER_KG_M3, GRAVITY_M_S2
from lakemap.basis.records import Float, FloatArray, Units
from lakemap.rig.blocks import BlockWeight
from lakemap.rig.holding import LineRig
from lakemap.rig.parts import RigParts, rig_parts
from lakemap.rig.records import Cluster, Placement
from lakemap.rig.snatch import line_stiffness, secondary_inertia

_WATER_N_M3 = FRESH_WATER_KG_M3.value * GRAVITY_M_S2.value


@dataclass(frozen=True, slots=True, kw_only=True)
class Rigs:
    """Every float's rig; shape [n], or [n, 3] at low, normal and high water."""

    parts: tuple[RigParts, ...]  # one for each float; floats rigged alike share theirs
    primary: Cluster
    secondary: Cluster
    drop_m: FloatArray  # [n, 3]
    ground_m: FloatArray
    riser_m: FloatArray
    ground_weight_n_m: FloatArray  # in water
    riser_weight_n_m: FloatArray
    stiffness_n_m: FloatArray  # of the taut riser
    secondary_kg: FloatArray  # inertia: dry mass and the water that moves with it

    def line(self, level: int, *, secondary_wet_n: FloatArray | None = None) -> LineRig:
        """Return what the statics need, at one lake level.

        Parameters
        ----------
        level : int
            0 low, 1 normal, 2 high.
        secondary_wet_n : ndarray or None
            Another secondary's weight in water [N].

        Returns
        -------
        LineRig
            Shape [n]; a secondary that floats counts as none.
        """
        wet = self.secondary.wet_n if secondary_wet_n is None else secondary_wet_n
        return LineRig(
            drop_m=self.drop_m[:, level],
            ground_m=self.ground_m,
            riser_m=self.riser_m,
            ground_weight_n_m=self.ground_weight_n_m,
            riser_weight_n_m=self.riser_weight_n_m,
            secondary_wet_n=np.maximum(wet, 0.0),
        )

    def with_clusters(self, primary: Cluster, secondary: Cluster) -> "Rigs":
        """Return the same rigs on other clusters.

        Parameters
        ----------
        primary, secondary : Cluster
            Of the same floats.

        Returns
        -------
        Rigs
            With the inertia of that secondary.
        """
        return replace(
            self, primary=primary, secondary=secondary, secondary_kg=cluster_inertia(secondary)
        )


def displaced_m3(weight: Cluster | BlockWeight) -> FloatArray:
    """Return how much water a weight displaces: what it loses under water.

    Parameters
    ----------
    weight : Cluster or BlockWeight
        With its weights dry and in water.

    Returns
    -------
    ndarray
        Volume [m3].
    """
    volume: FloatArray = (weight.dry_n - weight.wet_n) / _WATER_N_M3
    return volume


def cluster_inertia(cluster: Cluster) -> FloatArray:
    """Return what a cluster weighs against being jerked: dry mass and water moved along [kg].

    Parameters
    ----------
    cluster : Cluster
        Of n floats.

    Returns
    -------
    ndarray, shape [n]
        Mass [kg].
    """
    return secondary_inertia(
        cluster.dry_n / GRAVITY_M_S2.value, volume_m3=displaced_m3(cluster)
    )


def parts_of(floats: Sequence[Float], units: Units) -> tuple[RigParts, ...]:
    """Return the parts of every float's line; floats rigged alike are looked up once.

    Parameters
    ----------
    floats : sequence of Float
        As read.
    units : {'ft-lb', 'm-kg'}
        Which sizes a blank takes.

    Returns
    -------
    tuple of RigParts
        In file order.
    """
    known: dict[tuple[object, ...], RigParts] = {}
    found = []
    for one in floats:
        rigged = (
            one.fittings, one.cable, one.cable_parts, one.cable_ends, one.chain, one.chain_grade,
            one.absorber_length_m, one.absorber_stiffness_n_m,
        )  # fmt: skip
        if rigged not in known:
            known[rigged] = rig_parts(one, units=units)
        found.append(known[rigged])
    return tuple(found)
