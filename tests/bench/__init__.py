"""How fast it is, beside what else could do the same work.

    python -m tests.bench export     sheets made by labkit, by libvips and by Pillow
    python -m tests.bench live       a slider's answer in the browser, a redraw, an import
    python -m tests.bench check      what a check finds in labelled hand-ins, and its time beside libvips
    python -m tests.bench enlarged   in how many enlarged pictures that is told, and in how many others
    python -m tests.bench layout     how much paper layouts take, beside rectpack's and the best known; how
                                 fast a roll of prints is joined, beside libvips

All print tables and say of each target whether it was reached; neither is a test, since times
belong to the machine and its other work. Everything compared is measured in one run, in turn (A B C
A B C …), each time in a fresh process; the ratio is the median of the rounds' own ratios, so that a
slow moment of the machine weighs on both sides of it.

Needed besides labkit: ``pip install -r tests/requirements.txt``, for ``export`` and ``check`` the
library libvips (with pyvips), for ``live`` a Chromium (``CHROMIUM`` names its program where
Playwright has none).
"""
