// What the room of the model offers, and its shapes. Lengths in mm, places on the screen in CSS px from the canvas's top left.

interface Spares {
  model: ModelRoom;
}

interface ModelRoom {
  minus(a: Point, b: Point): Point;
  along(a: Point, direction: Point, far: number): Point;
  dot(a: Point, b: Point): number;
  cross(a: Point, b: Point): Point;
  lengthOf(a: Point): number;
  aboutAxis(axis: Point, radians: number): Turn;
  after(first: Turn, then: Turn): Turn;
  turned(turn: Turn, a: Point): Point;
  back(turn: Turn): Turn;
  homeCamera(box: ModelBox, size: CanvasSize): Camera;
  seenAt(camera: Camera, size: CanvasSize, place: Point): Point;
  rayAt(camera: Camera, size: CanvasSize, x: number, y: number): SightRay;
  orbited(camera: Camera, size: CanvasSize, dx: number, dy: number): Camera;
  panned(camera: Camera, dx: number, dy: number): Camera;
  zoomed(camera: Camera, size: CanvasSize, x: number, y: number, factor: number, box: ModelBox): Camera;
  pinched(camera: Camera, size: CanvasSize, before: [ScreenSpot, ScreenSpot], now: [ScreenSpot, ScreenSpot], box: ModelBox): Camera;
  unpackedModel(bytes: Uint8Array): TurnModel;
  drawingOf(model: TurnModel): ModelDrawing;
  hitOf(model: TurnModel, ray: SightRay, cut: PlaneCut | null): Hit3 | null;
  cutAway(cut: PlaneCut | null, place: Point): boolean;
  cutLines(model: TurnModel, cut: PlaneCut): Float32Array;
  cutSheet(box: ModelBox, cut: PlaneCut): Float32Array;
  facingCut(camera: Camera, box: ModelBox, axis: number, share: number): PlaneCut;
  snapped(scene: MeasureScene, x: number, y: number): Snap | null;
  isOfThePart(snap: Snap): boolean;
  between(one: Snap, other: Snap): Distance;
  shownMm(mm: number, decimal: string): string;
  shownWithin(withinMm: number, decimal: string): string;
}

type Point = [number, number, number];
/** A quaternion of length 1: x, y, z, w. */
type Turn = [number, number, number, number];
type ScreenSpot = [number, number];
interface CanvasSize { width: number; height: number }
interface ModelBox { low: Point; high: Point }
/** A parallel projection: `turn` turns the part so that x is right, y up and z towards the eye; `at` is in the middle of the canvas. */
interface Camera { turn: Turn; at: Point; mmPerPx: number }
interface SightRay { from: Point; along: Point }

/** generator/geometry/model/packed.py */
interface TurnModel {
  points: Float64Array;
  faces: Uint32Array;
  /** For each corner of each face whether the edge to the next one is a line. */
  lines: Uint8Array;
  corners: Float64Array;
  isClosed: boolean;
  withinMm: number;
  cornerWithinMm: number;
  madeOf: number;
  box: ModelBox;
}

/** What is drawn: three corners of each face with their normals, and of each edge that may be seen as a line its ends, the
 * normals of its two faces, and how strongly it is drawn (0: only where the surface turns away); 13 numbers each. */
interface ModelDrawing {
  places: Float32Array;
  normals: Float32Array;
  edges: Float32Array;
}

/** The half where sign · (place[axis] - at) > 0 is cut away. */
interface PlaneCut { axis: number; at: number; sign: number }
interface Hit3 { at: Point; face: number; isCut: boolean }

/** generator/pages/part/turnable.py */
interface ModelRound {
  at: Point;
  axis: Point;
  size_mm: number;
  within_mm: number;
  length_mm: number | null;
  is_inner: boolean;
  is_through: boolean;
  /** None: round. Of a square and a hexagon `size_mm` is across flats, of a thread its outside diameter. */
  shape?: "square" | "hexagon" | "thread";
  pitch_mm?: number;
  hand?: "right" | "left";
}

type SnapKind = "corner" | "edge" | "hole" | "boss" | "face" | "cut";
interface Snap { kind: SnapKind; at: Point; withinMm: number; round: ModelRound | null }
/** `isAxes`: between two parallel axes, square to them. */
interface Distance { mm: number; withinMm: number; isAxes: boolean }

interface MeasureScene {
  model: TurnModel;
  rounds: ModelRound[];
  camera: Camera;
  size: CanvasSize;
  cut: PlaneCut | null;
  reachPx: number;
}
