import { expect, it } from 'vitest';
import { tellHead } from './tellHead.js';

const SIZE = 100;

interface Helmet {
  readonly shell: number;
  readonly visor: number;
  /** How far the visor's middle is turned aside, in shares of the helmet's half width. */
  readonly turned?: number;
  readonly radius?: number;
  /** All the rest of the picture is bike. */
  readonly isSmallOfBike?: boolean;
}

/** A round helmet in front of grey, with a visor across it. */
function drawn({ shell, visor, turned = 0, radius = 30, isSmallOfBike = false }: Helmet): ReturnType<typeof tellHead> {
  const data = new Uint8Array(3 * SIZE * SIZE).fill(128);
  const isIn = (cell: number): boolean => ((cell % SIZE) - 50) ** 2 + (Math.floor(cell / SIZE) - 50) ** 2 < radius ** 2;
  for (let cell = 0; cell < SIZE * SIZE; cell += 1) {
    if (!isIn(cell)) continue;
    const [x, y] = [((cell % SIZE) - 50) / radius, (Math.floor(cell / SIZE) - 50) / radius];
    const isVisor = Math.abs(y - 0.1) < 0.3 && Math.abs(x - 1.6 * turned) < 0.85;
    data.fill(isVisor ? visor : shell, 3 * cell, 3 * cell + 3);
  }
  const grid = {
    columns: SIZE,
    rows: SIZE,
    isBike: (cell: number) => isSmallOfBike || isIn(cell),
    isHelmet: isIn,
    onHead: (cell: number) => (isIn(cell) ? 1 : 0),
  };
  return tellHead(grid, { data, width: SIZE, height: SIZE });
}

it('JU22: a dark band across a light helmet is a visor seen from ahead, and its place is said', () => {
  const told = drawn({ shell: 220, visor: 25 });
  expect(told.kind).toBe('towards');
  if (told.kind !== 'towards') return;
  const [left, top, width, height] = told.where;
  expect(left + width / 2).toBeCloseTo(0.5, 1);
  expect(top + height / 2).toBeCloseTo(0.53, 1);
});

it('JU22: of a turned head, a mirrored visor, a dark helmet, the back of one, one half hidden or tiny nothing is said', () => {
  const none = { kind: 'absent', reason: 'no-visor-seen' };
  expect(drawn({ shell: 220, visor: 25, turned: 0.6 })).toEqual(none);
  expect(drawn({ shell: 220, visor: 240 })).toEqual(none);
  expect(drawn({ shell: 30, visor: 25 })).toEqual(none);
  expect(drawn({ shell: 220, visor: 220 })).toEqual(none);
  expect(drawn({ shell: 220, visor: 25, radius: 20 }).kind).toBe('towards');
  expect(drawn({ shell: 220, visor: 25, radius: 12, isSmallOfBike: true })).toEqual({ ...none, reason: 'no-helmet' });
  expect(drawn({ shell: 220, visor: 25, radius: 8 })).toEqual({ kind: 'absent', reason: 'too-small' });
});
