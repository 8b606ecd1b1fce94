"""The float with its clusters hung under it, over the shallowest place of its way: to scale."""

import math
from dataclasses import dataclass
from html import escape
from typing import Final

from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import Units
from lakemap.basis.wording import length_text
from lakemap.outputs.drawn.placer import INK, Anchor, Placer
from lakemap.outputs.words.texts import Texts
from lakemap.season.facts.lifting import Under

_WIDTH, _MOST = 400.0, 190.0  # px; it is as high as it needs
_LEFT, _TOP, _LOW = 12.0, 26.0, 52.0  # px: left of the float, above it, below the bed
_AIR: Final = 1.2  # of the deck's length, for the float's own part of the picture
_PART: Final = 0.34  # of the width, for the float; words have the rest
_LETTERS: Final = 14.0  # px
_HAIR: Final = 1e-6  # of the last digit shown
_WATER, _BED, _WOOD = "#D6E8EE", "#D9CFBD", "#C9B48C"


@dataclass(frozen=True, slots=True, kw_only=True)
class HungView:
    """What the view is drawn from [m]; depths below the water."""

    deck_m: float
    height_m: float  # of flotation and deck
    float_draft_m: float  # of the float itself, with the clusters under it
    hook_depth_m: float  # negative: above the water
    lowest_m: float  # of the clusters
    bed_m: float  # depth at the shallowest place
    under: Under = "both"  # which clusters hang there


@dataclass(frozen=True, slots=True, kw_only=True)
class _Scale:
    """One scale both ways."""

    k: float  # px a metre
    x: float  # px, the middle of the float
    water: float  # px, its surface

    def y(self, depth_m: float) -> float:
        """Where a depth is."""
        return self.water + depth_m * self.k


def hung_svg(view: HungView, *, units: Units, texts: Texts) -> str:
    """Return the float with its clusters under it.

    Parameters
    ----------
    view : HungView
        Of one float.
    units : {'ft-lb', 'm-kg'}
        What people use.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        SVG, one scale both ways.
    """
    above = max(view.height_m - view.float_draft_m, 0.0)
    deep = max(view.lowest_m, view.bed_m, view.float_draft_m)
    k = min(_PART * _WIDTH / (_AIR * view.deck_m), (_MOST - _TOP - _LOW) / (above + deep))
    high = _TOP + (above + deep) * k + _LOW
    water = _TOP + above * k
    x = _LEFT + view.deck_m * k / 2
    scale = _Scale(k=k, x=x, water=water)
    return "".join(
        [
            f'<svg viewBox="0 0 {_WIDTH:g} {high:.1f}" role="img"'
            ' font-family="system-ui, sans-serif"'
            f' aria-label="{escape(texts.of("sheet_frame.hung_short"))}">',
            f'<rect width="{_WIDTH:g}" height="{high:.1f}" fill="#F7FAFB"/>',
            f'<rect y="{water:.1f}" width="{_WIDTH:g}" height="{high - water:.1f}"'
            f' fill="{_WATER}"/>',
            f'<path d="M0 {water:.1f}H{_WIDTH:g}" stroke="#3E7391" stroke-width="1.5"/>',
            _bed_svg(scale.y(view.bed_m), high),
            _float_svg(view, scale),
            _clusters_svg(view, scale),
            _measures(view, scale, _said(view, units, texts)),
            "</svg>",
        ]
    )


def _bed_svg(bed: float, high: float) -> str:
    return (
        f'<rect y="{bed:.1f}" width="{_WIDTH:g}" height="{high - bed:.1f}" fill="{_BED}"/>'
        f'<path d="M0 {bed:.1f}H{_WIDTH:g}" stroke="{INK}"/>'
    )


def _float_svg(view: HungView, scale: _Scale) -> str:
    x, half, high = scale.x, view.deck_m * scale.k / 2, view.height_m * scale.k
    top = scale.y(view.float_draft_m - view.height_m)
    return (
        f'<rect x="{x - half:.1f}" y="{top:.1f}" width="{2 * half:.1f}" height="{high:.1f}"'
        f' rx="{high / 2:.1f}" fill="#fff" stroke="{INK}" stroke-width="1.5"/>'
        f'<rect x="{x - half:.1f}" y="{top - 6:.1f}" width="{2 * half:.1f}" height="6"'
        f' fill="{_WOOD}" stroke="{INK}"/>'
    )


def _clusters_svg(view: HungView, scale: _Scale) -> str:
    """What hangs there on short chains from the hook: primary filled, secondary open."""
    x, hook, low = scale.x, scale.y(view.hook_depth_m), scale.y(view.lowest_m)
    high = max(min(0.45 * (low - hook), 16.0), 4.0)
    wide = 1.5 * high
    looks = {
        "primary": f'fill="{INK}"',
        "secondary": f'fill="#fff" stroke="{INK}" stroke-width="1.6"',
    }
    hanging = list(looks) if view.under == "both" else [view.under]
    offs = (-0.6 * wide, 0.6 * wide) if view.under == "both" else (0.0,)
    parts = [
        f'<path d="M{x:.1f} {hook:.1f}L{x + off:.1f} {low - high:.1f}" fill="none"'
        f' stroke="{INK}" stroke-width="3" stroke-dasharray="4.5 1.8"/>'
        f'<rect x="{x + off - wide / 2:.1f}" y="{low - high:.1f}" width="{wide:.1f}"'
        f' height="{high:.1f}" {looks[name]}/>'
        for name, off in zip(hanging, offs, strict=True)
    ]
    return f'{"".join(parts)}<circle cx="{x:.1f}" cy="{hook:.1f}" r="2.6" fill="{INK}"/>'


def _said(view: HungView, units: Units, texts: Texts) -> tuple[str, str, str]:
    """How deep the clusters hang, how deep the water is, and what is left between them."""
    lowest = length_text(view.lowest_m, units, rounding="up")
    return (
        texts.of(f"sheet_frame.hang_{view.under}", far=lowest),
        texts.of("sheet_frame.way", depth=length_text(view.bed_m, units, rounding="down")),
        _left_text(view, units, texts),
    )


def _measures(view: HungView, scale: _Scale, said: tuple[str, str, str]) -> str:
    """Bars beside the float, and what they measure, to their right."""
    water, low, bed = scale.water, scale.y(view.lowest_m), scale.y(view.bed_m)
    right = scale.x + view.deck_m * scale.k / 2
    x1, x2, room = right + 14, right + 28, Placer(0, 0, _WIDTH, bed + _LOW, letters=_LETTERS)
    bars = (
        f"M{x1:.1f} {water:.1f}V{low:.1f}M{x1 - 4:.1f} {low:.1f}h8"
        f"M{x2:.1f} {water:.1f}V{bed:.1f}M{x2 - 4:.1f} {bed:.1f}h8"
        f"M{x1 - 4:.1f} {water:.1f}h{x2 - x1 + 8:.1f}"
    )
    places: tuple[tuple[float, float, Anchor], ...] = (
        (x2 + 8, (water + low) / 2, "start"),
        (x2 + 8, bed + 15, "start"),
        (x2 + 8, bed + 36, "start"),
    )
    words = [
        room.put([text], [place], bold=k == len(said) - 1)[0]
        for k, (text, place) in enumerate(zip(said, places, strict=True))
    ]
    return f'<path d="{bars}" fill="none" stroke="{INK}" stroke-width="1.2"/>{"".join(words)}'


def _left_text(view: HungView, units: Units, texts: Texts) -> str:
    """What is left under the clusters, of the figures as they are shown beside it."""
    step = FOOT_M.value / 10 if units == "ft-lb" else 0.01
    left = math.floor(view.bed_m / step + _HAIR) - math.ceil(view.lowest_m / step - _HAIR)
    if left < 0:
        return texts.of("sheet_frame.too_shallow", far=length_text(-left * step, units))
    name = "left" if view.under == "both" else "left_one"
    return texts.of(f"sheet_frame.{name}", far=length_text(left * step, units))
