"""What a lake's levels tell: table, document, notes, lines for field.toml, the plot, the page."""

import json
import re
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
import shapely
from conftest import make_float, make_settings
from defusedxml.ElementTree import fromstring
from pseudo_language import PSEUDO

import lakemap
from lakemap.basis.records import Levels
from lakemap.inputs.settings import read_settings
from lakemap.mapping import assess
from lakemap.outputs.levels.document import levels_document
from lakemap.outputs.levels.layer import levels_html, sheet_line
from lakemap.outputs.levels.notes import field_toml_lines, level_notes
from lakemap.outputs.levels.plot import level_plot_svg
from lakemap.outputs.levels.table import levels_table
from lakemap.outputs.levels.words import level_figure
from lakemap.outputs.web.page import page_html
from lakemap.season.levels import AskedLevels, read_levels
from lakemap.season.low_water import low_water

FOOT = 0.3048
SVG = "{http://www.w3.org/2000/svg}"


def gauge(*readings):
    return tuple({"date": date.fromisoformat(day), "level_m": level} for day, level in readings)


# low water of the settings is −0.5 m, high 0.5 m; line 10 m, bed 6.5 m below the gauge's nought
READ = gauge(
    ("2021-05-01", 0.3), ("2021-06-01", 0.0), ("2021-07-01", -0.2),
    ("2022-05-01", 0.6), ("2022-06-15", 0.2), ("2022-08-01", -1.7),
)  # fmt: skip


def told(field, **asked):
    levels = read_levels(field, asked=AskedLevels(**asked))
    assessment = assess(field)
    return assessment, levels, low_water(assessment, levels)


@pytest.fixture(scope="module")
def tamber():
    return lakemap.read_field("data/tamber-lake")


def test_the_table_has_a_row_a_year_and_the_levels_beside_the_settings(square):
    text = levels_table(*told(replace(square, gauge=READ)))
    lines = text.splitlines()
    assert lines[0].startswith("Square: 6 gauge readings in 2 years, 2021-05-01 to 2022-08-01;")
    assert "the longest gap is 304 days, from 2021-07-01 to" in " ".join(text.split())
    rows = {line.split()[0]: line.split() for line in lines if line[:4] in ("2021", "2022")}
    # at −0.2 m drops of 6.3 m: reach 7.77 m, and 7.60 m at 6.5 m; at −1.7 m √(100 − 4.8²) = 8.77 m
    assert rows["2021"][:4] == ["2021", "3", "−0.20", "2021-07-01"]
    assert rows["2021"][6] == "0.17"  # 0.166 rounded up
    assert rows["2022"][:4] == ["2022", "3", "−1.70", "2022-08-01"]
    assert rows["2022"][6] == "1.18"  # 1.174 rounded up
    low = next(line.split() for line in lines if line.startswith("low "))
    assert low[2] == "−0.50"  # of field.toml
    assert all(len(line) < 130 for line in lines)


def test_notes_warn_of_water_outside_of_the_settings(square):
    notes = list(level_notes(*told(replace(square, gauge=READ))))
    # from √(100 − 6²) = 8 m to 8.77 m
    assert notes[0] == (
        "field.toml says low −0.5 m, but your lowest reading is −1.7 m, on 2022-08-01, and 1"
        " reading went below low; circles were larger than the map's by up to 0.78 m (float A),"
        " and the verdict was worse for float B."
    )
    assert notes[1] == (
        "field.toml says high +0.5 m, but your highest reading is +0.6 m, on 2022-05-01, and 1"
        " reading went above high."
    )
    assert any("a chance of about 1 in 3" in note for note in notes)


def test_inside_the_settings_nothing_is_warned_of(square):
    read = gauge(("2021-05-01", 0.5), ("2021-06-01", -0.5), ("2021-06-20", 0.0))
    notes = list(level_notes(*told(replace(square, gauge=read))))
    assert not any("field.toml says" in note for note in notes)
    assert any("one year is not the lowest that can come" in note for note in notes)


def test_a_slip_of_the_pen_and_thin_years_are_told(square):
    weeks = [
        (date(2021, 5, 1) + timedelta(days=7 * k), 0.1 * (k % 2) - (12 if k == 9 else 0))
        for k in range(20)
    ]
    read = gauge(*[(day.isoformat(), level) for day, level in weeks], ("2022-06-01", 0.0))
    notes = list(level_notes(*told(replace(square, gauge=read))))
    assert notes[0].startswith("2021-07-03: −11.9 m is far from the readings before and after it")
    assert "Fewer than 3 readings can well have missed the lowest water: 2022." in notes


def test_a_record_too_short_to_set_levels_by_offers_none(square):
    days = [date(2021, 5, 1) + timedelta(days=10 * k) for k in range(10)]
    season = gauge(*[(day.isoformat(), 0.1 * (k % 3)) for k, day in enumerate(days)])
    told_of = {
        count: levels_table(*told(replace(square, gauge=season[:count]))) for count in (1, 9, 10)
    }
    assert "For field.toml, if you agree" in told_of[10]  # ten readings in 91 days
    for count, said in ((1, "1 reading in 1 day;"), (9, "9 readings in 81 days;")):
        assert "For field.toml, if you agree" not in told_of[count]
        assert f"note: Too little to set levels by: {said}" in told_of[count]
    assert "Too little" not in told_of[10]


def test_a_low_of_the_settings_below_all_readings_is_on_the_safe_side(square):
    days = [date(2021, 5, 1) + timedelta(days=10 * k) for k in range(12)]
    read = gauge(*[(day.isoformat(), 0.1 * (k % 3)) for k, day in enumerate(days)])  # 0 to 0.2 m
    notes = list(level_notes(*told(replace(square, gauge=read))))
    assert notes[0] == (
        "For 2 % of the time the lake stood at 0 m or lower. Circles are largest at low water: low"
        ' = "-0.5 m", as field.toml has it, is on the safe side.'
    )


def test_readings_of_another_gauge_are_told(square):
    for level, far in ((247.0, True), (3.6, True), (3.4, False), (-3.6, True), (-3.4, False)):
        read = gauge(("2021-05-01", level), ("2021-06-01", level))  # low −0.5 m, high 0.5 m
        first = next(level_notes(*told(replace(square, gauge=read))))
        assert first.startswith("All readings, ") is far, level
        assert ("are they of another gauge, or heights above the sea?" in first) is far


def test_the_table_fits_eighty_columns_and_tells_no_short_gap(tamber):
    text = levels_table(*told(tamber))
    assert max(map(len, text.splitlines())) <= 80
    daily = tuple(row for row in tamber.gauge if row["date"].year == 2024)
    assert "the longest gap" in text
    assert "the longest gap" not in levels_table(*told(replace(tamber, gauge=daily)))


def test_lines_for_the_settings_read_back_and_keep_the_soundings(tmp_path, square):
    """Low goes down, high goes up, and the soundings' level stays what it was to the last digit."""
    levels = Levels(low_m=-0.5, normal_m=0.0, high_m=0.5, soundings_m=2.35)
    field = replace(square, settings=make_settings(levels=levels), gauge=READ)
    found = read_levels(field, asked=AskedLevels())
    for units, step in (("ft-lb", 0.1 * FOOT), ("m-kg", 0.01)):
        path = tmp_path / "field.toml"
        path.write_text("\n".join(field_toml_lines(found, units)) + "\n", encoding="utf-8")
        said = lakemap_levels(path)
        assert found.low_m - step - 1e-9 <= said.low_m <= found.low_m + 1e-9
        assert found.high_m - 1e-9 <= said.high_m <= found.high_m + step + 1e-9
        assert said.normal_m == pytest.approx(found.normal_m, abs=step)
        assert said.soundings_m == pytest.approx(2.35, abs=2e-5)


def lakemap_levels(path):
    from lakemap.basis.errors import ProblemLog

    settings = read_settings(path, ProblemLog(), folder_name="x")
    assert settings is not None
    return settings.levels


def test_the_document_has_every_key_and_no_null_list(square):
    assessment, levels, low = told(replace(square, gauge=READ))
    full = levels_document(assessment, levels, low)
    read = gauge(("2021-05-01", 0.0))
    bare = levels_document(*told(replace(square, gauge=read, floats=())))
    assert full.keys() == bare.keys()
    assert full["years"][0].keys() == bare["years"][0].keys()
    assert json.loads(json.dumps(full, allow_nan=False)) == full
    assert full["format"] == "lakemap levels 1"
    assert full["lowest"] == {"date": "2022-08-01", "level_m": -1.7}
    assert full["below_low"]["readings"] == 1
    assert full["below_low"]["grown"]["radius_m"] == pytest.approx(np.sqrt(100 - 4.8**2) - 8)
    assert full["years"][1]["grown"]["radius_m"] == pytest.approx(
        np.sqrt(100 - 4.8**2) - np.sqrt(100 - 6.5**2)
    )
    assert bare["longest_gap"] is None
    assert bare["below_low"] == {"readings": 0, "grown": None, "worse": []}
    assert bare["years"][0]["grown"] is None
    assert bare["levels_m"] == {"low": 0.0, "normal": 0.0, "high": 0.0}


@pytest.mark.parametrize(
    ("metres", "text"),
    [(-0.4572, "−1.5"), (0.3048, "+1"), (0.0, "0"), (-0.003, "0"), (6.096, "+20")],
)
def test_heights_carry_their_sign(metres, text):
    assert level_figure(metres, "ft-lb") == text


def points(svg):
    """Stretches of the level's line, as lists of points, from its steps."""
    (path,) = re.findall(r'<path d="(M[^"]*)" stroke="#12232E" stroke-width="1.5"', svg)
    stretches = []
    for part in path[1:].split("M"):
        start, steps = part.split("l")
        moves = np.array([start.split(" "), *np.reshape(steps.split(" "), (-1, 2))], dtype=float)
        stretches.append(np.cumsum(moves, axis=0))
    return stretches


def test_the_line_is_not_drawn_across_a_time_that_nobody_looked(square):
    levels = read_levels(replace(square, gauge=READ), asked=AskedLevels())
    first, second = points(level_plot_svg(levels, units="m-kg"))
    assert len(first) == len(second) == 3
    days = [(one["date"] - date(2021, 5, 1)).days for one in READ]
    heights = [one["level_m"] for one in READ]
    across, up = np.vstack([first, second]).T
    # one scale for the days, one for the levels: what is drawn lies on two straight lines
    assert np.polyfit(days, across, 1, full=True)[1][0] < 0.3
    assert np.polyfit(heights, up, 1, full=True)[1][0] < 0.3
    assert np.polyfit(heights, up, 1)[0] < 0


@pytest.mark.parametrize("count", [3650, 20_000])
def test_daily_readings_are_thinned_to_what_can_be_seen(square, count):
    days = [date(1960, 1, 1) + timedelta(days=k) for k in range(count)]
    level = np.cumsum(np.random.default_rng(4).normal(0, 0.02, count))
    read = tuple({"date": d, "level_m": v} for d, v in zip(days, level.tolist(), strict=True))
    levels = read_levels(replace(square, gauge=read), asked=AskedLevels())
    svg = level_plot_svg(levels, units="m-kg")
    (line,) = points(svg)
    assert len(svg) < 12_000
    # every reading lies within a pixel of the line that is drawn
    x = np.interp(np.arange(count), [0, count - 1], [line[0, 0], line[-1, 0]])
    slope = (line[:, 1].max() - line[:, 1].min()) / (level.max() - level.min())
    y = line[0, 1] - (level - level[0]) * slope
    far = shapely.distance(shapely.linestrings(line), shapely.points(x, y))
    assert far.max() < 1.0


def boxes(svg):
    """Texts with their boxes, letters taken as wide as wide fonts have them."""
    root = fromstring(svg)
    for group in [root, *root.iter(f"{SVG}g")]:
        size = float(group.get("font-size") or 12)
        for text in group.findall(f"{SVG}text"):
            width = len(text.text) * size * 0.6
            anchor = text.get("text-anchor") or group.get("text-anchor") or "start"
            x = float(text.get("x")) - {"start": 0, "middle": width / 2, "end": width}[anchor]
            yield text.text, (x, float(text.get("y")) - size * 0.8, width, size)


@pytest.mark.parametrize("years", [1, 3, 9, 30])
@pytest.mark.parametrize("texts", [None, PSEUDO], ids=["english", "long"])
def test_no_text_lies_on_another_or_outside(square, years, texts):
    rng = np.random.default_rng(years)
    read = tuple(
        {"date": date(1995 + y, 4, 1) + timedelta(days=14 * k), "level_m": float(v)}
        for y in range(years)
        for k, v in enumerate(rng.normal(0, 0.25, 14))
    )
    levels = read_levels(replace(square, gauge=read), asked=AskedLevels())
    more = {} if texts is None else {"texts": texts}
    svg = level_plot_svg(levels, units="ft-lb", **more)
    put = list(boxes(svg.replace("<svg ", f'<svg xmlns="{SVG[1:-1]}" ', 1)))
    assert len(put) > 8
    for k, (_, (x, y, w, h)) in enumerate(put):
        assert x >= 0
        assert 0 <= y <= y + h <= 220
        if texts is None:
            assert x + w <= 396 + 8
        for other, (a, b, c, d) in put[:k]:
            apart = x >= a + c or a >= x + w or y >= b + d or b >= y + h
            assert apart, (put[k], other)


def test_each_years_lowest_is_ringed_and_told_in_words(tamber):
    levels = read_levels(tamber, asked=AskedLevels())
    svg = level_plot_svg(levels, units="ft-lb")
    assert svg.count("<circle ") == 9
    root = fromstring(svg)
    assert root.get("role") == "img"
    assert root.find("title").text == "The lake’s level, 2017 to 2025"
    assert root.find("desc").text.startswith(
        "The lowest water of each year: 2017 −0.6 ft; 2018 −0.5 ft;"
    )


def test_the_page_shows_them_once_and_paper_has_a_line(tamber):
    page = page_html(assess(tamber))
    assert page.count('id="gauge"') == 1
    assert page.count("The lake’s level, 2017 to 2025") == 1
    assert (
        "<li>Gauge readings of 2017 to 2025: at −0.1 ft or lower for half of the time; the lowest"
        " −1.5 ft, on 15 September 2024.</li>"
    ) in page
    bare = replace(tamber, gauge=())
    empty = page_html(assess(bare))
    for trace in ('id="gauge"', "openLake", "Lake levels", ".lake{"):
        assert trace in page
        assert trace not in empty
    assert sheet_line(assess(bare)) == ""


def test_the_page_says_where_the_lake_left_what_the_map_is_drawn_for(square):
    assessment, levels, _ = told(replace(square, gauge=READ))
    html = levels_html(assessment, levels)
    assert (
        "<p>But it has been lower than −0.5 m: −1.7 m, on 1 August 2022. A circle was then up to"
        " 0.78 m larger than the map shows.</p>"
    ) in html
    assert "<p>But it has been higher than +0.5 m: +0.6 m, on 1 May 2022." in html
    # 8.77 m of reach against 7.60 m at normal level
    assert '<tr><th scope="row">2022</th><td>−1.7</td><td>1.18 m</td></tr>' in html
    inside = replace(square, gauge=gauge(("2021-05-01", 0.1)))
    assert "But it has been" not in levels_html(*told(inside)[:2])


def test_a_long_record_keeps_its_last_twelve_years_in_the_panel(square):
    read = tuple({"date": date(1980 + k, 9, 1), "level_m": 0.01 * k} for k in range(40))
    html = levels_html(*told(replace(square, gauge=read))[:2])
    assert html.count('<th scope="row">') == 12
    assert "28 earlier years are not listed." in html
    assert ">2019<" in html


def test_nothing_of_it_is_left_in_english(square):
    field = replace(square, gauge=READ, floats=(make_float("A"),))
    html = levels_html(*told(field)[:2], texts=PSEUDO)
    shown = re.sub(r"<[^>]*>", " ", html)
    assert re.findall(r"[A-Za-z]{2,}", shown) == []
