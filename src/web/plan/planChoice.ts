/** What is spoken of on the Plan sheet: a spot, and one session or several that follow one another. Arrows move it. */
import type { SpotId } from '../../core/ids.js';
import type { WallMs } from '../../core/units.js';
import type { PlanSessionView, PlanStayView, PlanView } from '../../server/planTypes.js';
import { createStore } from '../stores/store.js';

export interface Choice {
  readonly spot: SpotId | null;
  /** Names of the first and the last session. */
  readonly first: string | null;
  readonly last: string | null;
}

export const planChoice = createStore<Choice>({ spot: null, first: null, last: null });
/** Whose day is drawn, from 0. */
export const photographerShown = createStore(0);

type Shown = Pick<PlanView, 'sessions' | 'spots' | 'stays' | 'now'>;

export interface Chosen {
  readonly spot: PlanView['spots'][number];
  readonly sessions: readonly PlanSessionView[];
  readonly from: WallMs;
  readonly to: WallMs;
}

/** What is not said begins with the session to come, where the plan stands then. Null where the day has no session or no spot. */
export function chosenOf(view: Shown, choice: Choice): Chosen | null {
  const next = view.sessions.findIndex(({ to }) => to > view.now);
  const first = indexOf(view, choice.first) ?? Math.max(0, next);
  const last = Math.max(first, indexOf(view, choice.last) ?? first);
  const sessions = view.sessions.slice(first, last + 1);
  const [begins] = sessions;
  const stood = view.stays.find((stay) => begins !== undefined && isOf(stay, begins) && stay.spot !== null)?.spot;
  const spot = view.spots.find(({ id }) => id === (choice.spot ?? stood)) ?? view.spots[0];
  if (spot === undefined || sessions.length === 0) return null;
  return { spot, sessions, from: sessions[0]!.from, to: sessions.at(-1)!.to };
}

/** Whether a stay lies in a session, or is a part of it. */
export const isOf = ({ slot, stretch }: PlanStayView, { name }: PlanSessionView): boolean =>
  slot === name || stretch === name;

const indexOf = ({ sessions }: Shown, name: string | null): number | null => {
  const at = sessions.findIndex((session) => session.name === name);
  return at < 0 ? null : at;
};

/** To the session before or after; with Shift the stretch grows or shrinks at its end. */
export function movedAcross(view: Shown, choice: Choice, step: 1 | -1, isFar: boolean): Choice {
  const chosen = chosenOf(view, choice);
  if (chosen === null) return choice;
  const first = indexOf(view, chosen.sessions[0]!.name)!;
  const last = first + chosen.sessions.length - 1;
  const within = (at: number) => Math.min(view.sessions.length - 1, Math.max(0, at));
  const { spot } = chosen;
  if (isFar) return named(view, spot.id, first, Math.max(first, within(last + step)));
  const next = within((step > 0 ? last : first) + step);
  return named(view, spot.id, next, next);
}

const named = ({ sessions }: Shown, spot: SpotId, first: number, last: number): Choice => ({
  spot,
  first: sessions[first]!.name,
  last: sessions[last]!.name,
});

export function movedAlong(view: Shown, choice: Choice, step: 1 | -1): Choice {
  const chosen = chosenOf(view, choice);
  if (chosen === null) return choice;
  const at = view.spots.indexOf(chosen.spot) + step;
  const spot = view.spots[Math.min(view.spots.length - 1, Math.max(0, at))]!;
  return { spot: spot.id, first: chosen.sessions[0]!.name, last: chosen.sessions.at(-1)!.name };
}

/** The session at a time, else the one that is nearest. */
export function sessionAt({ sessions }: Shown, at: number): string | null {
  const distance = ({ from, to }: PlanSessionView) => (at < from ? from - at : at > to ? at - to : 0);
  return sessions.toSorted((a, b) => distance(a) - distance(b))[0]?.name ?? null;
}
