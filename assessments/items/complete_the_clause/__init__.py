"""A clause of the edition with words left out, to be typed or chosen among some."""
