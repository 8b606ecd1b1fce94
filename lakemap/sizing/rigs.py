"""The rigs of a field as arrays: what hangs in the water, at which level, how stiff it is."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from lakemap.basis.published import FRESH_WATER_KG_M3, GRAVITY_M_S2
from lakemap.basis.records import FloatArray
from lakemap.basis.working import Step
from lakemap.rig.blocks import PRIMARY_WET, SECONDARY_WET, BlockWeight, Clusters
from lakemap.rig.chain import CHAIN_STIFFNESS, CHAIN_WEIGHT, weight_in_water
from lakemap.rig.holding import LineRig
from lakemap.rig.parts import RigParts
from lakemap.rig.records import Cluster, Placement
from lakemap.rig.snatch import LINE_STIFFNESS, secondary_inertia

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
    return secondary_inertia(cluster.dry_n / GRAVITY_M_S2.value, volume_m3=displaced_m3(cluster))


def rigs_of(
    parts: Sequence[RigParts], placement: Placement, weights: Clusters
) -> tuple[Rigs, tuple[Step, ...]]:
    """Return the rigs of a field as arrays.

    Parameters
    ----------
    parts : sequence of RigParts
        One for each float.
    placement : Placement
        Of the same floats.
    weights : Clusters
        Of the same floats.

    Returns
    -------
    Rigs
        In the order of the floats; NaN where a length is not known.
    tuple of Step
        The working of weights and stiffness.
    """
    absorber = _absorbers(parts, placement)
    bars = CHAIN_STIFFNESS.told(
        np.array([one.chain_ea_n for one in parts]),
        bar_m=np.array([one.chain.bar_m for one in parts]),
    )
    stiffness = LINE_STIFFNESS(
        cable_ea_n=_cable_ea(parts),
        absorber_m=absorber,
        chain_ea_n=bars.value,
        chain_m=placement.riser_m - absorber,
    )
    chain = CHAIN_WEIGHT(mass_kg_m=_chain_masses(parts))
    blocks = [
        formula.told(cluster.wet_n, dry_n=cluster.dry_n, displaced_m3=displaced_m3(cluster))
        for formula, cluster in (
            (PRIMARY_WET, weights.primary),
            (SECONDARY_WET, weights.secondary),
        )
    ]
    rigs = Rigs(
        parts=tuple(parts),
        primary=weights.primary,
        secondary=weights.secondary,
        drop_m=placement.depth_m - placement.hook_depth_m[:, None],
        ground_m=placement.ground_m,
        riser_m=placement.riser_m,
        ground_weight_n_m=chain.value,
        riser_weight_n_m=line_weights(parts, placement)[1],
        stiffness_n_m=stiffness.value,
        secondary_kg=cluster_inertia(weights.secondary),
    )
    return rigs, (*blocks, chain, bars, stiffness)


def line_weights(parts: Sequence[RigParts], placement: Placement) -> tuple[FloatArray, FloatArray]:
    """Return what ground chains and risers weigh in water.

    Parameters
    ----------
    parts : sequence of RigParts
        One for each float.
    placement : Placement
        Of the same floats.

    Returns
    -------
    tuple of ndarray, shape [n]
        Ground chain, and riser with its absorber spread over its length [N/m].
    """
    chain = weight_in_water(_chain_masses(parts))
    cable = weight_in_water(
        np.array([0.0 if one.absorber is None else one.absorber.mass_kg_m for one in parts])
    )
    share = np.divide(
        _absorbers(parts, placement),
        placement.riser_m,
        out=np.zeros(len(parts)),
        where=placement.riser_m > 0,
    )
    return chain, chain + share * (cable - chain)


def _chain_masses(parts: Sequence[RigParts]) -> FloatArray:
    return np.array([one.chain.mass_kg_m for one in parts])


def _absorbers(parts: Sequence[RigParts], placement: Placement) -> FloatArray:
    """Length of the absorber in each riser; none is longer than its riser."""
    lengths = [0.0 if one.absorber is None else one.absorber.length_m for one in parts]
    shorter: FloatArray = np.minimum(lengths, placement.riser_m)
    return shorter


def _cable_ea(parts: Sequence[RigParts]) -> FloatArray:
    """Axial stiffness of the absorbers; one that the owner knows goes before the cable's."""
    found = []
    for one in parts:
        absorber = one.absorber
        if absorber is None:
            found.append(np.inf)
        elif absorber.given_stiffness_n_m is None:
            found.append(absorber.stiffness_ea_n)
        else:
            found.append(absorber.given_stiffness_n_m * absorber.length_m)
    return np.array(found, dtype=np.float64)
