"""A job file in; the plan of eyelet-topped draperies and a 1:1 marking template out."""

__version__ = "0.1.0"
