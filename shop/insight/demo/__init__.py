"""An invented shop to look at and to try things on. Everything in it is made up."""

from shop.insight.demo.load import LOGINS, load_demo

__all__ = ["LOGINS", "load_demo"]
