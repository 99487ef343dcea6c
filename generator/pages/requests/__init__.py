"""What has been asked for, and the page to ask on."""
