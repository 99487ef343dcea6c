"""What does a label's code hold? The address of the part's page where the site has one, else what the label says."""

from generator.papers.kinds import LabelText


def label_text(*, number: str, revision: str, batch: str | None, name: str, page: str | None, stop: str = "") -> LabelText:
    """A label and its code. page: the address of the part's page, such as https://parts.example/parts/TV-0417.html. stop: why it is not fitted."""
    told = " ".join([number, revision, *([batch] if batch else [])])
    code = told if page is None else f"{page}#batch={batch}" if batch else page
    return LabelText(number=number, revision=revision, batch=batch, name=name, code=code, stop=stop)
