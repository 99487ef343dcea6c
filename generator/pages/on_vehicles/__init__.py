"""What sits on each vehicle, and what is called back and has to be visited."""
