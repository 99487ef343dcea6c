// What the rooms offer each other, and the shapes of the data that they read. For authors and the type check
// (tests/scripts/test_types.py); no page loads it. What needs a page stands in screen/types.d.ts.

interface Spares {
  vehicles: VehiclesRoom;
  labels: LabelsRoom;
  judge: JudgeRoom;
  finder: FinderRoom;
  request: RequestRoom;
  trueSize: TrueSizeRoom;
}
declare var spares: Spares;

// ---- Data that Python writes; a file that is missing or cut off leaves its name undefined ----

/** generator/pages/verdict_data.py. Read as if it were always there: where it is not, the careful form of a page stays. */
declare var sparesRules: Rules;
declare var sparesPart: PartData;
declare var sparesSilhouettes: Silhouettes | undefined;
/** generator/pages/finder/index.py */
declare var sparesIndex: FinderData | undefined;
declare var sparesRequest: RequestData;
/** generator/edge/site/build_identity.py: the path of a script and the mark of its build */
declare var sparesStamps: [string, string][] | undefined;

type Verdict = "fit" | "ask" | "no";
type FactValue = string | string[] | null;
type Facts = Record<string, FactValue>;

interface Rules {
  built_on: string;
  fleets: RulesFleet[];
  max_copy_age_days: number;
  table: Step[];
  /** What is told of a piece of which nothing is known. */
  unknown_piece: Facts;
  /** Whether the depot writes down what it prints by batches. */
  keeps_batches: boolean;
  words: Words;
  /** by the question, the facts that name the files behind it */
  files: Record<string, string[]>;
}

/** A fleet with its vehicles as ranges such as "401-412". */
interface RulesFleet {
  id: string;
  name: string;
  vehicles: string[];
}

/** The vehicle that is carried, with every fleet that has its number. */
interface Carried {
  /** As its fleets write it; "" for one that none has. */
  number: string;
  fleets: string[];
}

/** generator/pages/evidence.py: a file to open; without an address it is missing */
interface OpenFile {
  title: string;
  href: string | null;
  is_saved: boolean;
}

interface PartData {
  number: string;
  /** by their paths in the catalogue */
  files: Record<string, OpenFile>;
  /** `pieces`: what each permit says of a piece of each batch, as places in the part's `pieces`. */
  grounds: { fleet: string; place: string; vehicles: string; label_revision: string | null; permits: Facts[]; pieces: number[][] }[];
  /** Its batches with their revisions, the oldest first. */
  batches: [string, string][];
  /** What is known of pieces, beside what is of no piece at all. */
  pieces: Facts[];
  /** Batches whose record cannot be read, with the place of the mistake; left out where there is none. */
  mistaken?: Record<string, string>;
  revision: string | null;
  /** What sits on vehicles and must not, or of which nobody can say so. */
  sitting?: SittingTold[];
}
/** Fleet, vehicle, place, position, how many, batch, what speaks against it, recall, and the page of the vehicle; "" for what there is not. */
type SittingTold = [string, string, string, string, number, string, string, string, string];

/** The batch of the piece in the hand, "" for a piece without one, null where nobody has said; and the `unknown_piece` of a copy. */
interface Piece {
  batch: string | null;
  unknown: Facts | null;
}

/** A question of the table, see generator/rules/verdicts.py. */
interface Step {
  id: string;
  fact: string;
  test: string;
  needed: string[];
  otherwise: string;
  tells_force: boolean;
  open_by?: string[];
}

/** Words for one thing and for several. */
interface Counted {
  one: string;
  other: string;
}

/** generator/pages/words/<language>.yml */
interface Words {
  missing: string;
  list_separator: string;
  needed: string;
  no_permit: string;
  dates: { format: string; open_end: string; months: string[] };
  terms: Record<string, Record<string, string>>;
  verdict: Record<string, string>;
  reasons: Record<string, string>;
  steps: Record<string, Record<string, string>>;
  in_service: string;
  ticks: { says: string; next: string };
  copy: { today: string; age: Counted; too_old: string; mixed: string; broken: string; clock: string; verdict: string };
  cards: { some: string; label: string };
  vehicle: Record<"name" | "none" | "named" | "mine" | "drop" | "strange" | "strange_kept" | "strange_asked" | "strange_range" | "strange_fleet" | "taken" | "unknown" | "instead" | "back" | "asked" | "take" | "several" | "not_made" | "pick" | "slides" | "elsewhere", string> & { others: Counted };
  handed: Record<"design" | "voice" | "state" | "forget" | "forget_one", string>;
  working: {
    order: Record<"legend" | "count" | "vehicle" | "choose" | "stock" | "needed_by" | "mail" | "subject" | "wrong_count" | "wrong_vehicle" | "wrong_no_day" | "wrong_day" | "wrong_far" | "wrong_fit" | "own_verdict" | "anew" | "missing" | "other_vehicle" | "test_piece" | "test", string>;
    question: { says: string; copied: string };
    not_good: Record<"stopped" | "asked" | "line" | "do_stopped" | "do_asked" | "paper_stopped" | "paper_asked" | "write_down" | "whole", string> & { why: Record<string, string> };
    piece: Record<"heading" | "any" | "one" | "one_none" | "says" | "says_any" | "button" | "none" | "field" | "other" | "drop" | "this" | "none_of" | "ordered" | "ordered_none" | "asked" | "asked_none" | "unknown" | "mistaken" | "unreadable" | "of_other" | "open" | "meant" | "label_number" | "label_revision" | "label_two" | "without" | "shelf_no" | "shelf_ask", string> & { others: Counted };
    measure: Record<"heading" | "field" | "is_in" | "low" | "high" | "unread" | "out" | "all_in" | "next", string>;
    beside: Record<"says" | "choose" | "mark" | "first" | "second" | "size" | "unread" | "photo" | "part" | "caution" | "no_picture", string>;
    check: { kept: string; unkept: string; done: string; anew: string };
    turn: Record<string, string>;
    true_size: Record<"heading" | "close" | "seen_from" | "lay" | "size" | "check" | "anew" | "print" | "sheet" | "paper_check" | "scale_none" | "scale_other" | "scale_zoomed" | "with_card" | "with_ruler" | "card" | "ruler" | "slider" | "smaller" | "larger" | "set" | "too_narrow" | "not_possible" | "zoomed" | "not_here", string> & { sides: Record<string, string> };
    paper: Record<"short" | "long" | "more" | "code" | "code_number" | "not_fitted" | "code_alt" | "measured", string>;
  };
  offline: Record<string, string>;
  finder: FinderWords;
}

interface FinderWords {
  this_one: string;
  these: string;
  not_it: string;
  cut: string;
  label: string;
  placeholder: string;
  placeholder_narrow: string;
  placeholder_short: string;
  clear: string;
  such_as: string;
  examples: string[];
  decimal: string;
  filters: string;
  fleet: { name: string; any: string };
  place: { name: string; any: string };
  verdict: { name: string; any: string };
  stock: string;
  stock_count: Counted;
  choice: string;
  count: Counted;
  first: string;
  none: string;
  no_vehicle: string;
  shapes: Record<string, string>;
  modelled: Record<string, string>;
  likely: string;
  likely_asked: string;
  far: string;
  also_sure: string;
  requests_first: string;
  perhaps: string;
  perhaps_too: string;
  requests: string;
  request: string;
  worked_on: string;
  ask: string;
  more: Counted;
  all: Counted;
  broken: string;
  with_label: string;
  must_come_off: string;
  two_labels: string;
  label_meant: string;
  which_piece: string;
  unread_beside: string;
  to_ask: string;
  see_page: string;
  more_stands: string;
  why: Record<string, string>;
}

interface FinderData {
  language: Language;
  floor: FloorWords[];
  fits: Fits;
  synonyms: string[][];
  spellings: Record<string, string>;
  fleets: { id: string; name: string; vehicles: string[] }[];
  places: string[];
  /** A permit is the index of each value, in the order of `names`; -1 where it has no such fact. */
  facts: { names: string[]; values: FactValue[]; permits: number[][] };
  /** What is known of pieces, beside what is of no piece at all. */
  pieces: Facts[];
  /** Lots and recalls, each with the batches that it speaks of. */
  things?: Record<string, ThingRow>;
  records: PartRecord[];
}
interface ThingRow {
  batches: string[];
  /** Whether it is called back or blocked. */
  is_stopped: boolean;
  /** The supplier's, of a stopped lot. */
  number?: string;
  is_recall: boolean;
}

/** Fleet and place as indexes, ranges of vehicles, revision of the label, permits as indexes; of a part with batches what each
 * permit says of a piece of each, as indexes into `pieces`. */
type GroundRow = [number, number, string[], string | null, number[], number[][]?];

interface PartRecord {
  kind: "part" | "request";
  number: string;
  name: string;
  page: string;
  thumb: string | null;
  grounds: GroundRow[];
  over?: string;
  box_mm?: number[];
  size_mm?: number[];
  by_hand?: boolean;
  other_names?: string[];
  purpose?: string;
  symptoms?: string[];
  replaces?: { number: string; kind: string }[];
  checks?: { name: string; mm: number; round: boolean; feature?: string; allowed?: number[] }[];
  features?: { name: string; mm: number; feature: string; pitch?: number; side?: string }[];
  looks?: string[];
  /** What sits on vehicles and must not: fleet as a place in `fleets`, vehicle, how many, whether any has to come off. */
  sitting?: [number, string, number, boolean][];
  /** Sizes of the model that the record does not name, by kind: size, how many, pitch. */
  modelled?: Record<string, number[][]>;
  other_hand?: string;
  /** Of a request, the part that is to answer it. */
  worked_on?: string;
  material?: string;
  assembly?: { name: string; number: string | null };
  what_changed?: string;
  on_shelf?: number;
  /** Its batches with their revisions, the oldest first. */
  batches?: [string, string][];
  /** Of the part as it is now. */
  revision?: string;
}

/** generator/pages/finder/spoken/<language>.yml */
interface Language {
  fillers: string[];
  /** Beside a known piece, see finder/understood.js. */
  asking: string[];
  leading: string[];
  numbering: string[];
  joining: string[];
  about: string[];
  by: string[];
  glue: string[];
  round: string[];
  axes: Record<string, string>;
  units: Record<string, number>;
  spoken: Record<string, number>;
  spoken_inside: Record<string, number>;
  spoken_and: string[];
  colours: string[];
  lacking: string[];
  /** Of `lacking`, what also tells of a fault; and the ends of words that say so. */
  none: string[];
  less: string[];
  /** Words of shapes, materials and numbers, see finder/accounted.js. */
  outlines: Record<string, string>;
  parted: string[];
  articles: string[];
  stuffs: Record<string, string>;
  counting: Record<string, number>;
  denied: string[];
  until: string[];
  ways: Record<string, string>;
  point: string[];
  signs: Record<string, string>;
  double: Record<string, number>;
  digits: string[];
  letters: Record<string, string>;
  /** A phrase and the kinds of feature that it may mean. */
  features: Record<string, string>;
  /** A word and the shape that it says, see finder/shapes.js. */
  shapes: Record<string, string>;
  goes_in: string[];
  meant_for: string[];
  beside: string[];
  shaped: string[];
  hands: string[];
  thread_to: string[];
  pitch: string[];
  caliper: string[];
  tape: string[];
  /** What was worked out once, see spoken.js and features.js. */
  heard?: SpokenWords;
  phrases?: FeatureWords;
  vehicles: string[];
  plurals: [string, string][];
  verb_forms: [string, string][];
  endings: string[];
  last_letters: [string, string][];
  links: string[];
  between: string[];
  and: string[];
  nearly: string[];
  respelled: [string, string][];
  forms: Record<string, string>;
  everyday: string[][];
  faults: string[];
}

/** What the words of another language of the floor mean in English. */
interface FloorWords {
  means: Record<string, string>;
  links: string[];
  endings: string[];
}

/** generator/pages/finder/fits.yml: up to which nominal, and how far below and above it a size may be. */
interface FitRow {
  to: number;
  below?: number;
  above?: number;
  caliper?: number;
  tape?: number;
  near?: number;
}
interface Fits {
  mating: Record<string, FitRow[]>;
  screws: Record<string, number[]>;
  overall: FitRow[];
  checked: FitRow[];
}

/** generator/pages/request_page.py */
interface RequestData {
  roles: { id: string; name: string }[];
  fleets: Fleet[];
  requests: Record<string, string>;
  contact: string;
  words: RequestWords;
}

interface Fleet {
  id: string;
  name: string;
  vehicles: string[];
  places: { id: string; name: string }[];
}

/** A text that found nothing: how often since it was last handed over, and when last. */
interface Sought {
  text: string;
  times: number;
  last: string;
}
interface VainRules {
  isInVain(ranked: Ranked): boolean;
  kept(text: string): string;
  key(text: string): string;
  isBeginning(text: string, next: string): boolean;
  listOf(given: unknown): Sought[];
  more(list: Sought[], text: string, day: string): Sought[];
  less(list: Sought[], text: string): Sought[];
  without(list: Sought[], text: string): Sought[];
  waiting(list: Sought[]): Sought[];
  handed(list: Sought[], told: Sought[]): Sought[];
  lookedFor(told: Sought[], day: string): string;
}

/** generator/pages/fitting_form/page.py */
declare var sparesFitted: FittedData;
interface FittedData {
  form: number;
  most_rows: number;
  railway: string;
  depot: string;
  contact: string;
  roles: ChosenRole[];
  fleets: { id: string; vehicles: string[]; places: Record<string, string> }[];
  /** `fits`: fleet, place, ranges of vehicles (none for all), and how many sit on one. */
  parts: Record<string, FittedPart>;
  whys: string[];
  words: FittedWords;
  done: Record<string, string>;
}
/** `batches`: name and revision; `positions`: by fleet and place, as the id of a site. */
interface FittedPart {
  name: string;
  revision: string;
  fits: [string, string, string[], number][];
  batches: [string, string][];
  /** `sits`, where each carries one: of each vehicle which of the names (-1: nobody said) and the batch there. */
  positions: Record<string, { names: string[]; one_each: boolean; sits?: Record<string, [number, string][]> }>;
}
/** generator/pages/role_choice.py; `first`: one of those that most likely fill in the form. */
interface ChosenRole {
  id: string;
  name: string;
  first: boolean;
}
type FittedWords = Record<"title" | "no_part" | "of_part" | "optional" | "choose_role" | "stands" | "is_of_other" | "open_other" | "stands_unknown" | "stands_says" | "add" | "unkept" | "back" | "meant" | "sits" | "sits_off" | "position_other" | "position_new" | "other_role" | "last_role", string>
  & Record<"field" | "hint" | "why" | "wrong" | "list" | "done", Record<string, string>> & Record<"missing" | "handed", Counted>;
/** A place of a fleet where a part fits, and how many sit there. */
interface FittedSite {
  id: string;
  fleet: string;
  place: string;
  name: string;
  most: number;
}
/** `as_found`: "yes" where somebody saw that it is so, "" else. */
type TypedFitted = Record<"vehicle" | "site" | "position" | "batch" | "count" | "removed" | "removed_batch" | "why" | "by" | "day" | "as_found", string>;
interface FittedSits {
  here: string[];
  loose: string[];
}
/** Of the batch that went on: the other part that it is of, and the day on which it was released; "" for neither. What speaks against the labels
 * of what went on and came off, as a key of words.wrong. Of one of another part: what that is called, how the batch is written,
 * and what stops it. */
interface BatchFound {
  other: string;
  released: string;
  name?: string;
  batch?: string;
  stopped?: Facts;
  /** Whether the catalogue knows the batch at all. */
  is_known?: boolean;
  sits?: FittedSits | null;
  label?: string;
  removed_label?: string;
}
interface FittedRow {
  day: string;
  fleet: string;
  vehicle: string;
  place: string;
  position?: string;
  part?: string;
  batch?: string;
  count?: number;
  removed_batch?: string;
  removed?: number;
  why?: string;
  as_found?: boolean;
  by?: string;
  row?: string;
}

/** generator/pages/inspection_form/form.py */
declare var sparesInspection: InspectionData;
interface InspectionData {
  railway: string;
  depot: string;
  contact: string;
  roles: ChosenRole[];
  blank: BlankTexts;
  words: InspectionWords;
  done: Record<string, string>;
}
/** BLANK of generator/records/placeholders.py */
type BlankTexts = Record<"whole" | "words" | "ends" | "keys" | "sayings", string[]>;
type InspectionWords = Record<"choose_role" | "optional" | "make" | "unkept" | "handed" | "back" | "in" | "out" | "out_says" | "failed_says" | "piece" | "of_check" | "pieces_of" | "open_checks" | "open_pieces" | "other_role" | "last_role", string>
  & Record<"field" | "hint" | "wrong" | "done" | "kind", Record<string, string>> & { missing: Counted };
/** A batch that waits; `count`: pieces that stood on the plate, `left`: those that were not scrapped; `from`: the first day that can be said. */
interface InspectedBatch {
  batch: string;
  part: string;
  revision: string;
  count: number;
  left: number;
  from: string;
  checks: InspectedCheck[];
}
/** Limits in mm, as decimal numbers; `limits`: the same as people read them; `with`: what it is measured with, "" where nobody said. */
interface InspectedCheck {
  name: string;
  least: string;
  most: string;
  limits: string;
  with: string;
}
/** As typed; `kind`: "mm" or "gauge", `values`: one a piece. */
interface TypedCheck {
  kind: string;
  values: string[];
  passed: string;
  failed: string;
  gauge: string;
  until: string;
}
interface TypedInspection {
  pieces: string;
  by: string;
  day: string;
  note: string;
  checks: TypedCheck[];
}

interface RequestWords {
  says: string;
  kept: string;
  unkept: string;
  began: string;
  other_role: string;
  last_role: string;
  no_name: string;
  go_on: string;
  anew: string;
  field: Record<string, string>;
  hint: Record<string, string>;
  side: string[];
  optional: string;
  any_place: string;
  choose_role: string;
  take_photo: string;
  other_photo: string;
  no_photo: string;
  photo_alt: string;
  photo_bad: string;
  photo_busy: string;
  near: { heading: string; wait: string; none: string; broken: string; voice: string; go: string; go_none: string; count: Counted };
  rest: { heading: string; make: string };
  title: string;
  voice: { title: string; heading: string; says: string; make: string; gone: string; done: Record<string, string> };
  wrong: { missing: string; choose: string; long: string; size: string; number: string; vehicles: string; count: Counted };
  done: Record<string, string>;
  vain: { along: Counted; save: Counted; times: Counted; forget: string; forget_one: string; forget_all: string; back: string; list: string; says: string; heading: string; done: Record<string, string> };
}

// ---- judge/ ----

/** The number of one vehicle, taken apart: "31.02a" is stem "31.", last "02", behind "a". */
interface Designation {
  stem: string;
  last: string;
  behind: string;
}

interface LabelsRoom {
  tidied(text: string): string;
  squashed(text: string): string;
  asBatch(text: string): string;
  batchAmong(text: string, names: string[]): string | null;
  looks(text: string): string;
  lookAlike(text: string, names: string[]): string[];
  labelsAlike(text: string, number: string, batches: [string, string][]): string[];
  batchRead(text: string, of: LabelOf): BatchRead;
  asksPiece(key: string, value: string, names: string[]): boolean;
  piecesAsked(pairs: [string, string][], names: string[]): string[];
  pieceAsked(pairs: [string, string][], names: string[]): string | null;
  askedAs(pairs: [string, string][], key: string): string;
}
/** The part that a label is held against: its batches, each with its revision, and the numbers of other parts that are known. */
interface LabelOf {
  number: string;
  batches: [string, string][];
  numbers: string[];
}

interface VehiclesRoom {
  vehiclesIn(ranges: string[]): string[];
  isAmong(ranges: string[], number: string): boolean;
  meantBy(text: string, fleets: { vehicles: string[] }[]): string;
  isLikeOneOf(text: string, ranges: string[]): boolean;
  plain(text: string): string;
  takenApart(text: string): Designation | null;
  deniedIn(query: string, said: VehicleWords): string[];
  endsOf(text: string): [string, string] | null;
  spelledOut(query: string, said: VehicleWords): string;
  isOfAnotherKind(before: string, behind: string, isKnown: boolean): boolean;
  strangeIn(query: string, said: VehicleWords, unexplained: string[]): Stranger | null;
  tidied(query: string, said: VehicleWords): string;
  vehiclesBetween(ends: [string, string], fleets: { vehicles: string[] }[]): string[];
  MOST_OF_A_RANGE: number;
}

/** What is known of how vehicles are written: by which words, and what is a number of a part. */
interface VehicleWords {
  fleets: RulesFleet[];
  words: string[];
  until: string[];
  units: string[];
  isNumber(text: string): boolean;
}

/** What a query calls a vehicle, or a range of them, and no fleet has. */
interface Stranger {
  text: string;
  kind: "vehicle" | "range";
  /** The fleets that were named before it. */
  among: string[];
  /** Of a range. */
  ends: string[];
  /** It was a number alone, and may have been a size. */
  isBare: boolean;
}

interface JudgeRoom {
  DAY_MS: number;
  dayNumber(text: unknown): number | null;
  daysBetween(from: unknown, to: unknown): number | null;
  localDay(clock: Date): string;
  filled(text: string, facts: Record<string, unknown>, words: Words): string;
  counted(forms: Counted, n: number, facts: Record<string, unknown>, words: Words): string;
  judged(facts: Facts, day: string, table: Step[]): Judgement;
  judgedTogether(permits: Facts[], day: string, table: Step[]): Judgement;
  endingsOf(grounds: Spoken[]): Ending[];
  learned(known: Ending[], seen: Ending[]): Ending[];
  forgottenOn(known: Ending[], grounds: Spoken[], ground: Spoken): string | null;
  withTicks(facts: Facts, ticks: Set<string>): Facts;
  stateOf(known: KnownOfCopy): CopyState;
  ageOf(rules: Rules, day: string, copy: CopyState): { state: "good" | "old" | "clock" | "mixed" | "broken"; line: string };
  reasonFor(told: Judgement, words: Words): string;
  failedFirst(steps: Taken[]): Taken[];
  inServiceBy(permits: Facts[], words: Words): string[];
  foundBy(step: Taken, facts: Facts, words: Words): { found: string; needed: string };
  filesBehind(step: string, facts: Facts, named: Record<string, string[]>, files: Record<string, OpenFile>): OpenFile[];
  groundsOf(data: FinderData, record: PartRecord): Spoken[];
  standings(data: FinderData, record: PartRecord, day: string, rules: Rules, copy: Facts, ended: Ending[]): Stand[];
  standingsOfPiece(data: FinderData, record: PartRecord, day: string, rules: Rules, copy: Facts, ended: Ending[], batch: string, against?: Facts | null): Stand[];
  standLines(data: FinderData, stands: Stand[], only: { fleet?: string; place?: string; vehicle?: Carried | null }): StandLine[];
  vehicleOf(text: string, fleets: RulesFleet[]): Carried | null;
  speaksOf(fleet: string, ranges: string[], vehicle: Carried): boolean;
  unspoken(vehicle: Carried, spoken: string[]): Carried[];
  valueIn(text: string): any; // any: whatever JSON a data file holds
  ofPiece(permits: Facts[], rows: number[][], batch: string, told: { batches: [string, string][]; pieces: Facts[] }, unknown: Facts, against?: Facts | null): Facts[];
  againstOther(data: FinderData, record: PartRecord, batch: string): Facts;
  alsoFor(told: Judgement, rules: Rules): string[];
  spokenOf(data: FinderData, number: string, piece?: Piece): Spoken[] | null;
  spokenOn(part: PartData, piece?: Piece): Spoken[];
  compared(before: Spoken[] | null, rules: Rules, coming: { data: FinderData; rules: Rules }, number: string, day: string, batch?: string | null): "same" | "differs" | "unread";
}

/** What a label says; "" for what it does not. */
interface LabelSaid {
  number: string;
  revision: string;
  batch: string;
}
/** What was typed or scanned: the batch, "" where none can be read; the known ones that look alike; whether the label is of another
 * part (`said`: of which) or revision (`said`: which one; `revision`: that of the batch), or it names more than one piece (`said`: which). */
interface BatchRead {
  batch: string;
  meant: string[];
  wrong: "" | "label_number" | "label_revision" | "label_two";
  said: string;
  revision: string;
}

interface Taken {
  id: string;
  outcome: "passed" | "failed" | "unknown";
  found: FactValue;
  isOpen?: boolean;
}

interface Judgement {
  verdict: Verdict;
  decidedBy: Taken | null;
  steps: Taken[];
  facts: Facts;
  isInForce: boolean;
}

type CopyState = "whole" | "loading" | "mixed" | "broken";

/** What a page knows of its copy: its own mark, the stamps of scripts that have run, the scripts that should have run. */
interface KnownOfCopy {
  own: string;
  stamps: [string, string][];
  hasFailed: boolean;
  hasEnded: boolean;
  isLoading: boolean;
  awaited: string[];
}

/** A withdrawal or supersession as a tablet remembers it. */
interface Ending {
  fleet: string;
  vehicles: string[];
  day: string;
}

/** A ground as a copy speaks of it; vehicles are ranges such as "401-412". */
interface Spoken {
  fleet: string;
  place: string;
  label: string | null;
  vehicles: string[];
  permits: Facts[];
  /** What each permit says of a piece of each batch, as places in the pieces that are told (generator/pages/part/pieces.py). */
  pieces: number[][];
}

/** How a part stands with some vehicles; fleet and place as indexes, verdict null where it cannot be judged. */
interface Stand {
  fleet: number;
  place: number;
  vehicles: string[];
  label: string | null;
  verdict: Verdict | null;
}

/** A line of a card; `differ` where the vehicles do not all stand alike. */
interface StandLine {
  who: string;
  label: string | null;
  verdict: Verdict | null;
  differ: boolean;
}

// ---- finder/ ----

interface FinderRoom {
  batchAsked(index: Index, query: string): LabelAsked | null;
  isWrongLabel(ranked: Ranked, at: number): boolean;
  rankedBatch(index: Index, asked: LabelAsked): Ranked;
  isPiece(index: Index, asked: LabelAsked, told: Ranked): boolean;
  ofPiece(index: Index, asked: LabelAsked, query: string, told: Ranked): Ranked;
  asDigits(text: string, language: Language): string;
  gapped(text: string, letters: Set<string>): { from: number; to: number; text: string }[];
  unlabelled(text: string): { from: number; to: number; text: string }[];
  someBatch(text: string): { from: number; to: number; text: string }[];
  deniedPiece<T extends { from: number; to: number }>(text: string, at: T): (T & { text: string }) | null;
  doubtedPiece<T extends { from: number; to: number }>(text: string, at: T): (T & { text: string }) | null;
  numbered(text: string): LooseDigits[];
  behindNumbers(text: string): (LooseDigits & { before: string })[];
  spaced(text: string): { from: number; text: string; letters: string; groups: string[]; ends: number[] }[];
  stuttered(text: string): (LooseDigits & { letters: string; alone: string })[];
  brief(text: string): (LooseDigits & { letters: string; before: string })[];
  goesOn(behind: string): { length: number; digits: string } | null;
  mentioned(index: Index, query: string, batches: Batches): { named: Named[]; beside: string[]; rest: string; marked: string };
  revisionsIn(text: string): { from: number; to: number; text: string; revision: string }[];
  suppliersOf(things: Map<string, ThingRow>): { name: string; form: RegExp }[];
  notUnderstood(index: Index, at: number, marked: string, revision: string, told: Ranked): string[];
  PIECE_SIGN: string;
  askedOfPage(ranked: Ranked, at: number): string;
  isUnread(ranked: Ranked, at: number): boolean;
  batchFound(ranked: Ranked, at: number): string;
  line(text: string): string;
  several(text: string): string;
  vain: VainRules;
  plain(text: string): string;
  fold(text: string): string;
  pieces(text: string): string[];
  stemmer(language: Language): (word: string) => string;
  numberKey(text: string): string;
  shortNumberKey(text: string): string;
  distance(typed: string, known: string, most: number, open?: boolean): number;
  budget(length: number): number;
  letterMask(word: string): number;
  near(typed: string, known: string[], masks: Int32Array, how?: { open?: boolean; most?: number }): { at: number; cost: number }[];
  heard(query: string, language: Language): string;
  bound(chunks: Chunk[], language: Language): Chunk[];
  cutShape(chunk: Chunk, words: FeatureWords): Chunk[];
  takeShapes(chunks: Chunk[], words: FeatureWords): Chunk[];
  kindsOfShape(kinds: string[], shape: string): string[];
  isOfShape(feature: KnownFeature, shape: string): boolean;
  shapeOf(kind: string, asked: string): string;
  isRoundFeature(feature: AskedFeature | null): boolean;
  PLAIN: Size;
  measures(query: string, language: Language): { sizes: Size[]; rest: Rest[] };
  featuresOf(record: PartRecord): KnownFeature[];
  english(index: Index, word: string): string[];
  deniedIn(index: Index, rest: Rest[]): { rest: Rest[]; denied: Set<number> };
  besideGrounds(items: Item[]): Item[] | null;
  offGround(items: Item[]): (at: number) => number;
  tidy(index: Index, query: string): string;
  vehicleWords(index: Index): VehicleWords;
  unexplained(index: Index, ranked: Ranked): string[];
  whom(index: Index, ranked: Ranked, query: string, carried: string | null): Heard;
  STRANGER: string;
  rangeItems(index: Index, chunks: Rest[], at: number, weight: number): { items: Item[]; length: number } | null;
  vehicleOf(index: Index, text: string, weight: number, known: Set<number>): Item;
  vehicleRun(index: Index, chunks: Rest[], at: number): { vehicles: string[]; length: number } | null;
  MOST_OF_A_RANGE: number;
  seenOtherwise(index: Index, rest: Rest[]): { rest: Rest[]; otherwise: Set<number>; akin: Set<number> };
  countOf(index: Index, word: string): number;
  countedIn(index: Index, texts: string[]): Map<string, number[]>;
  accounting(index: Index, rest: Rest[], items: Item[]): (at: number) => boolean;
  fitOf(index: Index, at: number, size: Size): Fit;
  shapeFit(index: Index, at: number, size: Size): Fit;
  fitMatches(index: Index, size: Size): Float32Array;
  isWithin(index: Index, value: number, feature: KnownFeature, size: Size): boolean;
  modelSizes(record: PartRecord): ModelSize[];
  liftModelled(index: Index, size: Size, match: Float32Array): Map<number, ModelSize>;
  modelInstead(index: Index, at: number, size: Size): ModelSize | null;
  isNearSide(index: Index, value: number, mm: number): boolean;
  lexicons(floor: FloorWords[]): Lexicon[];
  ofTheFloor(index: Index, word: string, isOfFloor?: boolean): { texts: string[]; sure: number; isWhole: boolean } | null;
  translated(index: Index, english: string, sure: number): { text: string; meanings: Meanings }[];
  settled(index: Index, hits: Hit[], items: Item[], vehicle: string, otherwise: Set<number>): { hits: Hit[]; said: Said };
  sizeMatch(sizes: RecordSizes, size: Size): { match: number; taken: Dimension[] };
  sizeMatches(index: Index, size: Size): Float32Array;
  sizeTable(sizes: RecordSizes[]): SizeTable;
  numberMatches(index: Index, asked: string): Map<number, NumberHit>;
  nearNumbers(index: Index, asked: string): Map<number, NumberHit>;
  unreadNumbers(index: Index, asked: string): Map<number, NumberHit>;
  numberTable(numbers: KnownNumber[]): NumberTable;
  blobOf(keys: string[]): TextBlob;
  keyAt(starts: Int32Array, position: number): number;
  phraseReader(index: Index, synonyms: string[][]): PhraseReader;
  prepare(data: FinderData): Index;
  phrases(record: PartRecord, data: FinderData): [string, string][];
  ofVehicle(index: Index, text: string): Set<number>;
  SAYS_WHICH: number;
  SAYS_KIND: number;
  SAYS_MORE: number;
  SAYS_LIKE: number;
  SAYS_OWN: number;
  SAYS_SO: number;
  EVERYDAY: number;
  isFault(index: Index, item: Item): boolean;
  faultTold(index: Index, words: Item[]): (at: number) => boolean;
  meanings(index: Index, word: string, open: boolean): Meanings;
  takenApart(index: Index, word: string): { meanings: Meanings; text: string }[] | null;
  lightHands(words: Item[]): Item[];
  onTheFleets(index: Index, items: Item[], words: Item[]): Item[];
  wordItems(index: Index, words: string[], closed: boolean): Item[];
  wordLike(index: Index, text: string): Item;
  sureness(index: Index, items: Item[], isAccounted: (at: number) => boolean): (at: number) => boolean;
  MEANT: number;
  rank(index: Index, query: string, vehicle?: string): Ranked;
  why(index: Index, data: FinderData, items: Item[], at: number): Why[];
  askedOf(index: Index, items: { kind: string; text: string; isStrange?: boolean }[]): Asked;
  forAsked<T extends OfVehicles>(data: { fleets: { vehicles: string[] }[] }, grounds: T[], asked: Asked): { judged: T[]; shown: T[]; vehicles: string[] };
  vehiclesAmong(data: { fleets: { vehicles: string[] }[] }, ground: OfVehicles, vehicles: string[]): string[];
  nearMatches(index: Index, wish: Wish): NearHit[];
  passes(data: FinderData, candidate: Candidate, filter: Filter): boolean;
  counts(data: FinderData, candidates: Candidate[], filter: Filter): Counts;
}

/** Terms are words without their endings, by their index; a posting lists the records that have a term, with its weight. */
interface Index {
  records: PartRecord[];
  language: Language;
  fleets: FinderData["fleets"];
  things?: FinderData["things"];
  fleetKeys: Map<string, number>;
  terms: string[];
  ids: Map<string, number>;
  idOf: (term: string) => number;
  termOf: (word: string) => string;
  postings: { at: number[]; weight: number[]; says: number[] }[];
  termBlob: TextBlob;
  /** Every written form of the terms: slips are looked for among them. */
  surfaces: string[];
  surfaceIds: number[];
  masks: Int32Array;
  /** Neighbouring words as one, with the terms that they are. */
  joined: Map<string, number[]>;
  joinedList: string[];
  joinedAt: number[][];
  joinedMasks: Int32Array;
  spellings: Map<string, string[]>;
  everyday: Map<number, number[]>;
  fillers: Set<string>;
  /** Terms that a record has from a place alone, with the fleets that have it there. */
  placeOnly: Map<number, Map<number, Set<number>>>;
  numbers: KnownNumber[];
  numberTable: NumberTable;
  sizes: RecordSizes[];
  sizeTable: SizeTable;
  /** Of each record: the features by their kind, its other hand, and the words of its own names. */
  features: KnownFeature[][];
  /** What the models have, see modelled.js. */
  modelled: ModelSize[][];
  handed: string[];
  /** What each tells of itself, worked out once, see accounted.js; the record of a number. */
  selves?: Self[];
  numberOf: Map<string, number>;
  /** How many of what it has, by its looks. */
  counted: Map<string, number[]>[];
  ownWords: Set<number>[];
  /** The terms of each of its names. */
  ownNames: number[][][];
  /** Things that go into a feature, and the words left and right. */
  goesIn: Set<string>;
  hands: Set<number>;
  /** Terms that say what kind of thing something is. */
  kinds: Set<number>;
  fits: Fits;
  floor: Lexicon[];
  nameTerms: number[][];
  symptoms: Phrase[][];
  faults: Set<string>;
  order: Int32Array;
  /** Records by "first-last" of running numbers. */
  vehicles: Map<string, Set<number>>;
  /** What was worked out once, see wordmatch.js. */
  meant?: Map<string, Meanings>;
  /** What words of the floor mean, see floor.js. */
  floorRead?: Map<string, { texts: string[]; sure: number; isWhole: boolean } | null>;
  pieceCache?: Map<string, Meanings>;
  sorted?: { text: string; id: number }[];
}

/** What a record tells of itself: the terms of its names, looks and material; of all that it is and has; of its faults; how
 * many of what; the shapes of the whole; a shape, a letter or a denial with the word behind it. */
interface Self {
  seen: Set<string>;
  told: Set<string>;
  symptoms: Set<string>;
  material: string[];
  counted: Map<string, number[]>;
  whole: Set<string>;
  pairs: Set<string>;
}

/** What the finder does with a field of a record, see finder/index.js. */
interface Field {
  weight: number;
  named?: boolean;
  own?: boolean;
  which?: boolean;
  widened?: boolean;
  texts?: (record: PartRecord) => (string | undefined)[] | undefined;
}

/** `terms` in their order; `ids` with `factors` are all that a phrase stands for, each once with its best factor. */
interface Phrase {
  terms: number[];
  ids: number[];
  factors: number[];
}
type PhraseReader = (phrase: string, isName: boolean, widened: boolean) => Phrase;

/** Texts in one, and where each begins. */
interface TextBlob {
  text: string;
  starts: Int32Array;
}

/** How surely (0..1) each term is meant. */
type Meanings = Map<number, number>;

interface KnownNumber {
  key: string;
  short: string;
  at: number;
  text: string;
  kind: string;
  /** Of a revision that was said: that of the part. */
  own?: string;
}
/** `isWhole`: to the number's end, but for a last letter; `isOther`: another last letter was asked for. */
interface NumberHit {
  match: number;
  number: KnownNumber;
  isWhole: boolean;
  isOther?: boolean;
}
interface NumberTable {
  key: TextBlob;
  short: TextBlob;
  letters: Set<string>;
}

/** A piece of a query, see measures.js and features.js. */
interface Chunk {
  kind: string;
  text: string;
  value: number;
  unit: number;
  fraction: boolean;
  exact: boolean;
  round: boolean;
  about: boolean;
  axis: string | null;
  /** Half of the last digit that was written, of what was said in centimetres. */
  step?: number;
  given?: number;
  pitch?: number;
  kinds?: string[];
  /** Kinds of the feature without its shape: of "hole" in "square hole". */
  others?: string[];
  shape?: string;
  isBound?: boolean;
  feature?: AskedFeature;
}
/** The kinds of feature that a word beside a number may mean, the likeliest first; `isBefore`: it stands before the number. */
interface AskedFeature {
  kinds: string[];
  text: string;
  isBefore: boolean;
  shape: string;
}
interface FeatureWords {
  kinds: Map<string, string[]>;
  shapes: Map<string, string>;
  skipped: Set<string>;
  pitch: Set<string>;
  caliper: Set<string>;
  tape: Set<string>;
  to: Set<string>;
  vehicles: Set<string>;
}
interface SpokenWords {
  number: (word: string) => number | null;
  inside: Map<string, number>;
  features: Set<string>;
  ands: Set<string>;
  points: Set<string>;
  by: Set<string>;
  units: Set<string>;
  digits: Set<string>;
  signs: Map<string, string>;
  doubles: Map<string, number>;
  letters: Map<string, string>;
}
/** The words of a language of the floor by their folded form. */
interface Lexicon {
  known: Map<string, string>;
  links: string[];
  endings: string[];
  words: string[];
  masks: Int32Array;
  read: Map<string, Cut | null>;
}
/** A compound taken apart; `own`: how many of its words are of the language. */
interface Cut {
  cost: number;
  own: number;
  texts: string[];
}
/** A feature of a part; `isNamed`: by its name and not by what one measures. */
interface KnownFeature {
  kind: string;
  mm: number;
  what: string;
  allowed: number[];
  pitch: number;
  side: string;
  isNamed?: boolean;
  /** The words of its name, and those of what goes in, once somebody asked. */
  words?: string[];
  takes?: string[];
}
interface ThreadName {
  mm: number;
  pitch: number;
  side: string | null;
}
/** A size of a model, and of how many equal features it is; `pitch` of a thread, else 0. */
interface ModelSize {
  kind: string;
  mm: number;
  n: number;
  pitch: number;
}
/** Whether a size fits, and on what; or what is there instead. */
interface Fit {
  fits: boolean;
  here: Dimension | null;
  taken?: Dimension[];
  /** Held against what is called so itself. */
  isCalled?: boolean;
  /** What is here is of another kind, or of another shape. */
  isOther?: boolean;
}
type Said = "this" | "likely" | "none";

/** A measured size; `exact`: written with decimals or as a fraction. */
interface Size {
  /** Of the feature that was named, see `AskedFeature`; null: of the whole. */
  kinds: string[] | null;
  named: string;
  isBefore: boolean;
  thread: ThreadName | null;
  /** Of the words in `named`, once somebody asked. */
  terms?: number[];
  /** The same in every language of the floor. */
  said?: string[][];
  /** Off a caliper; else off a tape. */
  caliper: boolean;
  /** A tape was said. */
  taped: boolean;
  step: number;
  /** What was said to be allowed, "±1"; 0 where nothing was. */
  given: number;
  values: number[];
  round: boolean;
  about: boolean;
  exact: boolean;
  axis: string | null;
  /** The word of the axis itself. */
  way: string;
  /** The word before it, of whatever it tells. */
  near: string;
  nearTerms?: string[];
  /** "" where none was said. */
  shape: string;
  text: string;
}
/** What is no size; `maybe`: a bare number that may be millimetres. */
interface Rest {
  text: string;
  maybe: number | null;
  exact?: boolean;
  near?: string;
  /** The word of a feature that a size took. */
  feature?: boolean;
}
interface SizedCheck {
  mm: number;
  round: boolean;
  what: string;
}
interface RecordSizes {
  box: number[];
  modelled: number[];
  checks: SizedCheck[];
}
interface Dimension {
  mm: number;
  what: string;
  kind?: string;
}
/** Every dimension in the order of its length, with the record that has it. */
interface SizeTable {
  mm: Float64Array;
  at: Int32Array;
}

/** One thing that a query says; a part that matches it less than `least` is no sure hit. */
interface Item {
  kind: "word" | "number" | "size" | "shape" | "fleet" | "vehicle" | "bare";
  text: string;
  weight: number;
  match: Float32Array;
  least: number;
  meant?: Meanings;
  says?: Uint8Array;
  numbers?: Map<number, NumberHit>;
  size?: Size;
  vehicles?: Set<number>;
  /** What the model alone answers a size with, by record. */
  modelled?: Map<number, ModelSize>;
  /** Left or right. */
  isHand?: boolean;
  /** Said behind "with" or before "shaped": how the part looks. */
  isBeside?: boolean;
  /** Said behind "with". */
  isWith?: boolean;
  /** The number of a vehicle that no fleet has. */
  isStrange?: boolean;
  /** It names a piece, and no vehicle. */
  isPiece?: boolean;
  /** It stands behind a standard's letters or before a unit. */
  isNoVehicle?: boolean;
}
interface Hit {
  at: number;
  score: number;
  sure: boolean;
}
interface Ranked {
  hits: Hit[];
  items: Item[];
  sure: number;
  said: Said;
  /** A vehicle that was named and that no fleet has; "" for none. */
  strange: string;
  /** Where the query only looks like a label, or is more than one. */
  label?: LabelAsked;
  /** What was said beside a piece, where one was named. */
  besides?: string;
}
/** What is known of the batches of an index: whose each is, how the parts' numbers look, how batches are written here ("B4"), with which
 * letters, how few digits, how each looks with and without its zeros; all numbers as letters and digits, and all revisions of batches. */
interface Batches {
  owners: Map<string, number>;
  names: string[];
  looks: string[];
  shapes: Set<string>;
  letters: Set<string>;
  fewest: number;
  alike: [string, string, string][];
  numbers: string[];
  revisions: Set<string>;
  /** Lots and recalls, and how they are written here. */
  things: Map<string, ThingRow>;
  thingShapes: Set<string>;
  /** How the suppliers' numbers of stopped lots are written. */
  suppliers: { name: string; form: RegExp }[];
}
/** What is said of a piece that no batch is named of. */
type UnnamedPiece = "stopped" | "lot" | "unlabelled";
/** Digits that a query gives to a piece, though not as a label has them. */
interface LooseDigits {
  from: number;
  to: number;
  text: string;
  digits: string;
}
/** A stretch of a query that names a piece; `batch`: "" where it is not written as a known one is. */
interface Named {
  from: number;
  to: number;
  text: string;
  batch: string;
  meant: string[];
  /** Its digits may as well be the number of a part. */
  isNumber?: boolean;
  kind?: UnnamedPiece;
  /** The revision that was said in its place. */
  revision?: string;
  /** The batches that were denied: nothing is said of them, and their part is asked about. */
  about?: string[];
  /** Words say that it is another one, or that nobody is sure. */
  isDoubted?: boolean;
  /** More than one, by what goes on behind it. */
  isTwo?: boolean;
}
/** A batch or a label that was typed into the finder: the record of its part, -1 where it cannot be read; `text`: what is asked of that page, or
 * the two pieces that were named; `meant`: the batches that may be meant. */
interface LabelAsked {
  at: number;
  batch: string;
  text: string;
  isWrong: boolean;
  meant: string[];
  /** The other words, where it stands among some; "" for none. */
  rest?: string;
  /** The whole query with a sign in the place of each piece. */
  marked?: string;
  /** What stands beside a known piece and is not understood. */
  unread?: string[];
  beside?: string[];
  isNumber?: boolean;
  kind?: UnnamedPiece;
  /** The revision that was said in its place. */
  revision?: string;
  /** The batches that were denied: nothing is said of them, and their part is asked about. */
  about?: string[];
  /** Words say that it is another one, or that nobody is sure. */
  isDoubted?: boolean;
}
interface Why {
  kind: string;
  asked: string;
  text: string;
  /** The kind of a number, or the dimensions that answer a size. */
  detail: string | Dimension[] | null;
  /** What was asked for, and the shape of what is here, where that is another kind of thing; the part's revision beside one that was said. */
  as?: string;
  shape?: string;
  /** How many of it the model has. */
  n?: number;
}

/** Fleets by index; `isCertain`: the vehicles were named as such ("car 405") and can be nothing else. */
interface Asked {
  fleets: number[];
  vehicles: string[];
  maybe: string[];
  /** What was typed otherwise than its fleet writes it, with the vehicle that it was taken for. */
  taken: [string, string][];
  isCertain: boolean;
}
/** For which vehicles the answers are: those that the query names, else the one that is carried. */
interface Heard extends Asked {
  stranger: Stranger | null;
  isTyped: boolean;
}
interface OfVehicles {
  fleet: number;
  vehicles: string[];
}

/** What a new request asks for; `place` by its name, `without` the numbers that are the request itself. */
interface Wish {
  name: string;
  fleet: string;
  place: string;
  sizes: number[];
  numbers: string[];
  words: string[];
  without: string[];
}
interface NearHit extends Hit {
  ranked: Ranked;
}

/** "" is any. */
interface Filter {
  fleet: string;
  place: string;
  verdict: string;
  stock: boolean;
}
type FilterName = "fleet" | "place" | "verdict";
interface Choice {
  value: string;
  n: number;
}
type Counts = Record<FilterName, Choice[]> & { stock: number };
interface Candidate extends Hit {
  record: PartRecord;
  /** What a filter for verdicts looks at. */
  stands: () => Stand[];
  standing: () => Standing;
}
interface Standing {
  shown: Stand[];
  /** The vehicles that were asked for and that nothing speaks of, as words. */
  unsaid: string[];
  vehicles: string[];
}

// ---- request/ ----

interface RequestRoom {
  sitesOf(data: FittedData, part: string, vehicle: string): FittedSite[];
  fittedProblems(typed: TypedFitted, data: FittedData, part: string, today: string, about: BatchFound): Record<string, string>;
  sitsAt(data: FittedData, part: string, site: FittedSite | undefined, typed: TypedFitted, waiting: FittedRow[]): FittedSits | null;
  mayBeSo(key: string): boolean;
  fittedRow(typed: TypedFitted, data: FittedData, part: string, row: string): FittedRow;
  fittedText(rows: FittedRow[], data: FittedData, day: string): string;
  qrCode(text: string, how?: { most?: number; level?: "L" | "M"; mask?: number; version?: number }): { version: number; level: "L" | "M"; mask: number; rows: boolean[][] } | null;
  problems(typed: Typed, fleets: Fleet[], roles: string[]): Wrong;
  voiceProblems(typed: Typed, roles: string[]): Wrong;
  text(typed: Typed, day: string, photo: string, fleets: Fleet[]): string;
  voiceText(id: string, typed: Typed, day: string): string;
  withLines(text: string): string;
  fileName(what: string, day: string): string;
  sizes(typed: Typed): number[];
  number(text: string): number;
  hasLapsed(until: string, day: string): boolean;
  namesNothing(text: string, blank: BlankTexts): boolean;
  standsOut(check: InspectedCheck, text: string): boolean | null;
  inspectionProblems(typed: TypedInspection, of: InspectedBatch, data: InspectionData, today: string): Record<string, string>;
  leftOpen(typed: TypedInspection, of: InspectedBatch): { checks: string[]; pieces: { check: string; left: number[] }[] };
  inspectionText(typed: TypedInspection, of: InspectedBatch, data: InspectionData): string;
  numbers(text: string): string[];
}

/** What is missing or wrong, by field. */
type Wrong = Record<string, "missing" | "choose" | "long" | "size" | "number" | "vehicles">;

/** A request as typed. */
interface Typed {
  name: string;
  fleet: string;
  place: string;
  vehicles: string;
  sizes: string[];
  numbers: string;
  what: string;
  yearly: string;
  stops: string;
  by: string;
  note: string;
}

// ---- True size ----

/** What a screen says of itself: its px, and real pixels to a px. */
interface TrueScreen {
  width: number;
  height: number;
  ratio: number;
}

interface Calibration extends TrueScreen {
  px_per_mm: number;
}

/** One side of a part in mm, y downwards, as SVG paths. */
interface SilhouetteSide {
  width: number;
  height: number;
  outline: string;
  lines: string;
}

/** generator/pages/part/silhouettes.py */
interface Silhouettes {
  number: string;
  name: string;
  sides: Record<string, SilhouetteSide>;
}

interface TrueSizeRoom {
  CARD: { width: number; height: number; corner: number };
  LEAST_PX: number;
  calibration(px: number, mm: number, screen: TrueScreen): Calibration | null;
  calibrationIn(kept: unknown): Calibration | null;
  pxPerMm(kept: Calibration | null, screen: TrueScreen, zoom: number): number | "none" | "other" | "zoomed";
  rulerFor(room: number): number;
  sheetsFor(width: number, height: number): { isAcross: boolean; sheets: { x: number; y: number; width: number; height: number }[] };
}
