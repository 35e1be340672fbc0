/** The desk's API as typed functions. Refusals come as sentences and are thrown as such. */
import { v7 as uuidv7 } from 'uuid';
import type { GestureId } from '../../core/ids.js';
import type { Finish } from '../../core/log/finishSaid.js';
import type { Decision } from '../../core/log/types.js';
import type { Circuit } from '../../core/plan/circuit/types.js';
import type { ApartView } from '../../server/apartTypes.js';
import type { ChoosingView, MinutesView, RiderToChooseView, TheRestView } from '../../server/choosing/types.js';
import type { CircuitView } from '../../server/circuitTypes.js';
import type { CropsView, FinishView, KeptView, MarkView } from '../../server/finish/types.js';
import type { CloseLooksView } from '../../server/judging/types.js';
import type { KitView, LunchSheetView } from '../../server/lunch/types.js';
import type { LadderView, NextBestView, PlanView } from '../../server/planTypes.js';
import type { BesideView, ReviewView } from '../../server/review/types.js';
import type {
  ActionsView,
  ActionView,
  AgainAnswer,
  BeforeView,
  CardsView,
  DayView,
  GestureRequest,
  GroupRidersView,
  LikeliestView,
  OfficeView,
  ProblemView,
  QuestionsView,
  RidersView,
  RiderView,
  SessionView,
  StretchView,
  TableView,
  UndoAnswer,
} from '../../server/types.js';

/** A sentence of the desk: what was expected, what came, what to do. */
export class DeskProblem extends Error {
  override readonly name = 'DeskProblem';
  readonly status: number;

  constructor(status: number, sentence: string) {
    super(sentence);
    this.status = status;
  }
}

const UNREACHABLE = 'The desk does not answer. See whether it still runs in the terminal, then reload this page.';

export async function ask<T>(path: string, init?: RequestInit): Promise<T> {
  const response = await fetch(path, init).catch(() => {
    throw new DeskProblem(0, UNREACHABLE);
  });
  const body = (await response.json().catch(() => null)) as (T & Partial<ProblemView>) | null;
  if (!response.ok || body === null) throw new DeskProblem(response.status, body?.problem ?? UNREACHABLE);
  return body;
}

export const post = <T>(path: string, body?: unknown): Promise<T> =>
  ask<T>(path, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body ?? {}) });

export const desk = {
  pair: (token: string) => post<{ paired: true }>('/api/pair', { token }),
  day: (date: string | null) => ask<DayView>(`/api/day${date === null ? '' : `?date=${date}`}`),
  finish: () => ask<FinishView>('/api/finish'),
  crops: (frame: string | undefined) =>
    ask<CropsView>(`/api/finish/crops${frame === undefined ? '' : `?frame=${encodeURIComponent(frame)}`}`),
  keptFinishes: () => ask<KeptView>('/api/finish/kept'),
  keepFinish: (finish: Finish) => post<KeptView>('/api/finish/kept', { finish }),
  cards: () => ask<CardsView>('/api/cards'),
  stretch: (from: number, to: number) => ask<StretchView>(`/api/stretch?from=${from}&to=${to}`),
  group: (key: string) => ask<GroupRidersView>(`/api/groups/${encodeURIComponent(key)}`),
  riders: () => ask<RidersView>('/api/riders'),
  likeliest: (frame: string, bike?: number) =>
    ask<LikeliestView>(`/api/likeliest/${encodeURIComponent(frame)}${bike === undefined ? '' : `?bike=${bike}`}`),
  rider: (key: string, frame?: string) =>
    ask<RiderView>(`/api/riders/${encodeURIComponent(key)}${frame ? `?frame=${frame}` : ''}`),
  session: (index: number) => ask<SessionView>(`/api/sessions/${index}`),
  apart: () => ask<ApartView>('/api/apart'),
  questions: () => ask<QuestionsView>('/api/questions'),
  before: (date: string | null) => ask<BeforeView>(`/api/before${date === null ? '' : `?date=${date}`}`),
  lunch: (date: string | null) => ask<LunchSheetView>(`/api/lunch${date === null ? '' : `?date=${date}`}`),
  kit: () => ask<KitView>('/api/kit'),
  planLunch: (date: string) => post<{ started: true }>('/api/lunch/plan', { date }),
  stopLunch: () => post<{ stopped: true }>('/api/lunch/stop'),
  keepLunch: () => post<{ kept: true }>('/api/lunch/keep'),
  office: (date: string) => ask<OfficeView>(`/api/office?date=${date}`),
  writeOffice: (what: 'own' | 'meeting' | 'kit', text: string) =>
    post<{ written: true }>(`/api/office/${what}`, { text }),
  packed: (id: string, is: boolean) => post<{ written: true }>('/api/office/packed', { id, is }),
  /** A table file of an organiser, as lines. */
  table: (file: File) =>
    ask<TableView>('/api/table', {
      method: 'POST',
      headers: { 'x-file-name': encodeURIComponent(file.name) },
      body: file,
    }),
  entries: (gesture: GestureId, text: string) => post<{ asOf: number }>('/api/entries', { gesture, text }),
  plan: (date: string) => ask<PlanView>(`/api/plan?date=${date}`),
  ladder: (date: string, spot: string, at: number) =>
    ask<LadderView>(`/api/plan/ladder?date=${date}&spot=${encodeURIComponent(spot)}&at=${at}`),
  searchPlan: (date: string) => post<{ started: string }>('/api/plan/search', { date }),
  stopPlan: () => post<{ stopped: true }>('/api/plan/stop'),
  letGoPlan: () => post<{ gone: true }>('/api/plan/let-go'),
  nextBest: (date: string, photographer: number, stretch: string) =>
    post<NextBestView>('/api/plan/next-best', { date, photographer, stretch }),
  circuit: () => ask<CircuitView>('/api/circuit'),
  inventedCircuit: () => ask<Circuit>('/api/circuit/invented'),
  choosing: () => ask<ChoosingView>('/api/choosing'),
  toChoose: (key: string) => ask<RiderToChooseView>(`/api/choosing/riders/${encodeURIComponent(key)}`),
  soManyMinutes: (minutes: number) => ask<MinutesView>(`/api/choosing/minutes?are=${minutes}`),
  theRest: () => ask<TheRestView>('/api/choosing/rest'),
  looks: (bikes: readonly string[]) => ask<CloseLooksView>(`/api/looks?bikes=${bikes.join()}`),
  review: () => ask<ReviewView>('/api/review'),
  mark: () => ask<MarkView>('/api/finish/mark'),
  keepMark: (file: File) =>
    ask<MarkView>('/api/finish/mark', {
      method: 'POST',
      headers: { 'x-file-name': encodeURIComponent(file.name) },
      body: file,
    }),
  markInWords: () => post<MarkView>('/api/finish/mark/words'),
  /** Another meeting's rates, as their file has them. */
  beside: (file: File) =>
    ask<BesideView>('/api/review/beside', {
      method: 'POST',
      headers: { 'x-file-name': encodeURIComponent(file.name) },
      body: file,
    }),
  actions: () => ask<ActionsView>('/api/actions'),
  start: (name: ActionView['name']) => post<{ started: string }>(`/api/actions/${name}`),
  stop: (name: ActionView['name']) => post<{ stopping: string }>(`/api/actions/${name}/stop`),
  gesture: (request: GestureRequest) => post<{ asOf: number }>('/api/gestures', request),
  undo: (gesture?: GestureId) => post<UndoAnswer>('/api/undo', gesture && { gesture }),
  again: () => post<AgainAnswer>('/api/again'),
  bringIn: (cards: readonly string[]) => post<{ started: number }>('/api/bring-in', { cards }),
};

/** Made here, so that sending the same gesture again after a lost answer changes nothing. */
export const newGesture = (decisions: readonly Decision[]): GestureRequest => ({
  gesture: uuidv7() as GestureId,
  decisions,
});
