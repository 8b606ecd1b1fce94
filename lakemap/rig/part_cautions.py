"""What to watch in a rig's parts: unknown strengths, unlike metals, bends, uneven legs."""

from collections.abc import Sequence
from itertools import pairwise

from lakemap.basis.records import Units
from lakemap.basis.wording import force_text
from lakemap.rig.absorber import Absorber
from lakemap.rig.chain import ChainBuild
from lakemap.rig.chain_tables import CHAIN_WEIGHT_SPREAD
from lakemap.rig.ends_and_bends import THIMBLE_D_D, bend_share
from lakemap.rig.metals import couple
from lakemap.rig.part_records import Part


def part_cautions(
    parts: Sequence[Part], absorber: Absorber | None, chain: ChainBuild, *, units: Units
) -> tuple[str, ...]:
    """Return what to watch in the parts of one rig.

    Parameters
    ----------
    parts : sequence of Part
        Hook to primary.
    absorber : Absorber or None
        Of that rig.
    chain : ChainBuild
        Of that rig.
    units : {'ft-lb', 'm-kg'}
        What people use.

    Returns
    -------
    tuple of str
        Whole sentences, each once.
    """
    said = [*_unknown(parts), *_metals(parts)]
    if absorber is not None:
        said += [*_bends(absorber), *_legs(absorber, units), *_ends(absorber)]
    if not chain.printed:
        said.append(
            "The chain's weight is in no table: reckoned from the usual shape of its links, within"
            f" {CHAIN_WEIGHT_SPREAD.value * 100:g} % at best; weigh a piece."
        )
    return tuple(dict.fromkeys(said))


def _unknown(parts: Sequence[Part]) -> list[str]:
    return [
        f"No published strength for {part.name} {part.size}: its maker's mark decides, and it is"
        " left out of the weak link."
        for part in parts
        if not part.known
    ]


def _metals(parts: Sequence[Part]) -> list[str]:
    """Neighbours of unlike metals, each pair of metals once."""
    said: dict[tuple[str, str], str] = {}
    for upper, lower in pairwise(parts):
        # each carries the whole load
        found = couple(upper.metal, lower.metal, goes_is_small=True)
        if found.level != "good":
            said.setdefault(
                (found.goes, found.stays),
                f"{upper.name.capitalize()} ({upper.metal}) touches {lower.name} ({lower.metal}):"
                f" {found.apart_mv:g} mV apart in the galvanic series, so the {found.goes} part"
                " corrodes; keep to one metal, or isolate them with sleeves and washers.",
            )
    return list(said.values())


def _bends(one: Absorber) -> list[str]:
    if one.ends != "bare pin":
        return []
    thimble = float(bend_share(THIMBLE_D_D.value).share)
    tight = " Tighter than any bend in print." if one.bend_too_tight else ""
    return [
        f"On a bare pin (D/d {one.bend_d_d:.2g}) the absorber's cable keeps"
        f" {one.bend_share * 100:.0f} % of its strength; in a thimble of {THIMBLE_D_D.value:g}"
        f" cable diameters it keeps {thimble * 100:.0f} %.{tight}"
    ]


def _legs(one: Absorber, units: Units) -> list[str]:
    if one.legs <= one.counted_legs:
        return []
    both = ""
    if one.source:
        low, high = (
            force_text(force, units, rounding="down")
            for force in (one.breaking_n, one.breaking_all_n)
        )
        both = f": {low} instead of {high}"
    return [
        f"The absorber's {one.legs} parts of cable count as {one.counted_legs}{both}; parts of"
        " unlike length don't share the pull."
    ]


def _ends(one: Absorber) -> list[str]:
    said = []
    if one.ends in {"clips", "bare pin"}:
        said.append(
            "Eyes made with clips are no lifting slings (29 CFR 1926.251): never lift with the"
            " absorber."
        )
        if one.finish == "stainless":
            apart = couple("galvanised", "stainless", goes_is_small=True).apart_mv
            said.append(
                "Stainless cable wants stainless clips and thimbles: galvanised ones corrode on it"
                f" ({apart:g} mV apart)."
            )
    return said
