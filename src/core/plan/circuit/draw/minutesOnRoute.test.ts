import { describe, expect, it } from 'vitest';
import { USUAL_LETTERING } from './drawCircuit.js';
import { minutesOnRoute } from './minutesOnRoute.js';
import { overlap } from './placeLabels.js';

const along = [
  { x: 0, y: 0 },
  { x: 100, y: 0 },
  { x: 400, y: 0 },
];
const leg = (words: string) => ({ points: along, words });

describe('minutes on the route', () => {
  it('PL118: stand half-way along a leg by its length', () => {
    const [box] = minutesOnRoute([leg('6 min')], [], USUAL_LETTERING);
    expect([box!.x + box!.width / 2, box!.y + box!.height / 2]).toEqual([200, 0]);
  });

  it('PL118: legs over the same way keep their minutes apart, and off what is drawn there', () => {
    const disc = { x: 190, y: -10, width: 20, height: 20 };
    const boxes = minutesOnRoute([leg('6 min'), leg('23 min'), leg('7 min')], [disc], USUAL_LETTERING);
    expect(boxes).toHaveLength(3);
    for (const [i, box] of boxes.entries())
      for (const other of [disc, ...boxes.slice(i + 1)]) expect(overlap(box, other)).toBe(false);
  });

  it('PL118: where there is no room they stand all the same', () => {
    const everywhere = { x: -500, y: -500, width: 2000, height: 1000 };
    expect(minutesOnRoute([leg('6 min')], [everywhere], USUAL_LETTERING)[0]!.x).toBeGreaterThan(0);
  });
});
