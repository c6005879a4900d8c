"""The one family of errors: a sentence that says what is wrong, with which figures, and what to do."""


class LabError(ValueError):
    """Bad input, told in one clear sentence.

    Everything the package refuses is refused with this class or a subclass of it, so that the
    command line, a notebook's app and a reader's own code can all show the sentence as it stands.
    ``code`` is the finding it amounts to where it is a hand-in that is refused.
    """

    def __init__(self, sentence: str, code: str = "unreadable"):
        super().__init__(sentence)
        self.code = code

    def _render_traceback_(self) -> list[str]:
        """What a notebook shows of it: the sentence alone."""
        return [str(self)]
