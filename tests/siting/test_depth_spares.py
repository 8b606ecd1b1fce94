"""What the depth rules leave at many places is what the check says of one float there."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
from conftest import HERE, make_settings
from spot_fields import new_float, sloping, spot_field_in

from lakemap.basis.records import Rule
from lakemap.mapping import assess
from lakemap.siting.margins import BED, JUMP, depth_spares, jump_spare
from lakemap.siting.spots import spots_at

RULES = {
    "bed": Rule(kind="bed", limit=0.5, source=""),
    "jump_depth": Rule(kind="jump_depth", limit=2.0, source="", beyond_m=1.0),
}


def test_spares_are_those_of_the_check_though_the_walk_circle_decides():
    """On a nearly level bed a cluster, a foot high, leaves less than the water around."""
    field = sloping(settings=make_settings(rules=MappingProxyType(RULES)), seed=4)
    xy, like = np.random.default_rng(2).uniform(-60, 60, (25, 2)), new_float()
    spots_field = spot_field_in(field, like)
    spots = spots_at(spots_field, xy)
    lon, lat = HERE.to_lonlat(*xy.T)
    new = tuple(
        replace(like, float_id=f"n{k}", lon=east, lat=north)
        for k, (east, north) in enumerate(zip(lon.tolist(), lat.tolist(), strict=True))
    )
    checked = assess(replace(field, floats=new)).floats
    found = dict(depth_spares(spots_field, spots.at))
    for kind, which in (("bed", BED), ("jump_depth", JUMP)):
        asked = [next(c.spare_m for c in one.clearances if c.kind == kind) for one in checked]
        assert found[which] == pytest.approx(asked, abs=1e-6)
        quick = dict(depth_spares(spots_field, spots.at, sign_only=True))[which]
        assert (np.sign(quick) == np.sign(found[which])).all()
        assert (quick <= found[which] + 1e-9).all()
    assert jump_spare(spots_field, spots) == pytest.approx(found[JUMP])
