"""German: day, month and year in figures."""

DATE_FORMAT = "d.m.Y"
MONTH_DAY_FORMAT = "d.m."
