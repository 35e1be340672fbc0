import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  galleryFiles,
  idsOfRider,
  type MadeRider,
  type MadeSpec,
  madeFilesOf,
  pictureId,
  riderId,
} from '../../../../test/builders/madeGallery.js';
import {
  costOf,
  crawl,
  type Edition,
  editionOf,
  firstEditionOf,
  idsIn,
  type Note,
  planPutUp,
  SLOW_LINE,
  type Step,
  untilFirstEntry,
  type Weigh,
  withoutLines,
} from './index.js';

const tagOf = (content: string | Buffer): string => createHash('sha256').update(content).digest('hex');
const weigh: Weigh = (text) => ({ bytes: Buffer.byteLength(text), tag: tagOf(text) });

/** A place that takes what it is given, one step at a time. */
class MadeUpPlace {
  readonly files = new Map<string, { content: Buffer; stamp: string }>();
  readonly notes = new Map<string, Note>();
  #puts = 0;

  listed = () => [...this.files].map(([path, { content, stamp }]) => ({ path, bytes: content.length, stamp }));
  read = async (path: string): Promise<string | null> => this.files.get(path)?.content.toString() ?? null;

  /** `isNoted` is false where a kill came between the place's taking it and our noting it. */
  take(step: Step, made: ReadonlyMap<string, Buffer>, withdrawn: ReadonlySet<string>, isNoted = true): void {
    if (step.kind === 'remove') {
      this.files.delete(step.path);
      if (isNoted) this.notes.delete(step.path);
      return;
    }
    const path = step.kind === 'put' ? step.file.path : step.path;
    const content = step.kind === 'put' ? contentOf(step.file, made) : this.#cleaned(path, withdrawn);
    const stamp = `${++this.#puts}`;
    this.files.set(path, { content, stamp });
    this.notes.delete(path);
    const names = path.endsWith('.html') ? idsIn(content.toString()) : [];
    if (isNoted) this.notes.set(path, { path, bytes: content.length, stamp, tag: tagOf(content), names });
  }

  #cleaned = (path: string, withdrawn: ReadonlySet<string>): Buffer =>
    Buffer.from(withoutLines(this.files.get(path)!.content.toString(), withdrawn));
}

const contentOf = ({ from }: Edition['files'][number], made: ReadonlyMap<string, Buffer>): Buffer =>
  from.kind === 'text' ? Buffer.from(from.text) : made.get(from.path)!;

function editionsOf(spec: MadeSpec) {
  const made = galleryFiles(spec);
  const firstSpec = { ...spec, riders: spec.riders.map((one) => ({ ...one, pictures: one.pictures.slice(0, 1) })) };
  const pages = madeFilesOf(galleryFiles(firstSpec));
  const files = madeFilesOf(made);
  return { made, whole: editionOf(files, { weigh }), first: firstEditionOf(pages, files, weigh) };
}

/** Riders and pictures from few names, so that they come again, change hands and change their content. */
const riders: fc.Arbitrary<readonly MadeRider[]> = fc
  .uniqueArray(
    fc.record({
      rider: fc.nat(5),
      pictures: fc.uniqueArray(fc.tuple(fc.nat(8), fc.nat(1)), { minLength: 1, maxLength: 3, selector: ([n]) => n }),
      moves: fc.boolean(),
    }),
    { maxLength: 5, selector: ({ rider }) => rider },
  )
  .map((all) => {
    const stays = all.find(({ moves }) => !moves);
    return all.map(({ rider, pictures, moves }) =>
      moves && stays ? { rider, pictures: [], movedTo: stays.rider } : { rider, pictures },
    );
  });

const round = fc.record({
  riders,
  look: fc.nat(1),
  down: fc.option(fc.nat(5), { freq: 3 }),
  /** Share of the steps done before the kill; 1 is the whole run. */
  until: fc.oneof(fc.constant(1), fc.double({ min: 0, max: 1, noNaN: true })),
  isLastNoted: fc.boolean(),
  shuffle: fc.infiniteStream(fc.nat(1000)),
});

/** Runs rounds at one place and calls back after every step. */
async function runRounds(
  rounds: readonly (typeof round extends fc.Arbitrary<infer R> ? R : never)[],
  look: (
    place: MadeUpPlace,
    withdrawn: ReadonlySet<string>,
    step: Step,
    planned: readonly Step[],
  ) => void | Promise<void>,
) {
  const place = new MadeUpPlace();
  const withdrawn = new Set<string>();
  let last: { readonly edition: Edition; readonly made: ReadonlyMap<string, Buffer> } | null = null;
  for (const one of rounds) {
    const taken = one.riders.find(({ rider }) => rider === one.down);
    for (const id of taken ? idsOfRider(taken) : []) withdrawn.add(id);
    // As the making does it: who was taken down is in no later gallery, nor are the pictures.
    const spec = {
      look: one.look,
      riders: one.riders
        .filter(({ rider, movedTo }) => !withdrawn.has(riderId(rider)) && !withdrawn.has(riderId(movedTo ?? -1)))
        .map((r) => ({ ...r, pictures: r.pictures.filter(([n]) => !withdrawn.has(pictureId(n))) })),
    };
    const { made, whole, first } = editionsOf(spec);
    const plan = planPutUp({ first, whole, there: place.listed(), notes: place.notes, withdrawn });
    const steps = plan.parts.flatMap((part) => {
      const keys = part.steps.map(() => one.shuffle.next().value as number);
      return part.steps
        .map((step, i) => [keys[i]!, step] as const)
        .sort(([a], [b]) => a - b)
        .map(([, step]) => step);
    });
    const count = Math.floor(one.until * steps.length);
    for (const [i, step] of steps.slice(0, count).entries()) {
      const isLast = i === count - 1 && one.until < 1;
      place.take(step, made, withdrawn, !isLast || one.isLastNoted);
      await look(place, withdrawn, step, steps);
    }
    last = count === steps.length ? { edition: whole, made } : null;
  }
  return { place, withdrawn, last };
}

describe('planning to put up', () => {
  it('PU4: wherever a run is killed, everything the entry leads to is there', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(round, { minLength: 1, maxLength: 4 }), async (rounds) => {
        await runRounds(rounds, async (place, _, step) => {
          const { missing } = await crawl(place.read);
          expect(missing, JSON.stringify(step)).toEqual([]);
        });
      }),
      { numRuns: 60 },
    );
  });

  it('PU6: what was taken down is gone before anything is put, and never comes back', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(round, { minLength: 1, maxLength: 4 }), (rounds) =>
        runRounds(rounds, (place, withdrawn, step) => {
          if (step.kind !== 'put') return;
          const down = [...place.files.keys()].filter((path) => idsIn(path).some((id) => withdrawn.has(id)));
          expect(down).toEqual([]);
        }).then(() => undefined),
      ),
      { numRuns: 60 },
    );
  });

  it('PU1: after a run that ended there lies what should, byte for byte, and a second run has nothing to do', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(round, { minLength: 1, maxLength: 3 }), async (rounds) => {
        const ended = [...rounds, { ...rounds[0]!, until: 1 }];
        const { place, withdrawn, last } = await runRounds(ended, () => {});
        const wanted = new Map(
          last!.edition.files.map((file) => [file.path, contentOf(file, last!.made).toString('hex')]),
        );
        const there = new Map([...place.files].map(([path, { content }]) => [path, content.toString('hex')]));
        for (const path of new Set([...wanted.keys(), ...there.keys()])) {
          // Pages of lists that another kill left without a note stay, as strangers do; nothing leads to them.
          if (!wanted.has(path)) expect(place.notes.has(path)).toBe(false);
          else expect(there.get(path), path).toBe(wanted.get(path));
        }
        const again = planPutUp({
          first: null,
          whole: last!.edition,
          there: place.listed(),
          notes: place.notes,
          withdrawn,
        });
        expect(again.parts).toEqual([]);
        expect(again.standing).toBe(last!.edition.files.length);
      }),
      { numRuns: 60 },
    );
  });

  it('PU3: the entry is the last to be put, and only then anything superseded is removed', () => {
    fc.assert(
      fc.property(riders, riders, (before, after) => {
        const place = new MadeUpPlace();
        const old = editionsOf({ riders: before });
        for (const file of old.whole.files) place.take({ kind: 'put', file, isNew: true }, old.made, new Set());
        const { whole } = editionsOf({ riders: after, look: 2 });
        const plan = planPutUp({ first: null, whole, there: place.listed(), notes: place.notes, withdrawn: new Set() });
        const steps = plan.parts.flatMap((part) => part.steps);
        const entry = steps.findIndex((step) => step.kind === 'put' && step.file.role === 'entry');
        expect(steps.slice(entry + 1).every((step) => step.kind === 'remove')).toBe(true);
        expect(steps.slice(0, entry).every((step) => step.kind === 'put')).toBe(true);
        // Whatever is replaced under its name is a page: what pages show is another file each time.
        const replaced = steps.filter((step) => step.kind === 'put' && !step.isNew);
        expect(replaced.every((step) => step.kind === 'put' && ['page', 'entry'].includes(step.file.role))).toBe(true);
      }),
    );
  });

  it('PU2: only what changed goes up, and what others put there stays', () => {
    const before = editionsOf({
      riders: [
        {
          rider: 1,
          pictures: [
            [1, 0],
            [2, 0],
          ],
        },
        { rider: 2, pictures: [[3, 0]] },
      ],
    });
    const place = new MadeUpPlace();
    for (const file of before.whole.files) place.take({ kind: 'put', file, isNew: true }, before.made, new Set());
    place.files.set('CNAME', { content: Buffer.from('pictures.example'), stamp: 'x' });
    const after = editionsOf({
      riders: [
        {
          rider: 1,
          pictures: [
            [1, 0],
            [2, 1],
          ],
        },
        { rider: 2, pictures: [[3, 0]] },
      ],
    });
    const plan = planPutUp({ ...after, there: place.listed(), notes: place.notes, withdrawn: new Set() });
    const puts = plan.parts.flatMap((part) =>
      part.steps.flatMap((step) => (step.kind === 'put' ? [step.file.path] : [])),
    );
    const tag = (path: string): string => tagOf(after.made.get(path)!).slice(0, 10);
    const id = pictureId(2);
    expect(puts).toEqual([
      `proof/${id}.${tag(`proof/${id}.jpg`)}.jpg`,
      `small/${id}.${tag(`small/${id}.jpg`)}.jpg`,
      `small/${id}-400.${tag(`small/${id}-400.webp`)}.webp`,
      `small/${id}-800.${tag(`small/${id}-800.webp`)}.webp`,
      `rider/${riderId(1)}.html`,
      `de/rider/${riderId(1)}.html`,
    ]);
    expect(plan.parts.at(-1)).toMatchObject({ name: 'superseded' });
    expect(plan.parts.at(-1)!.steps).toHaveLength(4);
    expect(plan.strangers).toEqual(['CNAME']);
  });
});

describe('names at the place', () => {
  const { whole, made } = editionsOf({ riders: [{ rider: 1, pictures: [[1, 0]] }] });
  const textOf = (path: string): string => {
    const { from } = whole.files.find((file) => file.path === path)!;
    return from.kind === 'text' ? from.text : '';
  };

  it('PU2: a page keeps its address and asks for everything by names of content, in every attribute and in the look', async () => {
    expect(
      whole.files
        .filter(({ role }) => role !== 'byContent')
        .map(({ path }) => path)
        .sort(),
    ).toEqual([...made.keys()].filter((path) => !path.includes('/') || path.endsWith('.html')).sort());
    const page = textOf(`de/rider/${riderId(1)}.html`);
    const id = pictureId(1);
    expect(page).toMatch(new RegExp(`href="\\.\\./\\.\\./proof/${id}\\.[0-9a-f]{10}\\.jpg"`));
    expect(page).toMatch(
      new RegExp(
        `srcset="\\.\\./\\.\\./small/${id}-400\\.[0-9a-f]{10}\\.webp 400w, \\S+-800\\.[0-9a-f]{10}\\.webp 800w"`,
      ),
    );
    expect(page).toMatch(/data-find="\.\.\/\.\.\/find\.[0-9a-f]{10}\/"/);
    expect(page).toContain('href="../riders.html"');
    const style = whole.files.find(({ path }) => path.endsWith('.css'))!;
    expect(textOf(style.path)).toMatch(/url\("\.\.\/look\/letters\.[0-9a-f]{10}\.woff2"\)/);
  });

  it('PU2: a folder whose name a script says keeps the names in it', () => {
    const files = galleryFiles({ riders: [{ rider: 1, pictures: [[1, 0]] }] });
    const says = new Map(files).set('look/find.js', Buffer.from('img.src = root + "face/" + id + ".jpg";'));
    const kept = editionOf(madeFilesOf(says), { weigh }).files.filter(({ role }) => role === 'kept');
    expect(kept.map(({ path }) => path.split('/')[0]).sort()).toEqual(['face', 'robots.txt']);
  });

  it('PU2: a style in a page, which the page’s policy knows by its hash, is not touched, and finds what it names', () => {
    const files = galleryFiles({ riders: [] });
    const style = '<style>@font-face{src:url("look/letters.woff2")}</style>';
    const page = files.get('index.html')!.toString().replace('</html>', `${style}</html>`);
    const edition = editionOf(madeFilesOf(new Map(files).set('index.html', Buffer.from(page))), { weigh });
    const entry = edition.files.find(({ role }) => role === 'entry')!;
    expect(entry.from).toMatchObject({ text: expect.stringContaining(style) });
    expect(entry.leadsTo).toContain('look/letters.woff2');
    expect(edition.files.some(({ path }) => path === 'look/letters.woff2')).toBe(true);
  });
});

describe('what goes up first', () => {
  /** 120 riders with 25 pictures each: sizes as of proofs of 1,400 px and of their small pictures. */
  const spec: MadeSpec = {
    riders: Array.from({ length: 120 }, (_, rider) => ({
      rider,
      pictures: Array.from({ length: 25 }, (_, n) => [rider * 25 + n, 0] as const),
    })),
  };
  const SIZES: readonly (readonly [RegExp, number])[] = [
    [/^proof\//, 330_000],
    [/^small\/.*-800/, 60_000],
    [/^small\/.*-400/, 25_000],
    [/^small\//, 75_000],
    [/^face\//, 30_000],
    [/\.html$/, 6_000],
  ];
  const asLarge = (edition: Edition): Edition => ({
    files: edition.files.map((file) => ({
      ...file,
      bytes: SIZES.find(([path]) => path.test(file.path))?.[1] ?? file.bytes,
    })),
  });

  it('PU5: one best picture of each rider with all pages stands within two minutes at 2 Mbit/s, the rest behind it', async () => {
    const { made, ...editions } = editionsOf(spec);
    const [first, whole] = [asLarge(editions.first), asLarge(editions.whole)];
    const plan = planPutUp({ first, whole, there: [], notes: new Map(), withdrawn: new Set() });
    const until = untilFirstEntry(plan, SLOW_LINE)!;
    expect(until.bytes).toBeLessThan((2e6 / 8) * 120);
    expect(until.seconds).toBeLessThan(120);
    const place = new MadeUpPlace();
    const ofFirst = plan.parts.filter(({ name }) => name.startsWith('first'));
    expect(ofFirst.map(({ name }) => name)).toEqual(['first pictures', 'first pages', 'first entry']);
    for (const step of ofFirst.flatMap(({ steps }) => steps)) place.take(step, made, new Set());
    const { missing, reached } = await crawl(place.read);
    expect(missing).toEqual([]);
    expect(reached.filter((path) => /^rider\//.test(path))).toHaveLength(120);
    expect(new Set(reached.filter((path) => /^small\//.test(path)).flatMap(idsIn)).size).toBe(120);
    // Everything that follows is the rest: no picture goes up twice.
    const puts = plan.parts.flatMap(({ steps }) => steps).flatMap((step) => (step.kind === 'put' ? [step.file] : []));
    const pictures = puts.filter(({ role }) => role === 'byContent').map(({ path }) => path);
    expect(new Set(pictures).size).toBe(pictures.length);
    expect(new Set(puts.map(({ path }) => path)).size).toBe(whole.files.length);
  });

  it('PU7: the reckoning counts bytes, files and turns', () => {
    const line = { bitsPerSecond: 8000, roundTripSeconds: 1, atOnce: 2, bytesPerFile: 0, roundTripsPerFile: 1 };
    const file = { ...editionsOf({ riders: [] }).whole.files[0]!, bytes: 10_000 };
    const put: Step = { kind: 'put', file, isNew: true };
    // 20,000 bytes at 1,000 bytes a second, and one turn.
    expect(costOf([put, put], line)).toEqual({ puts: 2, removals: 0, bytes: 20_000, seconds: 21 });
    // Four removals, two at once, a turn each, and one turn.
    const remove: Step = { kind: 'remove', path: 'a', why: 'superseded' };
    expect(costOf([remove, remove, remove, remove], line)).toEqual({ puts: 0, removals: 4, bytes: 0, seconds: 3 });
  });
});
