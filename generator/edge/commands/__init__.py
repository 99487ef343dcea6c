"""One module a command of `spares`: the only place that prints."""
