import { describe, expect, it } from 'vitest';
import { chao1 } from './chao1.js';

/** So many kinds met once, twice, …, and the rest of the meetings on one kind each `often` times. */
const kindsOf = (f: Readonly<Record<number, number>>) =>
  Object.entries(f).flatMap(([times, kinds]) => Array.from({ length: kinds }, () => ({ times: Number(times) })));

/**
 * Spiders of Harvard Forest, plots "Girdled" and "Logged", the worked example of T. C. Hsieh, K. H. Ma, A. Chao, "iNEXT: an
 * R package for rarefaction and extrapolation of species diversity", Methods in Ecology and Evolution 7 (2016) 1451–1456
 * (its `spider` data; ground data: Sackett et al., Ecosphere 2 (2011) art. 74). Sample sizes, counts and printed results
 * are quoted from memory; how the meetings above two are spread does not enter.
 */
const GIRDLED = kindsOf({ 1: 12, 2: 4, 14: 9, 22: 1 });
const LOGGED = kindsOf({ 1: 14, 2: 4, 12: 18, 14: 1 });

describe('Chao1', () => {
  it('gives the published estimate and standard error', () => {
    const girdled = chao1(GIRDLED);
    expect(GIRDLED.reduce((n, { times }) => n + times, 0)).toBe(168);
    expect(girdled.seen).toBe(26);
    expect(girdled.seen + girdled.unseen).toBeCloseTo(43.893, 3);
    expect(Math.sqrt(girdled.variance)).toBeCloseTo(14.306, 3);
    const logged = chao1(LOGGED);
    expect(LOGGED.reduce((n, { times }) => n + times, 0)).toBe(252);
    expect(logged.seen + logged.unseen).toBeCloseTo(61.403, 3);
    expect(Math.sqrt(logged.variance)).toBeCloseTo(18.532, 3);
  });

  it('gives the published log-normal interval', () => {
    const girdled = chao1(GIRDLED);
    expect(girdled.from).toBeCloseTo(30.511, 2);
    expect(girdled.to).toBeCloseTo(96.971, 1);
    const logged = chao1(LOGGED);
    expect(logged.from).toBeCloseTo(43.502, 2);
    expect(logged.to).toBeCloseTo(128.583, 1);
  });

  it('says that nobody is missing where nobody was met only once', () => {
    expect(chao1(kindsOf({ 2: 5, 3: 4 }))).toMatchObject({ seen: 9, unseen: 0, from: 9, to: 9 });
    expect(chao1([])).toMatchObject({ seen: 0, unseen: 0, from: 0, to: 0 });
  });

  it('has an answer where nobody was met twice', () => {
    const { unseen, from, to } = chao1(kindsOf({ 1: 4, 5: 3 }));
    expect(unseen).toBeGreaterThan(0);
    expect(from).toBeGreaterThanOrEqual(7);
    expect(to).toBeGreaterThan(from);
  });

  it('counts a kind that may be none of its own by its weight', () => {
    const sure = chao1(kindsOf({ 1: 4, 2: 4 }));
    const doubtful = chao1([...kindsOf({ 1: 3, 2: 4 }), { times: 1, weight: 0.1 }]);
    expect(doubtful.seen).toBeCloseTo(7.1, 9);
    expect(doubtful.unseen).toBeLessThan(sure.unseen);
  });
});
