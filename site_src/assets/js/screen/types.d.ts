// What the scripts that touch the page offer each other. For authors and the type check; no page loads it.

interface Spares {
  screen: ScreenRoom;
}

interface ScreenRoom {
  base: URL;
  copyState(): CopyState;
  copyFacts(number: string, forgotten?: () => FactValue): Facts;
  copyChanged(): void;
  endedBefore(number: string): Ending[];
  keepEnded(seen: [string, Ending[]][]): void;
  keepEndedIn(data: FinderData): void;
  readLate<T>(path: string, given: () => T | undefined): Promise<T>;
  readBeside<T>(path: string, given: () => T | undefined): Promise<T>;
  pageEnded(): void;
  ownScreen(): TrueScreen;
  zoom(): number;
  ownScale(): number | "none" | "other" | "zoomed";
  keepScale(set: Calibration): void;
  silhouette: SilhouetteDrawing;
  offerScale(place: HTMLElement, foot: HTMLElement, before: number, done: () => void): void;
  printTrueSize(part: Silhouettes, name: string): void;
  openTrueSize(part: Silhouettes): void;
  openWindow(dialog: HTMLDialogElement): void;
  onEachDay(look: (day: string) => void): () => void;
  keepCareful(element: Element): void;
  goBack(element: Element): void;
  isFloor(element: Element, forbidden: string): boolean;
  ticksOf(box: Element, day: string): Set<string>;
  ofAny(box: Element): OfAny | null;
  piece(): string | null;
  choosePiece(batch: string | null): void;
  pieceRevision(): string | null;
  pieceOfOther(facts: Facts): void;
  pieceAgainst(): Facts | null;
  pieceRead(): BatchRead | null;
  pieceTyped(): string;
  offerTicks(box: Element, day: string, asked: { texts: string[]; reasons: string[] }, changed: () => void): void;
  forgetInTime(forgotten: () => void): void;
  newerCopy(number: string): string;
  newerWaits(waiting: ServiceWorker): void;
  copied(text: string, shown: HTMLElement): Promise<boolean>;
  made<K extends keyof HTMLElementTagNameMap>(tag: K, name: string, attributes: Record<string, string>, ...content: (string | Node)[]): HTMLElementTagNameMap[K];
  pageWords: { copy: string; copied: string; notCopied: string };
  codeDrawing(rows: boolean[][], label: string, name: string): SVGElement;
  vehicle(): Carried | null;
  strangeVehicle(): string;
  choose(text: string): void;
  /** The vehicle that an address has put another in the place of. */
  insteadOf(): Carried | null;
  meant(): Carried | null;
  withVehicle(page: URL, number?: number | string): URL;
  short(text: string): string;
  named(vehicle: Carried): string;
  vehicleList(attributes: Record<string, string>): HTMLSelectElement;
  keepSizes(sizes: Record<string, string>): boolean;
  keptSizes(): Record<string, string>;
  fromQuery(parts: Catalogue, query: string, wanted: string): { name: string; fleet: string; sizes: string[]; numbers: string; vehicles: string };
  keptOf(key: string, name: string): any; // any: whatever JSON the store holds
  keepOf(key: string, name: string, begun: object | null): boolean;
  keptOrder(): BegunOrder;
  keepOrder(order: BegunOrder): void;
  notOrdered(whom?: Carried | null): "" | "nowhere" | "there";
  standsFor(whom: Carried | null): { who: string; word: string; reason: string }[];
  ownOf(some: HTMLElement[]): HTMLElement[];
  spokenFor(some: HTMLElement[], whom: Carried | null): { own: HTMLElement[]; none: Carried[] };
  settleTyped(): void;
  typedVehicle(finder: FinderBox, heard: Heard): void;
  heardOf(parts: Catalogue, ranked: Ranked, query: string): Heard;
  leadsTo(heard: Heard): string;
  notice(data: FinderData, heard: Heard): { text: string; take: Carried | null };
  noticeLines(finder: FinderBox, notice: { text: string; take: Carried | null }): HTMLElement[];
  standingFor(data: FinderData, stands: Stand[], heard: Heard): Standing & { judged: Stand[] };
  partsData(): Promise<FinderData>;
  catalogue(): Promise<Catalogue>;
  CHOICES: FilterName[];
  addressFor(page: URL, query: string, filter: Filter): string;
  keepInAddress(query: string, filter: Filter): void;
  fromAddress(): { query: string; filter: Filter };
  filterRow(words: Words, id: string): FilterRow;
  hitElement(index: Index, data: FinderData, ranked: Ranked, hit: Hit, standing: Standing, page: { words: Words; base: URL }): HTMLLIElement;
  sorted(candidates: Candidate[], passes: (candidate: Candidate) => boolean, place: FinderPlace, answer: Said, how: { isStrange: boolean; isAnswer: boolean }): FoundParts;
  listed(found: FoundParts, parts: Catalogue, ranked: Ranked, page: { words: Words; base: URL }, around: { shown: number; more: (n: number) => Node; ask: (text: string) => Node }): Node[];
  spoken(found: FoundParts, words: Words): string;
  showFound(finder: FinderBox, parts: Catalogue, filter: Filter): void;
  readModel(path: string, mark: string): Promise<{ model: TurnModel; rounds: ModelRound[] }>;
  modelCanvas(canvas: HTMLCanvasElement, model: TurnModel, drawing: ModelDrawing): ModelCanvas | null;
  listenToHands(canvas: HTMLElement, on: ModelTouch): void;
  showMarks(over: SVGElement, snaps: Snap[], figure: string, camera: Camera, size: CanvasSize): void;
  turnControls(win: TurnWindow, on: TurnActions): { again: HTMLButtonElement };
  turnModel(win: TurnWindow): Promise<void>;
  rememberHanded(request: HandedOn): void;
  vain: VainRoom;
  smallPhoto(file: Blob): Promise<string>;
  fields: FieldMakers;
  draft: { read(): Draft | null; keep(values: Draft): boolean; forget(): void };
  fittedList: { read(): FittedKept; keep(kept: FittedKept): boolean; newRow(): string };
  aboutFitted(part: string, site: FittedSite | undefined, vehicle: string, batch: string): Promise<{ about: BatchFound; stands: OfAny | null }>;
  pressable(word: string, name: string, pressed: () => void): HTMLButtonElement;
  roleField(id: string, words: RequestWords, roles: ChosenRole[], form: string): RoleField;
  positionField(id: string, words: RequestWords, said: Record<"position_new" | "position_other", string>): PositionField;
  labelledBatches(part: string, fields: Record<LabelledName | "why", FormField>, changed: () => void): LabelledBatches;
  seenField(id: string, words: RequestWords): SeenField;
  sitsBelow(field: FormField, words: FittedWords, taken: (batch: string) => void): (batches: string[]) => void;
  meantBelow(field: FormField, said: string): (names: string[]) => void;
  givenOver(whole: HTMLElement, file: HandedOver, data: { done: Record<string, string>; words: { done: Record<string, string> }; contact: string }, again: () => void, given: () => void): void;
  checkFields(at: number, check: InspectedCheck, words: InspectionWords): CheckFields;
  handover(request: HandedOver, words: RequestWords, contact: string, change: () => void, finish: () => void): HTMLElement;
}

/** Not in the library of the compiler yet. */
declare var DecompressionStream: { new (form: "deflate"): ReadableWritablePair<Uint8Array, Uint8Array> } | undefined;
/** generator/pages/part/turnable.py; there only while one is being read. */
declare var sparesModel: ModelScript | undefined;
interface ModelScript {
  mark: string;
  rounds: ModelRound[];
  packed: string;
}

/** What is looked at, and how. */
interface ModelView {
  camera: Camera;
  cut: PlaneCut | null;
  isPit: boolean;
}

/** Where a model is drawn; `again` after its context was lost. */
interface ModelCanvas {
  show(view: ModelView): void;
  again(): void;
}

/** What hands do to a model. */
interface ModelTouch {
  box: ModelBox;
  size(): CanvasSize;
  change(changed: (camera: Camera) => Camera): void;
  home(): void;
  tapped(x: number, y: number): void;
}

/** The window that the model is shown in: without a drawing it has the picture (`still`), with one it is `live`. */
interface TurnWindow {
  path: string;
  mark: string;
  name: string;
  words: Record<string, string>;
  stage: HTMLElement;
  controls: HTMLElement;
  tell(text: string, isValue?: boolean): void;
  still(text: string): void;
  live(): void;
}

/** What the buttons do. `cut`: an axis, null for the whole part; how far along it, null where it has just been chosen. */
interface TurnActions {
  home(): void;
  grow(factor: number): void;
  measure(isOn: boolean): void;
  again(): void;
  cut(axis: number | null, share: number | null, isOther: boolean): void;
}

interface SilhouetteDrawing {
  drawn(tag: string, attributes: Record<string, string | number>, ...content: Node[]): SVGElement;
  sideDrawing(side: SilhouetteSide, window: { x: number; y: number; width: number; height: number }, length: (mm: number) => string, how: { label: string; isTurned?: boolean; marks?: SVGElement[] }): SVGElement;
  whole(side: SilhouetteSide): { x: number; y: number; width: number; height: number };
  ruler(mm: number, length: (mm: number) => string, label: string): SVGElement;
}

/** How a verdict stands, whatever piece is in the hand. */
interface OfAny {
  verdict: Verdict;
  word: string;
  reason: string;
}

/** The records of all parts with their index. */
interface Catalogue {
  data: FinderData;
  index: Index;
}

/** What a hand has filled in of an order; `beside`: the vehicle that was carried when its vehicle was, "" for none. */
type BegunOrder = Partial<Record<"count" | "vehicle" | "by" | "beside", string>>;

type FinderPlace = "home" | "top";

/** The finder on a page: its elements, and what it shows. */
interface FinderBox {
  box: HTMLElement;
  /** The links in its place for readers without scripts. */
  before: Node[];
  place: FinderPlace;
  words: Words;
  form: HTMLFormElement;
  input: HTMLInputElement;
  clear: HTMLButtonElement;
  /** Tells that more was typed than is looked for. */
  cut: HTMLElement;
  told: HTMLElement;
  panel: HTMLElement;
  list: HTMLElement;
  filters: FilterRow | null;
  shown: number;
  query: string;
  telling: Timer | undefined;
  counting: Timer | undefined;
  ask(finder: FinderBox, query: string): void;
  update(finder: FinderBox): Promise<void>;
}
type Timer = ReturnType<typeof setTimeout>;

interface FilterRow {
  row: HTMLElement;
  value: () => Filter;
  set: (filter: Filter) => void;
  show: (counts: Counts) => void;
}

interface FoundParts {
  sure: Candidate[];
  perhaps: Candidate[];
  requests: Candidate[];
  /** A request fits better than any part. */
  isFirst: boolean;
  /** A vehicle was named that no fleet has. */
  isStrange: boolean;
  isAnswer: boolean;
  said: Said;
}

/** A labelled field of the request form; its value is a text, or the texts of its sides. */
interface FormField<T = string> {
  element: HTMLElement;
  get: () => T;
  set: (value: T) => void;
  fault: (text: string) => void;
  focus: () => void;
}
type AnyField = FormField | FormField<string[]>;
interface Offered {
  id: string;
  name: string;
  more?: string;
}
interface ChoiceField extends FormField {
  offer: (choices: Offered[]) => void;
}
type LabelledName = "batch" | "removed_batch";
/** `take`: what was typed becomes the batch; `wrong`: what speaks against the label, as a key of words.wrong; `says`: the same in words. */
/** `offer`: whether there is anything to say of it. */
interface SeenField extends FormField {
  offer(is: boolean): void;
}
interface LabelledBatches {
  take: (name: LabelledName) => void;
  wrong: (name: LabelledName) => string;
  says: (name: LabelledName) => string;
  batch: (name: LabelledName) => string;
}
/** `last`: who it was last on this tablet, "" where nobody. */
interface RoleField extends FormField {
  last: string;
  remember: (role: string) => void;
}
interface PositionField extends FormField {
  offer: (names: string[]) => void;
}
interface FieldMakers {
  textField(id: string, words: RequestWords, attributes: Record<string, string>, optional?: boolean): FormField;
  areaField(id: string, words: RequestWords, longest: string): FormField;
  selectField(id: string, words: RequestWords, choices: Offered[], first: string): FormField;
  choiceField(id: string, words: RequestWords, optional: boolean): ChoiceField;
  sizesField(id: string, words: RequestWords): FormField<string[]>;
  photoField(id: string, words: RequestWords, changed: () => void): FormField;
}

/** What was typed, by field; `rest`: its second half was open. As read from the tablet, any of it may be something else. */
type Draft = Record<string, unknown>;

/** A request or a voice (`id`) that was handed over on this tablet. */
interface HandedOn {
  name: string;
  id: string;
  day: string;
  by: string;
}

/** What leaves as a file; `short` is what is copied and shown as a code: without the photo, and without `along`. */
interface HandedOver {
  text: string;
  short: string;
  file: string;
  hasPhoto?: boolean;
  /** No code of it is offered. */
  uncoded?: boolean;
  /** How many queries that found nothing go along in the file. */
  along?: number;
  /** Called once the file has left, or its text where that is all. */
  gone?: () => void;
  /** What the file leaves open, told before it is handed over. */
  notes?: string[];
}

/** The fields of one dimension on an inspection sheet. `faults` takes what is wrong by the keys of its problems and gives what to go to. */
interface CheckFields {
  element: HTMLElement;
  get(): TypedCheck;
  set(typed: TypedCheck): void;
  pieces(n: number): void;
  told(): void;
  propose(from: TypedCheck): void;
  fault(key: string, text: string): void;
  focus(key: string): void;
}

/** What was fitted and waits on this tablet, and what was handed over last. */
interface FittedKept {
  rows: FittedRow[];
  handed: { day: string; rows: FittedRow[] } | null;
}

/** Queries that found nothing, as this tablet remembers them. */
interface VainRoom {
  read(): Sought[];
  count(text: string): void;
  answered(text: string, how: { typed: boolean; inVain: boolean }): void;
  along(): VainAlong;
  forget(text: string): void;
  forgetAll(): void;
  today(): string;
}
interface VainAlong {
  told: () => Sought[];
  gone: () => void;
  over: () => void;
}
