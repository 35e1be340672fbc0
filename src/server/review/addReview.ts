/** The part of the desk's API that tells what worked. Opening it keeps the rates in the meeting's folder. */
import type { Hono } from 'hono';
import type { Day, DayState } from '../../host/day/types.js';
import {
  DebriefError,
  type DebriefOfDay,
  debriefIn,
  debriefOfDay,
  debriefPaper,
  keepDebrief,
} from '../../host/review/index.js';
import { DeskError } from '../DeskError.js';
import { type Known, knownOf } from '../views/known.js';
import { judgementsOf } from '../views/passes.js';
import { besideView } from './besideView.js';
import { reviewView } from './reviewView.js';
import type { ReviewView } from './types.js';

/** Four thousand rates; what is larger is no such file. */
const MOST_BYTES = 4 * 1024 ** 2;

interface ReviewParts {
  /** Where the rates are kept; without it they are not. */
  readonly folder: string | undefined;
  readonly now: () => number;
}

export function addReview(app: Hono, day: Day, { folder, now }: ReviewParts): void {
  const kept = new WeakMap<DayState, Promise<ReviewView['kept']>>();
  const keptOnce = (state: DayState, found: DebriefOfDay): Promise<ReviewView['kept']> => {
    const before = kept.get(state);
    if (before) return before;
    const now = keep(folder, found);
    kept.set(state, now);
    return now;
  };
  app.get('/api/review', async (context) => {
    const known = knownOf(day.state());
    const found = debriefOnce(known);
    return context.json(reviewView(known, found, await keptOnce(known.state, found)));
  });
  app.get('/api/review/paper', async (context) => {
    const { pdf } = await debriefPaper(debriefOnce(knownOf(day.state())), new Date(now()));
    context.header('Content-Type', 'application/pdf');
    context.header('Content-Disposition', 'attachment; filename="what-worked.pdf"');
    return context.body(new Uint8Array(pdf));
  });
  app.post('/api/review/beside', async (context) => {
    const name = decodeURIComponent(context.req.header('x-file-name') ?? 'the file');
    const bytes = await context.req.arrayBuffer();
    const known = knownOf(day.state());
    return context.json(besideView(known, debriefOnce(known), otherIn(bytes, name, known.state.about.id)));
  });
}

const found = new WeakMap<Known, DebriefOfDay>();

function debriefOnce(known: Known): DebriefOfDay {
  const before = found.get(known);
  if (before) return before;
  const now = debriefOfDay(known.state, judgementsOf(known));
  found.set(known, now);
  return now;
}

async function keep(folder: string | undefined, found: DebriefOfDay): Promise<ReviewView['kept']> {
  if (folder === undefined) return null;
  try {
    if (!(await keepDebrief(folder, found))) return null;
    return {
      is: true,
      sentence: 'These rates are kept in made/debrief.json, to be set beside another meeting’s.',
    };
  } catch (error) {
    return { is: false, sentence: error instanceof DebriefError ? error.message : String(error) };
  }
}

function otherIn(bytes: ArrayBuffer, name: string, here: string): ReturnType<typeof debriefIn> {
  if (bytes.byteLength > MOST_BYTES)
    throw new DeskError(
      400,
      `Expected the rates of another meeting, its made/debrief.json, but ${name} has ${Math.round(bytes.byteLength / 1024 ** 2)} MiB. Choose that file.`,
    );
  try {
    const other = debriefIn(new TextDecoder().decode(bytes), name);
    if (other.id !== here) return other;
  } catch (cause) {
    throw cause instanceof DebriefError ? new DeskError(400, cause.message, { cause }) : cause;
  }
  throw new DeskError(
    400,
    `Expected the rates of another meeting but ${name} holds this meeting’s own. Choose the made/debrief.json of another.`,
  );
}
