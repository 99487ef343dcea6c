"""The drawing of a part: its views on a sheet with frame, title block, dimensions and critical checks."""
