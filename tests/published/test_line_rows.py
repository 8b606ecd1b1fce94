"""The line against worked numbers beside the big tables of `test_two_cluster_line`.

One line on a flat bed: the catenary of MIT OpenCourseWare 2.019 Design of Ocean Systems, spring
2011, lectures 13 and 14; its worked example is printed, the tables were worked by hand from its
formulas. Two clusters: worked by hand from the catenary, put together for this rig by us; no print
of it exists. Against them stand virtual work by a general integrator and springs by a general
optimiser.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import minimize
from worked_lines import SI, US

from lakemap.rig.line import line_pulls, slide_pull, two_cluster_line
from lakemap.rig.swing import reach

# one line of 100 m, 828 N/m, 25 m deep: cut anywhere, with nothing at the cut
W, H, L = 828.0, 25.0, 100.0
ONE = {
    "drop_m": H,
    "ground_m": 60.0,
    "riser_m": 40.0,
    "ground_weight_n_m": W,
    "riser_weight_n_m": W,
    "secondary_wet_n": 0.0,
}
# pull kN, suspended length, its span, reach m, tension at the top kN
ONE_ROWS = (
    (1, 26.1799, 4.5531, 78.3732, 21.7),
    (10, 35.0552, 21.5843, 86.5291, 30.7),
    (20, 42.8104, 32.2931, 89.4827, 40.7),
    (50, 60.3682, 53.2101, 92.8419, 70.7),
    (100, 81.6312, 76.4271, 94.7959, 120.7),
    (150, 98.4021, 94.1115, 95.7094, 170.7),
    (155.25, 100, 95.7798, 95.7798, 175.95),
)
# pull kN, reach m, uplift kN, tension at the top kN
LIFTED_ROWS = (
    (200, 96.18777, 11.2668, 221.0171),
    (500, 96.72116, 88.1137, 528.4047),
    (1000, 96.79867, 217.0062, 1043.9750),
)
# pull, what the bed still carries of the secondary; below and above: 500 N (75 lb) and nothing
SI_BED = (
    (10, 500.000), (20, 500.000), (34.5, 500.000), (50, 486.749), (100, 434.644), (200, 319.091),
    (300, 200.398), (400, 80.868), (467.483, 0), (500, 0), (550, 0), (600, 0), (700, 0), (800, 0),
    (828.651, 0), (900, 0), (1000, 0), (1200, 0), (1500, 0), (2000, 0),
)  # fmt: skip
US_BED = (
    (0.5, 75.000), (0.650875, 75.000), (1, 74.591), (2, 72.760), (5, 64.809), (10, 49.794),
    (15, 34.387), (20, 18.876), (26.0672, 0), (30, 0), (40, 0), (50, 0), (58.3808, 0), (60, 0),
    (75, 0), (100, 0), (150, 0), (220, 0), (300, 0),
)  # fmt: skip
SI_STATES = (1, 1, 1, 2, 2, 2, 2, 2, 3, 3, 3, 3, 3, 3, 3, 4, 4, 4, 4, 4)
US_STATES = (1, 1, 2, 2, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 4, 4, 4)
# rig, pulls from and to, reaches from and to, work
WORK_ROWS = (
    (SI, 34.5, 467.482887, 8.51362, 9.14787, 46.41854),
    (SI, 467.482887, 828.651211, 9.14787, 9.72965, 376.68047),
    (SI, 467.482887, 2485.9536, 9.14787, 10.28005, 1072.64799),
    (US, 0.650875, 26.067201, 11.90321, 13.19833, 2.62882),
    (US, 26.067201, 58.380837, 13.19833, 15.45083, 92.15390),
    (US, 26.067201, 175.1425, 13.19833, 17.48676, 283.37079),
)
# friction, SI: pull that slides the secondary and its straight-riser estimate; US: the same. The last
# estimate is (75 + 1.27 x 10.5/2) sqrt(10.5^2 - 10^2)/10 = 26.1464; it was once worked as 26.1460
SLIDE_ROWS = (
    (0.30, 122.712, 124.526, 12.5693, 12.6483),
    (0.35, 137.307, 139.128, 13.5763, 13.6554),
    (0.45, 163.082, 164.912, 15.1981, 15.2772),
    (0.50, 174.518, 176.350, 15.8608, 15.9399),
    (0.55, 185.127, 186.960, 16.4472, 16.5263),
    (0.70, 212.794, 214.631, 17.8617, 17.9408),
    (np.inf, 467.483, 469.324, 26.0672, 26.1464),
)
# pull, reach gained by stretch in mm: 10 mm studless chain throughout; and with a soft riser
CHAIN_MM = ((100, 0.25), (500, 1.06), (828.651, 1.39), (1000, 1.68), (2000, 3.37))
SOFT_MM = ((100, 12.27), (500, 50.25), (828.651, 57.08), (1000, 68.06), (2000, 130.80))
CHAIN_EA, SOFT_EA = 8.42e6, 130e3


def vertical(state):
    return state.hook_tension_n * np.sin(np.radians(state.hook_angle_deg))


def without(rig, *names):
    return {key: value for key, value in rig.items() if key not in names}


def estimate(rig, friction):
    """The straight-riser estimates: mu (W2 + w L/2)/(1 + mu d/b), b = sqrt(L^2 - d^2)."""
    across = float(np.sqrt(rig["riser_m"] ** 2 - rig["drop_m"] ** 2))
    weight = rig["secondary_wet_n"] + rig["riser_weight_n_m"] * rig["riser_m"] / 2
    return weight / (1 / friction + rig["drop_m"] / across)


@pytest.mark.parametrize("row", ONE_ROWS)
def test_one_line(row):
    pull, hangs, span, far, top = row
    state = two_cluster_line(pull * 1e3, **ONE)
    assert float(state.reach_m) == pytest.approx(far, abs=1e-3)
    assert float(state.hook_tension_n) == pytest.approx(top * 1e3, abs=1)
    assert float(vertical(state)) / W == pytest.approx(hangs, abs=1e-3)
    assert float(state.reach_m) - (L - hangs) == pytest.approx(span, abs=1e-3)
    assert float(state.primary_uplift_n) == pytest.approx(0, abs=1e-3)


def test_one_line_lifts_off_its_bed_at_155_25_kn():
    assert float(line_pulls(**without(ONE)).full_n) == pytest.approx(155.25e3)
    assert W * (L**2 - H**2) / (2 * H) == pytest.approx(155.25e3)


@pytest.mark.parametrize("row", LIFTED_ROWS)
def test_one_line_lifted(row):
    pull, far, uplift, top = row
    state = two_cluster_line(pull * 1e3, **ONE)
    assert float(state.reach_m) == pytest.approx(far, abs=1e-5)
    assert float(state.primary_uplift_n) == pytest.approx(uplift * 1e3, abs=0.1)
    assert float(state.hook_tension_n) == pytest.approx(top * 1e3, abs=0.1)
    # the closed form of a line wholly off the bed
    a = pull * 1e3 / W
    assert float(state.reach_m) == pytest.approx(
        2 * a * np.arcsinh(np.sqrt(L**2 - H**2) / (2 * a)), abs=1e-9
    )


def test_one_line_taut():
    state = two_cluster_line(1e12, **ONE)
    assert float(state.reach_m) == pytest.approx(96.82458, abs=1e-5)
    assert float(state.primary_uplift_n) == pytest.approx(1e12 * H / np.sqrt(L**2 - H**2))


def test_least_line_of_the_lecture_to_its_printed_digits():
    # T 1510 kN, 828 N/m, 25 m: printed 300.93 m; by the formula 300.92952 m, pull 1489.3 kN
    top = 1510e3
    level = top - W * H
    assert level == pytest.approx(1489.3e3)
    rig = ONE | {"ground_m": 200.0, "riser_m": 100.92952}
    assert float(line_pulls(**rig).full_n) == pytest.approx(level, rel=1e-7)
    assert float(two_cluster_line(level, **rig).hook_tension_n) == pytest.approx(top, rel=1e-7)
    assert round(H * np.sqrt(2 * top / (W * H) - 1), 2) == 300.93


@pytest.mark.parametrize("pull", [10e3, 50e3, 100e3])
def test_stiffness_of_one_line(pull):
    # lecture 14: dH/dX = w/[arccosh(1 + wh/H) - 2/sqrt(1 + 2H/(wh))]
    step = pull * 1e-4
    near = two_cluster_line([pull - step, pull + step], **ONE).reach_m
    printed = W / (np.arccosh(1 + W * H / pull) - 2 / np.sqrt(1 + 2 * pull / (W * H)))
    assert 2 * step / (near[1] - near[0]) == pytest.approx(printed, rel=1e-5)


def test_one_line_in_calm_hangs_plumb_and_the_rest_lies():
    assert float(two_cluster_line(1e-6, **ONE).reach_m) == pytest.approx(L - H, abs=1e-3)


@pytest.mark.parametrize(("rig", "rows"), [(SI, SI_BED), (US, US_BED)])
def test_what_the_bed_carries_of_the_secondary(rig, rows):
    # the line's vertical balance: hook's = what lies above the bed less what the bed carries
    pull, carries = np.array(rows).T
    state = two_cluster_line(pull, **rig)
    foot = np.maximum(vertical(state) - rig["riser_weight_n_m"] * rig["riser_m"], 0)
    left = np.maximum(rig["secondary_wet_n"] - foot, 0)
    assert left == pytest.approx(carries, abs=1.5e-3)


@pytest.mark.parametrize(
    ("rig", "rows", "states"), [(SI, SI_BED, SI_STATES), (US, US_BED, US_STATES)]
)
def test_states(rig, rows, states):
    # pulls of the thresholds are printed rounded, on the side where the state has begun
    pull = np.array([row[0] for row in rows])
    pulls = line_pulls(**rig)
    turns = [float(getattr(pulls, name)) for name in ("bed_n", "lift_n", "full_n")]
    near = 1e-4 * np.array(turns)
    found = 1 + np.sum(pull[:, None] > np.array(turns) + near, axis=1)
    at_turn = (np.abs(pull[:, None] - np.array(turns)) <= near).any(axis=1)
    assert (found[~at_turn] == np.array(states)[~at_turn]).all()
    assert (np.abs(found - np.array(states))[at_turn] <= 1).all()


def test_thresholds_and_their_reaches():
    for rig, rows, taut, top in (
        (SI, [(34.5, 8.513622), (467.482887, 9.147867), (828.651211, 9.729648)], 10.356158, 1172.84),
        (US, [(0.650875, 11.903206), (26.067201, 13.198325), (58.380837, 15.450833)], 17.895530, 116.689),
    ):  # fmt: skip
        pull, far = np.array(rows).T
        pulls = line_pulls(**rig)
        assert [pulls.bed_n, pulls.lift_n, pulls.full_n] == pytest.approx(list(pull), abs=1e-6)
        state = two_cluster_line(pull, **rig)
        assert state.reach_m == pytest.approx(far, abs=1e-6)
        assert state.hook_tension_n[2] == pytest.approx(top, abs=0.005)
        line = rig["ground_m"] + rig["riser_m"]
        assert float(reach(rig["drop_m"], line_m=line)) == pytest.approx(taut, abs=1e-6)


def test_straight_riser_estimate_of_the_lift_is_a_little_high():
    # (W2 + w L/2) sqrt(L^2 - d^2)/d: high by 0.4 % in SI, 0.3 % in US
    for rig, high in ((SI, 0.004), (US, 0.003)):
        exact = float(line_pulls(**rig).lift_n)
        assert estimate(rig, np.inf) / exact - 1 == pytest.approx(high, abs=5e-4)


def test_the_swapped_example_is_another_rig():
    # once printed with riser and ground chain swapped: its secondary hangs in calm, lifting pull 0
    swapped = SI | {
        "ground_m": 6.5,
        "riser_m": 5.0,
        "ground_weight_n_m": 20.0,
        "riser_weight_n_m": 40.0,
    }
    assert float(line_pulls(**swapped).lift_n) == 0
    assert float(line_pulls(**SI).lift_n) == pytest.approx(467.48, abs=0.005)


@pytest.mark.parametrize(
    ("pull", "coarse", "angle", "exact", "exact_angle"),
    [(100, 16.6, 9.4, 16.363, 9.293), (220, 77.0, 19.4, 77.115, 19.317)],
)
def test_coarse_links_lean_too_steeply(pull, coarse, angle, exact, exact_angle):
    # once printed from a chain of few links: the last link's chord is steeper than the chain's end
    state = two_cluster_line(pull, **US)
    assert float(state.primary_uplift_n) == pytest.approx(exact, abs=1e-3)
    assert float(state.primary_angle_deg) == pytest.approx(exact_angle, abs=1e-3)
    assert float(state.primary_angle_deg) < angle - 0.05
    assert abs(float(state.primary_uplift_n) - coarse) > 0.1


@pytest.mark.parametrize(("rig", "start", "end", "near", "far", "work"), WORK_ROWS)
def test_virtual_work(rig, start, end, near, far, work):
    """Independent check: what the pull does, by a general integrator, is the energy gained."""
    ends = two_cluster_line([start, end], **rig).reach_m
    assert ends == pytest.approx([near, far], abs=6e-6)
    pulls = line_pulls(**rig)
    turns = [float(pulls.bed_n), float(pulls.lift_n), float(pulls.full_n)]
    inside = [turn for turn in turns if start * 1.001 < turn < end * 0.999]
    # by parts: the integral of H dX is H X less the integral of X dH
    area, _ = quad(
        lambda pull: float(two_cluster_line(pull, **rig).reach_m), start, end,
        points=inside or None, epsabs=1e-9, epsrel=1e-12, limit=200,
    )  # fmt: skip
    assert end * ends[1] - start * ends[0] - area == pytest.approx(work, abs=1e-4)


def test_the_lift_of_the_secondary_is_the_shock_absorber():
    # US: 92 ft lb before the primary feels uplift, the hanging riser 2.6 before that: 35 times
    assert WORK_ROWS[4][5] / WORK_ROWS[3][5] > 30


def springs(rig, pull, stiffness, count):
    """Least energy of springs and weights by a general optimiser: reach, height of the secondary.

    Unknown: each spring's angle and its tension over the pull, so that all are of one size.
    """
    lengths = np.repeat([rig["ground_m"] / count, rig["riser_m"] / count], count)
    weight = np.repeat([rig["ground_weight_n_m"], rig["riser_weight_n_m"]], count) * lengths
    gives = pull * lengths / np.repeat(stiffness, count)  # for a tension of one pull
    nodes = (np.append(weight / 2, 0) + np.insert(weight / 2, 0, 0))[1:]
    nodes[count - 1] += rig["secondary_wet_n"]
    lifted = np.cumsum(nodes[::-1])[::-1] / pull  # what rises with each spring
    sums = np.tril(np.ones((2 * count, 2 * count)))

    def parts(unknown):
        angle, tension = np.split(unknown, 2)
        return np.cos(angle), np.sin(angle), tension, lengths + gives * tension

    def energy(unknown):
        cos, sin, tension, long = parts(unknown)
        total = (gives * tension**2).sum() / 2 + (long * (lifted * sin - cos)).sum()
        by_angle = long * (lifted * cos + sin)
        return total, np.append(by_angle, gives * (tension + lifted * sin - cos))

    def heights(unknown):
        _, sin, _, long = parts(unknown)
        return sums @ (long * sin)

    def slopes(unknown):
        cos, sin, _, long = parts(unknown)
        return np.hstack([sums * (long * cos), sums * (gives * sin)])

    start = np.append(
        np.full(2 * count, np.arcsin(rig["drop_m"] / lengths.sum())), np.ones(2 * count)
    )
    hook = {
        "type": "eq",
        "fun": lambda u: heights(u)[-1] - rig["drop_m"],
        "jac": lambda u: slopes(u)[-1],
    }
    bed = {"type": "ineq", "fun": lambda u: heights(u)[:-1], "jac": lambda u: slopes(u)[:-1]}
    found = minimize(
        energy, start, jac=True, method="SLSQP", constraints=[hook, bed],
        options={"maxiter": 1000, "ftol": 1e-14},
    )  # fmt: skip
    cos, _, _, long = parts(found.x)
    return (long * cos).sum(), heights(found.x)[count - 1]


# pull, reach, height of the secondary: some of every state, for an optimiser takes its time
CHAIN_ROWS = ((500, 9.17899, 0.02494), (1000, 9.91227, 0.83548))
SOFT_ROWS = ((100, 9.05459, 0.00000), (500, 9.22818, 0.01650), (2000, 10.36978, 1.44996))


@pytest.mark.parametrize(("rows", "riser"), [(CHAIN_ROWS, CHAIN_EA), (SOFT_ROWS, SOFT_EA)])
def test_stretch_against_springs_of_least_energy(rows, riser):
    """Independent method; 24 springs a segment leave half a millimetre."""
    for pull, far, height in rows:
        assert springs(SI, pull, (CHAIN_EA, riser), 24) == pytest.approx((far, height), abs=6e-4)


# and links that hardly stretch
SI_REACH = ((50, 8.7822, 0.0), (700, 9.5376, 0.3744), (1200, 10.0397, 1.0428))
US_REACH = ((5, 13.1193, 0.0), (30, 13.5136, 0.1077), (75, 16.1546, 1.5982), (220, 17.6305, 3.5461))


@pytest.mark.parametrize(("rig", "rows"), [(SI, SI_REACH), (US, US_REACH)])
def test_rows_against_links_of_least_energy(rig, rows):
    for pull, far, height in rows:
        found = springs(rig, pull, (1e5 * pull, 1e5 * pull), 24)
        assert found == pytest.approx((far, height), abs=4e-3)  # 24 links are a little stiff


@pytest.mark.parametrize(("rows", "riser"), [(CHAIN_MM, CHAIN_EA), (SOFT_MM, SOFT_EA)])
def test_what_stretch_adds_to_the_reach(rows, riser):
    pull, millimetres = np.array(rows).T
    stretched = two_cluster_line(pull, **SI, riser_stiffness_n=riser, ground_stiffness_n=CHAIN_EA)
    gained = (stretched.reach_m - two_cluster_line(pull, **SI).reach_m) * 1e3
    assert gained == pytest.approx(millimetres, abs=0.006)


def test_taut_limit_with_stretch():
    # sqrt([S (1 + T/EA)]^2 - d^2), one line of one stiffness far up in pull
    pull, line = 5e5, SI["ground_m"] + SI["riser_m"]
    state = two_cluster_line(pull, **SI, riser_stiffness_n=CHAIN_EA, ground_stiffness_n=CHAIN_EA)
    stretched = line * (1 + float(state.hook_tension_n) / CHAIN_EA)
    assert float(state.reach_m) == pytest.approx(np.sqrt(stretched**2 - 25), rel=1e-4)


@pytest.mark.parametrize("row", SLIDE_ROWS)
def test_slide_and_its_estimate(row):
    mu, si, si_estimate, us, us_estimate = row
    for rig, exact, straight, digits in ((SI, si, si_estimate, 6e-4), (US, us, us_estimate, 6e-5)):
        line = without(rig, "ground_m", "ground_weight_n_m")
        # without end no pull slides it: it lifts
        found = line_pulls(**rig).lift_n if np.isinf(mu) else slide_pull(mu, **line)
        assert float(found) == pytest.approx(exact, abs=digits)
        assert estimate(rig, mu) == pytest.approx(straight, abs=digits)


def test_the_secondary_walks_before_it_lifts():
    # at 26 to 46 % of the lifting pull in SI, 48 to 69 % in US, for friction 0.30 to 0.70
    for rig, low, high in ((SI, 0.26, 0.46), (US, 0.48, 0.69)):
        slides = slide_pull([0.30, 0.70], **without(rig, "ground_m", "ground_weight_n_m"))
        assert slides / line_pulls(**rig).lift_n == pytest.approx([low, high], abs=0.006)


def test_si_levels():
    # SI, drop 6 in (0.1524 m) lower and higher: lifting pulls 502.837 and 432.727 N
    drop = np.array([5 - 0.1524, 5 + 0.1524])
    lift = line_pulls(drop_m=drop, **without(SI, "drop_m")).lift_n
    assert np.sort(lift) == pytest.approx(np.sort([502.837, 432.727]), abs=6e-4)
    # less water, a longer spare of riser: harder to lift
    assert lift[0] > lift[1]


def test_reach_falls_with_the_level_by_d_over_r():
    line, step = US["ground_m"] + US["riser_m"], 1e-5
    near = reach([10 - step, 10 + step], line_m=line)
    assert (near[1] - near[0]) / (2 * step) == pytest.approx(-10 / 17.895530, rel=1e-6)


def test_hung_rig_lifts_at_the_hook():
    # drop 11 ft over a riser of 10.5 ft: vertical pull at the hook at 1 and 10 lb; height at 100
    state = two_cluster_line([1, 10, 100], **US | {"drop_m": 11.0})
    assert vertical(state)[:2] == pytest.approx([89.6298, 92.2133], abs=6e-5)
    assert state.secondary_height_m[2] == pytest.approx(2.9621, abs=6e-5)
    # half a foot more water turns 26 lb to lift into none
    assert float(line_pulls(**US | {"drop_m": 10.5}).lift_n) == pytest.approx(0, abs=1e-9)


def test_calm_limits():
    resting = two_cluster_line(0.0, **US)
    assert float(resting.reach_m) == pytest.approx(10 + 0.5)  # spare riser drawn straight
    assert float(resting.hook_tension_n) == pytest.approx(1.27 * 10)
    hung = two_cluster_line(0.0, **US | {"drop_m": 11.0})
    assert float(hung.reach_m) == pytest.approx(10 - 0.5)
    assert float(hung.secondary_height_m) == pytest.approx(0.5)
    assert float(hung.hook_tension_n) == pytest.approx(75 + 1.27 * 10.5 + 1.27 * 0.5)
    for state in (resting, hung):
        assert float(state.hook_angle_deg) == pytest.approx(90)
        assert float(state.primary_tension_n) == pytest.approx(0)


RIGS = st.builds(
    lambda drop, ground, slack, second, light: {
        "drop_m": drop,
        "ground_m": ground * drop,
        "riser_m": drop * (1 + slack),
        "ground_weight_n_m": 20.0,
        "riser_weight_n_m": light,
        "secondary_wet_n": second,
    },
    st.floats(0.3, 20),
    st.floats(0.1, 3),
    st.floats(-0.05, 1),
    st.floats(0, 2e3),
    st.floats(5, 40),
)


@given(RIGS, st.floats(0.1, 1e5), st.floats(0.1, 10))
def test_lengths_scale(rig, pull, scale):
    # every length, the secondary and the pull by a factor, weights per length as they are
    names = ("drop_m", "ground_m", "riser_m", "secondary_wet_n")
    grown = two_cluster_line(scale * pull, **rig | {name: scale * rig[name] for name in names})
    state = two_cluster_line(pull, **rig)
    for name in ("reach_m", "secondary_x_m", "primary_uplift_n", "hook_tension_n"):
        assert float(getattr(grown, name)) == pytest.approx(
            scale * float(getattr(state, name)), rel=1e-8, abs=1e-6
        )


@given(RIGS, st.floats(0.1, 1e5), st.floats(0.001, 0.04))
def test_more_water_never_reaches_farther(rig, pull, rise):
    deeper = rig | {"drop_m": rig["drop_m"] * (1 + rise)}
    shallow, deep = (float(two_cluster_line(pull, **one).reach_m) for one in (rig, deeper))
    assert deep <= shallow * (1 + 1e-9)


@given(RIGS, st.floats(0.1, 1e5))
def test_balance_of_the_whole_line(rig, pull):
    state = two_cluster_line(pull, **rig)
    assert float(state.primary_tension_n) == pytest.approx(
        float(np.hypot(pull, state.primary_uplift_n))
    )
    if state.primary_uplift_n > 0:  # all of it off the bed: the hook carries it and the uplift
        weight = (
            rig["ground_weight_n_m"] * rig["ground_m"]
            + rig["riser_weight_n_m"] * rig["riser_m"]
            + rig["secondary_wet_n"]
        )
        assert float(vertical(state)) == pytest.approx(weight + float(state.primary_uplift_n))
