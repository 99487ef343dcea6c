"""What stands beside a check mark never says the contrary."""

import re

import pytest

from generator.pages.wording import wording
from generator.rules.verdicts import TABLE, Look

LANGUAGES = ("en", "de", "da")
# Of another fact than the one that was asked for, and why no word of it refuses.
BESIDE = {
    ("unchanged", "changed_freely"): "what was changed and keeps nobody from fitting it",
    ("fire_report", "fire_kind"): "of which kind the evidence is",
}
WORD = re.compile(r"\{(\w+):(?:word|fault|changed)\}")


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("step", TABLE, ids=lambda step: step.id)
def test_a_row_that_passed_tells_no_word_but_that_of_the_fact_that_passed(step, language):
    told = WORD.findall(wording(language).flat[f"steps.{step.id}.passed"])
    assert [name for name in told if name != step.fact and (step.id, name) not in BESIDE] == []
    if step.fact in told and step.test is not Look.ONE_OF:
        pytest.fail(f"{step.id} passes where nothing is noted, or on a day: it has no word to tell")
