"""English as it is read on both sides of the Atlantic: the day first, the month in letters."""

DATE_FORMAT = "j M Y"
MONTH_DAY_FORMAT = "j M"
