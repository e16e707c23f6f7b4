"""What many answers say."""
