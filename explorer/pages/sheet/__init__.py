"""The calculation sheet of one member: a page to print, with every check line by line."""
