"""Place anatomical points on an exhibit: marked by their distance from those of several people."""
