"""The exact solids of the demo depot's parts: how each is modelled, exported and known in numbers."""
