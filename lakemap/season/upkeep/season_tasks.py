"""What the season asks of all floats: setting, marking, lifting."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from lakemap.basis.records import Season
from lakemap.season.upkeep.days import next_day

Task = Literal["set", "mark", "look", "lift"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonTask:
    """One thing to do for all floats."""

    what: Task
    on: date | None  # None: field.toml gives no day
    text: str | None  # of the marking rule, as written


def season_tasks(season: Season, *, on: date) -> tuple[SeasonTask, ...]:
    """Return what the season asks for next, by date.

    Parameters
    ----------
    season : Season
        Of the settings.
    on : date
        From this day, it included.

    Returns
    -------
    tuple of SeasonTask
        Setting, with the look that goes with it, marking, lifting; those without a day last.
    """
    set_on, lift_on = next_day(season.set_on, on), next_day(season.lift_on, on)
    tasks = []
    if set_on is not None:
        tasks += [SeasonTask(what="set", on=set_on, text=None)]
        tasks += [SeasonTask(what="look", on=set_on, text=None)]
    if season.marking is not None:
        tasks += [SeasonTask(what="mark", on=set_on, text=season.marking)]
    if lift_on is not None:
        tasks += [SeasonTask(what="lift", on=lift_on, text=None)]
    return tuple(sorted(tasks, key=lambda one: one.on or date.max))
