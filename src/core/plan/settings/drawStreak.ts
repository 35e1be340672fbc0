/**
 * What a shutter will look like, drawn: a bike held sharp, posts, verge and crowd behind it drawn out by the streak, the spokes by
 * the wheel's turn. Lengths are true to the bike's. What is drawn out pales by as much as it grows longer, since the same light
 * is spread: opacity = width / (width + streak). Plain shapes, SVG path data, y downwards; whoever draws gives ink and paper.
 */
export interface StreakShape {
  readonly role: 'crowd' | 'verge' | 'post' | 'tyre' | 'spoke' | 'body' | 'rider';
  /** SVG path data. */
  readonly d: string;
  readonly opacity: number;
}

export interface StreakDrawing {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly shapes: readonly StreakShape[];
}

export interface StreakOptions {
  /** Share of the bike's length. */
  readonly streak: number;
  readonly wheelDeg: number;
  readonly widthPx: number;
  /** A bike whose right side is seen goes to the right. */
  readonly side: 'left' | 'right';
}

/** Frame of the drawing, in lengths of the bike. */
const WIDTH = 1.6;
const HEIGHT = 0.95;
const BIKE_FROM = 0.3;
const GROUND = 0.1;
const SPOKES = 5;
const SPOKE_DEG = 7;

type Point = readonly [x: number, y: number];

/** Our own outline, nose to the right, nose to tail 1, ground at 0. */
const BODY: readonly Point[] = [
  [0.05, 0.47],
  [0.2, 0.43],
  [0.33, 0.39],
  [0.4, 0.46],
  [0.55, 0.47],
  [0.66, 0.44],
  [0.74, 0.5],
  [0.83, 0.43],
  [0.88, 0.37],
  [0.84, 0.33],
  [0.79, 0.3],
  [0.74, 0.14],
  [0.62, 0.1],
  [0.44, 0.1],
  [0.38, 0.19],
  [0.27, 0.17],
  [0.18, 0.14],
  [0.17, 0.17],
  [0.31, 0.25],
  [0.3, 0.33],
  [0.1, 0.43],
];
const FORK: readonly Point[] = [
  [0.77, 0.36],
  [0.81, 0.34],
  [0.87, 0.15],
  [0.84, 0.14],
];
const RIDER: readonly Point[] = [
  [0.22, 0.47],
  [0.27, 0.55],
  [0.38, 0.62],
  [0.52, 0.65],
  [0.6, 0.63],
  [0.66, 0.53],
  [0.73, 0.46],
  [0.71, 0.42],
  [0.62, 0.46],
  [0.56, 0.53],
  [0.47, 0.51],
  [0.43, 0.45],
  [0.54, 0.42],
  [0.55, 0.37],
  [0.41, 0.2],
  [0.45, 0.17],
  [0.43, 0.15],
  [0.34, 0.17],
  [0.36, 0.22],
  [0.42, 0.35],
  [0.31, 0.4],
];
const HELMET = { x: 0.645, y: 0.645, r: 0.07 };
/** Front 120/70-17, rear 180/55-17, by 2.05 m. */
const WHEELS = [
  { x: 0.156, r: 0.154 },
  { x: 0.854, r: 0.146 },
];
/** What stands behind, unevenly spaced: even spacing would beat with the streak. */
const POSTS = [0.06, 0.52, 0.97, 1.43].map((x) => ({ x, width: 0.025, low: 0.26, high: 0.72 }));
const TUFTS = [0.02, 0.14, 0.2, 0.37, 0.46, 0.6, 0.69, 0.83, 0.94, 1.05, 1.13, 1.27, 1.36, 1.52].map((x) => ({
  x,
  width: 0.045,
  low: 0.15,
  high: 0.21,
}));
/** Scattered by the golden ratio and √2, which never fall into rows. */
const CROWD = Array.from({ length: 36 }, (_, i) => {
  const low = 0.3 + ((i * Math.SQRT2) % 1) * 0.36;
  return { x: ((i * 0.618034) % 1) * WIDTH, width: 0.04, low, high: low + 0.035 };
});

export const drawStreak = ({ streak, wheelDeg, widthPx, side }: StreakOptions): StreakDrawing => {
  const scale = widthPx / WIDTH;
  const heightPx = HEIGHT * scale;
  const at = ([x, y]: Point): string => {
    const px = (side === 'right' ? x : WIDTH - x) * scale;
    return `${round(px)} ${round(heightPx - (y + GROUND) * scale)}`;
  };
  const ofBike = ([x, y]: Point): Point => [x + BIKE_FROM, y];
  const polygon = (points: readonly Point[]): string => `M${points.map(at).join('L')}z`;
  const disc = (x: number, y: number, r: number): string => polygon(arc(x, y, r, 0, 360));

  const drawnOut = (role: StreakShape['role'], things: readonly (typeof POSTS)[number][]) =>
    things.map(({ x, width, low, high }): StreakShape => {
      const [from, to] = [Math.max(0, x - streak / 2), Math.min(WIDTH, x + width + streak / 2)];
      const d = polygon([
        [from, low],
        [to, low],
        [to, high],
        [from, high],
      ]);
      return { role, d, opacity: width / (width + streak) };
    });
  const wheel = ({ x, r }: (typeof WHEELS)[number]): readonly StreakShape[] => {
    const centre = ofBike([x, r]);
    const rim = r * 0.72;
    const ring = `${disc(...centre, r)}${polygon([...arc(...centre, rim, 0, 360)].reverse())}`;
    const spokes = Array.from({ length: SPOKES }, (_, i): StreakShape => {
      const from = (i * 360) / SPOKES;
      return {
        role: 'spoke',
        d: polygon([centre, ...arc(...centre, rim, from, from + SPOKE_DEG + Math.min(360 - SPOKE_DEG, wheelDeg))]),
        opacity: SPOKE_DEG / (SPOKE_DEG + wheelDeg),
      };
    });
    return [{ role: 'tyre', d: ring, opacity: 1 }, ...spokes];
  };
  return {
    widthPx,
    heightPx,
    shapes: [
      ...drawnOut('crowd', CROWD),
      ...drawnOut('post', POSTS),
      ...drawnOut('verge', TUFTS),
      ...WHEELS.flatMap(wheel),
      { role: 'body', d: polygon(FORK.map(ofBike)), opacity: 1 },
      { role: 'body', d: polygon(BODY.map(ofBike)), opacity: 1 },
      { role: 'rider', d: polygon(RIDER.map(ofBike)), opacity: 1 },
      { role: 'rider', d: disc(HELMET.x + BIKE_FROM, HELMET.y, HELMET.r), opacity: 1 },
    ],
  };
};

const STEP_DEG = 6;

/** From `fromDeg` to `toDeg`, against the clock. */
const arc = (x: number, y: number, r: number, fromDeg: number, toDeg: number): readonly Point[] => {
  const steps = Math.max(1, Math.ceil((toDeg - fromDeg) / STEP_DEG));
  return Array.from({ length: steps + 1 }, (_, i): Point => {
    const angle = ((fromDeg + ((toDeg - fromDeg) * i) / steps) * Math.PI) / 180;
    return [x + r * Math.cos(angle), y + r * Math.sin(angle)];
  });
};

const round = (value: number): number => Math.round(value * 10) / 10;
