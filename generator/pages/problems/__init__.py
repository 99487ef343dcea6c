"""What problems of the records say, wherever they are shown."""
