"""A class of three to eight exhibits: findings on each, and the placing."""
