import { expect, it } from 'vitest';
import { buildDay, logOf, wallAt } from '../../../test/builders/arrangement.js';
import type { SpotId } from '../ids.js';
import type { Decision } from '../log/types.js';
import { wallMsOf } from '../units.js';
import { spotsInUse } from './index.js';

const SPOTS = ['beacon', 'gannet', 'slipway', 'lantern'].map((id) => ({ id: id as SpotId }));
const idsOf = (decisions: readonly Decision[], isPhotographed = false) => {
  const passes = [{ rider: 'a', session: 0, spot: 'lantern', at: '09:05:00', frames: [{ sharp: 1 }] }];
  const sessions = [{ name: 'N1', group: 'N', start: '09:00', end: '09:20' }];
  const { arrangement } = buildDay({ sessions, passes: isPhotographed ? passes : [] });
  return spotsInUse(SPOTS, logOf(decisions), arrangement).map(({ id }) => id);
};
const stood: Decision = { kind: 'stood-at', spot: SPOTS[0]!.id, from: wallAt('09:00'), to: wallAt('09:20') };
const planOf = (spot: number): Decision => ({
  kind: 'plan-taken',
  at: wallMsOf(0),
  stays: [
    { photographer: 0, stretch: 'N1', spot: SPOTS[spot]!.id },
    { photographer: 0, stretch: 'N2', spot: null },
  ],
});

it('CV20: spots stood at, photographed or planned are what the day is told by; all of them before that', () => {
  expect(idsOf([])).toEqual(['beacon', 'gannet', 'slipway', 'lantern']);
  expect(idsOf([stood])).toEqual(['beacon']);
  expect(idsOf([stood], true)).toEqual(['beacon', 'lantern']);
  expect(idsOf([planOf(2), stood])).toEqual(['beacon', 'slipway']);
  expect(idsOf([planOf(2), planOf(1)])).toEqual(['gannet']);
});
