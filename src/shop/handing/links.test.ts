/** Rules HD1, HD2 of docs/rules/handing.md. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Fact, OrderId } from '../../core/handover/orders/index.js';
import { epochMsOf } from '../../core/units.js';
import { linkSigner, standingOfLink } from './links.js';

const signer = linkSigner('c'.repeat(64));
const order = 'd'.repeat(32) as OrderId;
const expiresAt = epochMsOf(Date.UTC(2026, 9, 20));
const link = { order, scope: null, generation: 1, expiresAt } as const;
const text = signer.sign(link);

describe('a link', () => {
  it('HD1: says what was signed, and of the order’s id nothing', () => {
    const { order: _, ...said } = link;
    expect(signer.read(text)).toEqual({ ...said, reference: signer.referenceOf(order) });
    expect(text).not.toContain(order.slice(0, 8));
    const one = signer.sign({ ...link, scope: 'e'.repeat(32) });
    expect(signer.read(one)?.scope).toBe('e'.repeat(32));
  });

  it('HD1: with any letter changed, cut or added is none', () => {
    const letters = fc.constantFrom(...'0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ-_.~=% ');
    let changed = 0;
    fc.assert(
      fc.property(fc.nat(text.length), fc.nat(2), fc.oneof(fc.constant(''), letters), (at, cut, put) => {
        const forged = text.slice(0, at) + put + text.slice(at + cut);
        if (forged === text) return;
        changed += 1;
        expect(signer.read(forged), forged).toBeNull();
      }),
      { numRuns: 2000 },
    );
    expect(changed).toBeGreaterThan(1500);
  });

  it('HD1: of another service, another order, a longer end or a later generation is none', () => {
    const others = [
      linkSigner('d'.repeat(64)).sign(link),
      ...[{ generation: 2 }, { expiresAt: epochMsOf(expiresAt + 1000) }, { order: 'e'.repeat(32) as OrderId }].map(
        (change) =>
          `${signer.sign({ ...link, ...change }).replace(/\.[^.]*$/, '')}${text.slice(text.lastIndexOf('.'))}`,
      ),
    ];
    for (const other of others) expect(signer.read(other), other).toBeNull();
    expect(signer.read('')).toBeNull();
    expect(signer.read('.'.repeat(200_000))).toBeNull();
  });
});

describe('whether a link is good', () => {
  const told = (...facts: readonly Fact[]) => facts.map((fact) => ({ fact }));
  const made = (generation: number): Fact => ({ kind: 'link-made', generation, expiresAt });
  const revoked = (generation: number): Fact => ({ kind: 'link-revoked', generation });
  const before = epochMsOf(expiresAt - 1);
  const of = (generation: number) => ({ generation, expiresAt });

  it('HD2: until its end, while it is the newest, unless it was taken back', () => {
    expect(standingOfLink(of(1), told(made(1)), before)).toBe('good');
    expect(standingOfLink(of(1), told(made(1)), expiresAt)).toBe('expired');
    expect(standingOfLink(of(1), told(made(2), made(1)), before)).toBe('expired');
    expect(standingOfLink(of(1), told(made(1), revoked(1)), before)).toBe('revoked');
    expect(standingOfLink(of(1), told(revoked(2), made(3)), before)).toBe('revoked');
    expect(standingOfLink(of(3), told(revoked(2), made(3)), before)).toBe('good');
  });
});
