"""The two-cluster line against worked tables and two independent methods.

SI, US and stretch tables: worked by hand from the catenary, put together for this rig by us, and
found again there by minimising the energy of a chain of 400 + 400 links (a second-order cone
programme); no print of this rig exists. The single line: MIT OpenCourseWare 2.019 Design of Ocean
Systems, spring 2011, lecture 13 (the worked example's least line length).
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize
from worked_lines import SI, US

from lakemap.basis.errors import RangeError
from lakemap.rig.line import line_pulls, slide_pull, two_cluster_line

DOOR = {
    "drop_m": 3.048,
    "ground_m": 3.048,
    "riser_m": 3.2004,
    "ground_weight_n_m": 18.534256730,
    "riser_weight_n_m": 18.534256730,
    "secondary_wet_n": 333.616621,
}
# pull, reach, secondary x, height, hook tension, hook angle, primary tension, angle, uplift
SI_ROWS = [
    (10, 7.5673, 5.0000, 0.0000, 110.000, 84.784, 10.000, 0.000, 0.000),
    (20, 8.0618, 5.0000, 0.0000, 120.000, 80.406, 20.000, 0.000, 0.000),
    (34.5, 8.5136, 5.0000, 0.0000, 134.500, 75.137, 34.500, 0.000, 0.000),
    (50, 8.7822, 5.0000, 0.0000, 151.726, 70.759, 50.000, 0.000, 0.000),
    (100, 9.0423, 5.0000, 0.0000, 219.463, 62.893, 100.000, 0.000, 0.000),
    (200, 9.1240, 5.0000, 0.0000, 369.681, 57.248, 200.000, 0.000, 0.000),
    (300, 9.1402, 5.0000, 0.0000, 523.983, 55.073, 300.000, 0.000, 0.000),
    (400, 9.1459, 5.0000, 0.0000, 679.372, 53.930, 400.000, 0.000, 0.000),
    (467.483, 9.1479, 5.0000, 0.0000, 784.500, 53.423, 467.483, 0.000, 0.000),
    (500, 9.1779, 4.9995, 0.0251, 829.358, 52.924, 500.000, 0.000, 0.000),
    (550, 9.2651, 4.9958, 0.1023, 888.047, 51.732, 550.000, 0.000, 0.000),
    (600, 9.3600, 4.9898, 0.1919, 942.068, 50.439, 600.000, 0.000, 0.000),
    (700, 9.5376, 4.9743, 0.3744, 1044.748, 47.932, 700.000, 0.000, 0.000),
    (800, 9.6903, 4.9575, 0.5476, 1144.512, 45.654, 800.000, 0.000, 0.000),
    (828.651, 9.7296, 4.9527, 0.5948, 1172.844, 45.047, 828.651, 0.000, 0.000),
    (900, 9.8159, 4.9403, 0.7040, 1243.984, 43.657, 900.460, 1.831, 28.776),
    (1000, 9.9106, 4.9217, 0.8358, 1345.614, 41.999, 1002.473, 4.026, 70.377),
    (1200, 10.0397, 4.8847, 1.0428, 1553.596, 39.430, 1210.193, 7.442, 156.743),
    (1500, 10.1501, 4.8355, 1.2593, 1872.722, 36.777, 1528.004, 10.986, 291.199),
    (2000, 10.2390, 4.7731, 1.4834, 2414.134, 34.060, 2067.012, 14.629, 522.051),
]
US_ROWS = [
    (0.5, 11.6752, 10.0000, 0.0000, 13.200, 87.829, 0.500, 0.000, 0.000),
    (0.650875, 11.9032, 10.0000, 0.0000, 13.351, 87.206, 0.651, 0.000, 0.000),
    (1, 12.2965, 10.0000, 0.0000, 13.780, 85.839, 1.000, 0.000, 0.000),
    (2, 12.8126, 10.0000, 0.0000, 15.703, 82.683, 2.000, 0.000, 0.000),
    (5, 13.1193, 10.0000, 0.0000, 24.052, 78.002, 5.000, 0.000, 0.000),
    (10, 13.1799, 10.0000, 0.0000, 39.817, 75.455, 10.000, 0.000, 0.000),
    (15, 13.1918, 10.0000, 0.0000, 55.995, 74.462, 15.000, 0.000, 0.000),
    (20, 13.1961, 10.0000, 0.0000, 72.281, 73.937, 20.000, 0.000, 0.000),
    (26.0672, 13.1983, 10.0000, 0.0000, 92.101, 73.559, 26.067, 0.000, 0.000),
    (30, 13.5136, 9.9966, 0.1077, 96.010, 71.792, 30.000, 0.000, 0.000),
    (40, 14.3109, 9.9757, 0.4383, 103.106, 67.173, 40.000, 0.000, 0.000),
    (50, 14.9786, 9.9479, 0.7855, 110.350, 63.057, 50.000, 0.000, 0.000),
    (58.3808, 15.4508, 9.9228, 1.0751, 116.689, 59.979, 58.381, 0.000, 0.000),
    (60, 15.5335, 9.9177, 1.1301, 117.948, 59.423, 60.002, 0.489, 0.512),
    (75, 16.1546, 9.8600, 1.5982, 130.561, 54.939, 75.227, 4.448, 5.835),
    (100, 16.7853, 9.7463, 2.2109, 154.215, 49.576, 101.330, 9.293, 16.363),
    (150, 17.3505, 9.5428, 2.9809, 206.255, 43.343, 155.379, 15.121, 40.531),
    (220, 17.6305, 9.3490, 3.5461, 283.086, 39.000, 233.124, 19.317, 77.115),
    (300, 17.7504, 9.2119, 3.8897, 372.836, 36.424, 323.236, 21.857, 120.340),
]
DOOR_ROWS = [
    (44.482216, 4.017236, 3.048000, 0.000000, 177.1165, 75.45463, 44.4822, 0, 0),
    (133.446648, 4.118955, 3.046956, 0.032830, 427.0758, 71.79210, 133.4466, 0, 0),
    (222.411081, 4.565492, 3.032105, 0.239427, 490.8628, 63.05710, 222.4111, 0, 0),
    (266.893297, 4.734616, 3.022921, 0.344445, 524.6591, 59.42282, 266.9030, 0.48867, 2.2764),
    (444.822162, 5.116148, 2.970676, 0.673881, 685.9841, 49.57562, 450.7381, 9.29316, 72.7879),
    (978.608755, 5.373789, 2.849583, 1.080837, 1259.2285, 38.99968, 1036.9872, 19.31683, 343.0267),
]
# drop, taut reach, lifting pull, pull that lifts the whole chain, reach at a pull of 100
LEVEL_ROWS = [
    (8.5, 18.6548, 59.098, 85.804, 17.3873),
    (9.0, 18.4187, 48.956, 76.049, 17.2023),
    (9.5, 18.1659, 38.340, 66.933, 17.0019),
    (10.0, 17.8955, 26.067, 58.381, 16.7853),
    (10.5, 17.6068, 0, 50.375, 16.5514),
    (11.0, 17.2988, 0, 42.961, 16.2992),
]
# friction, SI pull, US pull
SLIDE_ROWS = [
    (0.30, 122.712, 12.5693),
    (0.35, 137.307, 13.5763),
    (0.45, 163.082, 15.1981),
    (0.50, 174.518, 15.8608),
    (0.55, 185.127, 16.4472),
    (0.70, 212.794, 17.8617),
]
# pull, reach, secondary height, hook tension, uplift
CHAIN_ROWS = [
    (100, 9.04257, 0.00000, 219.458, 0.000),
    (500, 9.17899, 0.02494, 829.285, 0.000),
    (828.651, 9.73104, 0.59448, 1172.793, 0.000),
    (1000, 9.91227, 0.83548, 1345.550, 70.280),
    (2000, 10.24235, 1.48307, 2413.948, 521.720),
]
SOFT_ROWS = [
    (100, 9.05459, 0.00000, 219.127, 0.000),
    (500, 9.22818, 0.01650, 824.587, 0.000),
    (828.651, 9.78673, 0.57016, 1169.831, 0.000),
    (1000, 9.97866, 0.81024, 1342.019, 64.995),
    (2000, 10.36978, 1.44996, 2405.488, 506.553),
]
CHAIN_EA = 8.42e6  # 10 mm studless chain
SOFT_EA = 130e3
COLUMNS = (
    "reach_m",
    "secondary_x_m",
    "secondary_height_m",
    "hook_tension_n",
    "hook_angle_deg",
    "primary_tension_n",
    "primary_angle_deg",
    "primary_uplift_n",
)


def table(rig, rows):
    state = two_cluster_line([row[0] for row in rows], **rig)
    return np.column_stack([getattr(state, name) for name in COLUMNS])


@pytest.mark.parametrize(
    ("rig", "rows", "length", "force"),
    [(SI, SI_ROWS, 1e-4, 1e-3), (US, US_ROWS, 1e-4, 1e-3), (DOOR, DOOR_ROWS, 1e-5, 1e-3)],
)
def test_every_row(rig, rows, length, force):
    got, printed = table(rig, rows), np.array(rows)[:, 1:]
    # half a unit of the last printed digit on top: the pulls themselves are printed rounded
    assert got[:, :3] == pytest.approx(printed[:, :3], abs=1.5 * length)
    assert got[:, [3, 5, 7]] == pytest.approx(printed[:, [3, 5, 7]], abs=1.6 * force)
    assert got[:, [4, 6]] == pytest.approx(printed[:, [4, 6]], abs=1.5e-3)


def without(rig, *names):
    return {key: value for key, value in rig.items() if key not in names}


def test_thresholds():
    si, us = line_pulls(**SI), line_pulls(**US)
    assert (si.bed_n, si.lift_n, si.full_n) == pytest.approx((34.5, 467.482887, 828.651211))
    assert (us.bed_n, us.lift_n, us.full_n) == pytest.approx((0.650875, 26.067201, 58.380837))


def test_levels():
    drop, taut, lift, full, reach = np.array(LEVEL_ROWS).T
    rig = without(US, "drop_m")
    pulls = line_pulls(drop_m=drop, **rig)
    assert pulls.lift_n == pytest.approx(lift, abs=6e-4)
    assert pulls.full_n == pytest.approx(full, abs=6e-4)
    assert two_cluster_line(100.0, drop_m=drop, **rig).reach_m == pytest.approx(reach, abs=6e-5)
    far = two_cluster_line(1e9, drop_m=drop, **rig).reach_m
    assert far == pytest.approx(taut, abs=6e-5)


def test_hung_in_calm():
    # drop 11 ft over a riser of 10.5 ft: pull, reach, height; then the uplifts at 50 and 100 lbf
    rows = np.array([(1, 9.9540, 0.5008), (10, 11.1497, 0.5714), (50, 14.6632, 1.6788)])
    state = two_cluster_line([1, 10, 50, 100], **US | {"drop_m": 11.0})
    assert state.reach_m[:3] == pytest.approx(rows[:, 1], abs=6e-5)
    assert state.secondary_height_m[:3] == pytest.approx(rows[:, 2], abs=6e-5)
    assert state.reach_m[3] == pytest.approx(16.2992, abs=6e-5)
    assert state.primary_uplift_n[2:] == pytest.approx([2.2314, 24.7193], abs=6e-5)


def test_slide():
    mu, si, us = np.array(SLIDE_ROWS).T
    keys = ("ground_m", "ground_weight_n_m")
    assert slide_pull(mu, **without(SI, *keys)) == pytest.approx(si, abs=6e-4)
    assert slide_pull(mu, **without(US, *keys)) == pytest.approx(us, abs=6e-5)


@pytest.mark.parametrize(("rows", "riser"), [(CHAIN_ROWS, CHAIN_EA), (SOFT_ROWS, SOFT_EA)])
def test_stretch(rows, riser):
    pull, reach, height, tension, uplift = np.array(rows).T
    state = two_cluster_line(pull, **SI, riser_stiffness_n=riser, ground_stiffness_n=CHAIN_EA)
    assert state.reach_m == pytest.approx(reach, abs=1.1e-5)
    assert state.secondary_height_m == pytest.approx(height, abs=1.1e-5)
    assert state.hook_tension_n == pytest.approx(tension, abs=2e-3)
    assert state.primary_uplift_n == pytest.approx(uplift, abs=2e-3)


def test_single_line_of_the_lecture():
    # T = 1510 kN, w = 828 N/m, h = 25 m: the shortest line without uplift is 300.93 m (printed)
    top, w, h = 1510e3, 828.0, 25.0
    rig = {"ground_weight_n_m": w, "riser_weight_n_m": w, "secondary_wet_n": 0.0, "drop_m": h}
    pulls = line_pulls(ground_m=200.0, riser_m=100.93, **rig)
    assert pulls.full_n == pytest.approx(top - w * h, rel=1e-4)
    short = two_cluster_line(top - w * h, ground_m=200.0, riser_m=100.92, **rig)
    assert short.primary_uplift_n > 0


def test_calm_is_the_limit_of_a_small_pull():
    for drop in (8.0, 11.0):
        calm = two_cluster_line(0.0, **US | {"drop_m": drop})
        near = two_cluster_line(1e-9, **US | {"drop_m": drop})
        for name in COLUMNS:
            assert getattr(calm, name) == pytest.approx(getattr(near, name), abs=1e-6)


def links(rig, count):
    """Lengths and weights of a chain of links, ground chain first, and the node weights."""
    lengths = np.repeat([rig["ground_m"] / count, rig["riser_m"] / count], count)
    weight = np.repeat([rig["ground_weight_n_m"], rig["riser_weight_n_m"]], count) * lengths
    nodes = np.append(weight / 2, 0) + np.insert(weight / 2, 0, 0)
    nodes[count] += rig["secondary_wet_n"]
    return lengths, nodes[1:]


@pytest.mark.parametrize(("rig", "pull"), [(SI, 600.0), (SI, 1500.0), (US, 40.0), (US, 150.0)])
def test_energy_least_by_a_general_optimiser(rig, pull):
    """Independent method: link angles that minimise weight x height - pull x reach."""
    count = 20
    lengths, nodes = links(rig, count)

    def heights(angles):
        return np.cumsum(lengths * np.sin(angles))

    def energy(angles):
        return (nodes @ heights(angles) - pull * (lengths @ np.cos(angles))) / pull

    start = np.full(2 * count, np.arcsin(rig["drop_m"] / lengths.sum()))
    found = minimize(
        energy,
        start,
        method="SLSQP",
        constraints=[
            {"type": "eq", "fun": lambda a: heights(a)[-1] - rig["drop_m"]},
            {"type": "ineq", "fun": lambda a: heights(a)[:-1]},
        ],
        options={"maxiter": 500, "ftol": 1e-12},
    )
    assert found.success
    state = two_cluster_line(pull, **rig)
    assert lengths @ np.cos(found.x) == pytest.approx(float(state.reach_m), rel=1e-3)
    secondary = heights(found.x)[count - 1]
    assert secondary == pytest.approx(float(state.secondary_height_m), abs=2e-3 * rig["drop_m"])


@given(
    drop=st.floats(0.3, 20),
    ground=st.floats(0.1, 3),
    slack=st.floats(-0.05, 1),
    secondary=st.floats(0, 2e3),
    pull=st.floats(0.1, 1e5),
    more=st.floats(1.0, 10),
)
def test_laws(drop, ground, slack, secondary, pull, more):
    rig = {
        "drop_m": drop,
        "ground_m": ground * drop,
        "riser_m": drop * (1 + slack),
        "ground_weight_n_m": 20.0,
        "riser_weight_n_m": 15.0,
        "secondary_wet_n": secondary,
    }
    state = two_cluster_line([pull, pull * more], **rig)
    taut = np.sqrt((rig["ground_m"] + rig["riser_m"]) ** 2 - drop**2)
    assert state.reach_m[0] <= state.reach_m[1] * (1 + 1e-12)
    assert state.reach_m[1] <= taut * (1 + 1e-9)
    assert (state.secondary_x_m <= rig["ground_m"] * (1 + 1e-12)).all()
    heavier = two_cluster_line(pull, **rig | {"secondary_wet_n": secondary + 100})
    assert heavier.primary_uplift_n <= state.primary_uplift_n[0] * (1 + 1e-9) + 1e-6
    twice = two_cluster_line(
        2 * pull,
        **rig
        | {"ground_weight_n_m": 40.0, "riser_weight_n_m": 30.0}
        | {"secondary_wet_n": 2 * secondary},
    )
    assert twice.reach_m == pytest.approx(state.reach_m[0])


def test_every_element_out_of_range_is_named():
    with pytest.raises(RangeError, match=r"(?s)\[1\] pull -1 .*\[2\] pull nan "):
        two_cluster_line([1, -1, float("nan")], **SI)
    with pytest.raises(RangeError, match=r"\[0\] pull 1 N, drop 12,"):
        two_cluster_line(1.0, **SI | {"drop_m": 12.0})
