"""The inspection sheet on the page of a batch that waits for its measurements."""
