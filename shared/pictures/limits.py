"""What a picture may be when it comes in, and how wide it is when it goes out."""

LARGEST_BYTES = 40_000_000
LARGEST_PIXELS = 60_000_000
# WebP cannot hold a side of more than 16,383 pixels.
LONGEST_SIDE = 16_000

# Phone, laptop, large screen, projector. Nothing wider than the last is kept.
WIDTHS = (480, 960, 1600, 2560)
WIDEST = WIDTHS[-1]

# The ground of the page: what is transparent shows it.
PAPER = (0xF7, 0xF1, 0xE4)
