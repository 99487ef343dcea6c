"""A submission to a reviewer as a PDF."""
