"""Rows of a float's panel that not every float has."""

from conftest import make_field, make_float

from lakemap.mapping import assess
from lakemap.outputs.words.rig_rows import rig_rows
from lakemap.outputs.words.texts import ENGLISH


def test_a_position_of_its_own_accuracy_is_told_and_only_then():
    assessment = assess(make_field([make_float("A", position_error_m=0.71)]))
    rows = {row[0]: row[1] for row in rig_rows(assessment.floats[0], assessment, ENGLISH)}
    assert rows["Its own position, good to"] == "0.71 m"
    plain = assess(make_field([make_float("A")]))
    assert not any("position" in row[0] for row in rig_rows(plain.floats[0], plain, ENGLISH))
