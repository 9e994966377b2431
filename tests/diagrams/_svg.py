"""Reading a drawing back: where its texts lie, measured as the drawing measures them."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise
from xml.etree import ElementTree

from redoxlib.diagrams._canvas import extent

SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Label:
    words: str
    corners: tuple[tuple[float, float], ...]


def root(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def labels(svg: str) -> list[Label]:
    """Every text with the corners of its (possibly turned) box."""
    found = []
    for element in root(svg).iter(f"{SVG}text"):
        words = element.text or ""
        size, x, y = (float(element.get(name, "0")) for name in ("font-size", "x", "y"))
        width, height = extent(words, size), size
        left = {"middle": -width / 2, "start": 0.0, "end": -width}[element.get("text-anchor", "start")]
        turn = re.match(r"rotate\((-?[\d.]+)", element.get("transform", ""))
        angle = math.radians(float(turn[1])) if turn else 0.0
        corners = [
            (x + dx * math.cos(angle) - dy * math.sin(angle), y + dx * math.sin(angle) + dy * math.cos(angle))
            for dx, dy in (
                (left, -height / 2),
                (left + width, -height / 2),
                (left + width, height / 2),
                (left, height / 2),
            )
        ]
        found.append(Label(words, tuple(corners)))
    return found


def _axes(corners: tuple[tuple[float, float], ...]) -> Iterator[tuple[float, float]]:
    for (x1, y1), (x2, y2) in pairwise(corners):
        yield y1 - y2, x2 - x1


def collide(one: Label, other: Label) -> bool:
    """Whether two convex boxes meet: no side of either separates them."""
    for axis in (*_axes(one.corners), *_axes(other.corners)):
        a = [x * axis[0] + y * axis[1] for x, y in one.corners]
        b = [x * axis[0] + y * axis[1] for x, y in other.corners]
        if max(a) <= min(b) + 1e-9 or max(b) <= min(a) + 1e-9:
            return False
    return True


def collisions(svg: str) -> list[tuple[str, str]]:
    return [(a.words, b.words) for a, b in combinations(labels(svg), 2) if collide(a, b)]
