/** The desk's HTTP API over one open day: loopback only, paired by token, JSON views, events, pictures. */
import { readFile } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import { isAbsolute } from 'node:path';
import { serve } from '@hono/node-server';
import { Hono } from 'hono';
import { compress } from 'hono/compress';
import { streamSSE } from 'hono/streaming';
import type { FrameId, GestureId } from '../core/ids.js';
import type { Decision } from '../core/log/types.js';
import type { Circuit } from '../core/plan/circuit/types.js';
import type { WallMs } from '../core/units.js';
import { cardsOfMeeting, type MeetingCards } from '../host/cards/index.js';
import type { Day } from '../host/day/types.js';
import type { KeptFinishes } from '../host/finish/looks/index.js';
import type { People } from '../host/meeting/people.js';
import type { OfficeFile } from '../host/office/officeFile.js';
import { bookingsApart, hasBookings } from '../host/plan/tables/index.js';
import { type ActionBoard, createActionBoard, type DeskActions } from './actions.js';
import { addCards } from './cards.js';
import { addChoosing } from './choosing/addChoosing.js';
import { addCircuit, refuseOldChange } from './circuit.js';
import { DeskError } from './DeskError.js';
import { bringInRequest, firstTrouble, pairRequest, parseGesture, undoRequest } from './decisionSchema.js';
import { type Changes, gatherChanges } from './events.js';
import { addFinish } from './finish/addFinish.js';
import { addMark, type ProofMark } from './finish/addMark.js';
import { createGuard } from './guard.js';
import { addHandover } from './handover/addHandover.js';
import type { HandoverWork } from './handover/types.js';
import { addLooks } from './judging/addLooks.js';
import { addLunch } from './lunch/addLunch.js';
import { addOffice, refuseOffice } from './office.js';
import { addOrders } from './orders/addOrders.js';
import type { OrderService } from './orders/service.js';
import { addPlan } from './planning/addPlan.js';
import { refuseEmptyPlan } from './planning/refuseEmptyPlan.js';
import { addPocket } from './pocket.js';
import { addReview } from './review/addReview.js';
import { serveWeb } from './serveWeb.js';
import { addTables } from './tables.js';
import { createTakingBack, type TakingBack } from './takingBack.js';
import { addTakings, type OtherTakings } from './takings/addTakings.js';
import type { ActionsView, ActionView, ChangedEvent, ProblemView } from './types.js';
import { apartView } from './views/apart.js';
import { beforeView } from './views/before.js';
import { cardsView, cardViews } from './views/cards.js';
import { dayView } from './views/day.js';
import { wellEnoughOf } from './views/groups.js';
import { handedOverOf } from './views/handedOver.js';
import { knownOf } from './views/known.js';
import { questionsView } from './views/questions.js';
import { riderView } from './views/rider.js';
import { riderLineOf } from './views/riderLine.js';
import { likeliestView, ridersView } from './views/riders.js';
import { sessionView } from './views/session.js';
import { stretchView } from './views/stretch.js';
import { wallIn } from './views/wallTime.js';

export interface DeskOptions {
  /** The word that pairs a browser with this start of the desk. */
  readonly token: string;
  /** 0 or absent: any free port. */
  readonly port?: number;
  /** Folder of the built screens. */
  readonly webFolder: string;
  /** Milliseconds since 1970 UTC. */
  readonly now?: () => number;
  readonly actions?: DeskActions;
  /** The photographer's papers and kit; absent: this desk shows none. */
  readonly office?: OfficeFile;
  /** Finishes kept for other meetings; absent: none is offered. */
  readonly finishes?: KeptFinishes;
  /** Of proofs; absent: none can be laid from here. */
  readonly mark?: ProofMark;
  /** Where names of entry lists go; without it no entry list is taken. */
  readonly people?: Pick<People, 'all' | 'write' | 'isErased'>;
  /** The meeting's, where the pocket page's files and its secret go, and the rates of what worked; without it none is made. */
  readonly folder?: string;
  /** The service riders order from; absent: this desk fetches no orders. */
  readonly orders?: () => Promise<OrderService>;
  /** Puts up, takes down and gives out; absent: what is taken down is said in the log alone. */
  readonly handover?: HandoverWork;
  /** Of the other meetings this machine knows; absent: only this one’s stand. */
  readonly otherTakings?: OtherTakings;
  /** To try things on; absent: none is offered. */
  readonly inventedCircuit?: () => Promise<Circuit>;
}

export interface ListeningDesk {
  /** To be opened in a browser; holds the token in its fragment, which no server ever sees. */
  readonly url: string;
  readonly port: number;
  close(): Promise<void>;
}

export interface Desk {
  readonly app: Hono;
  listen(): Promise<ListeningDesk>;
  /** Of a desk that never listened; one that does ends it all by its own closing. */
  close(): Promise<void>;
}

interface Parts {
  readonly day: Day;
  readonly changes: Changes;
  readonly board: ActionBoard;
  readonly takingBack: TakingBack;
  readonly wallNow: () => WallMs;
  readonly heardAt: (sentence: string) => WallMs | null;
  readonly numberCards: () => Promise<MeetingCards | null>;
  readonly people: DeskOptions['people'];
}

export function createDesk(day: Day, options: DeskOptions): Desk {
  const now = options.now ?? Date.now;
  let listeningOn: number | null = null;
  const guard = createGuard({ token: options.token, port: () => listeningOn });
  const changes = gatherChanges(day);
  const board = createActionBoard(options.actions ?? {}, now, () => changes.announce('actions'));
  const wallNow = (): WallMs => wallIn(day.state().about.zone, now());
  const heard = new Map<string, WallMs>();
  const stopHearing = day.subscribe((event) => {
    if (event.kind === 'notice') heard.set(event.sentence, wallNow());
  });
  const takingBack = createTakingBack(day);
  const { people, folder, office } = options;
  const parts: Parts = {
    day,
    changes,
    board,
    takingBack,
    wallNow,
    heardAt: (sentence) => heard.get(sentence) ?? null,
    numberCards: numberCardsOf(options),
    people,
  };

  const app = new Hono();
  app.onError((error, context) => {
    const problem: ProblemView = { problem: error.message };
    return context.json(problem, error instanceof DeskError ? error.status : 500);
  });
  app.notFound((context) =>
    context.json<ProblemView>({ problem: `Nothing stands at ${context.req.path}. Go back to the day.` }, 404),
  );
  app.use(async (context, next) => {
    await next();
    for (const [name, value] of SAFETY_HEADERS) context.header(name, value);
  });
  app.use(guard.checkHost);
  app.post('/api/pair', async (context) => {
    const parsed = pairRequest.safeParse(await context.req.json().catch(() => null));
    if (!parsed.success) throw new DeskError(400, 'Expected the pairing word of the printed address.');
    guard.pair(context, parsed.data.token);
    return context.json({ paired: true });
  });
  app.use('/api/*', guard.checkPaired);
  app.use('/pictures/*', guard.checkPaired);
  addEvents(app, parts);
  app.use('/api/*', compress());
  app.use('/api/*', async (context, next) => {
    await next();
    context.header('Cache-Control', 'no-store');
  });
  addViews(app, parts);
  addChoosing(app, day);
  addFinish(app, day, options.finishes);
  addMark(app, day, options.mark);
  addReview(app, day, { folder, now });
  addTakings(app, day, { folder, others: options.otherTakings });
  addOrders(app, { day, changes, now, folder, service: options.orders });
  const endHandover = addHandover(app, { day, changes, now, takingBack, work: options.handover });
  addGestures(app, parts);
  addActions(app, parts);
  if (options.office) addOffice(app, { day, wallNow, office: options.office });
  else refuseOffice(app);
  const endLunch = addLunch(app, { day, changes, wallNow, now, office: options.office ?? null });
  const endPlanning = addPlan(app, { day, changes, wallNow, now, office: options.office ?? null, folder });
  addCircuit(app, day, options.inventedCircuit);
  if (options.people) addTables(app, day, options.people, takingBack.said);
  addPocket(app, { day, wallNow, now, said: takingBack.said, office, people, folder });
  addCards(app, { day, people, folder, now });
  addPictures(app, parts);
  addLooks(app, day);
  serveWeb(app, options.webFolder, guard);

  const close = async (): Promise<void> => {
    board.close();
    changes.close();
    stopHearing();
    await Promise.allSettled([endPlanning(), endLunch(), endHandover()]);
  };
  const listen = (): Promise<ListeningDesk> =>
    new Promise((resolve, reject) => {
      const server = serve(
        { fetch: app.fetch, hostname: '127.0.0.1', port: options.port ?? 0 },
        (info: AddressInfo) => {
          listeningOn = info.port;
          resolve({
            url: `http://127.0.0.1:${info.port}/#token=${encodeURIComponent(options.token)}`,
            port: info.port,
            close: () =>
              new Promise((closed) => {
                server.close(() => void close().then(() => closed()));
                // Event streams never end by themselves.
                if ('closeAllConnections' in server) server.closeAllConnections();
              }),
          });
        },
      );
      server.on('error', (cause: NodeJS.ErrnoException) => reject(listenError(cause, options.port)));
    });
  return { app, listen, close };
}

/** Kept once there are any: a secret never changes. */
function numberCardsOf({ folder, people }: DeskOptions): Parts['numberCards'] {
  let known: MeetingCards | null = null;
  return async () => {
    if (folder === undefined || people === undefined) return null;
    known ??= await cardsOfMeeting(folder, people).catch(() => null);
    return known;
  };
}

const listenError = (cause: NodeJS.ErrnoException, port: number | undefined): Error =>
  cause.code === 'EADDRINUSE'
    ? new DeskError(
        409,
        `Port ${port} is taken by another program on this machine. Close that one, or name another port.`,
        { cause },
      )
    : cause;

/** Nothing from elsewhere is loaded, and nobody may frame the desk. */
const SAFETY_HEADERS = [
  [
    'Content-Security-Policy',
    "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; img-src 'self' data:; style-src 'self' 'unsafe-inline'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'",
  ],
  ['X-Content-Type-Options', 'nosniff'],
  ['Referrer-Policy', 'no-referrer'],
  ['Cross-Origin-Resource-Policy', 'same-origin'],
  ['Cross-Origin-Opener-Policy', 'same-origin'],
] as const;

function addViews(app: Hono, { day, wallNow, heardAt, numberCards }: Parts): void {
  app.get('/api/day', async (context) =>
    context.json(dayView(day, wallNow(), context.req.query('date'), heardAt, await numberCards())),
  );
  app.get('/api/stretch', (context) =>
    context.json(stretchView(day.state(), Number(context.req.query('from')), Number(context.req.query('to')))),
  );
  app.get('/api/cards', (context) => context.json(cardsView(day)));
  app.get('/api/groups/:key', (context) => context.json(wellEnoughOf(knownOf(day.state()), context.req.param('key'))));
  app.get('/api/riders', (context) => context.json(ridersView(day.state())));
  app.get('/api/likeliest/:frame', (context) => {
    const subject = Number(context.req.query('bike') ?? Number.NaN);
    return context.json(
      likeliestView(day.state(), context.req.param('frame'), Number.isSafeInteger(subject) ? subject : undefined),
    );
  });
  app.get('/api/riders/:key', async (context) =>
    context.json(riderView(day.state(), context.req.param('key'), context.req.query('frame'), await numberCards())),
  );
  app.get('/api/sessions/:index', (context) =>
    context.json(sessionView(day.state(), Number(context.req.param('index')))),
  );
  app.get('/api/apart', (context) => context.json(apartView(day.state())));
  app.get('/api/questions', async (context) => context.json(questionsView(day.state(), await numberCards())));
  app.get('/api/before', (context) => context.json(beforeView(day.state(), wallNow(), context.req.query('date'))));
}

function addGestures(app: Hono, { day, takingBack, people }: Parts): void {
  app.post('/api/gestures', async (context) => {
    const parsed = parseGesture(await context.req.json().catch(() => null));
    if (parsed.kind === 'wrong') throw new DeskError(400, parsed.sentence);
    refuseOldChange(day.state().log, parsed.value.gesture, parsed.value.decisions);
    refuseEmptyPlan(parsed.value.decisions);
    await day.decide(parsed.value.gesture, await withoutBookings(parsed.value.decisions, people));
    takingBack.said(parsed.value.gesture);
    return context.json({ asOf: day.state().asOf, gesture: parsed.value.gesture });
  });
  app.post('/api/undo', async (context) => {
    const parsed = undoRequest.safeParse(await context.req.json().catch(() => ({})));
    if (!parsed.success) throw new DeskError(400, `Expected what to take back. ${firstTrouble(parsed.error)}.`);
    return context.json(await takingBack.takeBack(parsed.data.gesture as GestureId | undefined));
  });
  app.post('/api/again', async (context) => context.json(await takingBack.sayAgain()));
  app.post('/api/bring-in', async (context) => {
    const parsed = bringInRequest.safeParse(await context.req.json().catch(() => null));
    if (!parsed.success) throw new DeskError(400, `Expected the folder of a card. ${firstTrouble(parsed.error)}.`);
    for (const card of parsed.data.cards) refuseName(card, day);
    // Copying takes minutes and tells of itself by events; only what stops it at once is answered here.
    const started = day.bringIn(parsed.data.cards);
    const soon = new Promise<'under way'>((resolve) => setTimeout(() => resolve('under way'), 400).unref());
    await Promise.race([started, soon]).catch((cause: unknown) => {
      throw new DeskError(409, cause instanceof Error ? cause.message : String(cause), { cause });
    });
    started.catch(() => undefined);
    return context.json({ started: parsed.data.cards.length }, 202);
  });
}

/** What clients booked is in no line of the log: it could never be erased. */
async function withoutBookings(decisions: readonly Decision[], people: Parts['people']): Promise<readonly Decision[]> {
  if (!decisions.some(hasBookings)) return decisions;
  if (people !== undefined) return bookingsApart(decisions, people);
  throw new DeskError(
    400,
    'Nothing was written down. Expected entries without what was booked, for this desk keeps no people; leave “wants” out and say it again.',
  );
}

/** A relative path would be looked for beside the program, where no card ever is. */
function refuseName(card: string, day: Day): void {
  if (isAbsolute(card)) return;
  const source = cardViews(day).find(({ name }) => name === card)?.source;
  const where = source
    ? `The card of that name came in from ${source}: give that.`
    : 'Give it as the computer names it, from its root on.';
  throw new DeskError(400, `Expected the whole path of a card’s folder but got “${card}”. ${where}`);
}

function addActions(app: Hono, { day, board }: Parts): void {
  app.get('/api/actions', (context) => {
    const { asOf, keepers, arrangement } = day.state();
    const kept = [...keepers.byRider.values()].flat();
    const known = knownOf(day.state());
    const without = arrangement.riders.filter((rider) => (keepers.byRider.get(rider.key)?.length ?? 0) === 0);
    return context.json<ActionsView>({
      asOf,
      keepers: kept.length,
      frames: new Set(kept.map(({ bike }) => bike.frameId)).size,
      riders: arrangement.riders.length,
      withoutKeeper: without.map((rider) => riderLineOf(known, rider)),
      handedOver: handedOverOf(day.state()),
      actions: board.views(),
    });
  });
  const nameOf = (name: string): ActionView['name'] => {
    if ((name === 'proofs' || name === 'finals' || name === 'gallery') && board.has(name)) return name;
    throw new DeskError(
      404,
      `Expected proofs, finals or gallery but was asked for ${name.slice(0, 40)}. This desk was opened without it.`,
    );
  };
  const are = (name: ActionView['name']): string => `The ${name} ${name === 'gallery' ? 'is' : 'are'}`;
  app.post('/api/actions/:name', (context) => {
    const name = nameOf(context.req.param('name'));
    if (!board.start(name)) throw new DeskError(409, `${are(name)} being made already.`);
    return context.json({ started: name }, 202);
  });
  app.post('/api/actions/:name/stop', (context) => {
    const name = nameOf(context.req.param('name'));
    if (!board.stop(name)) throw new DeskError(409, `${are(name)} not being made, so there is nothing to stop.`);
    return context.json({ stopping: name }, 202);
  });
}

/** A frame's picture never changes under its id, so a browser keeps it for ever. */
function addPictures(app: Hono, { day }: Parts): void {
  app.get('/pictures/:frame', async (context) => {
    const frame = context.req.param('frame');
    if (!/^[0-9a-f]{32}$/.test(frame))
      throw new DeskError(400, `Expected the 32 hex digits of a frame but got ${frame.slice(0, 40)}.`);
    const etag = `"${frame}"`;
    if (context.req.header('if-none-match') === etag) return context.body(null, 304);
    const path = await day.picture(frame as FrameId);
    const bytes = path === null ? null : await readFile(path).catch(() => null);
    if (bytes === null)
      throw new DeskError(404, 'No picture can be made of this frame: its file is not here or could not be read.');
    return context.body(new Uint8Array(bytes), 200, {
      'Content-Type': 'image/jpeg',
      'Cache-Control': 'private, max-age=31536000, immutable',
      ETag: etag,
    });
  });
}

/** Tells browsers that the stream lives; some proxies and browsers drop a silent one after half a minute. */
const HEARTBEAT_MS = 20_000;

function addEvents(app: Hono, { day, changes }: Parts): void {
  app.get('/api/events', (context) =>
    streamSSE(context, async (stream) => {
      const tell = (event: ChangedEvent): void => {
        stream.writeSSE({ event: 'changed', data: JSON.stringify(event) }).catch(() => undefined);
      };
      const ended = new Promise<void>((resolve) => stream.onAbort(resolve));
      const unsubscribe = changes.subscribe(tell);
      const heartbeat = setInterval(() => stream.writeln(': here').catch(() => undefined), HEARTBEAT_MS);
      // The first event carries no change: it tells a returning screen which state the desk is at.
      tell({ asOf: day.state().asOf, changed: [] });
      await ended;
      clearInterval(heartbeat);
      unsubscribe();
    }),
  );
}
