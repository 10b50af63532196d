"""What follows from losing each single member, under everything that a study contains."""
