"""Fixtures of the domain that the API's tests use too."""

from tests.shop.repairs.conftest import says_no, vouched  # noqa: F401
