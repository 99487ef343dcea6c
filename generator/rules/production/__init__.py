"""What was printed and what became of it: may it be released, fitted, called back; where is it?"""
