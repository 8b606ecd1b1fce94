"""Whatever a page may send: an answer that is JSON, or a refusal that says why; never a failure."""

import json
import shutil
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lakemap.basis.errors import BadInputError
from lakemap.inputs.folder import read_field
from lakemap.planner.desk import Desk
from lakemap.planner.planned import FIELDS

POND = Path(__file__).parents[2] / "data" / "small-pond"
IDS = [one.float_id for one in read_field(POND).floats]
FAR = 2**53  # the greatest whole number that a body may hold

near = st.floats(-200.0, 200.0)
number = st.one_of(
    near,
    st.floats(allow_nan=False, allow_infinity=False),
    st.integers(-FAR, FAR),
    st.sampled_from([0, -0.0, 1e308, 5e-324]),
)
plain = st.one_of(st.none(), st.booleans(), number, st.text(max_size=8))
anything = st.recursive(
    plain,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=6,
)  # fmt: skip
length = st.builds(
    lambda much, unit: f"{much} {unit}".strip(),
    st.one_of(st.integers(-2, 60), st.floats(0, 40).map(lambda v: f"{v:.3g}")),
    st.sampled_from(["", "ft", "m", "in", "mm", "kg", "furlong"]),
)
typed = {
    "lot": st.one_of(st.text(max_size=6), st.sampled_from(["1", "2", " 3 "])),
    "status": st.sampled_from(["set", "proposed", "retired", "", "Set", "gone"]),
    "primary_blocks": st.one_of(st.integers(-1, 400).map(str), st.just(""), length),
    "secondary_blocks": st.one_of(st.integers(-1, 400).map(str), st.just(""), length),
}
ODD = ["", "½ ft", "10 ft 6 in", "1e400 m", "nan", "١٢ m", "1e300 m", "1e-300 m", "1e5 m", "999999"]
odd = st.one_of(anything, st.sampled_from(ODD))


def column(name):
    return st.one_of(typed.get(name, length), typed.get(name, length), odd)


columns = st.fixed_dictionaries({}, optional={name: column(name) for name in FIELDS})
move = st.fixed_dictionaries({}, optional={"x": st.one_of(near, near, number), "y": near})
change = st.builds(lambda *parts: {k: v for part in parts for k, v in part.items()}, columns, move)
# a new float with a deck at a place: what the page sends when somebody adds one
added = st.builds(
    lambda more, x, y: {"new": True, "length": "3 m", "width": "2.5 m", "x": x, "y": y} | more,
    change,
    near,
    near,
)
name = st.one_of(st.sampled_from(IDS), st.sampled_from([*IDS, "90", "91"]), st.text(max_size=6))
plans = st.one_of(
    st.dictionaries(name, st.one_of(change, change, added, anything), max_size=4),
    st.dictionaries(st.sampled_from(IDS), st.one_of(change, move), max_size=4),
    st.dictionaries(st.sampled_from(["90", "91", "92"]), added, max_size=3),
    anything,
)
wind = st.fixed_dictionaries(
    {
        "level_m": st.one_of(st.floats(-1.0, 1.0), anything),
        "wind_m_s": st.one_of(st.floats(0.0, 60.0), anything),
        "from_deg": st.one_of(st.floats(0.0, 360.0), anything),
    }
)
extra = {
    "plan": st.fixed_dictionaries(
        {}, optional={"quick": st.booleans(), "chosen": st.one_of(name, anything)}
    ),
    "lie": wind,
    "why": st.fixed_dictionaries(
        {"x": number, "y": number}, optional={"like": st.one_of(name, anything)}
    ),
    "compare": st.just({}),
}
asks = st.sampled_from(sorted(extra)).flatmap(
    lambda ask: st.tuples(st.just(ask), plans, extra[ask])
)
OFTEN = settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)


@pytest.fixture(scope="module")
def desk():
    return Desk(POND)


def told(desk, ask, body):
    """The answer, or None for a refusal that says why."""
    answer, refused = None, None
    try:
        answer = desk.answer(ask, body)
    except BadInputError as error:
        refused = [problem.text.strip() for problem in error.problems]
    assert refused is None or (refused and all(refused))
    return json.loads(json.dumps(answer, allow_nan=False))


@pytest.mark.slow
@OFTEN
@given(asked=asks)
def test_any_plan_is_answered_or_refused(desk, asked):
    ask, plan, more = asked
    answer = told(desk, ask, {"changes": plan, **more})
    if answer is not None and ask == "plan":
        assert set(answer["counts"]) == {"conflict", "tight", "unknown", "clear", "retired"}


@pytest.mark.slow
@settings(parent=OFTEN, max_examples=40)
@given(plan=plans)
def test_what_is_saved_can_be_read_again(tmp_path_factory, plan):
    folder = Path(shutil.copytree(POND, tmp_path_factory.mktemp("any") / "pond"))
    before = (folder / "floats.csv").read_bytes()
    answer = told(Desk(folder), "save", {"changes": plan})
    if answer is None or not answer["saved"]:
        assert (folder / "floats.csv").read_bytes() == before
    else:
        assert Desk(folder).answer("plan", {"changes": {}})["changed"] == []
    with suppress(OSError):
        shutil.rmtree(folder)
