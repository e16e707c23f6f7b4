"""Mark the virtues of one exhibit: seen and named, without weighing."""
