"""Who signed an event, and may that key say it?"""
