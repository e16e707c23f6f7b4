"""Dates are written out, times on the 24-hour clock."""

DATE_FORMAT = "j F Y"
TIME_FORMAT = "H:i"
DATETIME_FORMAT = "j F Y, H:i"
SHORT_DATE_FORMAT = "j F"
DATE_INPUT_FORMATS = ["%Y-%m-%d", "%d/%m/%Y", "%d %B %Y", "%d %b %Y"]
