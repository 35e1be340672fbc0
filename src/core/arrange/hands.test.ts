import { describe, expect, it } from 'vitest';
import { syntheticDay } from '../../../demo/simulated-day/index.js';
import { seededRandom } from '../numeric/random.js';
import { handsOf, type TakenPass } from './hands.js';
import { arrange } from './index.js';

const SESSION_MS = 1_200_000;

const pass = (session: number, body: string, start: number): TakenPass => ({ session, body, start, end: start + 800 });

/** Somebody takes up one of the bodies, waits a few seconds, takes up one again. */
function photographer(session: number, bodies: readonly string[], seed: number): readonly TakenPass[] {
  const random = seededRandom(100 * seed + session);
  const passes: TakenPass[] = [];
  for (let at = session * SESSION_MS; at < (session + 1) * SESSION_MS; at += 1000 * random.between(3, 20))
    passes.push(pass(session, random.oneOf(bodies), at));
  return passes;
}

const sessions = [0, 1, 2, 3, 4, 5];

describe('hands', () => {
  it('AR33: two bodies never released at once are held by one photographer', () => {
    const handOf = handsOf(sessions.flatMap((session) => photographer(session, ['near', 'far'], 1)));
    expect(sessions.map((session) => handOf('near', session) === handOf('far', session))).toEqual(
      sessions.map(() => true),
    );
  });

  it('AR33: two people release at once as often as chance has it, so each body stands for itself', () => {
    const passes = sessions.flatMap((session) => [
      ...photographer(session, ['near'], 1),
      ...photographer(session, ['far'], 2),
    ]);
    const handOf = handsOf(passes);
    for (const session of sessions) expect([handOf('near', session), handOf('far', session)]).toEqual(['near', 'far']);
  });

  it('AR33: a few pictures are no evidence', () => {
    const passes = photographer(0, ['near', 'far'], 1).slice(0, 12);
    expect(new Set(passes.map(({ body }) => body)).size).toBe(2);
    const handOf = handsOf(passes);
    expect(handOf('near', 0)).not.toBe(handOf('far', 0));
  });

  it('AR33: where both were released at once after all, that session is two people’s', () => {
    const lent = [60_000, 400_000, 900_000].flatMap((at) =>
      ['near', 'far'].map((body) => pass(6, body, 6 * SESSION_MS + at)),
    );
    const handOf = handsOf([...sessions.flatMap((session) => photographer(session, ['near', 'far'], 1)), ...lent]);
    expect(handOf('near', 0)).toBe(handOf('far', 0));
    expect(handOf('near', 6)).not.toBe(handOf('far', 6));
  });

  it('AR33: a bike is not back sooner than a lap for the other body of one photographer either', () => {
    const day = syntheticDay({ seed: 2, rounds: 3, lunchAfterRound: 2 });
    const { passes } = arrange(day.input);
    const byRider = new Map<string, (typeof passes)[number][]>();
    for (const one of passes) byRider.set(one.rider, [...(byRider.get(one.rider) ?? []), one]);
    const gaps = [...byRider.values()].flatMap((own) =>
      own.slice(1).flatMap((one, i) => {
        const before = own[i]!;
        return one.session === before.session && one.body !== before.body ? [one.start - before.end] : [];
      }),
    );
    expect(gaps.length).toBeGreaterThan(100);
    expect(gaps.filter((gap) => gap >= 3000 && gap < 85_000)).toEqual([]);
  });
});
