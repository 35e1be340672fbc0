/** The part of the desk's API that puts galleries up and carries out what law asks: takedowns, minors, giving out what is known. */
import type { Context, Hono } from 'hono';
import { v7 as uuidv7 } from 'uuid';
import { z } from 'zod';
import { minorsOf } from '../../core/finish/index.js';
import { planTakeDown, sayMinor, type TakeDownPlan, type ToTakeDown } from '../../core/handover/law/index.js';
import type { FrameId, GestureId, RiderId, RiderKey } from '../../core/ids.js';
import type { Day, DayState } from '../../host/day/types.js';
import { type Action, createBoard } from '../actions.js';
import { DeskError } from '../DeskError.js';
import type { Changes } from '../events.js';
import type { TakingBack } from '../takingBack.js';
import { heldViews, placeView } from './handoverView.js';
import type { AboutView, HandoverView, HandoverWork, PlaceView } from './types.js';

interface HandoverParts {
  readonly day: Day;
  readonly changes: Changes;
  readonly now: () => number;
  readonly takingBack: TakingBack;
  readonly work: HandoverWork | undefined;
}

const gesture = z.uuid();
const asked = z.union([z.strictObject({ gesture, rider: z.string() }), z.strictObject({ gesture, frame: z.string() })]);
const minorSaid = z.strictObject({
  gesture,
  rider: z.string(),
  is: z.enum(['without-consent', 'with-consent', 'of-age']),
});

/** Returns what ends the work under way. */
export function addHandover(app: Hono, { day, changes, now, takingBack, work }: HandoverParts): () => Promise<void> {
  const announce = (): void => changes.announce('actions');
  const putting = createBoard<string>(now, announce);
  const law = createBoard<'law'>(now, announce);
  const own = (): HandoverWork => {
    if (work) return work;
    throw new DeskError(404, 'This desk was opened without places: it puts nothing up and gives nothing out.');
  };
  /** While files go up nothing else changes there, and each would have to be read for every event. */
  let placesKept: readonly PlaceView[] | null = null;
  const places = async (): Promise<readonly PlaceView[] | null> => {
    if (work === undefined) return null;
    const isUnderWay = placesKept?.some(({ name }) => putting.view(name).state === 'running');
    if (placesKept !== null && isUnderWay)
      return placesKept.map((place) => ({ ...place, work: putting.view(place.name) }));
    const standing = await sayingWhy(work.places());
    placesKept = standing.map((one) => placeView(one, day.state().about.zone, putting.view(one.name)));
    return placesKept;
  };

  app.get('/api/handover', async (context) => {
    const pending = await sayingWhy(work?.pending() ?? Promise.resolve([]));
    return context.json<HandoverView>({
      asOf: day.state().asOf,
      places: await places(),
      pending,
      held: heldViews(day.state()),
      law: law.view('law'),
    });
  });
  app.get('/api/handover/about', async (context) => {
    const rider = context.req.query('rider');
    const frame = context.req.query('frame');
    const what = meant(day.state(), rider === undefined ? { frame: frame ?? '' } : { rider });
    const { frames, shared } = planOf(day.state(), what);
    const { arrangement, log } = day.state();
    return context.json<AboutView>({
      frames: frames.length,
      shared: shared.length,
      reaches: await sayingWhy(work?.reaches() ?? Promise.resolve([])),
      minor: (what.kind === 'rider' && minorsOf(arrangement, log).get(what.rider)) || null,
    });
  });
  app.post('/api/handover/places/:name/dry-run', async (context) =>
    context.json({ lines: await sayingWhy(own().dryRun(context.req.param('name'))) }),
  );
  app.post('/api/handover/places/:name/put-up', async (context) => {
    const name = context.req.param('name');
    const known = await sayingWhy(own().places());
    if (!known.some((one) => one.name === name))
      throw new DeskError(
        404,
        `Expected the name of a place but “${name.slice(0, 40)}” is none here. Reload the sheet.`,
      );
    if (!putting.start(name, own().putUp(name))) throw new DeskError(409, 'It is being put up there already.');
    return context.json({ started: name }, 202);
  });
  app.post('/api/handover/places/:name/stop', (context) => {
    const name = context.req.param('name');
    if (!putting.stop(name)) throw new DeskError(409, 'Nothing is being put up there, so there is nothing to stop.');
    return context.json({ stopping: name }, 202);
  });

  const startLaw = (action: Action): void => {
    if (!law.start('law', action))
      throw new DeskError(
        409,
        'The one before is still being carried out. Say it again when it is done; nothing was said.',
      );
  };
  const inLines =
    (lines: () => Promise<readonly string[]>): Action =>
    async () =>
      (await lines()).join('\n');
  app.post('/api/handover/take-down', async (context) => {
    const said = await bodyOf(context, asked);
    const id = said.gesture as GestureId;
    const what = meant(day.state(), said);
    const { decisions, frames } = planOf(day.state(), what);
    const say = async (): Promise<void> => {
      if (!isSaid(day.state(), id)) await day.decide(id, decisions);
    };
    let written = Promise.resolve();
    if (work === undefined) written = say();
    else
      startLaw(async (report, signal) => {
        written = say();
        await written;
        // Two that change one place at once would not know of each other's files.
        await putting.halt();
        return inLines(() => work.carryOut(id, what.kind))(report, signal);
      });
    // Begun already: the work runs up to its first waiting before it is given back.
    await written;
    return context.json({ frames: frames.length }, 202);
  });
  app.post('/api/handover/again', async (context) => {
    startLaw(async (report, signal) => {
      await putting.halt();
      return inLines(() => own().again())(report, signal);
    });
    return context.json({ started: true }, 202);
  });
  app.post('/api/handover/minor', async (context) => {
    const { gesture: id, rider, is } = await bodyOf(context, minorSaid);
    const { key } = riderOf(day.state(), rider);
    if (!isSaid(day.state(), id as GestureId))
      await day.decide(id as GestureId, sayMinor(key, is, inputOf(day.state())));
    takingBack.said(id as GestureId);
    return context.json({ asOf: day.state().asOf });
  });
  app.post('/api/handover/give-out', async (context) => {
    const { key } = riderOf(day.state(), (await bodyOf(context, z.strictObject({ rider: z.string() }))).rider);
    startLaw(inLines(() => own().giveOut(key)));
    return context.json({ started: true }, 202);
  });
  return async () => {
    await Promise.all([putting.halt(), law.halt()]);
  };
}

const inputOf = (state: DayState) => ({ ...state, mint: () => uuidv7() as RiderId });
const planOf = (state: DayState, what: ToTakeDown): TakeDownPlan => planTakeDown(what, inputOf(state));
const isSaid = ({ log }: DayState, id: GestureId): boolean => log.lines.some((line) => line.gesture === id);

function riderOf({ arrangement }: DayState, key: string): { readonly key: RiderKey } {
  const found = arrangement.riders.find((rider) => rider.key === key);
  if (found) return found;
  throw new DeskError(
    404,
    'Expected a rider of this day but there is none of that name any more. Go back to the riders.',
  );
}

function meant(state: DayState, said: { readonly rider: string } | { readonly frame: string }): ToTakeDown {
  if ('rider' in said) return { kind: 'rider', rider: riderOf(state, said.rider).key };
  const frame = said.frame as FrameId;
  if (state.arrangement.exposures.some(({ frameId }) => frameId === frame)) return { kind: 'frames', frames: [frame] };
  throw new DeskError(404, 'Expected a picture of this day but there is none of that name. Reload the sheet.');
}

async function bodyOf<T>(context: Context, schema: z.ZodType<T>): Promise<T> {
  const read = schema.safeParse(await context.req.json().catch(() => null));
  if (read.success) return read.data;
  throw new DeskError(
    400,
    'Expected what to do and of whom, but something else came. Reload the sheet and say it again.',
  );
}

const sayingWhy = <T>(work: Promise<T>): Promise<T> =>
  work.catch((cause: unknown) => {
    throw cause instanceof DeskError ? cause : new DeskError(409, (cause as Error).message, { cause });
  });
