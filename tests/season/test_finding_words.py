"""What the words of a finding say."""

import pytest

from lakemap.season.upkeep.finding_words import finding_kind, is_corroded


@pytest.mark.parametrize(
    ("finding", "kind"),
    [
        ("good", "good"),
        ("OK", "good"),
        ("looks like new", "good"),
        ("worn", "worn"),
        ("rusty, thin at the bend", "worn"),
        ("bent", "out"),
        ("Broken", "out"),
        ("missing", "out"),
        ("to be replaced", "out"),
        ("replace", "out"),
        ("replaced", "replaced"),
        ("worn, replaced", "replaced"),
        ("new", "replaced"),
        ("moved", "moved"),
        ("dragged, shackle bent", "out"),
        ("not worn", "other"),
        ("good, not worn", "good"),
        ("no rust, good", "good"),
        ("never replaced", "other"),
        ("mussels on it", "other"),
        (None, "other"),
        ("", "other"),
    ],
)
def test_findings(finding, kind):
    assert finding_kind(finding) == kind


@pytest.mark.parametrize(
    ("finding", "corroded"),
    [("rusty", True), ("corroded", True), ("no rust", False), ("worn", False), (None, False)],
)
def test_rust_is_told_from_wear(finding, corroded):
    assert is_corroded(finding) is corroded
