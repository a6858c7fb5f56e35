"""Is a reading right? Decision rules, the risk in them, and what a guard band lets through."""

from shop.calc.judging.guard_bands import GuardBands, GuardBandsIn, guard_bands
from shop.calc.judging.judged import Judged, JudgeIn, judge_reading
from shop.calc.judging.rules import (
    SQRT_2,
    SQRT_3,
    Accuracy,
    Band,
    Rule,
    Verdict,
    band_at,
    chance_outside,
    expanded_uncertainty,
    judge,
    judge_over_range,
    meter_limit,
)

__all__ = [
    "SQRT_2",
    "SQRT_3",
    "Accuracy",
    "Band",
    "GuardBands",
    "GuardBandsIn",
    "JudgeIn",
    "Judged",
    "Rule",
    "Verdict",
    "band_at",
    "chance_outside",
    "expanded_uncertainty",
    "guard_bands",
    "judge",
    "judge_over_range",
    "judge_reading",
    "meter_limit",
]
