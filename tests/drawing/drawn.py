"""Drawings that are no sheets, read back."""

import re
from xml.etree import ElementTree


class Drawn:
    """An SVG's elements by their id without the prefix; what must hold of every drawing is checked."""

    def __init__(self, svg: str, prefix: str):
        self.svg, self.root = svg, ElementTree.fromstring(svg)
        every = [each.get("id") for each in self.root.iter() if each.get("id")]
        assert len(set(every)) == len(every), "an id stands twice"
        assert all(each == prefix or each.startswith(f"{prefix}-") for each in every)
        self.by_id = {
            each.get("id").removeprefix(f"{prefix}-"): each
            for each in self.root.iter()
            if each.get("id")
        }
        assert self.root.get("role") == "img"
        assert self.title
        assert self.words
        for used in re.findall(r"url\(#([^)]+)\)", svg):
            assert used in every

    @property
    def title(self) -> str:
        return self.by_id["title"].text

    @property
    def words(self) -> str:
        return self.by_id["desc"].text

    @property
    def size(self) -> tuple[float, float]:
        _, _, width, height = map(float, self.root.get("viewBox").split())
        return width, height

    def box(self, ident: str) -> tuple[float, float, float, float]:
        """Left, top, width and height of a rectangle, in the drawing's units."""
        return tuple(float(self.by_id[ident].get(key)) for key in ("x", "y", "width", "height"))

    @property
    def texts(self) -> list[str]:
        return [each.text for each in self.root.iter() if each.tag.endswith("}text")]
