"""Random histories, judged by the package and by the simple second judge: they never differ, on any day."""

from collections import Counter
from datetime import date, timedelta

from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, rule, run_state_machine_as_test

from tests.rules import second_judge
from tests.rules.cases import GROUND, sheet_of, verdicts

START = date(2026, 1, 1)
SPECIALIST, KEEPER, REVIEWER = "specialist", "keeper", "reviewer"
SEEN: Counter[str] = Counter()

ends = st.sampled_from([None, 20, 100, 400]).map(
    lambda days: None if days is None else START + timedelta(days=days)
)
steps = st.sampled_from([0, 0, 1, 1, 7, 30, 90])
WHOLE = {"fleet": "A1", "vehicles": [11, 12, 13, 14], "places": ["cab", "door"]}
scopes = st.lists(
    st.sampled_from(
        [
            *[WHOLE] * 3,
            {"fleet": "A1", "vehicles": [11], "places": ["cab", "door"]},
            {"fleet": "A1", "vehicles": [11, 12, 13], "places": ["door"]},
            {"fleet": "A1", "vehicles": [12, 14], "places": ["cab"]},
            {"fleet": "A1", "vehicles": [11, 12], "places": ["cab", "door"]},
            {"fleet": "A1", "places": ["door"]},
            {"fleet": "A1", "vehicles": [13]},
            {"fleet": "B2", "vehicles": [21, 22], "places": ["bogie"]},
            {"fleet": "B2", "vehicles": [21], "places": ["bogie"]},
        ]
    ),
    min_size=1,
    max_size=2,
)
trial_scopes = (
    st.lists(
        st.sampled_from(
            [
                {"fleet": "A1", "vehicles": [11], "places": ["cab", "door"]},
                {"fleet": "B2", "vehicles": [21, 22], "places": ["bogie"]},
                {"fleet": "A1", "vehicles": [12, 13], "places": ["cab"]},
            ]
        ),
        min_size=1,
        max_size=1,
    )
    | scopes
)
CONDITIONS = ["Check every month.", "Not in winter."]
PLANNED = {"text": CONDITIONS[0], "applies": "in service", "maintenance_plan": "plan 4"}
UNPLANNED = {"text": CONDITIONS[1], "applies": "in service"}
conditions = st.sampled_from([*CONDITIONS, PLANNED, PLANNED, UNPLANNED])
OTHERS = (
    "design started", "prototype printed", "sent for customer acceptance", "customer acceptance given",
    "customer acceptance refused", "documents complete", "safety assessment report", "sent to technical review", "sent to the authority",
    "question asked", "question answered", "reminder sent", "approval refused", "trial closed", "withdrawn", "superseded",
)  # fmt: skip
SUBMISSIONS = ("documents complete", "sent to technical review", "sent to the authority")
stock = st.sampled_from(
    [("use up", 100, True), ("use up", 20, True), ("use up", None, True), ("use up", -1, True), ("stop", None, True),
     ("call back", None, True), ("use up", 100, False)]
)  # fmt: skip
DETAILS = {
    "customer acceptance refused": {"reason": "too soft"},
    "approval refused": {"reason": "too soft"},
    "question asked": {"question": "How hot?"},
    "trial closed": {"reason": "over"},
    "safety assessment report": {"reference": "S-1", "evidence": True},
    "withdrawn": {"reason": "cracks"},
    "superseded": {"superseded_by": "EX-0002"},
}
BY = {"customer acceptance given": KEEPER, "customer acceptance refused": KEEPER, "withdrawn": KEEPER, "safety assessment report": "assessor"}

# What lies under a part: all of it sound, or up to three things spoilt. Were each drawn by itself, most histories
# would be lost before their first event.
FAR = START + timedelta(days=900)
SOUND = {
    "safety": False, "waiver": False, "certificate_until": FAR, "fire_until": FAR,
    "screening": "judged", "authorisation": "not needed", "proof": "kept",
}  # fmt: skip
SPOILT = {
    "safety": st.just(value=True),
    "waiver": st.just(value=True),
    "certificate_until": ends,
    "fire_until": ends,
    "screening": st.sampled_from(["significant", "open"]),
    "authorisation": st.sampled_from(["kept", "missing"]),
    "proof": st.sampled_from(["none", "failed", "too little", "to come", "TBD", "empty"]),
}
spoilt = st.sets(st.sampled_from(sorted(SPOILT)), max_size=3).flatmap(
    lambda names: st.fixed_dictionaries({name: SPOILT[name] for name in sorted(names)})
)


class Histories(RuleBasedStateMachine):
    """Adds one event after the other, changes the part, and compares the judges after every step."""

    @initialize(
        route=st.sampled_from(["customer", "authority"]),
        spoilt=spoilt,
        age=st.sampled_from([1, 30]),
        forgiving=st.sampled_from([True, True, True, False]),
        by_the_book=st.sampled_from([True, True, False, "letter"]),
        tells=st.sampled_from([True] * 5 + [False]),
    )
    def begin(self, *, route, spoilt, age, forgiving, by_the_book, tells):
        self.day = START
        self.says_what_it_submits = tells
        self.forgiving = forgiving
        self.case = SOUND | {
            "route": route,
            **spoilt,
            "max_age": age,
            "events": [],
            "now": ("EX-0001", "A", "m", "read"),
            "mistake": False,
            "ground": GROUND,
        }
        if by_the_book == "letter":
            self.begin_with_a_letter(scope=[WHOLE], confirmed=True)
        elif by_the_book:
            self.approve_by_the_book(step=1, scope=[WHOLE], own=[])

    def add(self, what, step, by=None, **details):
        self.day += timedelta(days=step)
        if what in SUBMISSIONS and self.says_what_it_submits:
            details = {"submitted": self.case["now"]} | details
        event = {"what": what, "on": self.day, "by": by or BY.get(what, SPECIALIST), "evidence": what != "reminder sent"}  # which bears none
        self.case["events"].append(event | {"id": len(self.case["events"])} | DETAILS.get(what, {}) | details)

    @rule(
        step=steps,
        scope=scopes,
        own=st.lists(conditions, max_size=1),
        ending=st.sampled_from(["withdrawn", "superseded"]),
    )
    def approve_by_the_book(self, step, scope, own, ending="withdrawn"):
        """What was there is withdrawn or superseded, and the part as it is now comes through the whole way."""
        if any("bound" in event for event in self.case["events"]):
            self.add(ending, step)
        self.come_to_review(step)
        self.grant(
            "approved", step, scope=scope, lasts=400, own=own, by=REVIEWER, evidence=True, bound=None, more={}
        )

    @rule(scope=trial_scopes, confirmed=st.booleans())
    def begin_with_a_letter(self, scope, confirmed):
        """Nothing was walked here: the part has a letter of long ago."""
        self.case["events"].clear()
        self.day = START
        taken = {"lasts": 400, "ago": 900, "own": [], "approver": self.case["route"], "revision": self.case["now"][1], "number": 0, "letter": None}
        self.take_over(step=0, scope=scope, **taken)
        if confirmed:
            self.confirm(step=1, by=REVIEWER, which=0, letter=None, revision=None)

    @rule(
        step=steps,
        scope=trial_scopes,
        lasts=st.sampled_from([None, -1000, -1, 1, 60, 400, 400]),
        ago=st.sampled_from([-1, 0, 10, 900, 900]),
        own=st.lists(conditions, max_size=1),
        approver=st.sampled_from(["customer", "authority"]),
        revision=st.sampled_from(["A", "A", "B"]),
        number=st.integers(0, 2),
        letter=st.sampled_from([None] * 4 + [0, 1]),
    )
    def take_over(self, *, step, scope, lasts, ago, own, approver, revision, number, letter):
        day = self.day + timedelta(days=step)
        more = {"valid_until": day + timedelta(days=lasts)} if lasts is not None else {"open_ended": True}
        more |= {"letter": letter} if letter is not None else {}
        self.add(
            "taken over", step, scope=scope, letter_of=day - timedelta(days=ago), conditions=own, approver=approver, revision=revision,
            reference=f"A-{number + 1}", approved_by="the technical office", **more,
        )  # fmt: skip
        self.compare()

    @rule(
        step=steps,
        by=st.sampled_from([REVIEWER] * 6 + [KEEPER, SPECIALIST]),
        which=st.integers(0, 3),
        letter=st.sampled_from([None] * 6 + [0, 1]),
        revision=st.sampled_from([None] * 8 + ["C"]),
    )
    def confirm(self, *, step, by, which, letter, revision):
        """Mostly a letter that was taken over; of none it cannot be said."""
        taken = [event for event in self.case["events"] if event["what"] == "taken over"]
        if not taken:
            return
        meant, now = taken[which % len(taken)], self.case["now"]
        more = {"letter": letter} if letter is not None else {}
        self.add(
            "take-over confirmed", step, by, scope=meant["scope"], approved_on=meant["on"], reference="K-1", revision=revision or now[1],
            bound=(now[0], revision or now[1], *now[2:]), **more,
        )  # fmt: skip
        self.compare()

    @rule(step=steps, far=st.integers(1, 7))
    def go_on(self, step, far):
        """The natural way, some steps further."""
        self.come_to_review(step, far)
        self.compare()

    def come_to_review(self, step, far=7):
        way = [
            "prototype printed",
            "customer acceptance given",
            "documents complete",
            "sent to technical review",
        ]
        way += ["sent to the authority"] if self.case["route"] == "authority" else []
        way += ["safety assessment report"] if self.case["screening"] == "significant" and step != 1 else []
        since, bound = set(), self.case["now"]
        for event in self.case["events"]:
            since = set() if event["what"] in ("approved", "taken over") else since | {event["what"]}
            bound = event["bound"] if event["what"] == "approved" else bound
        is_new = bound != self.case["now"]
        done = [
            kind
            for kind in way
            if second_judge.stands(self.case["events"], kind) and not (is_new and kind not in since)
        ]
        for kind in [kind for kind in way if kind not in done][:far]:
            self.add(kind, step)

    @rule(
        step=steps,
        scope=scopes,
        lasts=st.sampled_from([None, -1, 0, 1, 60, 400, 400]),
        own=st.lists(conditions, max_size=1),
        by=st.sampled_from([REVIEWER] * 8 + [SPECIALIST]),
        evidence=st.sampled_from([True] * 6 + [False]),
        open_ended=st.sampled_from([False] * 6 + [True]),
        bound=st.sampled_from([None] * 8 + ["other mesh", "other revision", "other part"]),
        properly=st.sampled_from([True, True, True, False]),
        which=st.integers(0, 5),
        later=st.sampled_from([0, 0, 0, 1, 30]),
        letter=st.sampled_from([None] * 8 + [0, 1, 2, 3, 4]),
    )
    def approve(self, *, step, scope, lasts, own, by, evidence, open_ended, bound, properly, which, later, letter):
        if properly:
            self.come_to_review(step)
        if open_ended:
            lasts = None
        more = {"open_ended": open_ended} | self.replacing(which)
        more |= {"letter": letter} if letter is not None else {}
        self.grant(
            "approved",
            step,
            scope=scope,
            lasts=lasts,
            own=own,
            by=by,
            evidence=evidence,
            bound=bound,
            more=more,
            later=later,
        )

    @rule(
        step=steps,
        scope=trial_scopes,
        lasts=st.sampled_from([-1, 0, 1, 60, 400]),
        own=st.lists(conditions, max_size=1),
        evidence=st.sampled_from([True] * 6 + [False]),
        bound=st.sampled_from([None] * 8 + ["other mesh", "other revision"]),
        which=st.integers(0, 5),
        later=st.sampled_from([0, 0, 0, 1, 30]),
    )
    def open_trial(self, *, step, scope, lasts, own, evidence, bound, which, later):
        self.grant(
            "trial opened",
            step,
            scope=scope,
            lasts=lasts,
            own=own,
            by=KEEPER,
            evidence=evidence,
            bound=bound,
            more=self.replacing(which),
            later=later,
        )

    def replacing(self, which):
        """Mostly nothing is replaced; sometimes what was given on some day; seldom what was not."""
        named = self.of_some_day(which)
        return {"replaces": [named["approved_on"]]} if named else {}

    def grant(self, what, step, *, scope, lasts, own, by, evidence, bound, more, later=0):
        number, revision, mesh, notes = self.case["now"]
        texts = {
            None: (number, revision, mesh, notes),
            "other mesh": (number, revision, "x", notes),
            "other revision": (number, "C", mesh, notes),
            "other part": ("EX-0002", revision, mesh, notes),
        }
        end = None if lasts is None else self.day + timedelta(days=step + lasts)
        if later:
            more = more | {"valid_from": self.day + timedelta(days=step + later)}
        self.add(
            what,
            step,
            by,
            scope=scope,
            **({"valid_until": end} if end else {}),
            conditions=own,
            evidence=evidence,
            revision=revision,
            bound=texts[bound],
            **more,
        )
        self.compare()

    @rule(step=steps, lasts=st.sampled_from([0, 1, 90, 400]), evidence=st.booleans(), which=st.integers(0, 5))
    def renew(self, step, lasts, evidence, which):
        end = self.day + timedelta(days=step + lasts)
        self.add("renewed", step, REVIEWER, valid_until=end, evidence=evidence, **self.of_some_day(which))
        self.compare()

    @rule(step=steps, condition=conditions, which=st.integers(0, 5))
    def add_condition(self, step, condition, which):
        self.add("condition added", step, REVIEWER, condition=condition, **self.of_some_day(which))
        self.compare()

    @rule(
        step=steps,
        condition=st.sampled_from(CONDITIONS),
        evidence=st.sampled_from([True, True, False]),
        which=st.integers(0, 5),
    )
    def lift_condition(self, step, condition, evidence, which):
        more = self.of_some_day(which)
        self.add("condition lifted", step, REVIEWER, condition=condition, evidence=evidence, **more)
        self.compare()

    def of_some_day(self, which):
        """Mostly no day; sometimes the day of a permit; seldom a day of nothing."""
        permits = [event["on"] for event in self.case["events"] if event["what"] in ("approved", "trial opened", "taken over")]
        if which < 3 or not permits:
            return {}
        return {"approved_on": permits[which % len(permits)] if which < 5 else START}

    @rule(
        step=steps,
        what=st.sampled_from(SUBMISSIONS),
        mesh=st.sampled_from(["m", "n"]),
    )
    def submit_something(self, step, what, mesh):
        """What lies before a reviewer may be another model than what is approved."""
        number, revision, _, notes = self.case["now"]
        self.add(what, step, submitted=(number, revision, mesh, notes))
        self.compare()

    @rule(step=steps, revision=st.sampled_from(["A", "A", "B"]), said=stock, evidence=st.sampled_from([True, True, False]))
    def settle_older_stock(self, step, revision, said, evidence):
        until = {"until": self.day + timedelta(days=step + said[1])} if said[1] is not None else {}
        told = {"revision": revision, "becomes": said[0], **until}
        self.add("older stock settled", step, REVIEWER, older_stock=[told], evidence=evidence)
        self.compare()

    @rule(step=steps, of=stock)
    def approve_the_next_revision(self, step, of):
        """What was approved becomes older stock, and the new revision comes through the whole way."""
        before = self.case["now"]
        self.case["now"] = ("EX-0001", "B" if before[1] == "A" else "A", *before[2:])
        self.come_to_review(step)
        until = {"until": self.day + timedelta(days=step + of[1])} if of[1] is not None else {}
        approved = {event["revision"] for event in self.case["events"] if event["what"] in ("approved", "taken over")}
        said = [{"revision": before[1], "becomes": of[0], **until}] if before[1] in approved and of[2] else []
        self.grant(
            "approved", step, scope=[WHOLE], lasts=400, own=[], by=REVIEWER, evidence=True, bound=None, more={"older_stock": said}
        )

    @rule(step=steps, what=st.sampled_from(OTHERS))
    def something_else(self, step, what):
        self.add(what, step)
        self.compare()

    @rule(step=steps, result=st.sampled_from(["passed", "failed", "broken off", None]))
    def close_trial(self, step, result):
        self.add("trial closed", step, **({"result": result, "fitted_pieces": "stay"} if result else {}))
        self.compare()

    @rule(back=st.sampled_from([1, 30]), what=st.sampled_from(OTHERS))
    def out_of_order(self, back, what):
        self.add(what, -back)
        self.compare()

    @rule(revision=st.sampled_from(["A", "B", "B"]), mesh=st.sampled_from(["m", "n"]))
    def change_the_part(self, revision, mesh):
        self.case["now"] = ("EX-0001", revision, mesh, self.case["now"][3])
        self.compare()

    @rule(notes=st.sampled_from(["read", "written anew"]))
    def change_the_notes(self, notes):
        self.case["now"] = (*self.case["now"][:3], notes)
        self.compare()

    @rule(
        step=steps,
        by=st.sampled_from([REVIEWER] * 8 + [SPECIALIST]),
        evidence=st.sampled_from([True] * 6 + [False]),
        elsewhere=st.sampled_from([False] * 8 + [True]),
        which=st.integers(0, 5),
    )
    def accept_the_change(self, *, step, by, evidence, elsewhere, which):
        """Mostly of the places of the newest approval, as the command would; else of places that it never named."""
        approvals = [event for event in self.case["events"] if event["what"] in ("approved", "taken over")]
        more = self.of_some_day(which)
        meant = [event for event in approvals if event["on"] == more.get("approved_on", event["on"])]
        scope = [{"fleet": "B2", "places": ["cab"]}] if elsewhere or not meant else meant[-1]["scope"]
        bound, revision = self.case["now"], self.case["now"][1]
        self.add(
            "change accepted", step, by, scope=scope, evidence=evidence,
            revision=revision, bound=bound, **more,
        )  # fmt: skip
        self.compare()

    @rule()
    def take_back(self):
        """Take the last event away again, for some end a history for good."""
        del self.case["events"][-1:]
        self.day = max((event["on"] for event in self.case["events"]), default=START)
        self.compare()

    def compare(self):
        noted = {event["on"] for event in self.case["events"]} | {
            event[key] for event in self.case["events"] for key in ("valid_until", "valid_from") if event.get(key)
        }
        ends = {self.case["certificate_until"], self.case["fire_until"]} - {None}
        last = max((event["on"] for event in self.case["events"]), default=START)
        later = sorted(day for day in noted | ends if day >= last)
        builds = {
            last - timedelta(days=1),
            last,
            later[-1] if later else last,
            later[len(later) // 2] if later else last,
        }
        for built in sorted(builds):
            case = self.case | {"built_on": built}
            judged, is_void = sheet_of(case), second_judge.cannot_be(case)  # neither hangs on the day
            age = timedelta(days=case["max_age"])
            around = {day + timedelta(days=n) for day in {*later, built, built + age} for n in (-1, 0, 1)}
            for day in sorted(day for day in around if day >= built - timedelta(days=1)):
                self.compare_on(case, judged, day, is_void=is_void)
        self.forgive()

    def forgive(self):
        """Take an impossible event away again, once it was judged: one is enough to end a history for good."""
        events = self.case["events"]
        while self.forgiving and second_judge.impossible(events, self.case["route"], date.max, GROUND):
            events.pop()
        self.day = max((event["on"] for event in events), default=START)

    def compare_on(self, case, judged, day, *, is_void):
        found = verdicts(judged, day)
        for (fleet, place, vehicle, label), answer in found.items():
            expected = "no" if is_void else second_judge.verdict_there(case, (fleet, place, vehicle), day, label)
            assert answer == expected, f"{fleet} {vehicle} {place}, label {label}, on {day}: {case}"
            SEEN[f"{'label ' if label else ''}{answer}"] += 1


def test_two_judges_never_differ():
    run_state_machine_as_test(
        Histories,
        settings=settings(
            max_examples=settings().max_examples // 2,
            stateful_step_count=14,
            suppress_health_check=list(HealthCheck),
            phases=[Phase.explicit, Phase.reuse, Phase.generate],  # a history is short already; shrinking takes minutes
        ),
    )
    assert SEEN["fit"] > 30, SEEN  # else the histories are too poor to prove anything
    assert SEEN["ask"] > 30, SEEN
    assert SEEN["no"] > 30, SEEN
