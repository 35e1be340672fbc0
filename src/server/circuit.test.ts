import { afterEach, describe, expect, it } from 'vitest';
import { EBBSTONE } from '../../demo/circuit/ebbstone.js';
import type { Decision } from '../core/log/types.js';
import { newGestureId } from '../host/logbook/index.js';
import type { CircuitView } from './circuitTypes.js';
import { createDesk, type DeskOptions } from './desk.js';
import type { PlanView } from './planTypes.js';
import { createFakeDay } from './testing/fakeDay.js';

const open: { close(): Promise<void> }[] = [];
afterEach(async () => {
  for (const one of open.splice(0)) await one.close();
});

async function deskWith(more: Partial<DeskOptions> = {}) {
  const day = createFakeDay({ frames: 40, riders: 3 });
  const desk = await createDesk(day, { token: 'blue-kerb-seven', webFolder: '/nowhere', ...more }).listen();
  open.push(desk, day);
  const base = `http://127.0.0.1:${desk.port}`;
  const paired = await fetch(`${base}/api/pair`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', origin: base },
    body: JSON.stringify({ token: 'blue-kerb-seven' }),
  });
  const headers = { cookie: paired.headers.getSetCookie()[0]!.split(';')[0]!, origin: base };
  const get = async (path: string) => (await fetch(base + path, { headers })).json() as Promise<unknown>;
  const say = async (...decisions: readonly Decision[]) => {
    const body = JSON.stringify({ gesture: newGestureId(), decisions });
    const answer = await fetch(`${base}/api/gestures`, {
      method: 'POST',
      headers: { ...headers, 'content-type': 'application/json' },
      body,
    });
    return (await answer.json()) as { readonly problem?: string };
  };
  return { get, say, view: () => get('/api/circuit') as Promise<CircuitView> };
}

describe('the circuit at the desk', () => {
  it('PL117: tells of none before one is said, then of the last one, with a person’s word about the permit', async () => {
    const { view, say } = await deskWith();
    expect(await view()).toMatchObject({ circuit: null, hasPermit: null, zone: 'Europe/London', hasInvented: false });
    await say({ kind: 'circuit', circuit: EBBSTONE });
    const moved = { ...EBBSTONE, spots: EBBSTONE.spots.slice(1) };
    await say({ kind: 'circuit', circuit: moved }, { kind: 'permit', has: false });
    expect(await view()).toMatchObject({ circuit: moved, hasPermit: false });
  });

  it('PL120: a change is said alone and the desk tells the whole drawing; one of a drawing that was replaced is refused', async () => {
    const { view, say } = await deskWith();
    await say({ kind: 'circuit', circuit: EBBSTONE });
    const { drawnBy } = await view();
    const { id } = EBBSTONE.spots[0]!;
    const change: Decision = { kind: 'circuit-edit', of: drawnBy!, spots: [{ id, caution: 'Wet grass.' }] };
    expect((await say(change)).problem).toBeUndefined();
    const then = await view();
    expect(then.circuit?.spots[0]).toEqual({ ...EBBSTONE.spots[0], caution: 'Wet grass.' });
    expect(then.drawnBy).toBe(drawnBy);
    const wrong = { ...change, spots: [{ id, number: 0 }] };
    expect((await say(wrong)).problem).toMatch(/Nothing was written down\..*spots\[0\]\.number/);
    await say({ kind: 'circuit', circuit: { ...EBBSTONE, name: 'Other' } });
    expect((await say(change)).problem).toMatch(/another one was brought in or taken back meanwhile/);
    expect((await view()).circuit?.name).toBe('Other');
  });

  it('PL1315: a plan that stands nowhere is refused, and what stood before stands', async () => {
    const { say, get } = await deskWith();
    const stay = { photographer: 0, stretch: 'N1', spot: null };
    const nowhere: Decision = { kind: 'plan-taken', at: 0 as never, stays: [stay, { ...stay, stretch: 'N2' }] };
    expect((await say(nowhere)).problem).toMatch(
      /Expected a plan with at least one spot .* has none\. Take a wish back/,
    );
    expect((await say({ ...nowhere, stays: [] })).problem).toMatch(/at least one spot/);
    expect(((await get('/api/plan')) as PlanView).shown).toBe('said');
  });

  it('PL117: a drawing that is none is refused with its place, and nothing changes', async () => {
    const { view, say } = await deskWith();
    await say({ kind: 'circuit', circuit: EBBSTONE });
    const off = { ...EBBSTONE, paddock: { ...EBBSTONE.paddock, latitudeDeg: 91 as never } };
    expect((await say({ kind: 'circuit', circuit: off })).problem).toMatch(/Nothing was written down\..*paddock/);
    expect((await view()).circuit).toEqual(EBBSTONE);
  });

  it('PL117: lends an invented circuit where it has one, else says what to do', async () => {
    const { get } = await deskWith();
    expect(await get('/api/circuit/invented')).toEqual({
      problem: 'This desk has no invented circuit. Bring in a recorded lap or a circuit file.',
    });
    const lending = await deskWith({ inventedCircuit: async () => EBBSTONE });
    expect((await lending.view()).hasInvented).toBe(true);
    expect(await lending.get('/api/circuit/invented')).toEqual(EBBSTONE);
  });
});
