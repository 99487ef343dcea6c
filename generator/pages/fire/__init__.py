"""What the fire standard asks and what answers it: the section of a part's page, a material's page, and the evidence page."""
