"""What all diagrams share: an SVG document, and a PNG made from it where an extra library can."""

from __future__ import annotations

import re
from pathlib import Path

from redoxlib.errors import DomainError, MissingExtraError


class Picture:
    """A diagram as data that can draw itself."""

    __slots__ = ()

    def svg(self) -> str:
        """The diagram as an SVG document: text, no scripts, readable on light and dark ground."""
        raise NotImplementedError

    def table(self) -> str:
        """The diagram as a table for a terminal."""
        raise NotImplementedError

    def png(self, scale: float = 2.0) -> bytes:
        """The diagram as a PNG on white ground.

        Raises
        ------
        MissingExtraError
            Where no library to draw it with is installed.
        """
        try:
            import cairosvg
        except (ImportError, OSError) as error:  # OSError: the library is there, the one it draws with is not
            raise MissingExtraError(
                "a PNG needs cairosvg", hint="install redoxlib[pictures], or write the SVG"
            ) from error
        made: bytes = cairosvg.svg2png(bytestring=self._flat().encode(), scale=scale)
        return made

    def save(self, path: str | Path) -> Path:
        """Write the diagram to a file; the ending (.svg, .png, .txt) says how.

        Raises
        ------
        DomainError
            For another ending.
        MissingExtraError
            For a PNG where no library to draw it with is installed.
        """
        target = Path(path)
        kind = target.suffix.lower()
        if kind == ".svg":
            target.write_text(self.svg(), encoding="utf-8")
        elif kind == ".png":
            target.write_bytes(self.png())
        elif kind == ".txt":
            target.write_text(self.table() + "\n", encoding="utf-8")
        else:
            raise DomainError(
                f"{target.name!r} does not end in .svg, .png or .txt", hint="the ending says how to write it"
            )
        return target

    def _repr_svg_(self) -> str:
        """What a notebook shows."""
        return self.svg()

    def _flat(self) -> str:
        """The SVG with one set of colours, for a renderer that knows no media queries."""
        plain = re.sub(r"<style>.*?</style>", "", self.svg(), flags=re.DOTALL)
        ground = '<rect width="100%" height="100%" fill="#ffffff"/>'
        return plain.replace("currentColor", "#222222").replace("</desc>", f"</desc>{ground}", 1)
