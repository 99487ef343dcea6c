"""What may stand in the braces and brackets of a words file, for all that read one.

`{name}` is a fact and `{name:form}` a fact in another form; `{name?piece|pieces}` prints no fact but what follows one: its first words
where "1" is printed for the fact, its second words else. `[ … ]` is left out where a fact inside it is not known.
"""

import re

GROUP = re.compile(r"\[([^\[\]]*)\]")
PLACEHOLDER = re.compile(r"\{(\w+)(?::(\w+)|\?([^{}|\[\]]+)\|([^{}|\[\]]+))?\}")


def in_number(found: re.Match[str], printed: str) -> str:
    """What a placeholder prints whose fact is printed as `printed`: that, or the words that agree with it.

    One and many are all that CLDR knows of English, Danish and German; 1.0 is many in each of them as people write it.
    """
    one, many = found[3], found[4]
    if one is None:
        return printed
    return one if printed == "1" else many
