"""The one family of errors: a sentence that says what is wrong, with which figures, and what to do."""


class LabError(ValueError):
    """Bad input, told in one clear sentence.

    Everything the package refuses is refused with this class or a subclass of it, so that the
    command line, a notebook's app and a reader's own code can all show the sentence as it stands.
    """
