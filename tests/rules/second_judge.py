"""A second judge, deliberately simple: a truth table over plain events, written from the rules as people say them.

It imports nothing of the package. Events are dictionaries as they stand in approval.yml, days are dates; what a
permit binds is `bound`, what is sent to a reviewer `submitted`: (number, revision, all that makes it another part, what the fitter
reads). `id` is an event's place in the list, `letter` the file that it names (its own by default). Verdicts are the words
"fit", "ask", "no".
"""

from datetime import date, timedelta

# An event of the left kind counts until one of the right kinds comes.
CUT = {
    "prototype printed": {"design started"},
    "sent for customer acceptance": {"design started", "prototype printed", "customer acceptance refused"},
    "customer acceptance given": {"design started", "prototype printed", "customer acceptance refused"},
    "documents complete": {"design started", "prototype printed", "customer acceptance refused"},
    "safety assessment report": {"design started", "prototype printed", "customer acceptance refused"},
    "sent to technical review": {
        "design started",
        "prototype printed",
        "customer acceptance refused",
        "documents complete",
        "approval refused",
    },
    "question asked": {
        "design started",
        "prototype printed",
        "customer acceptance refused",
        "question answered",
        "approved",
        "approval refused",
    },
    "approved": set(),
    "trial opened": set(),
}
CUT["sent to the authority"] = CUT["sent to technical review"]
for walked in {*CUT} - {"question asked", "approved", "trial opened"}:
    CUT[walked] = CUT[walked] | {"taken over"}  # nothing of what an old letter stands for counts as walked
CUT["taken over"] = set()
# What may stand before an old letter: nothing that shows that the way was walked or judged here.
BEFORE_A_LETTER = {
    "design started", "prototype printed", "taken over", "take-over confirmed", "renewed", "condition added", "condition lifted",
    "change accepted", "question asked", "question answered", "reminder sent", "older stock settled",
}  # fmt: skip
ENDS_ALL = {"withdrawn", "superseded"}  # these cut everything but the prototype

# What must stand before an event: of each group one.
BEFORE = {
    "sent for customer acceptance": [{"prototype printed"}],
    "trial opened": [{"prototype printed"}],
    "customer acceptance given": [{"prototype printed"}],
    "customer acceptance refused": [{"prototype printed"}],
    "documents complete": [{"customer acceptance given"}],
    "sent to technical review": [{"documents complete"}],
    "sent to the authority": [{"sent to technical review"}],
    "safety assessment report": [{"prototype printed"}],
    "question asked": [{"sent to technical review", "sent to the authority", "taken over"}],
    "withdrawn": [{"approved", "trial opened", "taken over"}],
    "trial closed": [{"trial opened"}],
}
REVIEWS = {
    "customer": ["sent to technical review"],
    "authority": ["sent to technical review", "sent to the authority"],
}
MAKING = {"design started", "prototype printed", "documents complete"}
GRANTING = {
    "customer acceptance given", "safety assessment report", "approved", "trial opened", "renewed", "condition lifted",
    "change accepted", "older stock settled", "take-over confirmed",
}  # fmt: skip
REFUSING = {
    "customer acceptance refused": {"prototype printed", "design started", "sent for customer acceptance"},
    "approval refused": {"sent to technical review", "sent to the authority"},
}


def stands(before, kind):
    """Whether an event of `kind` has happened and nothing has cut it off since."""
    for event in reversed(before):
        if event["what"] == kind:
            return True
        if event["what"] in CUT[kind] or (event["what"] in ENDS_ALL and kind != "prototype printed"):
            return False
    return False


def speaks(scope, fleet, place, vehicle):
    return any(
        one["fleet"] == fleet
        and vehicle in one.get("vehicles", [])
        and place in one.get("places", [])
        for one in scope
    )


def sites(event):
    return {(one["fleet"], place) for one in event["scope"] for place in one.get("places", ())}


def share(a, b, ground):
    """Whether two scopes speak of the same vehicle somewhere among all that exist."""
    return any(speaks(a, *where) and speaks(b, *where) for where in ground)


def permits(events, ground):
    """The permits that stand after the events, each with its end, conditions and evidence as changed since."""
    standing = []
    for event in events:
        what = event["what"]
        if what in ("approved", "trial opened"):
            standing = [permit for permit in standing if permit["on"] not in event.get("replaces", ())]
            standing.append(
                {
                    **event,
                    "is_trial": what == "trial opened",
                    "end": event.get("valid_until"),
                    "set": list(event.get("conditions", [])),
                    "proven": event["evidence"],
                }
            )
        elif what == "taken over":
            added = {"is_trial": False, "end": event.get("valid_until"), "set": list(event.get("conditions", [])), "proven": True}
            standing.append({**event, **added, "bound": None})
        elif what == "take-over confirmed":
            for permit in awaiting(standing, event)[:1]:
                permit["bound"] = event["bound"]
        elif what in ENDS_ALL:
            standing = []
        elif what in ("trial closed", "customer acceptance refused", "approval refused"):
            standing = [permit for permit in standing if not permit["is_trial"]]
        elif what == "renewed":
            meant = renewed(standing, event, events, ground)
            if len(meant) == 1:
                meant[0]["end"] = event["valid_until"]
                meant[0]["proven"] = meant[0]["proven"] and event["evidence"]
        elif what == "change accepted":
            meant = renewed(standing, event, events, ground)
            if len(meant) == 1 and not awaits(meant[0]):
                meant[0]["bound"] = event["bound"]
                meant[0]["proven"] = meant[0]["proven"] and event["evidence"]
        elif what == "condition added":
            for permit in of_day(standing, event):
                permit["set"].append(event["condition"])
        elif what == "condition lifted":
            for permit in of_day(standing, event):
                held = [each for each in permit["set"] if text_of(each) == event["condition"]]
                if held:
                    permit["set"].remove(held[0])
                    permit["proven"] = permit["proven"] and event["evidence"]
    return standing


def awaits(permit):
    """Whether it is an old letter that nobody has confirmed."""
    return permit["what"] == "taken over" and permit["bound"] is None


def awaiting(standing, event):
    """The letters that a confirmation speaks of."""
    return [permit for permit in standing if awaits(permit) and (permit["on"], permit["scope"]) == (event["approved_on"], event["scope"])]


def letter_speaks_against(event, before, route, ground):
    """Why an old letter cannot be taken over, or not be confirmed so."""
    standing = permits(before, ground)
    named = [letter(each) for each in before if each["evidence"]]
    if event["what"] == "take-over confirmed":
        meant = awaiting(standing, event)
        return (
            not meant or event["by"] == meant[0]["by"] or event["revision"] != meant[0]["revision"]
            or open_questions(before) > 0 or letter(event) in named
        )  # fmt: skip
    begun = [each["on"] for each in before if each["what"] in ("design started", "prototype printed")]
    end, letters = event.get("valid_until"), [permit for permit in standing if permit["what"] == "taken over"]
    return (
        any(each["what"] not in BEFORE_A_LETTER for each in before)
        or event["approver"] != route or event["letter_of"] > min([event["on"], *begun[:1]])
        or (end is None) != bool(event.get("open_ended")) or bool(end and end < event["letter_of"])
        or not all(one.get("vehicles") and one.get("places") for one in event["scope"])
        or any((each["reference"], each["letter_of"]) == (event["reference"], event["letter_of"]) for each in letters)
        or any(share(each["scope"], event["scope"], ground) or each["revision"] != event["revision"] for each in letters)
        or served_before(event, before)
    )  # fmt: skip


def text_of(condition):
    return condition if isinstance(condition, str) else condition["text"]


def of_day(standing, event):
    return [permit for permit in standing if event.get("approved_on") in (None, permit["on"])]


def outdone(permit, events, ground):
    """The newer approvals of the same revision that speak of some of the same: that much of it has ended for good."""
    return [
        event
        for event in events
        if event["what"] == "approved"
        and event["id"] > permit["id"]
        and event["revision"] == permit["revision"]
        and share(event["scope"], permit["scope"], ground)
    ]


def renewed(standing, event, before, ground):
    approvals = [permit for permit in standing if not permit["is_trial"]]
    if event.get("approved_on"):
        return of_day(approvals, event)
    return [
        permit
        for permit in approvals
        if permit is approvals[-1]
        or (
            not outdone(permit, before, ground)
            and permit["revision"] == approvals[-1]["revision"]
            and not share(permit["scope"], approvals[-1]["scope"], ground)
        )
    ]


def impossible(events, route, today, ground):
    """Whether the events cannot have happened in this order, or cannot be told apart."""
    return any(
        event["on"] > today
        or any(event["on"] < earlier["on"] for earlier in events[:i])
        or speaks_against(event, events[:i], route, ground)
        for i, event in enumerate(events)
    )


def speaks_against(event, before, route, ground):  # noqa: PLR0915
    what = event["what"]
    standing = permits(before, ground)
    approvals = [permit for permit in standing if not permit["is_trial"]]
    since = []
    for earlier in before:
        since = [] if earlier["what"] in ("approved", "taken over") else [*since, earlier["what"]]
    groups = list(BEFORE.get(what, []))
    if what in ("approved", "approval refused"):
        groups += [{"customer acceptance given"}, {"documents complete"}, *({kind} for kind in REVIEWS[route])]
    against = [not any(stands(before, kind) for kind in group) for group in groups]
    against.append(what in ("taken over", "take-over confirmed") and letter_speaks_against(event, before, route, ground))
    against.append(what == "sent to the authority" and route == "customer")
    against.append(what in GRANTING and any(e["what"] in MAKING and e["by"] == event["by"] for e in before))
    against.append(what in REFUSING and stands(before, "approved") and not REFUSING[what].intersection(since))
    if what in ("approved", "trial opened"):
        end = event.get("valid_until")
        against.append(end is not None and end < first_day(event))
    if what in ("approved", "trial opened", "take-over confirmed"):
        against.append(event["revision"] != event["bound"][1])
        against.append(
            any(
                earlier["what"] in ("approved", "trial opened", "take-over confirmed")
                and earlier["revision"] == event["revision"]
                and earlier["bound"][:3] != event["bound"][:3]
                for earlier in before
            )
        )
    if what == "question answered":
        against.append(not open_questions(before) and not any(question(before, permit) for permit in standing))
    if what in ("approved", "trial opened", "change accepted"):
        against.append(served_before(event, before))
    if what in REVIEWS["authority"] and "submitted" in event:
        sent = [each.get("submitted") for each in of_this_round(before)]
        against.append(any(each not in (None, event["submitted"]) for each in sent[-1:]))
    if what == "customer acceptance given" and event["evidence"]:
        minutes = [each for each in before if each["what"].startswith("customer acceptance") and each["evidence"]]
        against.append(any(letter(each) == letter(event) for each in minutes))
        against.append(any("bound" in each and each["evidence"] and letter(each) == letter(event) for each in before))
    if what in ("approved", "older stock settled"):
        against += [is_wrong_stock(said, event, before) for said in event.get("older_stock", ())]
    if what == "approved":
        against += [seen not in (None, event["bound"]) for seen in reviewed(before, route)]
        former = [earlier["bound"] for earlier in before if earlier["what"] in ("approved", "take-over confirmed")]
        if former and former[-1][:3] != event["bound"][:3]:
            anew = ["prototype printed", "customer acceptance given", "documents complete", *REVIEWS[route]]
            against.append(not set(anew) <= set(since))
        against.append(open_questions(before) > 0)
        against.append((event.get("valid_until") is None) != bool(event.get("open_ended")))
        against.append(
            any(
                permit["revision"] == event["revision"]
                and permit["on"] not in event.get("replaces", ())
                and (permit["end"] is None or permit["end"] >= first_day(event))
                and share(permit["scope"], event["scope"], ground)
                for permit in approvals
            )
        )
    if what in ("approved", "trial opened"):
        days = {permit["on"] for permit in standing}
        against.append(not days.issuperset(event.get("replaces", ())))
        against.append(not all(one.get("vehicles") and one.get("places") for one in event["scope"]))
    if what == "renewed":
        meant = renewed(standing, event, before, ground) if approvals else []
        against.append(len(meant) != 1 or bool(outdone(meant[0], before, ground)))
        against.append(event["valid_until"] <= event["on"])
    if what == "change accepted":
        meant = renewed(standing, event, before, ground) if approvals else []
        against.append(len(meant) != 1)
        against.append(event["revision"] != event["bound"][1])
        against.append(any(map(awaits, meant)))
        meant = [permit for permit in meant if not awaits(permit)]
        against.append(any(permit["bound"][:3] != event["bound"][:3] or sites(permit) != sites(event) for permit in meant))
    if what == "condition added":
        against.append(not of_day(standing, event))
    if what == "condition lifted":
        held = [
            permit for permit in of_day(standing, event) if event["condition"] in [text_of(each) for each in permit["set"]]
        ]
        own = any(event["condition"] in [text_of(each) for each in permit.get("conditions", [])] for permit in held)
        against.append(not held or (len(held) > 1 and own))
    return any(against)


def of_this_round(before):
    """What was submitted since the documents were last completed and said what it is."""
    at = max((i for i, event in enumerate(before) if event["what"] == "documents complete"), default=len(before))
    return [event for event in before[at:] if event["what"] == "documents complete" or "submitted" in event]


def open_questions(before):
    """How many questions to the specialist are open; an answer settles one, a new start or a decision all."""
    count = 0
    for event in before:
        if event["what"] == "question asked":
            count += 1
        elif event["what"] == "question answered":
            count = max(0, count - 1)
        elif event["what"] in CUT["question asked"] | ENDS_ALL:
            count = 0
    return count


def letter(event):
    return event.get("letter", event["id"])


# What was written on the way, sent to a reviewer or asked back, is no word of his.
SENT = ("design started", "prototype printed", "sent for customer acceptance", "documents complete", "sent to technical review", "sent to the authority", "question answered", "safety assessment report")


def served_before(event, before):
    """Whether the letter of a permit has served another one, is the minutes of an acceptance, or what was sent to be reviewed."""
    if not event["evidence"]:
        return False
    speaks_of = {(one["fleet"], place) for one in event["scope"] for place in one.get("places", ())}
    for each in before:
        same = each["evidence"] and letter(each) == letter(event)
        if same and each["what"] in ("customer acceptance given", "customer acceptance refused", "taken over", "take-over confirmed", *SENT):
            return True
        if same and "bound" in each and "bound" not in event:
            return True
        if same and "bound" in each:
            spoke_of = {(one["fleet"], place) for one in each["scope"] for place in one.get("places", ())}
            if (each["bound"], spoke_of) != (event["bound"], speaks_of):
                return True
    return False


def reviewed(before, route):
    """What lay before each reviewer since the documents were last completed; None where that is not written down."""
    last = dict.fromkeys(REVIEWS[route])
    for event in before:
        if event["what"] == "documents complete":
            last = dict.fromkeys(last)
        elif event["what"] in last:
            last[event["what"]] = event.get("submitted")
    return list(last.values())


def is_wrong_stock(said, event, before):
    """Older stock is of a revision approved before, and not of the newest; what is used up has a last day to come."""
    approved = [each["revision"] for each in before if each["what"] in ("approved", "taken over")]
    newest = event.get("revision") or (approved[-1] if approved else None)
    older = {revision for revision in approved if revision != newest}
    no_end = said["becomes"] == "use up" and not said.get("until")
    return said["revision"] not in older or no_end or bool(said.get("until") and said["until"] < event["on"])


def becomes(events, revision):
    """What becomes of pieces with a label: "own", what was said last of it, or None where nobody has said it."""
    approved = [event for event in events if event["what"] in ("approved", "taken over")]
    own = [event["id"] for event in approved if event["revision"] == revision]
    if not own or approved[-1]["revision"] == revision:
        return "own"
    told = newest = None
    for event in events[own[-1] :]:
        if event["what"] == "approved":
            told = told if told and (told["becomes"] != "use up" or event["revision"] == newest) else None
            newest = event["revision"]
        for said in event.get("older_stock", ()):
            if said["revision"] == revision:
                told = said if event["evidence"] or said["becomes"] != "use up" else told
    return told


def heard_of(permit, events, where, ground):
    """Whether a permit still speaks of a vehicle at a place."""
    if not speaks(permit["scope"], *where):
        return False
    later = [] if permit["is_trial"] else outdone(permit, events, ground)
    return not any(speaks(newer["scope"], *where) and first_day(newer) == newer["on"] for newer in later)


def goes_on_until(permit, events, where, ground):
    """Its last day, or the one before a newer approval of its revision begins that speaks of the vehicle there."""
    later = [] if permit["is_trial"] else outdone(permit, events, ground)
    begun = [first_day(newer) - timedelta(days=1) for newer in later if speaks(newer["scope"], *where)]
    return min([last_day(permit), *begun])


def ended(events, where, revision, ground):
    """Whether the part was withdrawn or superseded before the build, and no later approval of this revision stands that
    speaks of this vehicle and place; a trial, even one that replaced such an approval, is none.

    It counts on any day: a tablet whose clock runs behind must not bring a withdrawn part back.
    """
    later = [permit for permit in permits(events, ground) if not permit["is_trial"]]  # an ending leaves none before it
    spoken = any(permit["revision"] == revision and heard_of(permit, events, where, ground) for permit in later)
    return not spoken and any(event["what"] in ENDS_ALL for event in events)


def cannot_be(case):
    """Whether nothing may be fitted anywhere on any day, for the record itself is wrong."""
    return case["mistake"] or impossible(case["events"], case["route"], case["built_on"], case["ground"])


def verdict(case, where, day, label=None):
    """`where` = (fleet, place, vehicle). `label`: of stock that carries the label of an earlier revision."""
    return "no" if cannot_be(case) else verdict_there(case, where, day, label)


def verdict_there(case, where, day, label=None):
    """The same of a record of which the caller knows that it can be."""
    events, ground = case["events"], case["ground"]
    revision = case["now"][1] if label is None else label
    if ended(events, where, revision, ground):
        return "no"
    speaking = [permit for permit in permits(events, ground) if heard_of(permit, events, where, ground)]
    own = [permit for permit in speaking if permit["revision"] == revision]
    heard = own if own or label is not None else speaking
    in_force = [permit for permit in heard if first_day(permit) <= day <= goes_on_until(permit, events, where, ground)]
    # What is in force is heard, and the most careful of it counts; what is not in force permits nothing.
    answers = [one(case, permit, where, day, label) for permit in in_force]
    return max(answers, key=["fit", "ask", "no"].index, default="no")


def last_day(permit):
    """The last day that a permit holds; one that says no end holds on no day."""
    if permit["end"] is None:
        return date.max if permit.get("open_ended") else date.min
    return permit["end"]


def first_day(event):
    """Never before it was given."""
    return max(event["on"], event.get("valid_from", event["on"]))


def question(events, permit):
    """Whether a question that was asked after the permit is open."""
    count = 0
    for event in events[permit["id"] + 1 :]:
        count += (event["what"] == "question asked") - (event["what"] == "question answered" and count > 0)
    return count > 0


def tried_in_vain(events, permit, where, day):
    """Whether a trial of its revision on this vehicle has ended without having passed, and it was approved before that."""
    trials = [
        event
        for event in events
        if event["what"] == "trial opened" and event["revision"] == permit["revision"] and speaks(event["scope"], *where)
    ]
    return not permit["is_trial"] and any(in_vain(events, trial, permit, day) for trial in trials)


def in_vain(events, trial, permit, day):
    for event in events[trial["id"] + 1 :]:
        ends = event["what"] in {"trial closed", "customer acceptance refused", "approval refused"}
        if event["what"] in ENDS_ALL:
            return False  # it ended every approval before it, too
        if ends or trial["on"] in event.get("replaces", ()):
            passed = event["what"] == "trial closed" and event.get("result") == "passed"
            over = day >= event["on"] or day > trial["valid_until"]
            return not passed and over and permit["id"] < event["id"]
    return day > trial["valid_until"] and permit["on"] <= trial["valid_until"]


def one(case, permit, where, day, label):
    """The truth table of one permit: any row of the first block is "no", any of the second is "ask"."""
    before = case["events"][: permit["id"]]
    stock = becomes(case["events"], case["now"][1] if label is None else label)
    by_authority = case["route"] == "authority" and stands(before, "sent to the authority")
    is_letter, waits = permit["what"] == "taken over", awaits(permit)
    by_authority = permit["approver"] == "authority" if is_letter else by_authority
    bound = (case["now"][0], permit["revision"], *case["now"][2:]) if waits else permit["bound"]
    table_no = [
        bound[:3] != case["now"][:3] if label is None else permit["revision"] != label or waits,
        label is not None and (label == case["now"][1] or bound[0] != case["now"][0]),
        not permit["proven"],
        case["safety"] and not by_authority and (is_letter or not case["waiver"]),
        case["authorisation"] == "missing",
        stock not in ("own", None) and (stock["becomes"] != "use up" or day > stock["until"]),
        case["certificate_until"] is None or day > case["certificate_until"],
        case["fire_until"] is None or day > case["fire_until"],
    ]
    table_ask = [
        waits,
        case["safety"] and not (by_authority and not permit["is_trial"]),
        not permit["is_trial"] and not is_letter and None in reviewed(before, case["route"]),
        stock is None,
        any(isinstance(each, str) or "maintenance_plan" not in each for each in permit["set"]),
        question(case["events"], permit),
        tried_in_vain(case["events"], permit, where, day),
        where[:2] == ("A1", "door") and case.get("proof", "kept") != "kept",  # 80 °C there, and nobody has shown it
        case["screening"] == "open",
        case["screening"] == "significant" and (is_letter or not stands(before, "safety assessment report")),
        label is None and bound[3:] != case["now"][3:],  # other fitting notes, nobody has accepted them
        day < case["built_on"],
        day > case["built_on"] + timedelta(days=case["max_age"]),
    ]
    return "no" if any(table_no) else "ask" if any(table_ask) else "fit"
