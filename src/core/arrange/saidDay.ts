/** What people said about riders, laid over the day as found. Touches only the riders it names. */
import type { FileId, RiderId } from '../ids.js';
import type { BikePoint } from '../log/types.js';
import type { WallMs } from '../units.js';
import { type Bikes, type ExtraBike, withExtraBikes } from './bikes.js';
import type { DecisionOf, RiderDecision } from './decisions.js';
import { dotRows } from './descriptors.js';
import type { FoundDay } from './foundDay.js';
import type { RawPass } from './passes.js';
import { applyWords } from './riders/applyWords.js';
import { cannotBeOne, lapRule } from './riders/cannotBeOne.js';
import type { Cluster } from './riders/clusters.js';
import { isBelowLine } from './riders/confidence.js';
import { type Identity, identify } from './riders/identities.js';
import { lapsAgainst } from './riders/lapsAgainst.js';
import { bikeAt, type PointedBike } from './riders/points.js';
import { shownPasses } from './riders/shownPasses.js';
import { type Contradiction, type Statements, settleStatements } from './riders/statements.js';
import { keepSettled, type Settled } from './settled.js';

export interface SaidDay {
  readonly bikes: Bikes;
  /** In order of time. */
  readonly passes: readonly RawPass[];
  /** Per pass its rider, from 0 in order of first pass. */
  readonly labels: Int32Array;
  readonly extras: readonly ExtraBike[];
  readonly contradictions: readonly Contradiction[];
  readonly statements: Statements;
  /** Pass of each bike, −1 for none. */
  readonly passOf: Int32Array;
  readonly identityOf: (rider: number) => Identity;
  /** Riders of whom somebody said that they instruct, or do not. */
  readonly instructs: ReadonlyMap<number, boolean>;
  /** Per pass the pass as found that it is, or is a part of; −1 for a bike that only a person saw. */
  readonly foundPass: Int32Array;
  /** Passes that a person spoke of. */
  readonly saidPasses: ReadonlySet<number>;
  readonly settled: Settled;
}

export function sayDay(
  found: FoundDay,
  decisions: readonly RiderDecision[],
  settledWords: readonly DecisionOf<'settled'>[],
): SaidDay {
  const { seen } = found;
  const pointed = new PointedBikes(found);
  for (const decision of decisions) for (const point of pointsOf(decision)) pointed.add(point);
  const bikes = withExtraBikes(seen.bikes, pointed.extras, seen.measured);
  const statements = settleStatements(decisions, (point) => pointed.bikeOf(point), {
    isOneFrame: (a, b) => bikes.exposure[a] === bikes.exposure[b],
    forbiddenByLaps: lapsAgainst(found),
  });
  const pieces = splitPasses(found, pointed.extras, bikes, statements);
  const passes = pieces.map(({ pass }) => pass);
  const passOf = new Int32Array(bikes.count).fill(-1);
  passes.forEach((pass, p) => {
    for (const i of pass.bikes) passOf[i] = p;
  });
  const rule = lapRule(found.field.fastestLapMs);
  const raw = applyWords({
    labels: Int32Array.from(pieces, ({ label }) => label),
    together: statements.together.map((list) => unique(list.map((i) => passOf[i]!).filter((p) => p >= 0))),
    different: statements.different
      .map(([a, b]) => [passOf[a]!, passOf[b]!] as const)
      .filter(([a, b]) => a >= 0 && b >= 0 && a !== b),
    cannotBeOne: (a, b) => cannotBeOne(passes[a]!, passes[b]!, bikes, rule),
    likeness: (p, others) => meanLikeness(bikes, passes, p, others),
  });
  const saidPasses = saidPassesOf(decisions, statements, passOf, (point) => pointed.bikeOf(point));
  const riderIn =
    (labels: Int32Array) =>
    (point: BikePoint): number | null => {
      const bike = pointed.bikeOf(point);
      return bike === null || passOf[bike]! < 0 ? null : labels[passOf[bike]!]!;
    };
  const settled = keepSettled({
    labels: raw,
    settled: settledWords,
    riderOf: riderById(raw, settledWords, identify(decisions, riderIn(raw))),
    passesAt: passesByFile(settledWords, (file) => pointed.exposureOf(file), bikes, passOf),
    isSaid: (p) => saidPasses.has(p),
    likeness: (p, others) => meanLikeness(bikes, passes, p, others),
  });
  const labels = renumber(settled.labels);
  const riderAt = riderIn(labels);
  return {
    bikes,
    passes,
    labels,
    extras: pointed.extras,
    contradictions: statements.contradictions,
    statements,
    passOf,
    identityOf: identify(decisions, riderAt),
    instructs: instructsOf(decisions, riderAt),
    foundPass: Int32Array.from(pieces, ({ foundPass }) => foundPass),
    saidPasses,
    settled,
  };
}

/** Ids are looked up where something was settled alone: there are few. */
function riderById(
  labels: Int32Array,
  settled: readonly DecisionOf<'settled'>[],
  identityOf: (rider: number) => Identity,
): (id: RiderId) => number | null {
  const riders = new Map<RiderId, number>();
  if (settled.length > 0)
    for (const label of new Set(labels)) {
      const { id, aliases } = identityOf(label);
      for (const own of id === null ? aliases : [id, ...aliases]) riders.set(own, label);
    }
  return (id) => riders.get(id) ?? null;
}

function passesByFile(
  settled: readonly DecisionOf<'settled'>[],
  exposureOf: (file: FileId) => number | undefined,
  bikes: Bikes,
  passOf: Int32Array,
): (file: FileId) => readonly number[] {
  const wanted = new Set(settled.flatMap(({ files }) => files.map(exposureOf)));
  const passes = new Map<number | undefined, number[]>();
  for (let i = 0; i < bikes.count; i++) {
    const exposure = bikes.exposure[i]!;
    if (!wanted.has(exposure) || passOf[i]! < 0) continue;
    passes.set(exposure, [...(passes.get(exposure) ?? []), passOf[i]!]);
  }
  return (file) => passes.get(exposureOf(file)) ?? [];
}

/** The rider that a cluster's first pass is now with; −1 where that pass is no longer there. */
export function riderOfCluster(cluster: Cluster, passes: readonly RawPass[], { passOf, labels }: SaidDay): number {
  const pass = passOf[passes[cluster.passes[0]!]!.bikes[0]!]!;
  return pass < 0 ? -1 : labels[pass]!;
}

function pointsOf(decision: RiderDecision): readonly BikePoint[] {
  switch (decision.kind) {
    case 'same-rider':
    case 'different-riders':
    case 'rider-minted':
      return decision.points;
    case 'line-up':
      return [decision.of, ...decision.shown];
    case 'rider-is':
    case 'instructor':
      return [decision.point];
  }
}

/** Points → numbers of bikes; those that are not among the day's bikes are numbered behind them. */
class PointedBikes {
  readonly extras: PointedBike[] = [];
  readonly #found: FoundDay;
  readonly #exposureOf = new Map<FileId, number>();

  constructor(found: FoundDay) {
    this.#found = found;
    found.seen.exposures.forEach(({ files }, e) => {
      for (const file of files) this.#exposureOf.set(file, e);
    });
  }

  add(point: BikePoint): void {
    const bike = this.#resolve(point);
    if (bike === null || this.#find(bike) !== null || this.#found.walls[bike.exposure] === null) return;
    this.extras.push(bike);
  }

  exposureOf(file: FileId): number | undefined {
    return this.#exposureOf.get(file);
  }

  bikeOf(point: BikePoint): number | null {
    const bike = this.#resolve(point);
    return bike === null ? null : this.#find(bike);
  }

  #resolve(point: BikePoint): PointedBike | null {
    const { measured, pieces } = this.#found.seen;
    const bike = bikeAt(point, { exposureOf: this.#exposureOf, measured });
    if (bike === null) return null;
    const whole = pieces.get(bike.exposure)?.get(bike.subject);
    return whole === undefined ? bike : { ...bike, subject: whole, box: measured[bike.exposure]!.subjects[whole]!.box };
  }

  #find(bike: PointedBike): number | null {
    // A bike of a frame that is apart is in no pass; said to be somebody's, it makes one.
    const known = this.#found.apart[bike.exposure] === null ? rowOf(this.#found.seen.bikes, bike) : null;
    if (known !== null) return known;
    const at = this.extras.findIndex((extra) => isSame(extra, bike));
    return at === -1 ? null : this.#found.seen.bikes.count + at;
  }
}

/** Rows are in order of exposure. */
function rowOf({ count, exposure, subject }: Bikes, bike: PointedBike): number | null {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (exposure[middle]! < bike.exposure) low = middle + 1;
    else high = middle;
  }
  for (let i = low; i < count && exposure[i] === bike.exposure; i++) if (subject[i] === bike.subject) return i;
  return null;
}

/** Two fingers on one bike that nobody detected: their boxes meet. */
function isSame(a: PointedBike, b: PointedBike): boolean {
  if (a.exposure !== b.exposure || a.subject !== b.subject) return false;
  if (a.subject >= 0) return true;
  return Math.abs(a.box[0] - b.box[0]) < 0.08 && Math.abs(a.box[1] - b.box[1]) < 0.08;
}

interface Piece {
  readonly pass: RawPass;
  /** Rider as found; extras are riders of their own. */
  readonly label: number;
  readonly foundPass: number;
}

/**
 * Passes as found, cut where a person said that two of its frames show two bikes, and the extras as passes of one. A pass
 * below the confidence line that is spoken of stands alone first: a word about it says nothing about the rider it was
 * guessed to be, unless that is known by it alone.
 */
function splitPasses(
  found: FoundDay,
  extras: readonly PointedBike[],
  bikes: Bikes,
  { different, together }: Statements,
): readonly Piece[] {
  const { labels, ties } = found.clustering;
  let next = labels.reduce((most, label) => Math.max(most, label + 1), 0);
  const pieces: Piece[] = [];
  const named = new Set(different.flat());
  const spokenOf = new Set(together.flat());
  found.passes.forEach((pass, p) => {
    const anchors = pass.bikes.filter((i) => named.has(i));
    const enemy = anchors.find((i) =>
      different.some(([a, b]) => (a === i && b === anchors[0]) || (b === i && a === anchors[0])),
    );
    if (enemy === undefined) {
      const isWaiting = isBelowLine(ties[p]) && !shownPasses(labels[p]!, found.clustering).includes(p);
      const isOwn = isWaiting && pass.bikes.some((i) => spokenOf.has(i));
      pieces.push({ pass, label: isOwn ? next++ : labels[p]!, foundPass: p });
      return;
    }
    const d = bikes.dimensions;
    const isOther = (i: number): boolean =>
      i !== anchors[0] &&
      (i === enemy ||
        dotRows(bikes.descriptors, i, bikes.descriptors, enemy, d) >
          dotRows(bikes.descriptors, i, bikes.descriptors, anchors[0]!, d));
    pieces.push({
      pass: pieceOf(
        pass,
        pass.bikes.filter((i) => !isOther(i)),
        found,
        bikes,
      ),
      label: labels[p]!,
      foundPass: p,
    });
    pieces.push({ pass: pieceOf(pass, pass.bikes.filter(isOther), found, bikes), label: labels[p]!, foundPass: p });
  });
  extras.forEach(({ exposure }, k) => {
    const wall = found.walls[exposure] as WallMs;
    const { body } = found.seen.exposures[exposure]!;
    const spot = found.spots[exposure]!;
    pieces.push({
      pass: {
        bikes: [found.seen.bikes.count + k],
        session: found.sessionOf[exposure]!,
        body,
        spot,
        stand: spot ?? body,
        start: wall,
        end: wall,
      },
      label: next++,
      foundPass: -1,
    });
  });
  return pieces.sort((a, b) => a.pass.start - b.pass.start || a.pass.bikes[0]! - b.pass.bikes[0]!);
}

function pieceOf(pass: RawPass, own: readonly number[], found: FoundDay, bikes: Bikes): RawPass {
  const wallOf = (i: number): number => found.walls[bikes.exposure[i]!]!;
  return { ...pass, bikes: own, start: wallOf(own[0]!), end: wallOf(own.at(-1)!) };
}

function meanLikeness(bikes: Bikes, passes: readonly RawPass[], p: number, others: readonly number[]): number {
  const d = bikes.dimensions;
  let sum = 0;
  let count = 0;
  for (const q of others)
    for (const j of passes[q]!.bikes)
      for (const i of passes[p]!.bikes) {
        sum += dotRows(bikes.descriptors, i, bikes.descriptors, j, d);
        count++;
      }
  return sum / Math.max(1, count);
}

/** The last word about each rider. */
function instructsOf(
  decisions: readonly RiderDecision[],
  riderAt: (point: BikePoint) => number | null,
): ReadonlyMap<number, boolean> {
  const said = new Map<number, boolean>();
  for (const decision of decisions) {
    const rider = decision.kind === 'instructor' ? riderAt(decision.point) : null;
    if (decision.kind === 'instructor' && rider !== null) said.set(rider, decision.is);
  }
  return said;
}

function saidPassesOf(
  decisions: readonly RiderDecision[],
  { together }: Statements,
  passOf: Int32Array,
  bikeOf: (point: BikePoint) => number | null,
): ReadonlySet<number> {
  const named = decisions.flatMap((decision) => (decision.kind === 'rider-is' ? (bikeOf(decision.point) ?? []) : []));
  return new Set([...together.flat(), ...named].map((bike) => passOf[bike]!).filter((p) => p >= 0));
}

const unique = (list: readonly number[]): number[] => [...new Set(list)];

function renumber(labels: Int32Array): Int32Array {
  const numbers = new Map<number, number>();
  return labels.map((label) => {
    let number = numbers.get(label);
    if (number === undefined) {
      number = numbers.size;
      numbers.set(label, number);
    }
    return number;
  });
}
