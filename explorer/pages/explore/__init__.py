"""The page Explore: one truss, the track beneath it, the schedule of members and the sheet of one."""
