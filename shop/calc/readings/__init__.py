"""Readings: as techs write them, as people see them, and how far a meter can be trusted."""

from shop.calc.readings.accuracy import AccuracyIn, MeterBand, accuracy
from shop.calc.readings.category import Category, CategoryIn, category
from shop.calc.readings.interval import Interval, IntervalIn, calibration_interval
from shop.calc.readings.parse import ParseIn, parse
from shop.calc.readings.said import reading_said, said_plainly
from shop.calc.readings.shown import FormatIn, Formatted, format_
from shop.calc.readings.typed import (
    CANONICAL_DECIMAL,
    Reading,
    State,
    format_reading,
    parse_reading,
)

__all__ = [
    "CANONICAL_DECIMAL",
    "AccuracyIn",
    "Category",
    "CategoryIn",
    "FormatIn",
    "Formatted",
    "Interval",
    "IntervalIn",
    "MeterBand",
    "ParseIn",
    "Reading",
    "State",
    "accuracy",
    "calibration_interval",
    "category",
    "format_",
    "format_reading",
    "parse",
    "parse_reading",
    "reading_said",
    "said_plainly",
]
