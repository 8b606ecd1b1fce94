"""What `sites` prints: the answer first, figures that never flatter, plain words for every rule."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from conftest import make_float
from sites_by_hand import (
    make_ask,
    make_assessment,
    make_capacity,
    make_site,
    make_sites,
    make_why,
    no_sites,
)

from lakemap.outputs.sites.closed import closed_classes, kind_words, share_text
from lakemap.outputs.sites.table import sites_table, why_table
from lakemap.outputs.sites.words import article, float_words, limit_words, place_text
from lakemap.outputs.web.page import page_html
from lakemap.siting.records import ClosedWater, Hindrance


@pytest.fixture(scope="module")
def assessment():
    return make_assessment()


@pytest.fixture(scope="module")
def in_feet():
    return make_assessment(units="ft-lb")


def flat(text):
    return " ".join(text.split())


def cells(text, first):
    """The cells of the table row that begins with a word."""
    line = next(line for line in text.splitlines() if line.split()[:1] == [first])
    return [cell for cell in line.split("  ") if cell.strip()]


def test_the_answer_is_the_first_sentence(assessment):
    text = flat(sites_table(assessment, make_sites()))
    assert text.startswith(
        "2 sites found for a 4 by 3 m float; 3 in all would fit, and no arrangement can hold more"
        " than 5. Riser and ground chain designed at each place."
    )
    assert "The bound of 5 rests on a theorem: a theorem of plane geometry (1900)." in text


def test_one_site_and_a_bound_that_is_met(assessment):
    sites = make_sites(sites=(make_site(),), capacity=make_capacity(3, 3))
    text = flat(sites_table(assessment, sites))
    assert text.startswith(
        "1 site found for a 4 by 3 m float; 3 in all would fit, and no arrangement can hold more."
    )


def test_figures_never_flatter(assessment, in_feet):
    row = [cell.strip() for cell in cells(sites_table(assessment, make_sites()), "1")]
    lon_lat = place_text(make_site().lat, make_site().lon)
    assert row == [
        "1", lon_lat, "6.50", "10.51", "1.23 m", "the shore", "0.21", "69.99", "7.00 m + 6.50 m", "0.66",
    ]  # fmt: skip
    # 1.2399 m are 4.0679 ft, 10.501 m are 34.4521 ft, 0.201 m are 0.6594 ft, 69.999 m are 229.656 ft
    row = [cell.strip() for cell in cells(sites_table(in_feet, make_sites()), "1")]
    assert row[2:9] == ["21.3", "34.5", "4.0 ft", "the shore", "0.7", "229.6", "23 ft + 21 ft 4 in"]


def test_positions_can_be_pasted_into_a_phone():
    assert place_text(-44.01234549, -72.5) == "-44.012345,-72.500000"


def test_the_score_stands_beside_its_parts_and_weights(assessment):
    text = sites_table(assessment, make_sites())
    head = next(line for line in text.splitlines() if "spare × 3" in line)
    assert " ".join(head.split()) == "rank spare × 3 shelter × 2 depth × 1 way × 1 line × 1 score"
    rows = [line.split() for line in text.splitlines() if line.split()[:1] == ["1"]]
    assert rows[1] == ["1", "0.85", "0.50", "1.00", "0.25", "0.00", "0.66"]
    for name in ("spare", "shelter", "depth", "way", "line"):
        assert f"{name}: " in text


@pytest.mark.parametrize(
    ("limited_by", "words"),
    [
        ("shore: lake", "the shore"),
        ("island: island 1", "Gull Rock"),
        ("swim_area: Beach", "Beach"),
        ("frontage: lot 3", "its own frontage"),
        ("bed: lake", "the bed"),
        ("jump_depth: lake", "depth for jumping"),
        ("shore_max: lake", "the farthest allowed from shore"),
        ("deck_area_max: deck", "the largest deck allowed"),
        ("12", "float 12"),
        ("A: north", "float A: north"),
        ("site 3", "site 3"),
    ],
)
def test_what_limits_a_site_in_plain_words(assessment, limited_by, words):
    field = replace(assessment.field, island_names=("Gull Rock",))
    assert limit_words(limited_by, field) == words


def test_the_deck_area_is_no_length(assessment):
    site = make_site(limited_by="deck_area_max: deck", least_spare_m=1.99)
    text = sites_table(assessment, make_sites(sites=(site, make_site(2))))
    assert "1.9 m²" in cells(text, "1")[4]


def test_a_site_that_nothing_limits_has_no_figure(assessment):
    site = make_site(limited_by="nothing", least_spare_m=np.inf)
    assert "  no limit  " in sites_table(assessment, make_sites(sites=(site,)))
    page = page_html(assessment, sites=make_sites(sites=(site,)))
    assert "No rule limits it." in page


def test_bars_are_as_long_as_what_fits(assessment):
    lines = sites_table(assessment, make_sites()).splitlines()
    bars = {line.split()[0]: line for line in lines if "#" in line}
    assert bars["0"].count("#") == 2 * bars["2"].count("#") == 40
    assert bars["2"].endswith("your rule")
    assert "your rule" not in bars["0"]
    assert bars["2"].split()[2:4] == ["3", "5"]


def test_what_else_would_change_the_count(assessment):
    text = sites_table(assessment, make_sites())
    assert [cell.strip() for cell in cells(text, "shorter")] == ["shorter lines", "4", "7"]
    assert "neighbour rule" not in text  # its distances stand in the plot


def test_nothing_allowed_tells_why_by_each_rule(assessment):
    text = sites_table(assessment, no_sites())
    assert flat(text).startswith(
        "No site for a 4 by 3 m float: nowhere in the lake do the rules allow one."
    )
    rows = {line[:20].strip(): line.split() for line in text.splitlines()}
    assert rows["allowed"][1:3] == ["0", "%"]
    assert "75" in rows["too near a float"]  # 30,000 of 40,000 m2
    assert "25" in rows["too near the shore"]
    assert "How many" not in text
    assert "theorem" not in text
    assert "rank" not in text


def test_nothing_allowed_in_a_lot(assessment):
    sites = no_sites(ask=replace(make_ask(), lot="7"))
    assert "nowhere in the water of lot 7 do the rules allow" in flat(
        sites_table(assessment, sites)
    )


def test_shares_are_of_the_lake(assessment):
    # of 40,000 m2: allowed 60 x 40 less 10 x 10, closed 20,000, 4,000 and 6,000
    lines = {line[:20].strip(): line for line in sites_table(assessment, make_sites()).splitlines()}
    assert "6 %" in lines["allowed"]
    assert "2,300.0 m²" in lines["allowed"]
    assert "50 %" in lines["too near a float"]
    assert "10 %" in lines["too near the shore"]
    assert "15 %" in lines["too near a swim area"]


@pytest.mark.parametrize(
    ("share", "text"), [(0.0, "0 %"), (0.0099, "under 1 %"), (0.0149, "1 %"), (1.0, "100 %")]
)
def test_small_shares_are_said_to_be_small(share, text):
    assert share_text(share) == text


def test_closed_water_goes_into_few_classes(assessment):
    def piece(kind, k):
        return ClosedWater(kind=kind, geometry=shapely.box(k, 0, k + 1, 100))

    kinds = (
        "shore",
        "island",
        "dock",
        "channel",
        "bed",
        "jump_depth",
        "shore_max",
        "float",
        "frontage",
    )
    sites = make_sites(closed=tuple(piece(kind, 2 * k) for k, kind in enumerate(kinds)))
    found = {one.name: one for one in closed_classes(sites, assessment.water)}
    assert list(found) == ["shore", "float", "zone", "depth", "frontage", "other"]
    assert found["zone"].kinds == ("dock", "channel")
    assert found["depth"].words == "too shallow"
    assert found["other"].words == "too far from the shore"
    assert found["shore"].share == pytest.approx(200 / 40_000)
    one = make_sites(closed=(piece("jump_depth", 0),))
    assert closed_classes(one, assessment.water)[0].words == "too shallow for jumping"


def test_a_line_of_fixed_length_can_be_too_short():
    assert kind_words("depth", make_ask().like) == "too shallow, or no depth known"
    assert "too deep for the line" in kind_words("depth", make_ask(riser_m=3.0).like)


def test_fixed_lengths_are_said(assessment):
    sites = make_sites(ask=make_ask(riser_m=3.0))
    said = "Riser 3 m; ground chain designed at each place."
    assert said in flat(sites_table(assessment, sites))


def test_a_float_has_its_longer_side_first():
    like = make_float("new", length_m=2.4384, width_m=3.2004)
    assert float_words(like, "ft-lb") == "10.5 by 8 ft float"


@pytest.mark.parametrize(
    ("number", "word"),
    [
        ("8", "an"),
        ("8.5", "an"),
        ("11", "an"),
        ("18", "an"),
        ("10", "a"),
        ("1.8", "a"),
        ("12", "a"),
    ],
)
def test_the_article_fits_the_number(number, word):
    assert article(f"{number} by 8 ft float") == word


def test_why_not_here(assessment):
    why = make_why()
    text = why_table(assessment, why, make_ask())
    place = place_text(why.lat, why.lon)
    # 30 m east and 40 m north: 36.87 degrees, nearest to northeast; 3.401 m rounds up to 3.41
    near = place_text(why.nearest[3], why.nearest[2])
    assert flat(text).startswith(
        f"A 4 by 3 m float may not lie at {place}: 3.41 m too near float A."
        f" The nearest allowed place is 50.00 m to the northeast, at {near}."
        " 6.50 m deep at normal water; the float would swing 10.51 m; riser 7.00 m,"
        " ground chain 6.50 m."
    )
    rows = text.splitlines()
    first = next(k for k, line in enumerate(rows) if line.startswith("Float A"))
    assert rows[first].split("  ")[-1] == "neighbour rule"
    assert "3.41 m short" in rows[first]
    assert "4.99 m to spare" in rows[first + 1]


def test_here_is_allowed(assessment):
    spare = (Hindrance(against="Beach", kind="swim_area", spare_m=0.999, rule="swim rule"),)
    why = make_why(hindrances=spare)
    text = flat(why_table(assessment, why, make_ask()))
    assert f"may lie at {place_text(why.lat, why.lon)}: 0.99 m to spare from Beach." in text
    assert "nearest" not in text


def test_here_is_land_or_no_rig_works(assessment):
    dry = make_why(in_water=False, hindrances=(), depth_m=None, swing_radius_m=None, riser_m=None)
    text = flat(why_table(assessment, dry, make_ask()))
    assert "that is not in the lake. The nearest allowed place is 50.00 m" in text
    broken = make_why(
        hindrances=(), problems=("no depth is known there",), nearest=None, nearest_m=None
    )
    text = flat(why_table(assessment, broken, make_ask()))
    assert ": no depth is known there. No place in the lake is allowed." in text


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("bed", "2.01 m too shallow at low water"),
        ("jump_depth", "2.01 m too shallow for jumping at low water"),
        ("shore_max", "2.01 m too far from the shore"),
        ("shore", "2.01 m too near the shore"),
        ("channel", "2.01 m too near the cut"),
        ("frontage", "2.01 m too near the edge of its frontage, or outside it"),
        ("deck_area_max", "its deck is 2.1 m² too large"),
    ],
)
def test_each_rule_says_what_is_wrong(assessment, kind, words):
    why = make_why(
        hindrances=(Hindrance(against="the cut", kind=kind, spare_m=-2.0001, rule=None),)
    )
    assert f": {words}." in flat(why_table(assessment, why, make_ask()))
