"""Let a drawing of the server's own making stand on a page as it was drawn."""

from django import template

register = template.Library()


class OwnDrawing(str):
    """An SVG from one of the firm's engines, which escape every word in it."""

    __slots__ = ()

    def __html__(self) -> str:
        return str(self)


@register.filter
def drawing(svg: str) -> str:
    """Pass an engine's SVG through; anything else is written out as text.

    >>> hasattr(drawing("<svg></svg>"), "__html__"), drawing("<b>no</b>")
    (True, '<b>no</b>')
    """
    return OwnDrawing(svg) if svg.startswith("<svg") else svg
