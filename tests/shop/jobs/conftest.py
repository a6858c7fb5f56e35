"""A second tech, who is within call where a unit is worked with power on."""

import pytest

from tests.factories.core import PersonFactory


@pytest.fixture
def ben(db):
    return PersonFactory(username="ben", name="Ben", role="tech")
