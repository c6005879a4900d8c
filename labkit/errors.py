"""The one family of errors: a sentence that says what is wrong, with which figures, and what to do."""


class LabError(ValueError):
    """Bad input, told in one clear sentence.

    Everything the package refuses is refused with this class or a subclass of it, so that the
    command line, a notebook's app and a reader's own code can all show the sentence as it stands.
    ``code`` is the finding it amounts to where it is a hand-in that is refused. ``about`` names the
    file that the sentence begins with, and ``rest`` is what is said of it; "" and the whole sentence
    where it begins otherwise.
    """

    def __init__(self, sentence: str, code: str = "unreadable", *, about: str = ""):
        super().__init__(f"“{about}” {sentence}" if about else sentence)
        self.code = code
        self.about = about
        self.rest = sentence

    def _render_traceback_(self) -> list[str]:
        """What a notebook shows of it: the sentence alone."""
        return [str(self)]


def system_reason(error: OSError) -> str:
    """Why the system refused, in its own few words.

    >>> system_reason(PermissionError(13, "Permission denied"))
    'permission denied'
    """
    return (error.strerror or str(error) or type(error).__name__).lower()
