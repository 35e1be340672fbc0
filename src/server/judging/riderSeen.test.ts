import { expect, it } from 'vitest';
import { judgedOf } from '../../../test/builders/judged.js';
import { evidenceOf } from './evidence.js';
import { judgedWords } from './judgedWords.js';

const PLACES = { whole: [0.2, 0, 0.5, 1], box: [0.25, 0.1, 0.4, 0.8] } as const;

it('JU21, JU22: limb and face are guesses with their reasons, and where they are seen is drawn', () => {
  const judged = judgedOf({ isLimbOut: true, isHeadTowards: true });
  expect(judgedWords(judged).map(({ voice, text }) => [voice, text])).toEqual([
    ['pencilled', 'face to the camera'],
    ['pencilled', 'knee or elbow out'],
  ]);
  const drawn = evidenceOf(judged, [], PLACES).filter(({ what }) => what === 'rider');
  expect(drawn.map(({ box }) => box)).toEqual([
    [0.6, 0.2, 0.2, 0.05],
    [0.4, 0.4, 0.2, 0.1],
  ]);
});

it('JU21, JU22: where neither is told, neither word nor place is given', () => {
  expect(judgedWords(judgedOf())).toEqual([]);
  expect(evidenceOf(judgedOf(), [], PLACES).filter(({ what }) => what === 'rider')).toEqual([]);
});
