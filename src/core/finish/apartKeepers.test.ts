import { expect, it } from 'vitest';
import { foldedOf } from '../../../demo/simulated-day/index.js';
import type { Apart, Arrangement } from '../arrange/types.js';
import type { FileId } from '../ids.js';
import type { Decision } from '../log/types.js';
import { apartKeepers } from './apartKeepers.js';

const guessed: Apart = { is: 'paddock', source: { kind: 'guessed', confidence: 0.95, reasons: [] } };
const named: Apart = { is: 'podium', source: { kind: 'said' } };
const exposure = (name: string, apart?: Apart) => ({ frameId: name, files: [name], ...(apart ? { apart } : {}) });
const DAY = {
  exposures: [exposure('track'), exposure('guessed', guessed), exposure('named', named)],
  riders: [],
  passes: [],
  saidBikes: [],
} as unknown as Arrangement;
const of = (name: string): FileId => name as FileId;
const finished = (...decisions: readonly Decision[]): readonly string[] =>
  apartKeepers(DAY, foldedOf(decisions)).map(({ frameId }) => frameId);

it('FI20: of frames kept apart those that a person named are finished, and no guess is', () => {
  expect(finished()).toEqual(['named']);
});

it('FI20: a guessed one that is kept is finished, a named one that is left out or taken down is not', () => {
  expect(finished({ kind: 'keep', file: of('guessed') })).toEqual(['guessed', 'named']);
  expect(finished({ kind: 'leave-out', file: of('named') })).toEqual([]);
  expect(finished({ kind: 'take-down', file: of('named') })).toEqual([]);
  expect(finished({ kind: 'keep', file: of('track') })).toEqual(['named']);
});
