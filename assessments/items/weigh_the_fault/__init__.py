"""Weigh a fault that is shown and named on an exhibit."""
