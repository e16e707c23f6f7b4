"""Which of two exhibits is the better, and by which clause."""
