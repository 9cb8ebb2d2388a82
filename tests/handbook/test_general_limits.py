"""ISO 2768 and decimal places: order, and what the standard does not say."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barstock.handbook.general_limits import (
    GeneralLimitError,
    general_angle_limit,
    general_limit,
)


@given(st.floats(0.5, 2000), st.floats(0.5, 2000), st.sampled_from("fm"))
def test_larger_sizes_have_no_finer_general_limits(a: float, b: float, cls: str) -> None:
    small, large = sorted((a, b))
    assert general_limit(small, cls) <= general_limit(large, cls)
    assert general_angle_limit(small, cls) >= general_angle_limit(large, cls)


def test_what_iso_2768_does_not_say_is_an_error() -> None:
    for size, cls in ((0.3, "m"), (2, "v"), (3000, "f"), (5000, "m"), (10, "q")):
        with pytest.raises(GeneralLimitError):
            general_limit(size, cls)
    with pytest.raises(GeneralLimitError, match="length or edge"):
        general_limit(10, "m", "angle")
