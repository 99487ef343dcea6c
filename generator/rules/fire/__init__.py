"""What the fire standard asks at a place, and which results of the material answer it. It advises; a fire engineer decides."""
