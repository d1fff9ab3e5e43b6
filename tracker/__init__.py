"""A small-batch hardware production tracker."""

__version__ = "0.4.0"
