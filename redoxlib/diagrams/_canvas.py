"""Drawing by hand: axes, text with a known extent, and places where labels do not collide.

Everything is drawn in the colour of the text around it, so that a diagram reads on light and on dark
ground; tints are see-through.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from html import escape
from itertools import pairwise
from math import ceil, hypot

from redoxlib.notation import Species

Spot = tuple[float, float]
"""x and y in the drawing, y downwards."""

WIDTH, HEIGHT = 760.0, 560.0
LEFT, TOP, RIGHT, BOTTOM = 72.0, 48.0, 596.0, 492.0
MARGIN = 612.0
"""Where the column of outside labels begins."""
FONT = "system-ui, -apple-system, 'Segoe UI', Roboto, 'DejaVu Sans', Arial, sans-serif"

# Blue for reduced through grey to orange for oxidised: told apart by the colour-blind too.
_RAMP = ("#2f6db5", "#4f93c4", "#7fae9e", "#a3a38a", "#d2a03c", "#d9792b", "#c4502f")


def tint(share: float) -> str:
    """Colour for a share from 0 (most reduced) to 1 (most oxidised)."""
    return _RAMP[min(len(_RAMP) - 1, max(0, round(share * (len(_RAMP) - 1))))]


_NARROW = frozenset("ijlI.,:;'|()[]/ ⁺⁻₀₁₂₃₄₅₆₇₈₉⁰¹²³⁴⁵⁶⁷⁸⁹·-")


def extent(text: str, size: float) -> float:
    """Width of a text, on the wide side for every font of the list."""
    return sum(size * (0.42 if c in _NARROW else 0.86 if c in "MWmw" else 0.66) for c in text)


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle."""

    x1: float
    y1: float
    x2: float
    y2: float

    @classmethod
    def around(cls, x: float, y: float, width: float, height: float) -> Box:
        return cls(x - width / 2, y - height / 2, x + width / 2, y + height / 2)

    def grown(self, by: float) -> Box:
        return Box(self.x1 - by, self.y1 - by, self.x2 + by, self.y2 + by)

    def meets(self, other: Box) -> bool:
        return self.x1 < other.x2 and other.x1 < self.x2 and self.y1 < other.y2 and other.y1 < self.y2

    def crossed_by(self, start: Spot, end: Spot) -> bool:
        """Whether a stretch of line enters the box (clipping the line to it leaves something)."""
        low, high = 0.0, 1.0
        for at, to, least, most in (
            (start[0], end[0], self.x1, self.x2),
            (start[1], end[1], self.y1, self.y2),
        ):
            step = to - at
            if abs(step) < 1e-12:
                if not least <= at <= most:
                    return False
                continue
            enter, leave = sorted(((least - at) / step, (most - at) / step))
            low, high = max(low, enter), min(high, leave)
            if low > high:
                return False
        return True

    @property
    def corners(self) -> tuple[Spot, Spot, Spot, Spot]:
        return (self.x1, self.y1), (self.x2, self.y1), (self.x2, self.y2), (self.x1, self.y2)


def number(value: float) -> str:
    """A coordinate with at most two decimals."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


def say(species: Species) -> str:
    """A species for the eye; the phase only where it is no solution."""
    text = species.unicode()
    return text.removesuffix("(aq)")


@dataclass(slots=True)
class Axis:
    """One axis: the range shown, where it lies in the drawing, and its ticks."""

    low: float
    high: float
    start: float
    end: float
    step: float

    def __call__(self, value: float) -> float:
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)

    @property
    def ticks(self) -> list[float]:
        first = ceil(self.low / self.step - 1e-9)
        count = int((self.high - first * self.step) / self.step + 1e-9)
        return [(first + i) * self.step for i in range(count + 1)]


@dataclass(slots=True)
class Canvas:
    """Collects marks, and remembers what a label must not cover."""

    name: str
    title: str
    description: str
    body: list[str] = field(default_factory=list)
    labels: list[str] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)
    lines: list[tuple[Spot, Spot]] = field(default_factory=list)

    def add(self, mark: str) -> None:
        self.body.append(mark)

    def line(
        self, start: Spot, end: Spot, *, width: float = 1.0, dash: str = "", opacity: float = 1.0
    ) -> None:
        """A stroke in the colour of the text."""
        dashes = f' stroke-dasharray="{dash}"' if dash else ""
        faint = f' stroke-opacity="{opacity:g}"' if opacity < 1 else ""
        self.add(
            f'<line x1="{number(start[0])}" y1="{number(start[1])}" x2="{number(end[0])}" '
            f'y2="{number(end[1])}" stroke="currentColor" stroke-width="{width:g}"{dashes}{faint}/>'
        )

    def path(
        self, spots: Sequence[Spot], *, width: float, dash: str = "", colour: str = "currentColor"
    ) -> None:
        """An open run of strokes, kept as an obstacle."""
        points = " ".join(f"{number(x)},{number(y)}" for x, y in spots)
        dashes = f' stroke-dasharray="{dash}"' if dash else ""
        self.add(
            f'<polyline points="{points}" fill="none" stroke="{colour}" stroke-width="{width:g}" '
            f'stroke-linejoin="round"{dashes}/>'
        )
        # A smooth curve of hundreds of spots is as good an obstacle with every sixth.
        kept = [*spots[::6], spots[-1]] if len(spots) > 60 else spots
        self.lines += list(pairwise(kept))

    def text(
        self,
        x: float,
        y: float,
        words: str,
        *,
        size: float = 13.0,
        anchor: str = "middle",
        turned: float = 0.0,
        style: str = "",
    ) -> None:
        """Write words with their middle line at y, turned clockwise by some degrees about their middle."""
        turn = f' transform="rotate({number(turned)} {number(x)} {number(y)})"' if turned else ""
        slant = f" {style}" if style else ""
        self.labels.append(
            f'<text x="{number(x)}" y="{number(y)}" font-size="{size:g}" text-anchor="{anchor}" '
            f'dominant-baseline="central"{turn}{slant}>{escape(words)}</text>'
        )

    def claim(self, box: Box) -> None:
        """Keep a place, and a little around it, free of later labels."""
        self.boxes.append(box.grown(2))

    def free(self, box: Box) -> bool:
        """Whether a label may go there: inside the drawing and over no other."""
        inside = box.x1 > 2 and box.y1 > 2 and box.x2 < WIDTH - 2 and box.y2 < HEIGHT - 2
        return inside and not any(box.meets(other) for other in self.boxes)

    def crossings(self, box: Box) -> int:
        """How many strokes run through a place."""
        return sum(box.crossed_by(a, b) for a, b in self.lines)

    def label_near(
        self, spot: Spot, words: str, *, size: float = 12.5, gap: float = 9.0, within: Box | None = None
    ) -> None:
        """Write words as near to a spot as nothing is in the way, with a hair line if that is far."""
        width, height = extent(words, size), size * 1.3
        best: tuple[float, Box] | None = None
        for ring in range(12):
            reach = gap + ring * 9
            for dx, dy in _AROUND:
                x = spot[0] + dx * (reach + width / 2)
                y = spot[1] + dy * (reach + height / 2)
                box = Box.around(x, y, width, height)
                if not self.free(box) or (within and not holds(within, box)):
                    continue
                cost = ring * 2.0 + 5.0 * self.crossings(box.grown(1.5)) + (0.3 if dx == 0 else 0.0)
                if best is None or cost < best[0]:
                    best = (cost, box)
            if best is not None and best[0] <= 2.0 * ring:
                break
        if best is None:
            self.outside([(spot, words)], size=size)
            return
        box = best[1]
        x, y = (box.x1 + box.x2) / 2, (box.y1 + box.y2) / 2
        near = (min(max(spot[0], box.x1), box.x2), min(max(spot[1], box.y1), box.y2))
        if hypot(near[0] - spot[0], near[1] - spot[1]) > gap + 9:
            self.line(spot, near, width=0.7, opacity=0.55)
        self.text(x, y, words, size=size)
        self.claim(box)

    def outside(self, wanted: Iterable[tuple[Spot, str]], *, size: float = 12.5, style: str = "") -> None:
        """Write labels in the right margin, one under the other, each with a line to its spot."""
        height = size * 1.55
        ordered = sorted(wanted, key=lambda pair: pair[0][1])
        taken = [box for box in self.boxes if box.x2 > MARGIN]
        at = TOP
        for left, (spot, words) in zip(range(len(ordered), 0, -1), ordered, strict=True):
            y = max(at + height / 2, min(spot[1], HEIGHT - 12 - (left - 0.5) * height))
            box = Box(MARGIN, y - height / 2, MARGIN + extent(words, size), y + height / 2)
            while any(box.meets(other) for other in taken):
                y += 2.0
                box = Box(MARGIN, y - height / 2, MARGIN + extent(words, size), y + height / 2)
            end = (MARGIN - 4, y)
            self.line(spot, end, width=0.7, opacity=0.6)
            self.lines.append((spot, end))
            self.text(MARGIN, y, words, size=size, anchor="start", style=style)
            self.claim(box)
            taken.append(box)
            at = y + height / 2

    def frame(
        self,
        x: Axis,
        y: Axis,
        x_name: str,
        y_name: str,
        x_text: Callable[[float], str] | None = None,
        *,
        titled: bool = True,
    ) -> None:
        """Border, ticks and names of the axes; one of several panels goes without the title."""
        write = x_text or (lambda v: f"{v:g}")
        self.add(
            f'<rect x="{number(x.start)}" y="{number(y.end)}" width="{number(x.end - x.start)}" '
            f'height="{number(y.start - y.end)}" fill="none" stroke="currentColor" stroke-width="1"/>'
        )
        for tick in x.ticks:
            at = x(tick)
            self.line((at, y.start), (at, y.start + 5))
            self.text(at, y.start + 17, write(tick).replace("-", "−"), size=12)
        for tick in y.ticks:
            at = y(tick)
            self.line((x.start - 5, at), (x.start, at))
            self.text(x.start - 9, at, f"{tick:g}".replace("-", "−"), size=12, anchor="end")
        self.text((x.start + x.end) / 2, y.start + 40, x_name, size=13)
        self.text(x.start - 50, (y.start + y.end) / 2, y_name, size=13, turned=-90)
        if titled:
            self.text(x.start, y.end - 24, self.title, size=15, anchor="start", style='font-weight="600"')

    def document(self, height: float = HEIGHT) -> str:
        """The finished SVG, as high as what was drawn asks for."""
        key = f"rlx-{self.name}"
        style = (
            f"<style>#{key}{{color:#222222}}"
            f"@media screen and (prefers-color-scheme:dark){{#{key}{{color:#e6e8eb}}}}</style>"
        )
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" id="{key}" viewBox="0 0 {WIDTH:g} {height:g}" '
            f'width="{WIDTH:g}" height="{height:g}" role="img" aria-labelledby="{key}-title {key}-desc">'
        )
        return "\n".join(
            [
                head,
                f'<title id="{key}-title">{escape(self.title)}</title>',
                f'<desc id="{key}-desc">{escape(self.description)}</desc>',
                style,
                *self.body,
                f'<g fill="currentColor" font-family="{escape(FONT)}">',
                *self.labels,
                "</g>",
                "</svg>",
                "",
            ]
        )


_AROUND = (
    (1, -0.6),
    (-1, -0.6),
    (1, 0.6),
    (-1, 0.6),
    (0, -1),
    (0, 1),
    (1, 0),
    (-1, 0),
    (0.5, -1),
    (-0.5, -1),
    (0.5, 1),
    (-0.5, 1),
)


def holds(outer: Box, inner: Box) -> bool:
    """Whether one rectangle lies within another."""
    return outer.x1 <= inner.x1 and outer.y1 <= inner.y1 and inner.x2 <= outer.x2 and inner.y2 <= outer.y2
