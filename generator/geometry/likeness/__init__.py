"""How alike are two shapes, however they lie and however they were meshed?"""
