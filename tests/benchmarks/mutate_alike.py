"""Which spoilt rules say the same as the true ones, so that no test can tell them apart?"""

_NO_NAME = "a text without the line names no material, and neither does an empty name"
_NO_PLACE = "a fleet that is unknown has no place"
_NO_LINE = "no line names no batch"
_BOTH = "a batch has a balance where it has a record"
_A_TYPE = "a type, which nothing asks as it runs"
_NOT_NEEDED = "no event needs that it was sent or refused before"

ALIKE: dict[tuple[str, str, str], str] = {
    ("basis.py", "values.get('material') or ''", "values.get('material')"): _NO_NAME,
    ("binding.py", "fleet and place", "place"): _NO_PLACE,
    ("binding.py", "fleet is None or place is None", "place is None"): _NO_PLACE,
    ("control_chart.py", "sizes <= CONTROL_FACTORS.rows.keys()", "sizes < CONTROL_FACTORS.rows.keys()"): "of one size there are more",
    ("coupons.py", "0.0", "1.0"): "any number is one",
    ("coupons.py", "0.0", "-1.0"): "any number is one",
    ("fire/candidates.py", "fire and fire.product", "fire"): "no product goes by no number",
    ("fire/candidates.py", "number", "True"): "no set is called nothing",
    ("fire/needs.py", "fire.product", "True"): "no product goes by no number",
    ("fire/needs.py", "fire.edition or ''", "fire.edition"): "one that is not named is the newest, which there is",
    ("fire/results.py", "0.0", "-1.0"): "whatever is weighed weighs more than nothing",
    ("fire/results.py", "found is None or limit is None", "limit is None"): "a result without a value was left out before",
    ("fire/results.py", "method is None or wanted.limit is None or why_not(report, result, method)", "method is None or why_not(report, result, method)"): "no limit is no number either",
    ("fire/rows.py", "standard is None or held is None or (not held.limits)", "held is None or not held.limits"): "without a standard no set is held",
    ("fire/rows.py", "method and most is not None", "most is not None"): "a standard that names a test without a method is refused",
    (
        "fire/rows.py",
        "each.passes and each.covers and (not each.differences) and (not any((contradicts(bad, each) for bad in failing)))",
        "each.covers and (not each.differences) and (not any((contradicts(bad, each) for bad in failing)))",
    ): "a result that fails takes itself away",
    ("fire/rows.py", "each.passes and each.covers", "each.covers"): "where any fails, that has decided",
    ("fire/rows.py", "sorted", "list"): "it decides which of two reports alike in day and margin is named, in each run the same",
    ("fire/rows.py", "why", "True"): "what is not held against a limit has a reason",
    ("fire/rows.py", "return False", "return None"): "neither states anything",
    ("fire/small_parts.py", "mesh and volume is not None", "volume is not None"): "what has no mesh has no volume",
    ("history.py", "0", "-1"): "of one, the first is the last",
    ("production/recalling.py", "recall.batch and (not recorded) and _is_told(recall.batch, production)", "not recorded and _is_told(recall.batch, production)"): _NO_LINE,
    ("production/recalling.py", "recall.lot", "True"): "no lot goes by no name",
    ("production/recalling.py", "each.off", "True"): "what came off tells where",
    ("production/recalling.py", "(_of_site(each.off.spots[0].site), each.batch)", "(_of_site(each.off.spots[0].site),)"): "they come by batch already",
    ("production/recalling.py", "own", "True"): "nothing at a place is no visit: it falls out where counts are laid together",
    ("production/tracing.py", "(None, None)", "(None,)"): "the functions took the true one when they were read",
    ("production/not_good.py", "catalogue.production.fitted", "True"): "without lines nothing sits anywhere",
    (
        "production/printed.py",
        "key in bound or maker not in bound or (not key.startswith(f'{maker} '))",
        "key in bound or not key.startswith(f'{maker} ')",
    ): "a machine that nobody approved is told as one",
    ("production/balances.py", "10000", "9999"): "no count is of the last year that there can be",
    ("production/balances.py", "10000", "10001"): "neither is a year",
    ("production/finished.py", "name in production.batches", "True"): "a batch without a record is missing from the lists, and leaves it open",
    ("production/balances.py", "isinstance(event, Issued)", "True"): "nothing else takes too many off the shelf",
    ("production/counted_twice.py", "self.found > self.most", "self.found >= self.most"): "as many as can be contradict nothing",
    ("production/ledger.py", "self.again", "True"): "where none went on again, what came off is what is loose",
    ("production/ledger.py", "name in walked.unwritten", "True"): "of what nobody saw come off nothing is added",
    ("production/ledger.py", "row.as_found and row.batch", "row.as_found"): _NO_LINE,
    ("production/ledger.py", "is_as_counted", "False"): "counts that agree settle what is settled",
    ("production/ledger.py", "not isinstance(count, Counted)", "False"): "each count is one",
    **{
        ("production/ledger.py", was, now): "days that are asked for are looked up on the way to save a walk: any other is walked to when it is asked"
        for was, now in (
            ("day is None or day in walked.sitting", "day is None"),
            ("day is None or day in walked.sitting", "day in walked.sitting"),
            ("day is None or day in walked.sitting", "day is None and day in walked.sitting"),
            ("last.on in asked", "False"),
            ("last.on in asked", "last.on not in asked"),
            ("each.on - ago", "each.on + ago"),
            ("(timedelta(0), timedelta(days=1))", "(timedelta(days=1),)"),
            ("(timedelta(0), timedelta(days=1))", "(timedelta(0),)"),
            ("last.on in asked", "True"),
        )
    },
    ("production/contradicting.py", "not production.fitted", "False"): "without lines nothing speaks against any",
    ("production/contradicting.py", "told", "True"): "where nothing is told, no line is asked",
    (
        "production/contradicting.py",
        "bool(batch) and facts.get('batch', batch) == batch and (is_removal if problem.code == _OF_REMOVAL else not is_removal or problem.key == 'no batch')",
        "facts.get('batch', batch) == batch and (is_removal if problem.code == _OF_REMOVAL else not is_removal or problem.key == 'no batch')",
    ): "of what carries no batch nobody asks",
    ("production/finished.py", "row.batch in meant or row.removed_batch in meant", "True"): "a day on which nothing of it moved ends nothing",
    ("production/printed.py", "0", "-1"): "of one, the first is the last",
    ("production/doubts.py", "is_void(paper) or is_void(lot)", "is_void(paper)"): "a document of a lot without a number names none either",
    ("production/doubts.py", "material", "True"): "no material goes by no name",
    ("production/tracing.py", "row.batch", "True"): "what carries no batch sits nowhere",
    ("production/tracing.py", "1", "2"): "anything below nothing is before every number",
    ("production/taken_off.py", "(date, int)", "(int,)"): _A_TYPE,
    ("production/taken_off.py", "(date, int)", "(date,)"): _A_TYPE,
    ("production/taken_off.py", "batch and balance", "batch or balance"): _BOTH,
    ("production/taken_off.py", "batch and balance", "balance"): _BOTH,
    ("production/taken_off.py", "batch and balance", "batch"): _BOTH,
    ("production/taken_off.py", "isinstance(each, Scrapped)", "True"): "an event that scraps nothing adds nothing",
    ("production/taken_off.py", "return 0", "return None"): "neither is any",
    ("production/taken_off.py", "balance is not None and balance.on_vehicles > 0", "balance.on_vehicles > 0"): "of a batch without a record nothing is mixed",
    **{
        ("order.py", "{SentForAcceptance, AcceptanceGiven, AcceptanceRefused, DocumentsComplete}", kept): _NOT_NEEDED
        for kept in (
            "{AcceptanceGiven, AcceptanceRefused, DocumentsComplete}",
            "{SentForAcceptance, AcceptanceGiven, DocumentsComplete}",
        )
    },
}
"""File below generator/rules, what stands there, what stands there instead → the reason."""
