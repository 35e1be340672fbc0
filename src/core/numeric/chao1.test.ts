import { describe, expect, it } from 'vitest';
import { chao1 } from './chao1.js';

/** So many kinds met once, twice, …, and the rest of the meetings on one kind each `often` times. */
const kindsOf = (f: Readonly<Record<number, number>>) =>
  Object.entries(f).flatMap(([times, kinds]) => Array.from({ length: kinds }, () => ({ times: Number(times) })));

/**
 * Spiders of Harvard Forest, plots "Girdled" and "Logged": the worked example of the vignette "A Quick Introduction to iNEXT
 * via Examples" (R package iNEXT, repository JohnsonHsieh/iNEXT, inst/doc/Introduction.Rmd of commit 2844e4d, read
 * November 2026), which prints how many kinds were met once to ten times ($DataInfo), and estimate, standard error and
 * interval ($AsyEst). The few met more than ten times share the rest of the meetings; how does not enter.
 */
const GIRDLED = kindsOf({ 1: 12, 2: 4, 4: 1, 6: 2, 8: 1, 9: 1, 23: 5 });
const LOGGED = kindsOf({ 1: 14, 2: 4, 3: 4, 4: 3, 5: 1, 7: 3, 8: 2, 10: 1, 30: 1, 31: 4 });

describe('Chao1', () => {
  it('gives the published estimate and standard error', () => {
    const girdled = chao1(GIRDLED);
    expect(GIRDLED.reduce((n, { times }) => n + times, 0)).toBe(168);
    expect(girdled.seen).toBe(26);
    expect(girdled.seen + girdled.unseen).toBeCloseTo(43.893, 3);
    expect(Math.sqrt(girdled.variance)).toBeCloseTo(14.306, 3);
    const logged = chao1(LOGGED);
    expect(LOGGED.reduce((n, { times }) => n + times, 0)).toBe(252);
    expect(logged.seen).toBe(37);
    expect(logged.seen + logged.unseen).toBeCloseTo(61.403, 3);
    expect(Math.sqrt(logged.variance)).toBeCloseTo(18.532, 3);
  });

  it('gives the published log-normal interval', () => {
    const girdled = chao1(GIRDLED);
    expect(girdled.from).toBeCloseTo(30.511, 3);
    expect(girdled.to).toBeCloseTo(96.971, 3);
    const logged = chao1(LOGGED);
    expect(logged.from).toBeCloseTo(43.502, 3);
    expect(logged.to).toBeCloseTo(128.583, 3);
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
