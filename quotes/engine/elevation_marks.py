"""The marks drawings are made of: SVG elements, hatching, dimension lines.

One unit of a drawing is one millimetre of the building, so the scale is true by
construction. Every text is escaped; looks are classes and plain attributes, never
inline style, because the site forbids that and paper must stand alone.
"""

import re
from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Decimal
from html import escape

from firm.engine.refusal import Refused

INK = "#1c1b19"
PAPER = "#ffffff"
PLASTER = "#b98572"
# Spacing and lines of the hatching, by background; the pattern says it without colour.
HATCHES = {
    "B01": ("M0 0H240M0 120H240M0 0V120M120 120V240", 240),
    "B03": ("M0 0H300M0 0V300", 300),
    "B04": ("M0 0H200M40 100H60M140 100H160", 200),
    "B06": ("M0 160L160 0M0 0L160 160", 160),
    "B07": ("M0 160L160 0", 160),
    "B08": ("M80 0V160", 160),
    "B12": ("M20 60Q40 20 60 60M100 140Q120 100 140 140", 160),
    "B13": ("M0 80Q40 40 80 80T160 80", 160),
    "B14": ("M0 100L100 0", 100),
}
PLAIN_HATCH = ("M0 200L200 0", 200)
_KEY = re.compile(r"[A-Za-z][A-Za-z0-9_-]*")

Attributes = Mapping[str, object]


def printable(text: str) -> str:
    """Return text fit for a drawing: escaped, without what XML cannot hold.

    >>> printable('door & <hatch>')
    'door &amp; &lt;hatch&gt;'
    """
    return escape("".join(sign for sign in text if sign.isprintable()))


def element(name: str, attributes: Attributes, *, inside: str = "") -> str:
    """Write one element; `inside` is marks already written.

    >>> element("rect", {"x": 0, "stroke-width": 8})
    '<rect x="0" stroke-width="8"/>'
    """
    told = "".join(
        f' {key}="{printable(str(value))}"' for key, value in attributes.items()
    )
    return f"<{name}{told}>{inside}</{name}>" if inside else f"<{name}{told}/>"


def text(words: str, attributes: Attributes, *, size_mm: int) -> str:
    """Write words at a point, centred on it unless told."""
    looks = {
        "font-size": size_mm,
        "font-family": "Atkinson Hyperlegible Next, sans-serif",
        "text-anchor": "middle",
        "fill": INK,
    }
    return element("text", {**looks, **attributes}, inside=printable(words))


def label_size_mm(*, longest_mm: int) -> int:
    """Return how high letters are so that they can be read at any size of wall."""
    return max(60, longest_mm // 27)


def hatch(background: str, *, key: str) -> tuple[str, str, str]:
    """Return the class, the fill and the pattern for a background."""
    name = f"hatch-{background if background in HATCHES else 'plain'}"
    path, step = HATCHES.get(background, PLAIN_HATCH)
    lines = element(
        "path", {"d": path, "fill": "none", "stroke": PLASTER, "stroke-width": 8}
    )
    pattern = element(
        "pattern",
        {
            "id": f"{key}-{name}",
            "width": step,
            "height": step,
            "patternUnits": "userSpaceOnUse",
        },
        inside=lines,
    )
    return name, f"url(#{key}-{name})", element("defs", {}, inside=pattern)


def dimension(
    *, start_mm: tuple[int, int], end_mm: tuple[int, int], size_mm: int
) -> str:
    """Write a dimension line, level or upright, with its ticks and its length."""
    (x1, y1), (x2, y2) = start_mm, end_mm
    tick = size_mm // 3
    across = (0, tick) if y1 == y2 else (tick, 0)
    strokes = [
        (x1, y1, x2, y2),
        *((x - across[0], y - across[1], x + across[0], y + across[1])
          for x, y in (start_mm, end_mm)),
    ]  # fmt: skip
    lines = "".join(
        element(
            "line",
            {
                "class": "elev-dim",
                "x1": a, "y1": b, "x2": c, "y2": d,
                "stroke": INK,
                "stroke-width": 6,
            },
        )
        for a, b, c, d in strokes
    )  # fmt: skip
    at = {"class": "elev-dim", "x": (x1 + x2) // 2, "y": (y1 + y2) // 2 - size_mm // 4}
    if y1 != y2:
        at["transform"] = f"rotate(-90 {(x1 + x2) // 2} {(y1 + y2) // 2})"
    return lines + text(str(abs(x2 - x1) + abs(y2 - y1)), at, size_mm=size_mm)


def drawing(
    marks: str,
    *,
    key: str,
    box_mm: tuple[int, int, int, int],
    title: str,
    description: str,
    scale: int,
) -> str:
    """Write a whole drawing; with a scale it has its true size on paper.

    At a scale of 50 a metre of wall is 20 mm of paper.
    """
    if not _KEY.fullmatch(key):
        raise Refused(f"“{key}” cannot name a drawing. Use letters and figures.", "key")
    if scale < 0:
        raise Refused("A scale is a whole number such as 50, for 1:50.", "scale")
    size = {}
    if scale:
        size = {
            "width": f"{_on_paper(box_mm[2], scale)}mm",
            "height": f"{_on_paper(box_mm[3], scale)}mm",
        }
    head = element("title", {"id": f"{key}-title"}, inside=printable(title))
    head += element("desc", {"id": f"{key}-desc"}, inside=printable(description))
    return element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "class": "elev",
            "role": "img",
            "aria-labelledby": f"{key}-title {key}-desc",
            "viewBox": " ".join(map(str, box_mm)),
            **size,
        },
        inside=head + marks,
    )


def _on_paper(length_mm: int, scale: int) -> Decimal:
    true = Decimal(length_mm) / scale
    return true.quantize(Decimal("0.01"), rounding=ROUND_HALF_UP)
