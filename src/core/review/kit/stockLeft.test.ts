import { describe, expect, it } from 'vitest';
import type { Arrangement } from '../../arrange/types.js';
import type { FileMetadata } from '../../measure/types.js';
import { stockLeft } from './stockLeft.js';
import type { StockItem } from './types.js';

/** `count` frames of 10 MB on each of two cards, by two bodies, in four sessions. */
function morning(count: number) {
  const exposures = ['A', 'B'].flatMap((card) =>
    Array.from({ length: count }, (_, at) => ({
      frameId: `${card}${at}`,
      files: [`${card}${at}`],
      fill: card,
      body: `Maker|M-${card}|${card}7`,
    })),
  );
  const sessions = Array.from({ length: 4 }, () => ({ frames: ['some'] }));
  return {
    arrangement: { exposures, sessions } as unknown as Arrangement,
    metadata: new Map(exposures.map(({ frameId }) => [frameId, { bytes: 10_000_000 } as FileMetadata])),
  };
}
const KIT: readonly StockItem[] = [
  { kind: 'body', name: 'My first', serial: 'A7', count: 1, framesACharge: 800 },
  { kind: 'body', name: 'The M-B', count: 1, framesACharge: 1000 },
  { kind: 'card', name: 'Card', count: 2, capacityGb: 64 },
  { kind: 'battery', name: 'Battery', count: 5 },
];
const left = (count: number, items: readonly StockItem[], sessionsToCome: number | null) => {
  const { arrangement, metadata } = morning(count);
  return stockLeft(arrangement, metadata, { items, sessionsToCome });
};

describe('cards and batteries left', () => {
  it('PL832: what the cards have taken, and what still fits by the kit list, against the frames to come at the day’s pace', () => {
    const [cards] = left(1000, KIT, 3);
    expect(cards).toMatchObject({ of: 'cards', framesLeft: 10_800, framesToCome: 1500 });
    expect(cards!.sentence).toBe(
      '2 cards with 2,000 frames, 20 GB. Your cards hold 128 GB: 10,800 frames more, with nothing formatted. At this day’s pace 1,500 frames are to come, which fit.',
    );
    expect(cards!.evidence.map(({ frameId }) => frameId)).toEqual(['A999', 'B999']);
  });

  it('PL833: batteries by CIPA counts, the body known by its serial number or its model’s name', () => {
    const [, first, second] = left(1000, KIT, 12);
    expect(first).toMatchObject({ of: 'Maker|M-A|A7', framesLeft: 1000, framesToCome: 3000 });
    expect(first!.sentence).toContain('1.3 charges of 800 (CIPA)');
    expect(first!.sentence).toContain('2,000 frames short');
    expect(second).toMatchObject({ of: 'Maker|M-B|B7', framesLeft: 1500 });
  });

  it('PL834: what the list does not say is said to be missing, and no figure stands for it', () => {
    const [cards, first] = left(10, [{ kind: 'body', name: 'My first', serial: 'A7', count: 1 }], null);
    expect(cards).toMatchObject({ framesLeft: null, framesToCome: null });
    expect(cards!.sentence).toMatch(/^2 cards with 20 frames, 0\.2 GB\./);
    const [few] = left(2, [], null);
    expect(few!.sentence).toMatch(/^2 cards with 4 frames, 40 MB\./);
    expect(cards!.sentence).toContain('is not written down in the kit list');
    expect(first).toMatchObject({ framesLeft: null });
    expect(left(0, KIT, 3)).toEqual([]);
  });
});
