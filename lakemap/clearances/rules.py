"""Which rule asks how much of what, and what is not asked for."""

from dataclasses import dataclass

from lakemap.basis.errors import Problem
from lakemap.basis.records import Rule, Settings, Zone

# rules that a field is expected to have; a missing one is said
_EXPECTED = {
    "neighbour": "floats are not checked against each other",
    "shore": "floats are not checked against the shore and islands",
    "swim_area": "floats are not checked against swim areas, but for those with a clearance of their own",  # noqa: E501
    "channel": "floats are not checked against channels, but for those with a clearance of their own",  # noqa: E501
}
LIST_BELOW_M = 100.0  # what is nearer than this is listed


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """What one thing asks of a float: a distance, and whose words say so; None: nothing."""

    required_m: float | None = None
    source: str | None = None


def ask_of(rule: Rule | None) -> Ask:
    """Return what a rule asks.

    Parameters
    ----------
    rule : Rule or None
        None: no table in the settings.

    Returns
    -------
    Ask
        Empty for no rule.
    """
    return Ask() if rule is None else Ask(required_m=rule.limit, source=rule.source)


def ask_of_zone(zone: Zone, settings: Settings) -> Ask:
    """Return what a zone asks: its own clearance before the rule of its kind.

    Parameters
    ----------
    zone : Zone
        Of any kind.
    settings : Settings
        Of the field.

    Returns
    -------
    Ask
        Empty if neither asks anything.
    """
    if zone.clearance_m is not None:
        return Ask(required_m=zone.clearance_m, source=zone.source or f"{zone.label}: its own")
    return ask_of(settings.rules.get(zone.kind))


def listing_limit(*asks: Ask) -> float:
    """Return the gap below which things are listed: 100 m, or more where a rule asks more."""
    return max(LIST_BELOW_M, *(ask.required_m or 0.0 for ask in asks))


def missing_rules(settings: Settings) -> tuple[Problem, ...]:
    """Return one caution for each expected rule that has no table.

    Parameters
    ----------
    settings : Settings
        Of the field.

    Returns
    -------
    tuple of Problem
        None fatal.
    """
    return tuple(
        Problem(
            code="rule_missing",
            text=f"no rule given, so {what}; add [rules.{kind}] with a distance and its source",
            file="field.toml",
            column=f"rules.{kind}",
            fatal=False,
        )
        for kind, what in _EXPECTED.items()
        if kind not in settings.rules
    )
