/** A day that lives in memory: the made-up arrangement, with decisions that really move pictures, and cards on demand. */
import type { Apart, Arrangement, Pass, Rider } from '../../core/arrange/types.js';
import type { CardProgress, Fill } from '../../core/bringin/types.js';
import { chooseKeepers } from '../../core/choose/index.js';
import { cover, standsOf } from '../../core/cover/index.js';
import type { Coverage, Unseen } from '../../core/cover/types.js';
import type { FillId, FrameId, GestureId, MeetingId, RiderId, RiderKey, WriterId } from '../../core/ids.js';
import { judgedByBike } from '../../core/judge/index.js';
import { withWholeCircuits } from '../../core/log/index.js';
import type { BikePoint, Decision, FoldedLog } from '../../core/log/types.js';
import type { FrameMeasured } from '../../core/measure/types.js';
import { type SaidOfTimetable, timetableInForce } from '../../core/plan/timetable/index.js';
import { epochMsOf, wallMsOf } from '../../core/units.js';
import type { RememberedCard } from '../../host/day/rememberedCards.js';
import type { Day, DayEvent, DayState } from '../../host/day/types.js';
import { fakeJudgements } from './fakeJudged.js';
import { drawCrop, drawPicture } from './fakePictures.js';
import {
  atClock,
  DAY,
  FILLS,
  MADE_UP,
  type MadeUp,
  type MadeUpOptions,
  makeUpDay,
  SPOTS,
  STANDS,
  TIMETABLE,
} from './madeUpDay.js';

export interface FakeDay extends Day {
  /** Everything said so far, newest last, taken-back ones left out. */
  readonly said: () => readonly { readonly gesture: GestureId; readonly decisions: readonly Decision[] }[];
  setCards(cards: readonly CardProgress[]): void;
  remember(fill: FillId, card: RememberedCard): void;
  notice(sentence: string): void;
  /** Measures so many of the frames that wait. */
  measureSome(count: number): void;
}

type Said = { readonly gesture: GestureId; readonly decisions: readonly Decision[] };

const foldOf = (said: readonly Said[]): FoldedLog => {
  const inForce = said.flatMap(({ gesture, decisions }, g) =>
    decisions.map((decision, i) => ({
      decision,
      line: {
        writer: 'fake' as WriterId,
        seq: g * 100 + i + 1,
        v: 1,
        lamport: g + 1,
        gesture,
        at: epochMsOf(Date.parse(`${DAY}T12:00:00Z`) + g * 60_000),
        decision,
      },
    })),
  );
  return {
    lines: inForce.map(({ line }) => line),
    gestures: said.map(({ gesture }) => gesture),
    inForce: withWholeCircuits(inForce),
    nextLamport: said.length + 1,
  };
};

const frameOf = (point: BikePoint): FrameId => `1${point.file.slice(1, 8)}`.repeat(4) as FrameId;

/** Every 16th pass is not placed, till somebody says something about one of its bikes. */
const isUnsure = (pass: MadeUp['passes'][number], decisions: readonly Decision[]): boolean =>
  pass.index % 16 === 7 &&
  !decisions.some((decision) => {
    const points = decision.kind === 'same-rider' ? decision.points : decision.kind === 'line-up' ? [decision.of] : [];
    return points.some((point) => pass.bikes.some((bike) => bike.frameId === frameOf(point)));
  });

/** Which cluster each frame belongs to, after what was said. A frame taken out becomes a cluster of its own. */
function clustersOf(made: MadeUp, decisions: readonly Decision[], hasDoubts: boolean): ReadonlyMap<FrameId, string> {
  const cluster = new Map<FrameId, string>();
  for (const pass of made.passes) {
    const name = hasDoubts && pass.index % 16 === 7 ? `out-${pass.bikes[0]!.frameId}` : `t${pass.truth}`;
    for (const bike of pass.bikes) cluster.set(bike.frameId, name);
  }
  const join = (points: readonly BikePoint[]) => {
    const names = points.flatMap((point) => cluster.get(frameOf(point)) ?? []);
    for (const [frame, name] of cluster) if (names.includes(name)) cluster.set(frame, names[0]!);
  };
  for (const decision of decisions) {
    if (decision.kind === 'same-rider') join(decision.points);
    if (decision.kind === 'line-up') join([decision.of, ...decision.chosen.flatMap((i) => decision.shown[i] ?? [])]);
    if (decision.kind === 'different-riders') {
      const [out, ...rest] = decision.points.map(frameOf);
      if (out && rest.some((frame) => cluster.get(frame) === cluster.get(out))) cluster.set(out, `out-${out}`);
    }
  }
  return cluster;
}

function passesOf(
  made: MadeUp,
  cluster: ReadonlyMap<FrameId, string>,
  keys: ReadonlyMap<string, RiderKey>,
): readonly Pass[] {
  const parts = made.passes.flatMap((pass) => {
    const names = [...new Set(pass.bikes.map((bike) => cluster.get(bike.frameId)!))];
    return names.map((name) => ({
      ...pass,
      bikes: pass.bikes.filter((bike) => cluster.get(bike.frameId) === name),
      rider: keys.get(name)!,
    }));
  });
  return parts.map(({ truth: _truth, ...pass }, index) => ({ ...pass, index }));
}

/** Small letters for codes: 0 → a, 26 → aa. */
const letters = (index: number): string =>
  (index < 26 ? '' : letters(Math.floor(index / 26) - 1)) + String.fromCharCode(97 + (index % 26));

const truthOf = (name: string, made: MadeUp): number => {
  if (name.startsWith('t')) return Number(name.slice(1));
  const frame = name.slice(4);
  return made.passes.find((pass) => pass.bikes.some((bike) => bike.frameId === frame))?.truth ?? 0;
};

/** The day's first frames of bikes, as if they were of the paddock, and what was said of frames. */
function apartOf(made: MadeUp, decisions: readonly Decision[], count: number): ReadonlyMap<FrameId, Apart> {
  const reasons = ['50 mm, where riders were taken at 400', 'nobody was riding then'];
  const apart = new Map<FrameId, Apart>(
    made.exposures
      .filter(({ role }) => role === 'bike')
      .slice(0, count)
      .map(({ frameId }) => [frameId, { is: 'paddock', source: { kind: 'guessed', confidence: 0.96, reasons } }]),
  );
  for (const decision of decisions) {
    if (decision.kind !== 'apart') continue;
    const frame = made.exposures.find(({ mainFile }) => mainFile === decision.file)!.frameId;
    if (decision.is === 'session') apart.delete(frame);
    else apart.set(frame, { is: decision.is, source: { kind: 'said' } });
  }
  return apart;
}

/** Of the next frames of bikes nobody knows, until somebody says. */
function perhapsOf(made: MadeUp, decisions: readonly Decision[], { apartFrames, perhapsFrames }: Apartness) {
  const said = new Set(decisions.flatMap((decision) => (decision.kind === 'apart' ? [decision.file] : [])));
  const reasons = ['a person, no bike', '50 mm, where riders were taken at 400'];
  return new Map<FrameId, Apart>(
    made.exposures
      .filter(({ role }) => role === 'bike')
      .slice(apartFrames, apartFrames + perhapsFrames)
      .filter(({ mainFile }) => !said.has(mainFile))
      .map(({ frameId }) => [frameId, { is: 'portrait', source: { kind: 'guessed', confidence: 0.73, reasons } }]),
  );
}

type Apartness = Pick<MadeUpOptions, 'apartFrames' | 'perhapsFrames'>;

function arrangementOf(
  made: MadeUp,
  decisions: readonly Decision[],
  measured: ReadonlySet<FrameId>,
  hasTimetable: boolean,
  hasDoubts: boolean,
  apartness: Apartness,
): Arrangement {
  const keptApart = apartOf(made, decisions, apartness.apartFrames);
  const perhaps = perhapsOf(made, decisions, apartness);
  const isSeen = (frame: FrameId): boolean => measured.has(frame) && !keptApart.has(frame) && !perhaps.has(frame);
  const cluster = new Map([...clustersOf(made, decisions, hasDoubts)].filter(([frame]) => isSeen(frame)));
  const seen = {
    ...made,
    passes: made.passes
      .map((pass) => ({ ...pass, bikes: pass.bikes.filter((bike) => isSeen(bike.frameId)) }))
      .filter((pass) => pass.bikes.length > 0),
  };
  const names = [...new Set(cluster.values())].sort();
  const keys = new Map(names.map((name) => [name, `k-${name}` as RiderKey]));
  const placed = passesOf(seen, cluster, keys);
  const unsureFrames = new Set(
    hasDoubts
      ? made.passes
          .filter((pass) => isUnsure(pass, decisions))
          .flatMap((pass) => pass.bikes.map((bike) => bike.frameId))
      : [],
  );
  const isUnsurePass = (pass: Pass) => pass.bikes.some((bike) => unsureFrames.has(bike.frameId));
  const isPlaced = (name: string) => placed.some((pass) => pass.rider === keys.get(name) && !isUnsurePass(pass));
  const namesPlaced = names.filter(isPlaced);
  const guess = (pass: Pass) => (isUnsurePass(pass) ? guessOf(pass, made, namesPlaced, keys) : {});
  const passes = hasDoubts
    ? placed.map((pass) => ({ ...pass, ...doubtOf(pass, isUnsurePass(pass)), ...guess(pass) }))
    : placed;
  const unsure = passes.flatMap((pass) => (isUnsurePass(pass) ? [pass.index] : []));
  const seenInGroup = new Map<string, number>();
  const riders = namesPlaced.map((name, place): Rider => {
    const truth = made.riders[truthOf(name, made)]!;
    const own = passes.filter((pass) => pass.rider === keys.get(name) && !isUnsurePass(pass));
    const group = hasTimetable ? truth.group : null;
    const nth = seenInGroup.get(group ?? 'R') ?? 0;
    seenInGroup.set(group ?? 'R', nth + 1);
    const bikes = [...new Set(truth.bike)];
    return {
      key: keys.get(name)!,
      id: mintedOf(own, decisions),
      aliases: [],
      code: `${group ?? 'R'}-${letters(nth)}`,
      number: saidNumber(own, decisions) ?? truth.number,
      numberSource: saidNumber(own, decisions) ? { kind: 'said' } : truth.number === null ? null : { kind: 'measured' },
      group,
      groups: group ? [group] : [],
      passes: own.map((pass) => pass.index),
      bikeColours: bikes.map((colour) => ({ name: colour, share: 0.4, lab: [50, 0, 0] as const })),
      riderColours: [{ name: truth.leathers, share: 0.7, lab: [50, 0, 0] as const }],
      livery: bikes.join(' / '),
      mainColours: bikes,
      source: {
        kind: 'guessed',
        confidence: truth.confidence,
        reasons: [
          'livery: 9 of 10 passes',
          'one lap later, never sooner: 1:51 to 1:53',
          'leathers and helmet: 8 of 10',
        ],
      },
      face: own[0]!.bikes[0]!,
      ...(hasDoubts && place === 2 ? { isInstructor: true, groups: ['N', 'I', 'F'] } : {}),
      ...(hasDoubts && place < 2 ? { alike: [keys.get(namesPlaced[1 - place]!)!] } : {}),
    };
  });
  const answered = new Set(
    decisions.flatMap((decision) =>
      decision.kind === 'body-clock' ? ['body-clock'] : decision.kind === 'boundary' ? ['boundary'] : [],
    ),
  );
  const keySet = new Map(riders.map((rider) => [rider.key, rider]));
  const apart = (a: RiderKey, b: RiderKey) =>
    decisions.some(
      (decision) =>
        decision.kind === 'different-riders' &&
        decision.points.length === 2 &&
        decision.points.every((point) =>
          [a, b].some((key) => keySet.get(key)!.face.frameId.slice(1, 8) === point.file.slice(1, 8)),
        ),
    ) || decisions.some((decision) => decision.kind === 'line-up');
  const questions =
    riders.length < 8
      ? []
      : made
          .questions(
            (truth) => keys.get(`t${truth}`) ?? ('gone' as RiderKey),
            (truth) => keySet.get(keys.get(`t${truth}`) ?? ('gone' as RiderKey))?.face.frameId ?? ('' as FrameId),
          )
          .filter((question) => !answered.has(question.kind))
          .filter(
            (question) =>
              question.kind !== 'same-rider' ||
              (question.a !== question.b &&
                keySet.has(question.a) &&
                keySet.has(question.b) &&
                !apart(question.a, question.b)),
          );
  return {
    clocks: [],
    exposures: made.exposures.map((exposure) => {
      const own = keptApart.get(exposure.frameId);
      if (own) return { ...exposure, session: null, spot: null, apart: own };
      const open = perhaps.get(exposure.frameId);
      if (open) return { ...exposure, perhapsApart: open };
      return measured.has(exposure.frameId) ? exposure : { ...exposure, role: 'unmeasured' as const };
    }),
    sessions: made.sessions,
    passes,
    riders,
    questions,
    saidBikes: [],
    ...(hasDoubts ? { unsure } : {}),
  };
}

/** A fifth of the passes are doubtful; those that are not placed are more so. */
const saidNumber = (passes: readonly Pass[], decisions: readonly Decision[]): string | undefined =>
  decisions
    .flatMap((decision) => (decision.kind === 'rider-is' ? [decision] : []))
    .findLast(({ point }) => passes.some((pass) => pass.bikes.some((bike) => bike.frameId === frameOf(point))))?.number;

const mintedOf = (passes: readonly Pass[], decisions: readonly Decision[]): RiderId | null =>
  decisions
    .flatMap((decision) => (decision.kind === 'rider-minted' ? [decision] : []))
    .findLast(({ points }) =>
      passes.some((pass) => pass.bikes.some((bike) => points.some((point) => frameOf(point) === bike.frameId))),
    )?.rider ?? null;

/** A pass that is not placed is guessed to be its true rider's, and the next rider comes near. */
function guessOf(
  pass: Pass,
  made: MadeUp,
  placed: readonly string[],
  keys: ReadonlyMap<string, RiderKey>,
): Partial<Pick<Pass, 'rider' | 'rival'>> {
  const at = placed.indexOf(`t${truthOf(`out-${pass.bikes[0]!.frameId}`, made)}`);
  if (at < 0) return {};
  return { rider: keys.get(placed[at]!)!, rival: keys.get(placed[(at + 1) % placed.length]!)! };
}

const doubtOf = (pass: Pass, isUnsure: boolean): Pick<Pass, 'confidence' | 'why'> =>
  isUnsure
    ? { confidence: 0.55, why: 'two riders look alike here, and no lap tells them apart' }
    : pass.start % 5 === 0
      ? { confidence: 0.82, why: 'the livery fits; the helmet is hidden' }
      : { confidence: 0.99, why: 'one lap of 1:52 after the pass before, in the same livery' };

const OF_CHOOSING: ReadonlySet<Decision['kind']> = new Set(['keep', 'leave-out', 'gone-through', 'choose-rules']);

const unseenOf = (arrangement: Arrangement): readonly Unseen[] =>
  arrangement.sessions.map((session) => ({
    session: session.index,
    group: session.group,
    seen: 9,
    fromRiders: 1,
    toRiders: 4,
    reason: 'Of 9 riders 3 were met once only, which leaves room for as many who were not met at all.',
    source: 'capture-recapture',
  }));

const fillsOf = (made: MadeUp): readonly Fill[] =>
  FILLS.map((id, i) => ({
    id,
    folder: `halden-${'ab'[i]}1`,
    firstBroughtIn: epochMsOf(Date.parse(`${DAY}T12:02:00Z`)),
    files: made.exposures
      .filter((exposure) => exposure.fill === id)
      .map((exposure) => ({
        path: exposure.path,
        bytes: 8_000_000,
        modified: epochMsOf(0),
        fileId: exposure.mainFile,
      })),
    generations: 1,
  })).filter((fill) => fill.files.length > 0);

function withCards(
  pixels: Map<FrameId, FrameMeasured>,
  { exposures }: MadeUp,
  cards: MadeUpOptions['cards'],
): Map<FrameId, FrameMeasured> {
  for (const [place, cardAt] of cards) {
    const { frameId, recorded } = exposures[place]!;
    const measured = pixels.get(frameId);
    if (measured !== undefined && typeof recorded === 'number')
      pixels.set(frameId, { ...measured, cards: [cardAt(recorded)] });
  }
  return pixels;
}

export function createFakeDay(given: Partial<MadeUpOptions> = {}): FakeDay {
  const options = { ...MADE_UP, ...given };
  const made = makeUpDay(options);
  const judgements = fakeJudgements(made.pixels, made.drawn);
  const listeners = new Set<(event: DayEvent) => void>();
  const notices: string[] = [];
  let cards: readonly CardProgress[] = [];
  const remembered = new Map<FillId, RememberedCard>();
  let left = Math.min(options.unmeasured, made.exposures.length);
  let said: readonly Said[] = options.hasStands
    ? [
        {
          gesture: '019961f0-0000-7000-8000-000000000001' as GestureId,
          decisions: STANDS.filter((stand) => stand.from < atClock(options.untilHour)).map((stand) => ({
            kind: 'stood-at' as const,
            ...stand,
          })),
        },
      ]
    : [];
  const withdrawn = new Map<GestureId, Said>();
  let asOf = 0;
  const tell = (event: DayEvent) => {
    for (const listener of listeners) listener(event);
  };
  const derive = (log: FoldedLog) => {
    const decisions = said.flatMap((one) => one.decisions);
    const measured = new Set(made.exposures.slice(0, made.exposures.length - left).map((exposure) => exposure.frameId));
    const first: readonly Decision[] = options.hasTimetable ? [{ kind: 'timetable', timetable: TIMETABLE }] : [];
    const timetable =
      timetableInForce(
        [...first, ...decisions].filter(({ kind }) => kind === 'timetable' || kind === 'slip') as SaidOfTimetable[],
      )?.timetable ?? null;
    const arrangement = arrangementOf(made, decisions, measured, timetable !== null, options.hasDoubts, options);
    const pixels = withCards(new Map([...made.pixels].filter(([frame]) => measured.has(frame))), made, options.cards);
    const judged = judgedByBike(judgements, pixels);
    const drawn = log.inForce.map(({ decision }) => decision).findLast(({ kind }) => kind === 'circuit');
    const spots = drawn?.kind === 'circuit' ? drawn.circuit.spots : options.hasSpots ? SPOTS : [];
    const coverage: Coverage = {
      ...cover({
        arrangement,
        pixels,
        stands: standsOf(log),
        spots,
        timetable,
        entries: null,
        now: wallMsOf(atClock(13, 12)),
      }),
      ...(options.hasDoubts ? { unseen: unseenOf(arrangement) } : {}),
    };
    return { arrangement, coverage, pixels, judged, timetable, spots };
  };
  /** What a frame is kept or left out for changes nothing else, as in the real day: that answers at once. */
  const deriveAgain = (log: FoldedLog): ReturnType<typeof derive> => {
    const others = said.filter(({ decisions }) => decisions.some(({ kind }) => !OF_CHOOSING.has(kind)));
    const key = [left, ...others.map(({ gesture }) => gesture)].join();
    if (derived?.key !== key) derived = { key, of: derive(log) };
    return derived.of;
  };
  let derived: { readonly key: string; readonly of: ReturnType<typeof derive> } | null = null;
  const build = (): DayState => {
    const log = foldOf(said);
    const { arrangement, coverage, pixels, judged, timetable, spots } = deriveAgain(log);
    return {
      asOf: ++asOf,
      about: {
        id: '3e0f0000-0000-4000-8000-000000000000' as MeetingId,
        format: 1,
        name: 'Ropewalk Track Days',
        firstDay: DAY,
        lastDay: DAY,
        zone: 'Europe/London',
        circuit: 'Ebbstone',
        spots,
        creator: 'R. Quill',
      },
      timetable,
      fills: fillsOf(made),
      arrangement,
      coverage,
      keepers: chooseKeepers({ arrangement, coverage, pixels, log, judged }),
      log,
      metadata: made.metadata,
      pixels,
      judgements,
      judged,
      judging: { left: 0, done: judged.size, secondsLeft: 0, withoutOriginal: 0, heldUpBy: null },
      toMeasure: { left, secondsLeft: left > 0 ? Math.ceil(left / 40) : null },
      arrangedInMs: 410,
    };
  };
  let state = build();
  const change = () => {
    state = build();
    tell({ kind: 'state', asOf: state.asOf });
  };
  return {
    state: () => state,
    cards: () => cards,
    rememberedCards: () => remembered,
    notices: () => notices,
    said: () => said,
    decide: async (gesture, decisions) => {
      if (said.some((one) => one.gesture === gesture)) return;
      said = [...said, { gesture, decisions }];
      change();
    },
    withdraw: async (gesture) => {
      const withdrawing = `withdrawing ${withdrawn.size} ${gesture}` as GestureId;
      const again = withdrawn.get(gesture);
      if (again) said = [...said, again];
      else {
        const one = said.find((other) => other.gesture === gesture);
        if (one) withdrawn.set(withdrawing, one);
        said = said.filter((other) => other !== one);
      }
      change();
      return withdrawing;
    },
    bringIn: async (paths) => {
      const missing = paths.find((path) => path.endsWith('/nothing'));
      if (missing)
        throw new Error(
          `Expected the folder of a card but “${missing}” is no folder here. Put the card in and say where it is mounted.`,
        );
    },
    picture: async (frame) => {
      const drawn = made.drawn(frame);
      return drawn ? drawPicture(frame, drawn) : null;
    },
    crop: async (frame, { left, top, right, bottom }) => {
      const drawn = made.drawn(frame);
      if (!drawn) return { kind: 'no-crop', sentence: 'Nothing is drawn of this frame.' };
      const part = [left / 6000, top / 4000, (right - left) / 6000, (bottom - top) / 4000] as const;
      return { kind: 'crop', path: await drawCrop(frame, drawn, part, right - left) };
    },
    hasCrop: async (frame) => made.drawn(frame) !== null,
    lookAt: () => undefined,
    allJudged: async () => state,
    original: () => null,
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    settled: async () => state,
    close: async () => listeners.clear(),
    setCards: (next) => {
      cards = next;
      for (const progress of next) tell({ kind: 'card', progress });
    },
    remember: (fill, card) => remembered.set(fill, card),
    notice: (sentence) => {
      notices.push(sentence);
      tell({ kind: 'notice', sentence });
    },
    measureSome: (count) => {
      left = Math.max(0, left - count);
      change();
    },
  };
}

/** A card in the middle of being brought in, for tests to bend. */
export const cardUnderWay = (change: Partial<CardProgress> = {}): CardProgress => ({
  card: '/media/CARD_A2',
  fill: 'b1f5c1de-0000-4000-8000-0000000000a2' as CardProgress['fill'],
  folder: 'halden-a2',
  filesTotal: 412,
  bytesTotal: 3_296_000_000,
  filesRead: 206,
  bytesRead: 1_648_000_000,
  copies: [
    { disk: 'first disk', bytesWritten: 1_648_000_000, bytesReadBack: 1_320_000_000 },
    { disk: 'second disk', bytesWritten: 1_200_000_000, bytesReadBack: 660_000_000 },
  ],
  troubles: [],
  verdict: null,
  secondsLeft: 236,
  state: 'copying',
  ...change,
});
