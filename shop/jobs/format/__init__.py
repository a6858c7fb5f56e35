"""The format of job templates: its published schema, and everything that can be wrong in one."""

from shop.jobs.format.checking import check_template
from shop.jobs.format.problems import Problem
from shop.jobs.format.reading import read_template

__all__ = ["Problem", "check_template", "read_template"]
