"""A formula that shows its working: the call that computes a number also keeps what it took."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.records import BoolArray, FloatArray


def read_off(**_given: ArrayLike) -> FloatArray:
    """Stand for a law whose number is read off a map, not reckoned from its terms."""
    raise TypeError("read off the map; its terms do not give it")


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """One input of a formula."""

    symbol: str  # as the formula writes it
    name: str  # for people
    unit: str  # SI, as "m", "N", "m/s"; "" for a pure number


@dataclass(frozen=True, slots=True, kw_only=True)
class Formula:
    """One formula: how it is computed, how it is written, where it comes from.

    Parameters
    ----------
    key : str
        Short stable name in snake_case.
    name : str
        What it gives, for people; starts with a capital.
    symbol : str
        Of the result.
    words : str
        The formula in symbols, such as `q = ½ ρ U²`.
    unit : str
        SI unit of the result.
    source : str
        Title, year, and equation or table; or "ours" with the reason.
    terms : Mapping of str to Term
        The inputs by the law's keywords.
    law : callable
        Takes the terms by keyword, arrays in, one array out.
    valid : str
        The range in words; blank where the formula holds everywhere.
    holds : callable or None
        Takes the same keywords; tells where the inputs lie inside the range.
    """

    key: str
    name: str
    symbol: str
    words: str
    unit: str
    source: str
    terms: Mapping[str, Term]
    law: Callable[..., Any]
    valid: str = ""
    holds: Callable[..., Any] | None = None

    def __call__(self, **given: ArrayLike) -> "Step":
        """Compute the number and keep the working.

        Parameters
        ----------
        **given : array_like
            The terms, by their keywords.

        Returns
        -------
        Step
            Its `value` is the number.
        """
        arrays = {name: np.asarray(value, dtype=np.float64) for name, value in given.items()}
        return self.told(self.law(**arrays), **arrays)

    def told(self, value: ArrayLike, **given: ArrayLike) -> "Step":
        """Keep the working of a number that one call gave along with others.

        Parameters
        ----------
        value : array_like
            What the law gives for these terms.
        **given : array_like
            The terms, by their keywords.

        Returns
        -------
        Step
            The same as calling the formula, without computing twice.

        Raises
        ------
        TypeError
            If the terms are not those of the formula.
        """
        if given.keys() != self.terms.keys():
            raise TypeError(f"{self.key} takes {', '.join(self.terms)}; got {', '.join(given)}")
        arrays = {name: np.asarray(given[name], dtype=np.float64) for name in self.terms}
        shape = np.broadcast_shapes(np.shape(value), *(array.shape for array in arrays.values()))
        inside = True if self.holds is None else self.holds(**arrays)
        return Step(
            formula=self,
            given=MappingProxyType(
                {name: np.broadcast_to(array, shape) for name, array in arrays.items()}
            ),
            value=np.broadcast_to(np.asarray(value, dtype=np.float64), shape),
            inside=np.broadcast_to(np.asarray(inside, dtype=bool), shape),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One formula with the numbers it took and gave; all arrays of one shape, NaN unknown."""

    formula: Formula
    given: Mapping[str, FloatArray]
    value: FloatArray
    inside: BoolArray  # True where the inputs lie in the formula's range
    of: tuple[str, ...] = ()  # what each element is about, where they differ; blank: nothing here

    def pick(self, *at: Any) -> "Step":  # noqa: ANN401 - whatever an array may be indexed by
        """Return the step at some elements, such as each float's own bearing.

        Parameters
        ----------
        *at : index
            One for each axis.

        Returns
        -------
        Step
            Of the picked shape.
        """
        return Step(
            formula=self.formula,
            given=MappingProxyType({name: array[at] for name, array in self.given.items()}),
            value=self.value[at],
            inside=self.inside[at],
        )

    def where(self, known: BoolArray) -> "Step":
        """Return the step with NaN where its inputs are not known.

        Parameters
        ----------
        known : ndarray of bool
            Of the step's shape.

        Returns
        -------
        Step
            Its value NaN elsewhere.
        """
        return replace(self, value=np.where(known, self.value, np.nan))
