"""Write a critique: virtues, what falls short, and of several exhibits the reasons for their placing."""
