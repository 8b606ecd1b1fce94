"""Which parts the words of volunteers mean."""

import pytest
from conftest import make_field, make_float
from upkept import RIG

from lakemap.basis.records import Fitting
from lakemap.mapping import assess
from lakemap.season.rig_inventory import inventory
from lakemap.season.upkeep.part_words import meant_by, nearest_part

FITTINGS = (
    Fitting(name="eye bolt", size="5/8 in"),
    Fitting(name="shackle", size="1/2 in", count=2),
    Fitting(name="stainless shackle", size="5/8 in"),
    Fitting(name="link", size="5/8 in"),
    Fitting(name="snap hook", size="3/8 in"),
)


@pytest.fixture(scope="module")
def rig():
    field = make_field([make_float("A", **RIG | {"fittings": FITTINGS})])
    return inventory(assess(field).floats[0], "m-kg")


@pytest.mark.parametrize(
    ("words", "names"),
    [
        ("chain", ["riser chain", "ground chain"]),
        ("Chains", ["riser chain", "ground chain"]),
        ("riser chain", ["riser chain"]),
        ("riser", ["riser chain"]),
        ("the upper chain", ["riser chain"]),
        ("ground chain", ["ground chain"]),
        ("bottom chain", ["ground chain"]),
        ("cable", ["absorber cable"]),
        ("shock absorber", ["absorber cable"]),
        ("wire rope", ["absorber cable"]),
        ("cable ends", ["sleeve", "thimble"]),
        ("both ends of the cable", ["sleeve", "thimble"]),
        ("thimbles", ["thimble"]),
        ("shackle", ["shackle", "stainless shackle"]),
        ("upper shackle", ["shackle", "stainless shackle"]),
        ("shackle pin", ["shackle", "stainless shackle"]),
        ("shackle 1/2 in", ["shackle"]),
        ('5/8" shackle', ["stainless shackle"]),
        ("stainless shackle", ["stainless shackle"]),
        ("shackle at the riser chain", ["shackle", "stainless shackle"]),
        ("ground chain shackle", ["shackle", "stainless shackle"]),
        ("eyebolt", ["eye bolt"]),
        ("eye-bolt", ["eye bolt"]),
        ("quick link", ["link"]),
        ("snap hook", ["snap hook"]),
        ("primary", ["primary blocks"]),
        ("primary blocks", ["primary blocks"]),
        ("secondary cluster", ["secondary blocks"]),
        ("blocks", ["secondary blocks", "primary blocks"]),
    ],
)
def test_words_mean_parts(rig, words, names):
    assert [rig[i].name for i in meant_by(words, rig).pieces] == names


@pytest.mark.parametrize(
    ("words", "unsure"),
    [("chain", True), ("blocks", True), ("riser chain", False), ("shackle", False)],
)
def test_a_word_for_two_parts_is_said_to_be_one(rig, words, unsure):
    assert meant_by(words, rig).unsure is unsure


def test_the_whole_rig_is_every_piece(rig):
    assert len(meant_by("whole rig", rig).pieces) == len(rig)
    assert meant_by("everything", rig).unsure is False


@pytest.mark.parametrize("words", ["deck", "reflectors", "float", "the ladder"])
def test_the_float_itself_is_no_part_of_its_rig(rig, words):
    found = meant_by(words, rig)
    assert (found.group, found.pieces) == ("float", ())


def test_a_part_that_the_rig_has_not_is_known_but_not_there(rig):
    found = meant_by("turnbuckle", rig)
    assert (found.group, found.pieces) == ("turnbuckle", ())
    sized = meant_by("shackle 1 in", rig)
    assert (sized.group, sized.pieces, sized.size) == ("shackle", (), "1 in")


@pytest.mark.parametrize(
    ("words", "near"),
    [
        ("schackle", "shackle"),
        ("swivle", "swivel"),
        ("gronud chain", "ground chain"),
        ("xyzzy", None),
    ],
)
def test_an_unknown_word_has_its_nearest(rig, words, near):
    if near != "ground chain":  # its last word is known
        assert meant_by(words, rig).group is None
    assert nearest_part(words) == near
