"""Mark the faults: pins on an exhibit, each named and weighed, or "nothing found"."""
