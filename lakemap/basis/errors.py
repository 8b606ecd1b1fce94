"""Problems with what was given, and the errors that carry them."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass


class RangeError(ValueError):
    """A number lies outside the range in which a formula or a shape holds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing wrong, or worth a caution, in what was given.

    Parameters
    ----------
    code : str
        Short stable name in snake_case, for scripts.
    text : str
        For people: the value, the rule and what would be right; no file, row or column.
    file, row, column : str, int and str, or None
        Where it stands; rows as a spreadsheet numbers them (header is 1), features from 1.
    fatal : bool
        True stops the run with exit code 2; False is a caution.
    """

    code: str
    text: str
    file: str | None = None
    row: int | None = None
    column: str | None = None
    fatal: bool = True

    def line(self) -> str:
        """Return the problem as one line: where, then what."""
        where = [self.file, None if self.row is None else f"row {self.row}", self.column]
        named = " ".join(part for part in where if part)
        return f"{named}: {self.text}" if named else self.text


class BadInputError(ValueError):
    """What was given cannot be used; carries every problem that was found."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(problem.line() for problem in self.problems))


class ProblemLog:
    """Gathers the problems of one run, so that none hides another."""

    def __init__(self) -> None:
        self._problems: list[Problem] = []

    def __iter__(self) -> Iterator[Problem]:
        """Iterate over the problems in the order they were found."""
        return iter(self._problems)

    def add(self, problem: Problem) -> None:
        """Keep one problem; the same one twice is kept once."""
        if problem not in self._problems:
            self._problems.append(problem)

    def any_fatal(self) -> bool:
        """Tell whether some problem stops the run."""
        return any(problem.fatal for problem in self._problems)

    def raise_if_fatal(self) -> None:
        """Raise one error with every problem, cautions included, if one is fatal.

        Raises
        ------
        BadInputError
            If some problem is fatal.
        """
        if self.any_fatal():
            raise BadInputError(self._problems)
