"""What the property tests draw from: lengths, sheets, pictures that fit, printer's edges."""

from fractions import Fraction

from hypothesis import strategies as st

from labkit.geometry.box import Edges
from labkit.geometry.length import inches, millimetres
from labkit.geometry.paper import catalogue, sheet_of
from labkit.geometry.proportion import fit
from tests.properties import examples

thorough = examples(100)


def lengths(least: int = 0, most: int = 60):
    """Lengths of ``least`` to ``most`` inches, in sixteenths of an inch or in tenths of a millimetre."""
    return st.one_of(
        st.integers(least * 16, most * 16).map(lambda count: inches(Fraction(count, 16))),
        st.integers(least * 254, most * 254).map(lambda count: millimetres(Fraction(count, 10))),
    )


shapes = st.tuples(st.integers(40, 9000), st.integers(40, 9000))
"""Width and height of a picture in pixels."""

parts = st.integers(0, 100).map(lambda count: Fraction(count, 100))
"""Fractions from 0 to 1."""

sheets = st.one_of(
    st.sampled_from(catalogue()),
    st.sampled_from(catalogue()).map(lambda sheet: sheet.turned()),
    st.builds(sheet_of, lengths(2), lengths(2)),
)

edges = st.builds(Edges, *[st.integers(0, 12).map(millimetres)] * 4)
"""A printer's four unprintable edges, up to 12 mm each."""


@st.composite
def fitting(draw, sheet, shape, border):
    """A width at which a picture of ``shape`` leaves ``border`` or more on all sides of ``sheet``."""
    largest = fit(shape, sheet.width - border * 2, sheet.height - border * 2)
    return largest[0] * Fraction(draw(st.integers(10, 100)), 100)
