"""The page to learn on: the walk, other loads, by hand, predict first."""
