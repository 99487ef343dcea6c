"""Typed values → the bytes of a PDF: labels, sheets to write on, notices, reports. No record's text is ever program text here."""
