"""What a workshop would name on a part: holes, bosses, slots, flats, faces, threads, found in its mesh alone."""
