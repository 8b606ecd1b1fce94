"""How good one float's position is: read, counted in the check, kept wherever floats go."""

import csv
from dataclasses import replace

import numpy as np
import pytest
from conftest import make_field, make_float

from lakemap.basis.errors import BadInputError
from lakemap.changes.columns import column_changes
from lakemap.exporting.export import export
from lakemap.inputs.folder import read_field
from lakemap.lake.projection import LakeProjection
from lakemap.mapping import assess
from lakemap.planner.planned import Base, planned
from lakemap.saving.floats import save_floats
from lakemap.saving.records import FloatChange
from lakemap.saving.stamps import stamp_of
from lakemap.sites import template

FT = 0.3048
HEAD = "float_id,lon,lat,length_ft,width_ft,depth_ft,position_error_ft\n"
FLOATS = f"{HEAD}1,-37.005,41.005,10,8,10,4\n2,-37.004,41.006,12,10,12,\n"


def to(one, kind, against=None):
    return next(c for c in one.clearances if c.kind == kind and against in (None, c.against))


def test_it_counts_in_the_check_by_hand(square):
    # of A and B without it: own^2 = 1 + 0.02136 + 0.01554, lambda 0.07403 (tests/clearances); A's
    # own 3 m takes the place of the field's 1 m
    a, *others = square.floats
    field = replace(square, floats=(replace(a, position_error_m=3.0), *others))
    found = {one.record.float_id: one for one in assess(field).floats}
    own = 9 + 0.02136 + 0.01554
    pair = 2 * np.sqrt(own + 1.03690 + (2 * 0.07403) ** 2)
    assert to(found["A"], "float", "B").uncertainty_m == pytest.approx(pair, abs=1e-4)
    assert to(found["B"], "float", "A").uncertainty_m == pytest.approx(pair, abs=1e-4)
    shore = 2 * np.sqrt(own + 1 + 0.07403**2)
    assert to(found["A"], "shore").uncertainty_m == pytest.approx(shore, abs=1e-4)
    # gaps and spares are what they were, and the others' shores too
    plain = {one.record.float_id: one for one in assess(square).floats}
    assert to(found["A"], "shore").gap_m == to(plain["A"], "shore").gap_m
    assert to(found["B"], "shore") == to(plain["B"], "shore")


def test_a_surer_position_turns_tight_into_clear(square):
    # 25.5 m apart: spare 2.5 m; uncertain by 2.9 m with 1 m on either side, by 0.7 m with 0.1 m
    near = [make_float("A"), make_float("B", 25.5)]
    sure = [replace(one, position_error_m=0.1) for one in near]
    verdicts = [
        [one.verdict for one in assess(make_field(floats)).floats] for floats in (near, sure)
    ]
    assert verdicts == [["tight", "tight"], ["clear", "clear"]]


def test_it_is_read_with_its_unit(folder):
    one, other = read_field(folder(floats__csv=FLOATS)).floats
    assert one.position_error_m == pytest.approx(4 * FT)
    assert other.position_error_m is None
    with pytest.raises(BadInputError, match=r"floats.csv row 2 position_error_ft: .*0"):
        read_field(folder(floats__csv=FLOATS.replace("10,4\n", "10,0\n")))
    bare = FLOATS.replace("position_error_ft", "position_error")
    with pytest.raises(BadInputError, match="write position_error_ft"):
        read_field(folder(floats__csv=bare))


def test_it_is_saved_and_blanked(folder):
    here = folder(floats__csv=FLOATS)
    changes = [
        FloatChange(float_id="1", values={"position_error": None}),
        FloatChange(float_id="2", values={"position_error": 2 * FT}),
    ]
    save_floats(here, read_field(here), changes, stamp=stamp_of(here))
    one, other = read_field(here).floats
    assert one.position_error_m is None
    assert other.position_error_m == pytest.approx(2 * FT)
    plain = folder()
    save_floats(plain, read_field(plain), changes[1:], stamp=stamp_of(plain))
    head = (plain / "floats.csv").read_text(encoding="utf-8").splitlines()[0]
    assert head.endswith(",position_error_ft")


def test_it_goes_out_and_comes_in(folder, tmp_path):
    here = folder(floats__csv=FLOATS)
    export(assess(read_field(here)), tmp_path / "out.csv", owners=False)
    with (tmp_path / "out.csv").open(encoding="utf-8", newline="") as file:
        first = next(csv.DictReader(file))
    assert float(first["position_error_ft"]) == pytest.approx(4)
    export(assess(read_field(here)), tmp_path / "floats.gpkg", owners=False)
    (here / "floats.csv").unlink()
    (here / "floats.gpkg").write_bytes((tmp_path / "floats.gpkg").read_bytes())
    one = read_field(here).floats[0]
    assert one.position_error_m == pytest.approx(4 * FT)


def test_a_change_of_it_is_told(folder):
    one = read_field(folder(floats__csv=FLOATS)).floats[0]
    (change,) = column_changes(one, replace(one, position_error_m=None), owners=False)
    assert (change.column, change.unit, change.old, change.new) == (
        "position_error", "m", pytest.approx(4 * FT), None,
    )  # fmt: skip


def test_another_place_has_another_one(folder):
    here = folder(floats__csv=FLOATS)
    field = read_field(here)
    base = Base(field=field, projection=LakeProjection.centred_on(field.lake), sounded=False)
    moved = planned(base, {"1": {"x": 10.0, "y": 20.0}}).floats[0]
    assert moved.position_error_m is None
    assert planned(base, {"1": {"depth": "11 ft"}}).floats[0].position_error_m == pytest.approx(
        4 * FT
    )
    assert template(assess(field), like="1").position_error_m is None
