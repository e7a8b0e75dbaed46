"""The one exception whose words a person may read."""


class Refused(Exception):
    """A refusal with a sentence saying what is wrong and what to do.

    `field` is the path of the figure at fault, such as `rooms[0].openings[2].width_mm`,
    or empty when the whole question is at fault.

    >>> str(Refused("Give the length in whole millimetres, for example 2400."))
    'Give the length in whole millimetres, for example 2400.'
    """

    def __init__(self, text: str, field: str = "") -> None:
        super().__init__(text)
        self.text = text
        self.field = field
