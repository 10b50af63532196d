"""Why zero now does not mean removable: what can be proved of each member, the weightiest first."""
