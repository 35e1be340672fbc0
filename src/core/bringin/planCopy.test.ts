import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FileId, FillId } from '../ids.js';
import { epochMsOf } from '../units.js';
import { planCopy } from './planCopy.js';
import { recogniseFill } from './recogniseFill.js';
import type { CardFile, CardListing, CopyPlan, CopyStep, Fill, FillFile } from './types.js';

const fresh = { id: 'fresh-fill' as FillId, folder: 'card-fresh' };
const noon = Date.UTC(2026, 4, 30, 12);

const file = (path: string, bytes = 8_000_000, at = noon): CardFile => ({ path, bytes, modified: epochMsOf(at) });
const listing = (...files: readonly CardFile[]): CardListing => ({ files, passedOver: [] });
const picture = (number: number, bytes = 8_000_000 + number, at = noon + number * 1000): CardFile =>
  file(`DCIM/100TESTA/TEST${String(number).padStart(4, '0')}.JPG`, bytes, at);

function fill(files: readonly CardFile[], id = 'known-fill'): Fill {
  const held = files.map((one): FillFile => ({ ...one, fileId: `hash of ${one.path}` as FileId }));
  return { id: id as FillId, folder: `card-${id}`, firstBroughtIn: epochMsOf(noon), files: held, generations: 1 };
}

const kinds = (plan: CopyPlan): readonly string[] => plan.steps.map((step) => step.kind);
const places = (step: CopyStep): string => (step.kind === 'already-here' ? (step.to ?? step.file.path) : step.to);

describe('planning a copy', () => {
  it('BI3: a card never seen is a new fill, and every file goes to every destination', () => {
    const plan = planCopy(listing(picture(1), picture(2)), [[], []], fresh);
    expect(plan).toMatchObject({
      fill: fresh.id,
      isNewFill: true,
      bytesToCopy: 16_000_003,
      bytesOnto: [16_000_003, 16_000_003],
    });
    expect(plan.steps.every((step) => step.kind === 'copy' && step.onto?.length === 2)).toBe(true);
  });

  it('BI4: the same card again adds nothing', () => {
    const held = [fill([picture(1), picture(2)])];
    const plan = planCopy(listing(picture(1), picture(2)), [held, held], fresh);
    expect(plan).toMatchObject({ fill: 'known-fill', isNewFill: false, bytesToCopy: 0 });
    expect(kinds(plan)).toEqual(['already-here', 'already-here']);
  });

  it('BI5: a card that has grown, or was half copied, goes on in the same fill', () => {
    const plan = planCopy(listing(picture(1), picture(2), picture(3)), [[fill([picture(1), picture(2)])]], fresh);
    expect(plan.fill).toBe('known-fill');
    expect(kinds(plan)).toEqual(['already-here', 'already-here', 'copy']);
  });

  it('BI5: a second disk gets what it lacks, and is told what the first vouches for', () => {
    const plan = planCopy(
      listing(picture(1), picture(2)),
      [[fill([picture(1), picture(2)])], [fill([picture(1)])]],
      fresh,
    );
    expect(plan.steps[1]).toMatchObject({ kind: 'copy', onto: [1], expected: `hash of ${picture(2).path}` });
    expect(plan.bytesOnto).toEqual([0, picture(2).bytes]);
  });

  it('BI6: one name with other content keeps both, and both are known the next time', () => {
    const changed = picture(1, 7_000_000, noon + 60_000);
    const plan = planCopy(listing(changed, picture(2)), [[fill([picture(1), picture(2)])]], fresh);
    expect(plan.steps[0]).toMatchObject({ kind: 'keep-both', to: 'DCIM/100TESTA/kept-2/TEST0001.JPG' });
    const then = fill([picture(1), picture(2), { ...changed, path: 'DCIM/100TESTA/kept-2/TEST0001.JPG' }]);
    expect(kinds(planCopy(listing(changed, picture(2)), [[then]], fresh))).toEqual(['already-here', 'already-here']);
  });

  it('BI7: a re-formatted card is a new fill, whatever its label and however equal its names', () => {
    const later = [1, 2].map((number) => picture(number, 8_000_000 + number, noon + 7_200_123 + number * 1000));
    expect(planCopy(listing(...later), [[fill([picture(1), picture(2)])]], fresh).isNewFill).toBe(true);
  });

  it('BI7: of several fills the one that shares most files is meant', () => {
    const fills = [fill([picture(1)], 'one'), fill([picture(1), picture(2)], 'two')];
    expect(recogniseFill([picture(1), picture(2)], [fills])?.fill.id).toBe('two');
  });

  it('BI7: a file that cameras leave equal on every card does not make two cards one', () => {
    const index = file('MISC/AUTPRINT.MRK', 120);
    expect(planCopy(listing(index, picture(9)), [[fill([index, picture(1)])]], fresh).isNewFill).toBe(true);
  });

  it('BI8: a card read under another time zone is still the same card', () => {
    const shifted = [1, 2].map((number) => ({
      ...picture(number),
      modified: epochMsOf(picture(number).modified + 3_600_000),
    }));
    const plan = planCopy(listing(...shifted), [[fill([picture(1), picture(2)])]], fresh);
    expect(kinds(plan)).toEqual(['already-here', 'already-here']);
  });

  it('BI9: characters no manifest can hold are written as %xx, others stay as they are', () => {
    const odd = listing(file('DCIM/100TESTA/a\u0001b.JPG'), file('it"s 🏍\n&<>.txt'));
    expect(planCopy(odd, [[]], fresh).steps.map(places)).toEqual(['DCIM/100TESTA/a%01b.JPG', 'it"s 🏍\n&<>.txt']);
  });

  it('BI10: names that differ only by case do not meet on a disk that ignores case', () => {
    const both = listing(file('a/IMG_0001.JPG', 1), file('a/img_0001.jpg', 2));
    expect(new Set(planCopy(both, [[]], fresh).steps.map((step) => places(step).toLowerCase())).size).toBe(2);
  });
});

const anyFile = fc
  .record({
    folder: fc.constantFrom('DCIM/100TESTA', 'DCIM/101TESTA', 'MISC', 'kept-2', 'DCIM/100TESTA/kept-2'),
    name: fc.constantFrom(
      'TEST0001.JPG',
      'test0001.jpg',
      'TEST0002.JPG',
      'x\u0002.txt',
      'x%02.txt',
      'caf\u00e9',
      'cafe\u0301',
    ),
    bytes: fc.integer({ min: 0, max: 3 }),
    at: fc.integer({ min: 0, max: 3 }),
  })
  .map(({ folder, name, bytes, at }) => file(`${folder}/${name}`, bytes, noon + at * 900_000));
const anyListing = fc
  .uniqueArray(anyFile, { selector: (one) => one.path, maxLength: 20 })
  .map((files) => listing(...files));

/** A destination after a plan was carried out, some files of it perhaps not. */
function carriedOut(plan: CopyPlan, before: readonly Fill[], isDone: (index: number) => boolean): readonly Fill[] {
  const held = new Map((before.find((one) => one.id === plan.fill)?.files ?? []).map((one) => [one.path, one]));
  for (const [index, step] of plan.steps.entries()) {
    if (step.kind === 'already-here' || !isDone(index)) continue;
    held.set(step.to, {
      ...step.file,
      path: step.to,
      fileId: `${step.file.path} ${step.file.bytes} ${step.file.modified}` as FileId,
    });
  }
  const others = before.filter((one) => one.id !== plan.fill);
  return [
    ...others,
    { id: plan.fill, folder: plan.folder, firstBroughtIn: epochMsOf(noon), files: [...held.values()], generations: 1 },
  ];
}

describe('planning a copy, whatever the card', () => {
  it('BI11: no listed file is ever lost, and no two go to one place', () => {
    fc.assert(
      fc.property(anyListing, anyListing, (first, second) => {
        const done = carriedOut(planCopy(first, [[]], fresh), [], () => true);
        const plan = planCopy(second, [done], { id: 'second' as FillId, folder: 'card-second' });
        expect(plan.steps.map((step) => step.file)).toEqual(second.files);
        const held = new Set(
          (done.find((one) => one.id === plan.fill)?.files ?? []).map((one) => one.path.normalize('NFC').toLowerCase()),
        );
        for (const step of plan.steps) {
          const place = places(step).normalize('NFC').toLowerCase();
          if (step.kind === 'already-here') expect(held.has(place)).toBe(true);
          else {
            expect(held.has(place)).toBe(false);
            held.add(place);
          }
        }
      }),
    );
  });

  it('BI12: however often it is stopped, going on ends with every file, each copied once', () => {
    fc.assert(
      fc.property(anyListing, fc.infiniteStream(fc.boolean()), (card, coin) => {
        let disk: readonly Fill[] = [];
        let copied = 0;
        for (let round = 0; round < 200; round++) {
          const plan = planCopy(card, [disk], fresh);
          const open = plan.steps.filter((step) => step.kind !== 'already-here').length;
          if (open === 0) break;
          const done = plan.steps.map((step) => step.kind !== 'already-here' && coin.next().value === true);
          copied += done.filter(Boolean).length;
          disk = carriedOut(plan, disk, (index) => done[index]!);
        }
        expect(copied).toBe(card.files.length);
      }),
      { numRuns: 400 },
    );
  });
});
