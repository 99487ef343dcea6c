"""The copy on a tablet: what it keeps, and how it stands on the home screen."""
