"""Choose one or several of some options; any picture shown is there to be looked at."""
