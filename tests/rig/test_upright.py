"""Floats that lie level: closed forms, and second moments by a general library."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from clipped import level_at, wet
from conftest import make_float
from hypothesis import given
from hypothesis import strategies as st

from lakemap.rig.float_defaults import fill_flotation
from lakemap.rig.layout import Layout, Rows, layout
from lakemap.rig.tilt import Profile
from lakemap.rig.upright import BM, GM, upright


def of(one, *, mass, kg=0.6):
    flotation = fill_flotation([one])
    laid = layout(flotation, length_m=np.array([one.length_m]), width_m=np.array([one.width_m]))
    return upright(flotation, laid, mass_kg=np.array([mass]), kg_m=np.array([kg])), laid


def box(length, width, height, **more):
    sides = {"billet_length_m": length, "billet_width_m": width, "billet_height_m": height}
    return make_float("b", flotation="billets", **{"billets": 1} | sides | more)


TUBES = make_float(
    "t", length_m=3.0, width_m=3.0, flotation="tubes", tubes=2, tube_diameter_m=0.5, tube_length_m=3.0
)  # fmt: skip


@given(st.floats(0.5, 6.0), st.floats(0.5, 3.0), st.floats(0.05, 0.95), st.floats(0.0, 2.0))
def test_one_box(length, width, share, kg):
    # KB = d/2, BM = b^2/(12 d)
    draft = 0.6 * share
    level, _ = of(box(length, width, 0.6), mass=1000 * length * width * draft, kg=kg)
    assert level.draft_m[0] == pytest.approx(draft, rel=1e-9)
    assert level.waterplane_m2[0] == pytest.approx(length * width)
    assert level.gm_transverse_m[0] == pytest.approx(draft / 2 + width**2 / (12 * draft) - kg)
    assert level.gm_long_m[0] == pytest.approx(draft / 2 + length**2 / (12 * draft) - kg)


def second_moment(polygons, axis):
    """Of an area about x or y, by a fan of triangles: sum of area (a^2 + b^2 + c^2 + ...)/6."""
    total = 0.0
    for polygon in polygons:
        at = shapely.get_coordinates(polygon)
        x, y = at[:, axis], at[:, 1 - axis]
        cross = x[:-1] * y[1:] - x[1:] * y[:-1]
        total += abs((cross * (x[:-1] ** 2 + x[:-1] * x[1:] + x[1:] ** 2)).sum()) / 12
    return total


@pytest.mark.parametrize("count", [1, 2, 3, 4, 5, 6, 7])
def test_second_moments_by_polygons(count):
    one = box(0.9, 0.5, 0.3, billets=count, length_m=4.0, width_m=3.0)
    level, _ = of(one, mass=count * 60.0)
    # by hand: where the pieces lie, pairs along the 4 m, an odd one in the middle
    pairs = count // 2
    at = [(x, y) for x in (np.linspace(-1.55, 1.55, pairs) if pairs > 1 else [0.0] * pairs)
          for y in (-1.25, 1.25)] + [(0.0, 0.0)] * (count % 2)  # fmt: skip
    pieces = [shapely.box(x - 0.45, y - 0.25, x + 0.45, y + 0.25) for x, y in at]
    assert level.inertia_long_m4[0] == pytest.approx(second_moment(pieces, 0), rel=1e-9)
    assert level.inertia_transverse_m4[0] == pytest.approx(second_moment(pieces, 1), rel=1e-9)
    assert level.waterplane_m2[0] == pytest.approx(shapely.area(pieces).sum())


@pytest.mark.parametrize("kind", ["end on", "lengthwise", "box"])
def test_bm_is_how_fast_the_centroid_moves(kind):
    # tip by half a degree each way with polygons: level distance over sin a is KB + BM
    boxes = box(1.5, 0.5, 0.4, billets=4, length_m=4.0, width_m=3.0)
    one, mass = (boxes, 700.0) if kind == "box" else (TUBES, 480.0)
    level, laid = of(one, mass=mass)
    rows = laid.along if kind == "lengthwise" else laid.across
    size = np.array([0.5]), np.array([1.5 if kind == "box" else 3.0])
    extent, span = size[::-1] if kind == "lengthwise" else size
    profile = Profile(
        kind=kind, offset_m=rows.offset_m, pieces=rows.pieces, extent_m=extent, span_m=span,
        height_m=np.array([0.4 if kind == "box" else 0.5]),
    )  # fmt: skip
    angle = np.radians(0.5)
    volume, moment, _ = wet(profile, angle, level_at(profile, angle, mass))
    bm = level.bm_long_m[0] if kind == "lengthwise" else level.bm_transverse_m[0]
    assert moment / volume / np.sin(angle) == pytest.approx(level.kb_m[0] + bm, rel=1e-3)


@given(st.floats(100.0, 1100.0), st.floats(0.1, 60.0))
def test_more_weight_never_lies_higher(mass, more):
    light, heavy = (of(TUBES, mass=m)[0] for m in (mass, mass + more))
    assert heavy.draft_m[0] >= light.draft_m[0]
    assert heavy.kb_m[0] >= light.kb_m[0]


def test_a_turned_or_mirrored_float_is_the_same():
    boxes = box(1.0, 0.5, 0.4, billets=5, length_m=4.0, width_m=3.0)
    level, laid = of(boxes, mass=500.0)
    turned, _ = of(replace(boxes, length_m=3.0, width_m=4.0), mass=500.0)
    mirrored = Layout(
        across=Rows(offset_m=-laid.across.offset_m, pieces=laid.across.pieces),
        along=Rows(offset_m=-laid.along.offset_m, pieces=laid.along.pieces),
        long_m=laid.long_m,
        short_m=laid.short_m,
    )
    other = upright(
        fill_flotation([boxes]), mirrored, mass_kg=np.array([500.0]), kg_m=np.array([0.6])
    )
    for name in ("gm_transverse_m", "gm_long_m", "kb_m", "draft_m"):
        assert getattr(turned, name)[0] == pytest.approx(getattr(level, name)[0])
        assert getattr(other, name)[0] == pytest.approx(getattr(level, name)[0])


def test_what_cannot_float_is_not_known():
    level, _ = of(TUBES, mass=1200.0)
    for name in level.__dataclass_fields__:
        assert np.isnan(getattr(level, name)[0]), name


def test_formulas_keep_their_working():
    bm = BM(inertia_m4=[1.2, 2.4], volume_m3=0.48)
    assert bm.value.tolist() == pytest.approx([2.5, 5.0])
    gm = GM(kb_m=0.1, bm_m=bm.value, kg_m=0.6)
    assert gm.value.tolist() == pytest.approx([2.0, 4.5])
    assert gm.given["kg_m"].tolist() == [0.6, 0.6]
