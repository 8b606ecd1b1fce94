"""The check kept at hand: after some floats changed, only what that can have changed anew."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields, replace
from typing import Any

import numpy as np

from lakemap.basis.errors import Problem
from lakemap.basis.records import IntArray
from lakemap.clearances.against import listed_pairs, pair_clearances
from lakemap.clearances.check import (
    check,
    field_cautions,
    least_spare_first,
    verdict_of,
)
from lakemap.clearances.circles import Circles, checked_circles
from lakemap.clearances.pairs import Pairs
from lakemap.clearances.records import CheckSubject, Clearance, FloatCheck
from lakemap.rig.records import Placement

_TOLD_AGAIN = "same_wind_only"  # rests on the neighbours, so it is found anew
_UNCHECKED = FloatCheck(verdict=None, shallowest_m=None, clearances=(), problems=())
_MANY = 1 << 31  # more floats than any lake has


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A checked field, ready for the next change."""

    subject: CheckSubject
    circles: Circles
    pairs: Pairs
    floats: tuple[FloatCheck, ...]  # in file order
    near_low_water: frozenset[int]  # floats whose shore is nearer at low water than asked
    problems: tuple[Problem, ...]  # of the field; cautions


def standing(subject: CheckSubject) -> Standing:
    """Check a field, and keep what a change needs.

    Parameters
    ----------
    subject : CheckSubject
        Floats, placed, and the lake.

    Returns
    -------
    Standing
        Its floats and problems as `check` gives them.
    """
    found = check(subject)
    circles = checked_circles(subject)
    return Standing(
        subject=subject,
        circles=circles,
        pairs=listed_pairs(subject, circles),
        floats=found.floats,
        near_low_water=found.near_low_water,
        problems=found.problems,
    )


def checked_again(before: Standing, subject: CheckSubject, changed: Sequence[int]) -> Standing:
    """Check a field again in which only some floats changed.

    Parameters
    ----------
    before : Standing
        The field as it was.
    subject : CheckSubject
        As it is; new floats stand at the end, none is taken away.
    changed : sequence of int
        Floats that are new, or placed or made otherwise than before; index into the field's.

    Returns
    -------
    Standing
        As `standing(subject)` gives it.
    """
    circles = checked_circles(subject)
    pairs = listed_pairs(subject, circles)
    part = _only(subject, changed)
    alone = check(part)
    floats: list[FloatCheck] = [*before.floats]
    floats += [_UNCHECKED] * (len(subject.floats) - len(floats))
    for i, one in zip(changed, alone.floats, strict=True):
        floats[i] = one
    concerned = _concerned(before, circles, pairs, changed)
    between: dict[int, list[Clearance]] = {i: [] for i in concerned}
    mine = np.isin(circles.index[pairs.first], concerned)
    mine |= np.isin(circles.index[pairs.second], concerned)
    for k, clearance in pair_clearances(subject, circles, pairs.only(mine)):
        i = int(circles.index[k])
        if i in between:
            between[i].append(clearance)
    for i, others in between.items():
        floats[i] = _with_others(subject, i, floats[i], others)
    near = (before.near_low_water - set(changed)) | {changed[k] for k in alone.near_low_water}
    return Standing(
        subject=subject,
        circles=circles,
        pairs=pairs,
        floats=tuple(floats),
        near_low_water=near,
        problems=field_cautions(subject, circles, near),
    )


def _only(subject: CheckSubject, kept: Sequence[int]) -> CheckSubject:
    """The same field with some of its floats alone in it."""
    at = list(kept)
    return replace(
        subject,
        floats=tuple(subject.floats[i] for i in at),
        placement=taken(subject.placement, at),
        draft_people_m=subject.draft_people_m[at],
    )


def taken(placement: Placement, index: Sequence[int]) -> Placement:
    """Return the placement of some floats.

    Parameters
    ----------
    placement : Placement
        Of a field.
    index : sequence of int
        Which.

    Returns
    -------
    Placement
        In that order.
    """
    at = list(index)
    return replace(placement, **{name: getattr(placement, name)[at] for name in _names(placement)})


def spliced(whole: Placement, part: Placement, index: Sequence[int]) -> Placement:
    """Return a field's placement with that of some floats in place of theirs.

    Parameters
    ----------
    whole : Placement
        Of n floats.
    part : Placement
        Of some of them, or of new ones.
    index : sequence of int
        Whose it is; from n on, new ones in order.

    Returns
    -------
    Placement
        Of the old and the new floats.
    """
    return Placement(
        **{name: put(getattr(whole, name), getattr(part, name), index) for name in _names(whole)}
    )


def put(whole: Any, part: Any, index: Sequence[int]) -> Any:  # noqa: ANN401 - arrays of any kind
    """Return an array with some rows replaced, or added at its end.

    Parameters
    ----------
    whole, part : ndarray
        Rows by float.
    index : sequence of int
        Where each row of `part` goes.

    Returns
    -------
    ndarray
        A new one.
    """
    at = np.asarray(index, dtype=np.int64)
    more = int((at >= len(whole)).sum())
    grown = np.concatenate([whole, part[len(part) - more :]]) if more else whole.copy()
    grown[at] = part
    return grown


def _names(placement: Placement) -> list[str]:
    return [one.name for one in fields(placement)]


def _concerned(
    before: Standing, circles: Circles, pairs: Pairs, changed: Sequence[int]
) -> list[int]:
    """Floats whose gaps to others can be new.

    Those changed, their partners, and those whose partners are others than before, as where the
    nearest one went away.
    """
    old, new = _keys(before.circles, before.pairs), _keys(circles, pairs)
    differ = np.setxor1d(old, new, assume_unique=True)
    touched = np.concatenate([old, new])
    ends = np.stack([touched // _MANY, touched % _MANY])
    near = touched[np.isin(ends, np.asarray(changed)).any(axis=0)]
    every = np.concatenate([differ, near])
    found = set(changed) | set((every // _MANY).tolist()) | set((every % _MANY).tolist())
    return sorted(found)


def _keys(circles: Circles, pairs: Pairs) -> IntArray:
    """One number for each pair, of the floats' places in the field."""
    ends = np.sort(np.stack([circles.index[pairs.first], circles.index[pairs.second]]), axis=0)
    keys: IntArray = ends[0].astype(np.int64) * _MANY + ends[1]
    return keys


def _with_others(
    subject: CheckSubject, i: int, one: FloatCheck, others: Iterable[Clearance]
) -> FloatCheck:
    """A float's check with its clearances to other floats in place of those it had."""
    if subject.floats[i].status == "retired":
        return one
    own = [clearance for clearance in one.clearances if clearance.kind != "float"]
    clearances = tuple(sorted([*others, *own], key=least_spare_first))
    verdict, by_wind = verdict_of(subject, i, clearances)
    problems = [problem for problem in one.problems if problem.code != _TOLD_AGAIN]
    return replace(
        one,
        verdict=verdict,
        clearances=clearances,
        problems=(*problems, *by_wind),
    )
